#include "core/csv_line.h"

#include "geometry/mesh_source.h"
#include "geometry/units.h"

namespace sillwright::core {

namespace {

std::string field(std::string_view text) {
    if (text.find_first_of(",\"\r\n") == std::string_view::npos) {
        return std::string(text);
    }
    std::string quoted = "\"";
    for (const char c : text) {
        quoted += c == '"' ? "\"\"" : std::string(1, c);
    }
    return quoted + "\"";
}

}  // namespace

void CsvLine::add(std::string_view text) {
    text_ += (empty_ ? "" : ",") + field(text);
    empty_ = false;
}

void CsvLine::add(double number) {
    std::string text;
    geometry::append_number(text, number);
    add(text);
}

void CsvLine::add(const std::optional<Entry>& entry) {
    if (entry) {
        add(geometry::in_mm(entry->value));
    } else {
        add_nothing();
    }
}

}  // namespace sillwright::core
