#include "core/edit/book_csv_edit.h"

#include "core/edit/book_edit.h"

namespace sillwright::core {

using geometry::Result;

Result<Edit> add_csv(const Job& job, const survey::CsvBook& csv) {
    Job changed = job;
    for (const std::string& name : csv.new_set_ups) {
        survey::SetUp set_up;
        set_up.name = name;
        changed.book.set_ups.push_back(set_up);
    }
    for (const std::string& name : csv.new_instruments) {
        survey::Instrument instrument;
        instrument.name = name;
        changed.book.instruments.push_back(instrument);
    }
    return add_readings(changed, csv.readings);
}

}  // namespace sillwright::core
