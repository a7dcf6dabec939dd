#include "core/forming/flute_lanes.h"

#include <gmock/gmock.h>

#include <chrono>
#include <cmath>
#include <filesystem>
#include <numbers>

#include "core/edit/flute_edit.h"
#include "core/job_file.h"
#include "tests/core/forming/flute_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;
using std::numbers::pi;

TEST(FluteLanes, ALaneIsSaidFromRunOutToRunOut) {
    const auto lanes = lanes_of(flute_world({{0, 0, 0}, {1000, 0, 0}}, {round_flute("a", 40)}));
    ASSERT_EQ(lanes.size(), 1U);
    const FluteLane& lane = lanes[0];
    EXPECT_TRUE(lane.missing.empty()) << lane.missing.front();
    EXPECT_EQ(in_mm(lane.rows.front().along), 100);
    EXPECT_EQ(in_mm(lane.rows.back().along), 900);
    for (std::size_t i = 0; i < lane.rows.size(); ++i) {
        const LaneRow& row = lane.rows[i];
        EXPECT_NEAR((row.middle_mm - Eigen::Vector2d(200, 100)).norm(), 0, 1e-9);
        EXPECT_NEAR(in_mm(*row.fence), 75 - 40, 1e-9) << "outward of the edge";
        EXPECT_FALSE(row.room);
        if (i > 0) {
            EXPECT_LE(in_mm(row.along - lane.rows[i - 1].along), k_lane_pitch_mm + 1e-9);
        }
    }
    EXPECT_EQ(lane.bit, "round nose 24");
    EXPECT_TRUE(lane.bit_proposed);
    EXPECT_NEAR(in_mm(lane.bit_width), 20.785, 5e-4);
    EXPECT_EQ(lane.passes, 1);
    EXPECT_NEAR(in_mm(*lane.wood_left), 6, 1e-9) << "a board of 12, 6 deep";
    EXPECT_NEAR(in_mm(lane.mould_width), 20.78, 1e-9);
    EXPECT_NEAR(in_mm(lane.part_width), 20.78 - 6 * std::tan(pi / 6), 1e-9) << "2 t tan(60°/2)";
    EXPECT_NEAR(in_mm(*lane.bottom_thickness), 3 * std::sin(pi / 3) / (pi / 3), 1e-3);
    // 100 in front, less half the width for its round end.
    EXPECT_NEAR(in_mm(*lane.front_room), 100 - 10.39, 1e-9);
    EXPECT_NEAR(in_mm(*lane.rear_room), 100 - 10.39, 1e-9);
    EXPECT_TRUE(lane.fence_straight);
    EXPECT_FALSE(lane.batten);
}

TEST(FluteLanes, HasARowAtEveryStation) {
    const auto lanes =
        lanes_of(flute_world({{0, 0, 0}, {333, 0, 0}, {777, 0, 0}, {1000, 0, 0}}, {round_flute("a", 40)}));
    for (const double at : {333.0, 777.0}) {
        EXPECT_TRUE(std::any_of(lanes[0].rows.begin(), lanes[0].rows.end(), [&](const LaneRow& row) {
            return in_mm(row.along) == at;
        })) << at;
    }
}

// Drawn as one rounding, but cut by a bit with sharper corners: that is what the sheet is drawn into.
TEST(FluteLanes, TheBottomIsAsTheBitLeavesIt) {
    Flute flute = round_flute("a", 40);
    flute.width = flute_mm(12);
    flute.depth = flute_mm(4);
    flute.bottom_radius = flute_mm(6.5);
    const FluteLane lane = lanes_of(flute_world({{0, 0, 0}, {1000, 0, 0}}, {flute}))[0];
    EXPECT_EQ(lane.bit, "flat 12 corners 3");
    EXPECT_EQ(in_mm(lane.mould_radius), 3);
    EXPECT_NEAR(geometry::in_deg(lane.mouth), 90, 1e-9);
    EXPECT_NEAR(in_mm(lane.part_width), 12 - 6, 1e-9) << "a sheet of 3 at each wall";
}

