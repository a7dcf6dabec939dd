#include "app/link/solids_of_job.h"

#include <Eigen/Geometry>
#include <cmath>
#include <map>
#include <string>
#include <utility>

#include "app/link/solid_tints.h"
#include "core/number_text.h"
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

/// Of a mount whose size is not measured, so that it is seen at all.
constexpr geometry::Length k_mount_across = geometry::millimetres(8.0);

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

/// The mesh in the car's frame; the one of the body of that name and place before, if it is the same.
std::shared_ptr<const geometry::Mesh> in_car(const SillFrame& frame, const geometry::Mesh& mesh_sill,
                                             const SolidScene& before, std::size_t place) {
    geometry::Mesh mesh = frame.car_from_sill(mesh_sill);
    if (place < before.bodies.size()) {
        const geometry::Mesh& old = *before.bodies[place].mesh;
        if (old.points == mesh.points && old.triangles == mesh.triangles) {
            return before.bodies[place].mesh;
        }
    }
    return std::make_shared<const geometry::Mesh>(std::move(mesh));
}

DoorTurn turn_of(const core::DoorModel& door, const SillFrame& frame) {
    const HingeMotion motion = door.released ? *door.released : *door.on_striker;
    return {door.name, *door.opening, [motion, frame](Angle angle) {
                const bool shut = angle == Angle{};
                return car_pose(frame, shut ? Eigen::Isometry3d::Identity() : geometry::pose(motion, angle));
            }};
}

using Tints = std::shared_ptr<const std::vector<int>>;

/// Of the next body of `made`, which is a piece's; those of the body of that place before, if they are the same.
Tints tints_of(const core::Evaluation& evaluation, std::size_t piece, const MadeSolids& made,
               const MadeSolids& before) {
    if (made.tinted == SectionForming::none) {
        return nullptr;
    }
    const std::size_t place = made.scene.bodies.size();
    const Tints old = place < before.scene.bodies.size() ? before.scene.bodies[place].tints : nullptr;
    const bool same_plan = before.forming == made.forming && before.tinted == made.tinted;
    if (old && same_plan && old->size() == evaluation.car.pieces[piece].body->mesh.triangles.size()) {
        return old;
    }
    std::vector<int> tints = piece_tints(evaluation, piece, made.tinted);
    if (tints.empty()) {
        return nullptr;
    }
    return old && *old == tints ? old : std::make_shared<const std::vector<int>>(std::move(tints));
}

/// The car's own body, where it is the same as before that one.
geometry::Result<std::shared_ptr<const geometry::Mesh>> body_of(const core::Evaluation& evaluation,
                                                                const SillFrame& frame, const MadeSolids& before) {
    const bool has = !before.scene.bodies.empty() && before.scene.bodies.front().role == SolidRole::body;
    const bool right_hand = evaluation.job.side == core::Side::right;
    if (has && before.body == evaluation.job.body && before.stations == evaluation.job.stations &&
        before.scene.right_hand == right_hand && before.zero_to_midplane == evaluation.job.zero_to_midplane) {
        return before.scene.bodies.front().mesh;
    }
    const auto body = core::body_surface(*evaluation.car.body, k_body_deviation);
    if (!body) {
        return body.error();
    }
    return in_car(frame, body.value().mesh, before.scene, 0);
}

SolidMount disc_of(const core::Mount& mount, const SillFrame& frame) {
    const geometry::Length across = mount.size ? mount.size->value : k_mount_across;
    return {mount.name, frame.car_from_sill(core::in_mm(mount.at)), frame.turned(mount.axis.normalized()),
            across / 2.0};
}

}  // namespace

geometry::Result<SolidScene> solids_of_job(const core::Evaluation& evaluation) {
    auto made = solids_again(evaluation, {});
    if (!made) {
        return made.error();
    }
    return std::move(made).value().scene;
}

