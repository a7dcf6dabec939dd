#include "core/typed_place.h"

#include <algorithm>

#include "core/typed.h"

namespace sillwright::core {

using geometry::Length;

namespace {

/// Places are told to the whole millimetre (place_words).
constexpr Length k_same_place = geometry::millimetres(0.5);
constexpr const char* k_between = "·";  // of place_words()

std::string trimmed(const std::string& text) {
    const auto from = text.find_first_not_of(" \t");
    return from == std::string::npos ? "" : text.substr(from, text.find_last_not_of(" \t") - from + 1);
}

}  // namespace

geometry::Result<Length> typed_place(const Job& job, const std::string& typed) {
    const std::string text = trimmed(typed);
    for (const Station& station : job.stations) {
        if (station.name == text) {
            return station.along.value;
        }
    }
    const auto between = text.rfind(k_between);
    const std::string length =
        between == std::string::npos ? text : text.substr(between + std::string(k_between).size());
    const auto entry = typed_entry(trimmed(length), job.unit);
    if (!entry) {
        return geometry::Error{entry.error().code,
                               "\"" + text + "\" is no station and no length: " + entry.error().message};
    }
    return entry.value().value;
}

std::optional<Length> station_ahead(const Job& job, Length along) {
    const auto found = std::find_if(job.stations.rbegin(), job.stations.rend(),
                                    [&](const Station& station) { return station.along.value < along - k_same_place; });
    return found == job.stations.rend() ? std::nullopt : std::optional(found->along.value);
}

std::optional<Length> station_behind(const Job& job, Length along) {
    const auto found = std::find_if(job.stations.begin(), job.stations.end(),
                                    [&](const Station& station) { return station.along.value > along + k_same_place; });
    return found == job.stations.end() ? std::nullopt : std::optional(found->along.value);
}

}  // namespace sillwright::core
