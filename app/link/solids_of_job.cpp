#include "app/link/solids_of_job.h"

#include <Eigen/Geometry>
#include <map>
#include <string>

#include "core/sill_frame.h"
#include "geometry/motion.h"

namespace sillwright::app {

using core::SillFrame;
using Eigen::Vector3d;
using geometry::Angle;
using geometry::HingeMotion;

namespace {

/// Enough for a picture.
constexpr geometry::Length k_body_deviation = geometry::millimetres(0.2);

/// The door's pose in the car's frame: the way there is to go to the sill's frame,
/// turn there, and come back.
DoorPose car_pose(const SillFrame& frame, const Eigen::Isometry3d& sill_pose) {
    DoorPose pose;
    for (int i = 0; i < 3; ++i) {
        pose.col(i) = frame.turned(sill_pose.linear() * frame.turned(Vector3d::Unit(i)));
    }
    pose.col(3) = frame.car_from_sill(sill_pose * frame.sill_from_car(Vector3d::Zero()));
    return pose;
}

DoorTurn turn_of(const core::DoorModel& door, const SillFrame& frame) {
    const HingeMotion motion = door.released ? *door.released : *door.on_striker;
    return {door.name, *door.opening, [motion, frame](Angle angle) {
                const bool shut = angle == Angle{};
                return car_pose(frame, shut ? Eigen::Isometry3d::Identity() : geometry::pose(motion, angle));
            }};
}

}  // namespace

geometry::Result<SolidScene> solids_of_job(const core::Evaluation& evaluation) {
    const core::CarModel& car = evaluation.car;
    const SillFrame frame(evaluation.job);
    SolidScene scene;
    if (car.body) {
        auto body = core::body_surface(*car.body, k_body_deviation);
        if (!body) {
            return body.error();
        }
        scene.bodies.push_back({"body", SolidRole::body, frame.car_from_sill(body.value().mesh), std::nullopt});
    }
    std::map<std::string, std::size_t> turns;
    for (const core::DoorModel& door : car.doors) {
        std::optional<std::size_t> turn;
        if (door.on_striker && door.opening) {
            turn = turns[door.name] = scene.doors.size();
            scene.doors.push_back(turn_of(door, frame));
        }
        for (const core::DoorPart& part : door.parts) {
            scene.bodies.push_back({part.body.name, SolidRole::door, frame.car_from_sill(part.body.mesh), turn});
        }
    }
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        if (!car.pieces[i].body) {
            continue;
        }
        const auto carrier = turns.find(evaluation.job.skirt.pieces[i].carried_by);
        const auto turn = carrier == turns.end() ? std::nullopt : std::optional(carrier->second);
        scene.bodies.push_back(
            {car.pieces[i].name, SolidRole::skirt, frame.car_from_sill(car.pieces[i].body->mesh), turn});
    }
    return scene;
}

}  // namespace sillwright::app