geometry::Result<MadeSolids> solids_again(const core::Evaluation& evaluation, const MadeSolids& before,
                                          SectionForming tinted) {
    const core::CarModel& car = evaluation.car;
    const SillFrame frame(evaluation.job);
    MadeSolids made{{}, evaluation.job.body, evaluation.job.stations, evaluation.job.zero_to_midplane};
    made.tinted = tinted;
    made.forming = evaluation.forming;
    SolidScene& scene = made.scene;
    scene.right_hand = evaluation.job.side == core::Side::right;
    const auto placed = [&](const geometry::Mesh& mesh_sill) {
        return in_car(frame, mesh_sill, before.scene, scene.bodies.size());
    };
    if (car.body) {
        auto body = body_of(evaluation, frame, before);
        if (!body) {
            return body.error();
        }
        scene.bodies.push_back({"body", SolidRole::body, std::move(body).value(), std::nullopt});
    }
    std::map<std::string, std::size_t> turns;
    for (const core::DoorModel& door : car.doors) {
        std::optional<std::size_t> turn;
        if (door.on_striker && door.opening) {
            turn = turns[door.name] = scene.doors.size();
            scene.doors.push_back(turn_of(door, frame));
        }
        for (const core::DoorPart& part : door.parts) {
            scene.bodies.push_back({part.body.name, SolidRole::door, placed(part.body.mesh), turn, door.name});
        }
    }
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        if (!car.pieces[i].body) {
            continue;
        }
        const auto carrier = turns.find(evaluation.job.skirt.pieces[i].carried_by);
        const auto turn = carrier == turns.end() ? std::nullopt : std::optional(carrier->second);
        scene.bodies.push_back({car.pieces[i].name,
                                SolidRole::skirt,
                                placed(car.pieces[i].body->mesh),
                                turn,
                                {},
                                tints_of(evaluation, i, made, before)});
    }
    scene.tints = tint_words(evaluation, tinted);
    for (const core::Mount& mount : evaluation.job.mounts) {
        scene.mounts.push_back(disc_of(mount, frame));
    }
    return made;
}

std::optional<std::string> door_of(const core::Finding& finding, const core::Job& job) {
    for (const core::Door& door : job.doors) {
        if (finding.id.starts_with("swing/" + door.name + "/")) {
            return door.name;
        }
    }
    return std::nullopt;
}

std::optional<SolidDimension> dimension_of(const core::Finding& finding, const core::Job& job) {
    const core::Place& place = finding.place;
    if (!place.on_part_mm || !place.on_other_mm || !finding.found) {
        return std::nullopt;
    }
    const SillFrame frame(job);
    SolidDimension dimension;
    dimension.from_mm = frame.car_from_sill(*place.on_part_mm);
    dimension.to_mm = frame.car_from_sill(*place.on_other_mm);
    dimension.state = finding.state;
    // With the sign that findings are written with, not a hyphen.
    const std::string sign = *finding.found < 0.0 ? "\u2212" : "";
    dimension.words =
        finding.touching.empty() ? sign + core::mm_text(geometry::millimetres(std::abs(*finding.found))) : "touches";
    if (place.door_angle) {
        dimension.door = door_of(finding, job).value_or("");
        dimension.at = *place.door_angle;
    }
    return dimension;
}

const core::Finding* worst_of_door(const core::Evaluation& evaluation, const std::string& door) {
    for (const core::Finding& finding : evaluation.findings) {
        const core::Place& place = finding.place;
        if (door_of(finding, evaluation.job) == door && place.on_part_mm && place.on_other_mm && finding.found) {
            return &finding;
        }
    }
    return nullptr;
}

DoorMarks marks_of_door(const core::Evaluation& evaluation, const std::string& door) {
    DoorMarks marks;
    for (const core::Finding& finding : evaluation.findings) {
        if (door_of(finding, evaluation.job) != door) {
            continue;
        }
        marks.touching.insert(marks.touching.end(), finding.touching.begin(), finding.touching.end());
        if (!marks.worst && finding.place.door_angle && finding.found) {
            marks.worst = DoorMarks::Worst{*finding.place.door_angle, finding.state};
        }
    }
    return marks;
}

}  // namespace sillwright::app
