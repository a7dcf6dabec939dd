#include "app/link/door_limits_of_job.h"

#include <string>
#include <utility>

#include "core/swing/door_limit_line.h"

namespace sillwright::app {

namespace {

/// Between columns; a hem's rounding of a few millimetres is still seen.
constexpr geometry::Length k_step = geometry::millimetres(2.0);

/// Whether the shut door is there; ahead of its hinge and behind its edge there is
/// nothing of it to look out for in a section.
bool stands_at(const core::DoorModel& door, geometry::Length along) {
    bool before = false;
    bool behind = false;
    for (const core::DoorPart& part : door.parts) {
        for (const Eigen::Vector3d& p_mm : part.body.mesh.points) {
            before = before || p_mm.x() <= geometry::in_mm(along);
            behind = behind || p_mm.x() >= geometry::in_mm(along);
        }
    }
    return before && behind;
}

/// The car with those doors alone that stand at a place.
core::CarModel with_doors_at(core::CarModel car, geometry::Length along) {
    for (core::DoorModel& door : car.doors) {
        if (!stands_at(door, along)) {
            door.parts.clear();
        }
    }
    return car;
}

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
    const core::CarModel car = with_doors_at(evaluation.car, along);
    auto lines = core::door_limit_lines(evaluation.job, car, along, window, k_step);
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
