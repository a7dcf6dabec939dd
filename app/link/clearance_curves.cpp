#include "app/link/clearance_curves.h"

#include <string>

#include "geometry/motion_distance.h"

namespace sillwright::app {

namespace {

constexpr geometry::Angle k_step = geometry::degrees(0.5);  ///< Fine enough to be drawn as it is.

/// The finding that a moving body's gap is in; ids as core::swing_questions makes them.
std::string finding_id(const std::string& door, core::MovingKind kind) {
    const std::string stem = "swing/" + door + "/";
    switch (kind) {
        case core::MovingKind::cladding:
            return stem + "cladding moving";
        case core::MovingKind::carried:
            return stem + "carried moving";
        case core::MovingKind::edge:
            break;
    }
    return stem + "moving";
}

}  // namespace

geometry::Result<std::vector<ClearanceCurve>> clearance_curves(const core::Evaluation& evaluation) {
    std::vector<ClearanceCurve> curves;
    for (const core::SwingOutcome& outcome : evaluation.outcomes) {
        if (outcome.which != core::SwingCase::moving) {
            continue;
        }
        const core::SwingPair& pair = outcome.pair;
        const core::DoorModel& door = evaluation.car.doors[pair.door];
        const auto poses = geometry::clearance_curve(*pair.fixed->tree, *pair.moving->tree, outcome.motion,
                                                     geometry::Angle{}, *door.opening, k_step);
        if (!poses) {
            return poses.error();
        }
        ClearanceCurve curve{finding_id(door.name, pair.kind), door.name, pair.moving->name, pair.fixed->name, {}};
        for (const geometry::PoseDistance& pose : poses.value()) {
            curve.points.push_back({pose.at, pose.distance});
        }
        curves.push_back(std::move(curve));
    }
    return curves;
}

}  // namespace sillwright::app
