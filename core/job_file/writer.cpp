#include "core/job_file/writer.h"

#include <algorithm>
#include <cmath>

#include "core/job_file/reader.h"
#include "core/job_file/words.h"
#include "core/typed.h"

namespace sillwright::core::job_file {

namespace {

/// Whole numbers below this are written without a decimal point.
constexpr double k_most_whole = 1e15;
}  // namespace

Json JobWriter::number_json(double value) {
    if (value == std::trunc(value) && std::abs(value) < k_most_whole) {
        return static_cast<std::int64_t>(value);
    }
    return value;
}

Json JobWriter::length_json(const Entry& value) const {
    if (!value.typed.empty()) {
        const auto read = typed_entry(value.typed, unit_);
        if (read && read.value().value == value.value) {
            return value.typed;
        }
        // The words mean something else by now, as a bare number does once the job's unit is another.
    }
    const double number = to_unit(value.value, unit_);
    if (from_unit(number, unit_) == value.value) {
        return number_json(number);
    }
    // Few lengths in mm are a whole number of the last digit of an inch.
    return entry_text(value, BareUnit::mm) + " mm";
}

void JobWriter::version(const char* key) {
    json_[key] = k_version;
}

void JobWriter::bare_unit(const char* key, BareUnit& unit) {
    unit_ = unit;
    word(key, unit, k_unit_words);
}

void JobWriter::text(const char* key, const std::string& value) {
    if (!value.empty()) {
        json_[key] = value;
    }
}

void JobWriter::names(const char* key, const std::vector<std::string>& values) {
    if (!values.empty()) {
        json_[key] = values;
    }
}

void JobWriter::length(const char* key, const std::optional<Entry>& value) {
    if (value) {
        length(key, *value);
    }
}

void JobWriter::length_or(const char* key, const Entry& value, const Entry& usual) {
    if (value != usual) {
        length(key, value);
    }
}

void JobWriter::three_lengths(const char* key, const std::array<std::optional<Entry>, 3>& value) {
    if (std::none_of(value.begin(), value.end(), [](const auto& v) { return v.has_value(); })) {
        return;
    }
    Json out = Json::array();
    for (const auto& entry : value) {
        out.push_back(entry ? length_json(*entry) : Json());
    }
    json_[key] = std::move(out);
}

void JobWriter::number(const char* key, const std::optional<double>& value) {
    if (value) {
        json_[key] = number_json(*value);
    }
}

void JobWriter::number_or(const char* key, double value, double usual) {
    if (value != usual) {
        json_[key] = number_json(value);
    }
}

void JobWriter::angle(const char* key, const std::optional<geometry::Angle>& value) {
    if (value) {
        json_[key] = number_json(
            shortest_number(geometry::in_deg(*value), [&](double deg) { return geometry::degrees(deg) == *value; }));
    }
}

void JobWriter::flag(const char* key, bool value, bool usual) {
    if (value != usual) {
        json_[key] = value;
    }
}

void JobWriter::direction(const char* key, const Direction& value) {
    const Direction shown = hand_direction(value).value_or(value);
    json_[key] = Json::array({number_json(shown.x()), number_json(shown.y()), number_json(shown.z())});
}

void JobWriter::rest(const Unknown& unknown) {
    for (const auto& [key, text] : unknown.fields) {
        Json value = Json::parse(text, nullptr, false);
        json_[key] = value.is_discarded() ? Json(text) : std::move(value);
    }
}

}  // namespace sillwright::core::job_file
