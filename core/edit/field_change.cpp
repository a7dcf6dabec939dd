#include "core/edit/field_change.h"

#include <nlohmann/json.hpp>
#include <string_view>

#include "core/job_file.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;
using geometry::in_mm;
using nlohmann::ordered_json;

namespace {

/// Ends the place that a message of parse_job begins with.
constexpr std::string_view k_place_end = "): ";

}  // namespace

FieldChange length_change(const Job& job, const std::string& pointer, geometry::Length value) {
    if (job.unit == BareUnit::mm) {
        return number_change(pointer, in_mm(value));
    }
    return word_change(pointer, number_text(in_mm(value)) + " mm");
}

FieldChange word_change(const std::string& pointer, const std::string& word) {
    return {pointer, ordered_json(word).dump()};
}

FieldChange number_change(const std::string& pointer, double value) {
    return {pointer, ordered_json(value).dump()};
}

geometry::Result<Job> with_changes(const Job& job, const std::vector<FieldChange>& changes) {
    ordered_json file = ordered_json::parse(job_text(job));
    for (const FieldChange& change : changes) {
        try {
            file[ordered_json::json_pointer(change.pointer)] = ordered_json::parse(change.json);
        } catch (const ordered_json::exception& fault) {
            return Error{ErrorCode::invalid_argument,
                         "Nothing can be written at " + change.pointer + ": " + fault.what() + "."};
        }
    }
    auto after = parse_job(file.dump(), "the job");
    if (!after) {
        // Where the field is in a file that nobody has seen helps nobody.
        const std::string& message = after.error().message;
        const auto place = message.find(k_place_end);
        return Error{after.error().code,
                     place == std::string::npos ? message : message.substr(place + k_place_end.size())};
    }
    return after;
}

}  // namespace sillwright::core