TEST(FluteLanes, LandsAreFromMouthToMouth) {
    Flute wide = round_flute("c", 100);
    wide.width = flute_mm(30);
    wide.bottom_radius = flute_mm(4);
    const auto lanes =
        lanes_of(flute_world({{0, 0, 0}, {1000, 0, 0}}, {wide, round_flute("a", 30), round_flute("b", 60)}));
    EXPECT_FALSE(lanes[0].land) << "the innermost";
    EXPECT_NEAR(in_mm(*lanes[1].land), 30 - 20.78, 1e-9);
    EXPECT_EQ(lanes[1].land_to, "b");
    EXPECT_NEAR(in_mm(*lanes[2].land), 40 - 10.39 - 15, 1e-9);
    EXPECT_EQ(lanes[2].land_to, "c");
}

TEST(FluteLanes, FlutesThatAreNotBesideOneAnotherHaveNoLand) {
    Flute front = round_flute("front", 40);
    front.rear = flute_mm(400);
    Flute rear = round_flute("rear", 45);
    rear.front = flute_mm(500);
    for (const FluteLane& lane : lanes_of(flute_world({{0, 0, 0}, {1000, 0, 0}}, {front, rear}))) {
        EXPECT_FALSE(lane.land);
    }
}

// A wall that comes nearer along the car, from 80 to 40 from the lane: against every place of the wall, a millimetre
// apart.
TEST(FluteLanes, RoomIsTheLeastAlongTheWholePlate) {
    Flute through = round_flute("a", 40);
    through.front.reset();
    through.rear.reset();
    const Job job =
        flute_world({{0, 120, 10}, {300, 120, 10}, {600, 120, 10}, {900, 120, 10}, {1000, 160, 10}}, {through});
    const geometry::Loft line = flute_line(job);
    for (const LaneRow& row : lanes_of(job)[0].rows) {
        double least = 1e9;
        for (int along = 0; along <= 1000; ++along) {
            const double wall = line.node_at(1, millimetres(along)).p_mm.x();
            least = std::min(least, std::hypot(along - in_mm(row.along), 200 - wall));
        }
        ASSERT_TRUE(row.room);
        EXPECT_NEAR(in_mm(*row.room), least, 0.1) << in_mm(row.along);
    }
}

// An edge along a circle of 10 m that bulges outward: the lane 40 inside of it, the fence the base plate's 75 outside.
TEST(FluteLanes, AFenceBesideABentEdgeIsABatten) {
    std::vector<FluteSection> sections;
    for (int i = 0; i <= 10; ++i) {
        sections.push_back({100.0 * i, 0, 0});
    }
    Job job = flute_world(sections, {round_flute("a", 40)});
    for (std::size_t i = 0; i < sections.size(); ++i) {
        const double off = sections[i].along - 500;
        const double back = 10000 - std::sqrt(1e8 - off * off);
        for (std::size_t n = 0; n < 8; ++n) {
            Node& node = job.skirt.pieces[0].drawn.sections[i].nodes[n];
            node.out = flute_mm(in_mm(node.out.value) - back);
        }
    }
    const FluteLane lane = lanes_of(job)[0];
    EXPECT_FALSE(lane.fence_straight);
    ASSERT_TRUE(lane.batten);
    // Offsets are measured in the section, square to the car: the lane is the same circle, shifted; a guide line
    // through points a hundred apart follows it to some thousandths.
    EXPECT_NEAR(in_mm(*lane.batten), 10000 + 75, 250);
}

TEST(FluteLanes, ARecessIsLaidAlongItsMiddle) {
    Job job = flute_world({{0, 0, 0}, {1000, 0, 0}});
    Recess badge;
    badge.name = "badge";
    badge.along = flute_mm(500);
    badge.offset = flute_mm(30);
    badge.length = flute_mm(120);
    badge.width = flute_mm(30);
    badge.depth = flute_mm(1.5);
    badge.corner_radius = flute_mm(5);
    job.skirt.pieces[0].recesses = {badge};
    const FluteLane lane = lanes_of(job).at(0);
    EXPECT_TRUE(lane.recess);
    EXPECT_EQ(in_mm(lane.rows.front().along), 440);
    EXPECT_EQ(in_mm(lane.rows.back().along), 560);
    EXPECT_EQ(lane.bit, "flat 10") << "5 is its radius";
    EXPECT_NEAR((lane.rows[0].middle_mm - Eigen::Vector2d(250, 60)).norm(), 0, 1e-9);
    EXPECT_NEAR(in_mm(*lane.front_room), 440, 1e-9);
    EXPECT_NEAR(in_mm(*lane.wood_left), 10.5, 1e-9);
    EXPECT_NEAR(in_mm(lane.rows[0].flat_left), 15, 1e-9) << "30 less half of 30";
}

