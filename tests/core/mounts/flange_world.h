#pragma once

#include <gtest/gtest.h>

#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include "core/car_model.h"
#include "core/job.h"
#include "core/mounts/reach.h"

namespace sillwright::core {

inline Entry mm(double value) {
    return {geometry::millimetres(value), ""};
}

/// A place in a section: out, up, rounding.
struct Spot {
    double out, up, radius = 0.0;
};

/// A piece whose face stands upright at out 150 from up 120 down to the root at up 10;
/// four stations, 500 mm apart, so that its guide lines are straight where the places are.
/// `end_at` gives the flange's end at each station.
inline Piece world_piece(const std::vector<Spot>& root, const std::vector<Spot>& end) {
    Piece piece;
    piece.name = "skirt";
    piece.carried_by = "body";
    piece.sheet = mm(3);
    piece.top_edge = TopEdgeFixing::tape;
    for (std::size_t i = 0; i < root.size(); ++i) {
        const std::string n = std::to_string(i + 1);
        const auto node = [&n](const std::string& name, const Spot& spot) {
            return Node{n + " " + name, name, mm(spot.out), mm(spot.up), mm(spot.radius), {}};
        };
        piece.drawn.sections.push_back(Section{n,
                                               {node("bead", {150, 120}), node("knee", {150, 60}),
                                                node("flange root", root[i]), node("flange end", end[i])},
                                               {}});
    }
    return piece;
}

/// A mount over the middle of the flange, 2 mm over it, its axis straight down.
inline Mount world_mount(const std::string& name = "H1") {
    Mount mount;
    mount.name = name;
    mount.at = {mm(750), mm(130), mm(12)};
    mount.axis = {0, 0, -1};
    mount.panel_thickness = mm(0.8);
    mount.sd = {mm(0.5), mm(0.5), mm(0.4)};
    mount.part_hole = mm(6.5);
    mount.fastener.diameter = mm(6);
    mount.fastener.head_diameter = mm(16);
    mount.fastener.grip_least = mm(5);
    mount.fastener.grip_most = mm(7);
    mount.fastener.spacer = mm(2);
    return mount;
}

inline Job world(Piece piece, Mount mount) {
    Job job;
    for (int i = 0; i < 4; ++i) {
        job.stations.push_back(Station{std::to_string(i + 1), mm(500.0 * i), {}});
    }
    job.skirt.pieces.push_back(std::move(piece));
    job.skirt.paint = mm(0.12);
    job.mounts.push_back(std::move(mount));
    return job;
}

/// A flat flange at up 10 from out 150 to out 110, rounded by 6 at its root.
inline Piece flat_piece() {
    return world_piece(std::vector<Spot>(4, {150, 10, 6}), std::vector<Spot>(4, {110, 10}));
}

inline Job flat_world() {
    return world(flat_piece(), world_mount());
}

inline std::vector<Finding> reach_of(const Job& job) {
    const auto car = car_model(job, ".");
    EXPECT_TRUE(car.has_value()) << (car ? "" : car.error().message);
    return car ? reach_findings(job, car.value()) : std::vector<Finding>{};
}

inline const Finding* find(const std::vector<Finding>& findings, const std::string& id) {
    for (const Finding& finding : findings) {
        if (finding.id == id) {
            return &finding;
        }
    }
    return nullptr;
}

/// The finding of an id; a test failure, and an empty one, if there is none.
inline Finding finding_of(const Job& job, const std::string& id) {
    const auto findings = reach_of(job);
    const Finding* found = find(findings, id);
    EXPECT_NE(found, nullptr) << "no finding " << id;
    return found != nullptr ? *found : Finding{};
}

/// The job with a mend's moves made.
inline Job mended(Job job, const Mend& mend) {
    for (const NodeMove& move : mend.moves) {
        for (Section& section : job.skirt.pieces.front().drawn.sections) {
            for (Node& node : section.nodes) {
                if (node.id == move.node_id) {
                    node.out.value = node.out.value + geometry::millimetres(move.by_mm.x());
                    node.up.value = node.up.value + geometry::millimetres(move.by_mm.y());
                }
            }
        }
    }
    return job;
}

/// Rounding of positions of some 1000 mm; the lean along the car is a difference over 2e-3 mm.
inline constexpr double k_rounding = 1e-8;
inline constexpr double k_deg = std::numbers::pi / 180.0;

/// The numbers of a finding, to `k_rounding`.
inline void expect_numbers(const Job& job, const std::string& id, double found, double required) {
    const Finding finding = finding_of(job, id);
    ASSERT_TRUE(finding.found) << finding.why;
    ASSERT_TRUE(finding.margin);
    EXPECT_NEAR(*finding.found, found, k_rounding) << id;
    EXPECT_NEAR(*finding.required, required, k_rounding) << id;
    EXPECT_NEAR(*finding.margin, finding.at_least ? found - required : required - found, 2 * k_rounding) << id;
}

/// The end runs from out 110 to out 80: 20 mm a metre.
inline Job tapered_world() {
    return world(world_piece(std::vector<Spot>(4, {150, 10, 6}), {{110, 10}, {100, 10}, {90, 10}, {80, 10}}),
                 world_mount());
}

/// Makes a falling finding's mend and looks again: the margin is zero, as was promised.
inline void expect_mended(const Job& job, const std::string& id) {
    const Finding before = finding_of(job, id);
    ASSERT_EQ(before.state, State::falls_short) << before.why;
    ASSERT_TRUE(before.mend) << before.why;
    ASSERT_FALSE(before.mend->moves.empty()) << before.mend->words;
    const Finding after = finding_of(mended(job, *before.mend), id);
    ASSERT_TRUE(after.margin);
    EXPECT_GE(*after.margin, 0.0);
    EXPECT_LT(*after.margin, 0.01);
    EXPECT_NEAR(*after.margin, before.mend->proven_margin.value_or(-1.0), 1e-9);
}

}  // namespace sillwright::core
