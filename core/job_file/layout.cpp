#include "core/job_file/layout.h"

#include <algorithm>
#include <optional>

namespace sillwright::core::job_file {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t k_line_room = 110;

std::string scalar(const Json& value) {
    return value.dump(-1, ' ', false, Json::error_handler_t::replace);
}

/// The value on one line; nothing if it holds objects, or lists in a list.
std::optional<std::string> on_one_line(const Json& value) {
    if (!value.is_structured()) {
        return scalar(value);
    }
    std::string line = value.is_object() ? "{" : "[";
    std::string comma;
    for (const auto& item : value.items()) {
        const bool nests = item.value().is_object() || (value.is_array() && item.value().is_array());
        const auto inner = nests ? std::nullopt : on_one_line(item.value());
        if (!inner || line.size() > k_line_room) {
            return std::nullopt;
        }
        line += comma + (value.is_object() ? scalar(Json(item.key())) + ": " : std::string()) + *inner;
        comma = ", ";
    }
    return line + (value.is_object() ? "}" : "]");
}

/// `column`: where the value begins on its line.
void lay_out(const Json& value, std::size_t indent, std::size_t column, std::string& out) {
    const auto line = on_one_line(value);
    if (line && (!value.is_structured() || value.empty() || column + line->size() <= k_line_room)) {
        out += *line;
        return;
    }
    const std::string margin(indent + 2, ' ');
    out += value.is_object() ? "{" : "[";
    std::string comma;
    for (const auto& item : value.items()) {
        const std::string key = value.is_object() ? scalar(Json(item.key())) + ": " : std::string();
        out += comma + "\n" + margin + key;
        lay_out(item.value(), indent + 2, indent + 2 + key.size(), out);
        comma = ",";
    }
    out += "\n" + std::string(indent, ' ') + (value.is_object() ? "}" : "]");
}

}  // namespace

std::string layout(const Json& value) {
    std::string out;
    lay_out(value, 0, 0, out);
    return out + "\n";
}

}  // namespace sillwright::core::job_file