TEST(FluteLanes, WhatIsNotKnownIsAskedFor) {
    Job job = flute_world({{0, 0, 0}, {1000, 0, 0}}, {round_flute("a", 40)});
    job.forming.router.base_radius.reset();
    job.forming.router.board.reset();
    job.forming.mould.reset();
    job.forming.tilt.reset();
    job.skirt.pieces[0].sheet.reset();
    const FluteLane lane = lanes_of(job)[0];
    EXPECT_THAT(lane.missing,
                testing::UnorderedElementsAre("the thickness of the plug's board",
                                              "the radius of the router's base plate", "the sheet's thickness",
                                              "whether the mould is male or female", "the tilt of the draw direction"));
    EXPECT_FALSE(lane.wood_left);
    EXPECT_FALSE(lane.undercut);
    EXPECT_FALSE(lane.rows.front().bearing);
    EXPECT_FALSE(lane.rows.front().fence);
    EXPECT_FALSE(lane.bottom_thickness);
}

TEST(FluteLanes, TheFormedSheetGoesBeforeTheSheet) {
    const Job job = flute_world({{0, 0, 0}, {1000, 0, 0}}, {round_flute("a", 60)});
    FormedSheet formed;
    formed.sheet = millimetres(3);
    formed.rows = {millimetres(0), millimetres(1000)};
    formed.marks = {0, 7};
    formed.shares = {{0.5, 1.2}, {0.5, 1.2}};
    const geometry::Loft line = flute_line(job);
    const auto lanes = flute_lanes(job, job.skirt.pieces[0], line, &formed);
    // The shelf runs from node 1 (out 0) to node 2 (out 240); 60 from the edge is mark 1.75: 3 (0.5 + 0.7 · 1.75 / 7).
    EXPECT_NEAR(in_mm(*lanes[0].sheet), 3 * (0.5 + 0.1 * 1.75), 1e-9);
}

TEST(FluteLanes, OfNothingIsNothing) {
    const Job job = flute_world({{0, 0, 0}, {1000, 0, 0}});
    EXPECT_TRUE(lanes_of(job).empty());
    EXPECT_TRUE(flute_findings_of(job).empty());
}

TEST(FluteLanes, WithoutAShelfItSaysWhatToDraw) {
    Job job = flute_world({{0, 0, 0}, {1000, 0, 0}}, {round_flute("a", 40)});
    for (Section& section : job.skirt.pieces[0].drawn.sections) {
        section.nodes[1].name = "top";
    }
    const FluteLane lane = lanes_of(job)[0];
    EXPECT_TRUE(lane.rows.empty());
    EXPECT_THAT(lane.missing.front(), testing::HasSubstr("shelf inner"));
    for (const Finding& finding : flute_findings_of(job)) {
        EXPECT_TRUE(finding.state == State::not_measured || finding.id.ends_with("/bit") ||
                    finding.id.ends_with("/wood"))
            << finding.id;
    }
}

// Three flutes on the sample's skirt: fast enough to follow the hand. Measured, and held to a bound that a loaded
// machine keeps.
TEST(FluteLanes, AreFoundQuicklyOnTheSample) {
    auto job = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright");
    ASSERT_TRUE(job) << job.error().message;
    FluteRow row;
    row.widths = {millimetres(14), millimetres(12), millimetres(10)};
    row.depth = millimetres(4);
    row.land = millimetres(6);
    row.first_offset = millimetres(10);
    Job thin = job.value();
    thin.skirt.pieces[0].sheet = flute_mm(3);
    const auto edit = lay_flutes(thin, 0, row);
    ASSERT_TRUE(edit) << edit.error().message;
    Job laid = edit.value().job;
    laid.forming.mould = MouldKind::male;
    laid.forming.router.base_radius = flute_mm(75);
    const geometry::Loft line = flute_line(laid);
    double best = 1e9;
    for (int i = 0; i < 5; ++i) {
        const auto start = std::chrono::steady_clock::now();
        const auto lanes = flute_lanes(laid, laid.skirt.pieces[0], line, nullptr);
        const auto found = flute_findings(laid, laid.skirt.pieces[0], line, nullptr, lanes, Mends::leave);
        best =
            std::min(best, std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count());
        EXPECT_EQ(found.size(), 3U * 8 + 2);
    }
    RecordProperty("milliseconds", std::to_string(best));
    EXPECT_LT(best, 200.0);
}

}  // namespace
}  // namespace sillwright::core
