#pragma once

#include <string>
#include <vector>

#include "core/buck/buck_plan.h"
#include "core/job.h"
#include "geometry/profile.h"

namespace sillwright::tests {

/// A job with one piece and a board, cut with a bit of 6 mm.
inline core::Job buck_job(core::Side side = core::Side::right) {
    core::Job job;
    job.vehicle = "Estate A, invented";
    job.revision = "C";
    job.side = side;
    job.skirt.pieces.resize(1);
    job.skirt.pieces[0].name = "skirt";
    core::Board board;
    board.name = "mdf 12";
    board.length = core::Entry{geometry::millimetres(2440), ""};
    board.width = core::Entry{geometry::millimetres(1220), ""};
    job.buck.boards.push_back(board);
    job.buck.bit = "flat 6";
    return job;
}

/// A rib 150 wide and 112 high with one hollow of that radius in its outline.
inline geometry::Profile rib_outline(double hollow_mm = 7.0) {
    const std::vector<geometry::ProfileNode> nodes{{{0, 0}, {}},
                                                   {{150, 0}, {}},
                                                   {{150, 50}, geometry::millimetres(8)},
                                                   {{118, 56}, geometry::millimetres(hollow_mm)},
                                                   {{112, 110}, geometry::millimetres(10)},
                                                   {{30, 112}, geometry::millimetres(6)},
                                                   {{0, 70}, geometry::millimetres(5)}};
    return geometry::make_profile(nodes, true).value();
}

inline core::Rib rib(const std::string& label, const std::string& station, double x_mm, double hollow_mm = 7.0) {
    core::Rib made;
    made.label = label;
    made.station = station;
    made.along = geometry::millimetres(x_mm + 400.0);
    made.x_mm = x_mm;
    made.thickness_mm = 12.0;
    made.outline = rib_outline(hollow_mm);
    made.far_outline = rib_outline(hollow_mm);
    made.laps = {{35.0, 12.15, 25.5}, {115.0, 12.15, 27.5}};
    made.pins_mm = {{75.0, 45.0}, {75.0, 95.0}};
    made.level_mm = 36.0;
    return made;
}

/// Three ribs on two spines on a base.
inline core::BuckPlan buck_plan_by_hand() {
    core::PieceBuck buck;
    buck.ribs = {rib("R1", "1", 0.0), rib("R2", "2", 250.0), rib("R3", "3", 500.0)};
    double side = 35.0;
    for (const char* label : {"S1", "S2"}) {
        core::Spine spine;
        spine.label = label;
        spine.side_mm = side;
        spine.thickness_mm = 12.0;
        spine.front_mm = -20.0;
        spine.rear_mm = 540.0;
        spine.height_mm = 52.0;
        spine.rib_labels = {"R1", "R2", "R3"};
        spine.laps = {{6.0, 12.15, 27.0}, {256.0, 12.15, 27.0}, {506.0, 12.15, 27.0}};
        buck.spines.push_back(spine);
        side = 115.0;
    }
    buck.base = core::BaseBoard{"B", -40.0, 560.0, -20.0, 170.0, 12.0};
    return {{buck}};
}

}  // namespace sillwright::tests
