#include "app/link/door_limits_of_job.h"

#include <string>
#include <utility>

#include "core/swing/door_limit_line.h"

namespace sillwright::app {

namespace {

/// Between columns; a hem's rounding of a few millimetres is still seen.
constexpr geometry::Length k_step = geometry::millimetres(2.0);

std::string station_at(const core::Job& job, geometry::Length along) {
    for (const core::Station& station : job.stations) {
        if (station.along.value == along) {
            return station.name;
        }
    }
    return {};
}

}  // namespace

geometry::Result<std::vector<DoorLimit>> door_limits_at(const core::Evaluation& evaluation, geometry::Length along) {
    const core::SectionWindow window = core::window_about(evaluation.car, along);
    auto lines = core::door_limit_lines(evaluation.job, evaluation.car, along, window, k_step, {},
                                        core::LimitingDoors::standing_there);
    if (!lines) {
        return lines.error();
    }
    std::vector<DoorLimit> limits;
    for (const core::DoorLimitLine& line : lines.value()) {
        if (!line.chains_mm.empty()) {
            limits.push_back({line.door, station_at(evaluation.job, along), line.along, line.chains_mm});
        }
    }
    return limits;
}

geometry::Result<std::vector<DoorLimit>> door_limits_of_job(const core::Evaluation& evaluation) {
    std::vector<DoorLimit> all;
    for (const core::Station& station : evaluation.job.stations) {
        auto limits = door_limits_at(evaluation, station.along.value);
        if (!limits) {
            return limits.error();
        }
        for (DoorLimit& limit : std::move(limits).value()) {
            all.push_back(std::move(limit));
        }
    }
    return all;
}

}  // namespace sillwright::app
