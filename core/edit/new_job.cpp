#include "core/edit/new_job.h"

#include <optional>
#include <utility>

#include "core/edit/edit.h"
#include "core/edit/new_parts.h"
#include "core/edit/whole_unit.h"
#include "core/job_check.h"
#include "core/typed.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Length;
using geometry::Result;

namespace {

/// A side with more doors is a slip of the keyboard. Common practice, no source.
constexpr int k_most_doors = 6;
/// Stations nearer together than this many whole units are not put to whole units.
constexpr double k_least_units_between = 10.0;

Error bad(std::string message) {
    return {ErrorCode::invalid_argument, std::move(message)};
}

/// A length as typed; none for no text.
Result<std::optional<Entry>> answer(const std::string& what, const std::string& typed, BareUnit unit) {
    if (typed.find_first_not_of(" \t") == std::string::npos) {
        return std::optional<Entry>{};
    }
    const auto read = typed_entry(typed, unit);
    if (!read) {
        return bad(what + ": \"" + typed + "\" is not a length. " + read.error().message);
    }
    return std::optional<Entry>{read.value()};
}

Length between(Length first, Length last, int index, int count, BareUnit unit) {
    const Length step = (last - first) / static_cast<double>(count - 1);
    const Length exact = first + static_cast<double>(index) * step;
    return step / whole_unit(unit) < k_least_units_between ? exact : to_whole_unit(exact, unit);
}

Result<std::vector<Station>> stations(const NewJob& answers) {
    const auto first = answer("First station", answers.first, answers.unit);
    if (!first) {
        return first.error();
    }
    const auto last = answer("Last station", answers.last, answers.unit);
    if (!last) {
        return last.error();
    }
    if (answers.stations < 0 || answers.stations > static_cast<int>(k_most_stations)) {
        return bad(std::to_string(answers.stations) + " stations cannot be. Write how many, from 2 to " +
                   std::to_string(k_most_stations) + ", or leave it empty if it is not known yet.");
    }
    std::vector<Station> made;
    if (answers.stations == 0 || (!first.value() && !last.value())) {
        return made;
    }
    if (!first.value() || !last.value()) {
        return bad(std::string("Where the ") + (first.value() ? "last" : "first") +
                   " station stands is not given. Write its place along the car, or leave both empty.");
    }
    if (answers.stations == 1) {
        return bad("One station cannot be first and last. Write 2 or more, or leave it empty if it is not known yet.");
    }
    if (!(last.value()->value > first.value()->value)) {
        return bad("The last station, at " + entry_text(*last.value(), answers.unit) +
                   ", is not behind the first, at " + entry_text(*first.value(), answers.unit) +
                   ". Along runs rearward: write the larger number for the last.");
    }
    for (int i = 0; i < answers.stations; ++i) {
        made.push_back({std::to_string(i + 1),
                        entry(between(first.value()->value, last.value()->value, i, answers.stations, answers.unit)),
                        {}});
    }
    made.front().along = *first.value();
    made.back().along = *last.value();
    return made;
}

}  // namespace

Result<Job> new_job(const NewJob& answers) {
    Job job;
    job.vehicle = answers.vehicle;
    job.side = answers.side;
    job.unit = answers.unit;
    job.date = answers.date;
    auto made = stations(answers);
    if (!made) {
        return made.error();
    }
    job.stations = std::move(made).value();
    if (answers.doors < 0 || answers.doors > k_most_doors) {
        return bad(std::to_string(answers.doors) + " doors on one side cannot be. Write how many, from 0 to " +
                   std::to_string(k_most_doors) + ".");
    }
    for (int i = 0; i < answers.doors; ++i) {
        job.doors.push_back(new_door(job));
    }
    auto sheet = answer("Sheet thickness", answers.sheet, answers.unit);
    if (!sheet) {
        return sheet.error();
    }
    job.skirt.pieces.push_back(new_piece("skirt"));
    job.skirt.pieces.back().sheet = sheet.value();
    auto checked = checked_edit(std::move(job), "begin a new job");
    if (!checked) {
        return checked.error();
    }
    return std::move(checked).value().job;
}

}  // namespace sillwright::core
