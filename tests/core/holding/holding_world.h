#pragma once

#include <gtest/gtest.h>

#include <string>
#include <utility>
#include <vector>

#include "core/car_model.h"
#include "core/drawn_loft.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"
#include "core/skirt/flange_face.h"

namespace sillwright::core {

inline Entry held_mm(double value) {
    return {geometry::millimetres(value), ""};
}

/// A skirt that is the same from 0 to 1800 along: shelf at up 118 from out 80 to 140, face at out 150, flange at up 15
/// from out 75 to 35; sheet of 3, drawn inside, ABS; five clips, 400 apart, 20 from the flange's free edge.
inline Job held_job() {
    Job job;
    Piece piece;
    piece.name = "skirt";
    piece.carried_by = "body";
    piece.sheet = held_mm(3);
    piece.top_edge = TopEdgeFixing::none;
    for (int i = 0; i < 4; ++i) {
        const std::string n = std::to_string(i + 1);
        job.stations.push_back(Station{n, held_mm(600.0 * i), {}});
        const auto node = [&n](const std::string& name, double out, double up, double radius) {
            return Node{"s" + n + " " + name, name, held_mm(out), held_mm(up), held_mm(radius), {}};
        };
        piece.drawn.sections.push_back(
            Section{n,
                    {node("top return end", 60, 118, 0), node("shelf inner", 80, 118, 6),
                     node("shelf edge", 140, 116, 5), node("bead", 150, 108, 8), node("lower edge", 140, 15, 6),
                     node("flange root", 75, 15, 6), node("flange end", 35, 15, 0)},
                    {}});
    }
    job.skirt.pieces.push_back(std::move(piece));
    job.skirt.material.name = "ABS";
    job.loads.stepping = Stepping::refused;
    for (int i = 0; i < 5; ++i) {
        Mount mount;
        mount.name = "H" + std::to_string(i + 1);
        mount.at = {held_mm(100.0 + 400.0 * i), held_mm(55), held_mm(15)};
        mount.axis = {0, 0, -1};
        mount.fastener.name = "clip";
        mount.fastener.diameter = held_mm(6);
        mount.fastener.holds = geometry::newtons(150);
        mount.part_hole = held_mm(6.5);
        job.mounts.push_back(std::move(mount));
    }
    return job;
}

/// The model of the drawn lines alone, which is all that holding reads.
inline CarModel held_car(const Job& job) {
    CarModel car;
    for (const Piece& piece : job.skirt.pieces) {
        auto line = loft_of(job, piece.drawn, false, piece.name);
        EXPECT_TRUE(line.has_value()) << (line ? "" : line.error().message);
        car.pieces.push_back({piece.name, line ? std::optional(std::move(line).value()) : std::nullopt, {}, {}, {}});
    }
    return car;
}

/// A plan by hand: every hole where its mount's axis lands; the middle one is the locator; what the job has is drawn.
inline MountPlan held_plan(const Job& job, const CarModel& car) {
    MountPlan plan;
    const auto face = FlangeFace::of(job.skirt.pieces.front(), *car.pieces.front().line);
    for (const Mount& mount : job.mounts) {
        const auto landed = face && mount.use == MountUse::flange ? landing(mount, *face) : std::nullopt;
        if (!landed) {
            continue;
        }
        HolePlan hole;
        hole.mount = mount.name;
        hole.landing = *landed;
        hole.role = mount.name == "H3" ? HoleRole::locator : HoleRole::clearance;
        hole.screw_mm = 6.0;
        hole.from_locator_mm = landed->p_mm.x() - 900.0;
        // 60 K hotter, steel behind: 0.0038 of the length.
        hole.growth.greatest_mm = 0.0038 * std::abs(hole.from_locator_mm);
        hole.cut = {6.5 + hole.growth.greatest_mm, 6.5};
        hole.shift_mm = (hole.from_locator_mm < 0 ? 0.5 : -0.5) * hole.growth.greatest_mm;
        if (mount.part_hole) {
            const double width = geometry::in_mm(mount.part_hole->value);
            hole.drawn = HoleSize{mount.part_slot ? geometry::in_mm(mount.part_slot->value) : width, width};
            hole.drawn_shift_mm = mount.part_shift ? geometry::in_mm(mount.part_shift->value) : 0.0;
        }
        plan.holes.push_back(std::move(hole));
    }
    plan.locator = "H3";
    return plan;
}

/// Null if there is none.
inline const Finding* held_finding(const std::vector<Finding>& findings, const std::string& id) {
    for (const Finding& finding : findings) {
        if (finding.id == id) {
            return &finding;
        }
    }
    return nullptr;
}

inline std::string input_of(const Finding& finding, const std::string& name) {
    for (const Input& input : finding.inputs) {
        if (input.name == name) {
            return input.value;
        }
    }
    return {};
}

}  // namespace sillwright::core
