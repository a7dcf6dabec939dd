#include "core/forming/plate_bed.h"

#include <cmath>
#include <numbers>

#include "tests/core/forming/flute_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;
using std::numbers::pi;

PlateStand stand(const Job& job, double along, double offset, double radius = 75, double look = 200,
                 RecessFace face = RecessFace::shelf) {
    const geometry::Loft line = flute_line(job);
    const PlateBed bed(job.skirt.pieces[0], line, *strip_of(line, face));
    return bed.stand_at(
        {millimetres(along), millimetres(offset), millimetres(radius), millimetres(look), false, false});
}

/// Part of a disc beyond a chord at distance c from its middle: (acos q - q sqrt(1 - q²)) / pi, q = c / r.
double beyond(double radius, double c) {
    const double q = c / radius;
    return (std::acos(q) - q * std::sqrt(1 - q * q)) / pi;
}

// A straight wall 10 high at out 140, the axis at out 200.
TEST(PlateBed, MeasuresToAWall) {
    const PlateStand here = stand(flute_world({{0, 140, 10}, {1000, 140, 10}}), 500, 40);
    ASSERT_TRUE(here.room);
    EXPECT_NEAR(in_mm(*here.room), 60, 1e-9);
    EXPECT_TRUE(here.room_is_far);
    EXPECT_NEAR((here.middle_mm - Eigen::Vector2d(200, 100)).norm(), 0, 1e-9);
}

// A wall that runs from out 100 in front to out 160 at the rear: square to it, (200 - out) cos(atan 0.06).
TEST(PlateBed, MeasuresSquareToAWallThatRunsAslant) {
    const Job job = flute_world({{0, 100, 10}, {1000, 160, 10}});
    for (const double along : {200.0, 500.0, 830.0}) {
        const PlateStand here = stand(job, along, 40);
        EXPECT_NEAR(in_mm(*here.room), (100 - 0.06 * along) * std::cos(std::atan(0.06)), 1e-6) << along;
    }
}

TEST(PlateBed, WhatIsLevelIsNoUpstandAndWhatIsTooFarIsNotSeen) {
    EXPECT_FALSE(stand(flute_world({{0, 140, 0}, {1000, 140, 0}}), 500, 40).room);
    EXPECT_FALSE(stand(flute_world({{0, 140, 0.4}, {1000, 140, 0.4}}), 500, 40).room) << "within half a millimetre";
    EXPECT_TRUE(stand(flute_world({{0, 140, 0.6}, {1000, 140, 0.6}}), 500, 40).room);
    EXPECT_FALSE(stand(flute_world({{0, 140, 10}, {1000, 140, 10}}), 500, 40, 75, 59).room);
}

// A wall on the outer side: the bead drawn 8 above the shelf at out 250, 0.5 above it at 240 + 10 · 0.5 / 8.
TEST(PlateBed, SeesWhatStandsUpOnTheOuterSide) {
    Job job = flute_world({{0, 0, 0}, {1000, 0, 0}});
    for (Section& section : job.skirt.pieces[0].drawn.sections) {
        section.nodes[3].up = flute_mm(108);
    }
    const PlateStand here = stand(job, 500, 100);
    ASSERT_TRUE(here.room);
    EXPECT_NEAR(in_mm(*here.room), 100 + 0.625, 1e-9);
    EXPECT_FALSE(here.room_is_far);
}

// A wall that rises from nothing at 500 to 20 at the rear: 0.5 high at 512.5; from 400 it is 100 + 12.5 along and 60
// in.
TEST(PlateBed, SeesWhereAWallBegins) {
    Job job = flute_world({{0, 140, 0.001}, {500, 140, 0.001}, {1000, 140, 20}});
    const geometry::Loft line = flute_line(job);
    double begins = 500;
    while (line.node_at(0, millimetres(begins)).p_mm.y() < 100.5) {
        begins += 0.01;
    }
    const PlateStand here = stand(job, 400, 40, 75, 300);
    ASSERT_TRUE(here.room);
    EXPECT_NEAR(in_mm(*here.room), std::hypot(begins - 400, 60), 0.1);
}

TEST(PlateBed, BearsByCircularSegments) {
    // Shelf of 100 from its edge to a wall: 30 to the edge, 70 to the wall. The edge falls at 45°: 0.5 more are level.
    EXPECT_NEAR(stand(flute_world({{0, 140, 10}, {1000, 140, 10}}), 500, 30).bearing,
                1 - beyond(75, 30.5) - beyond(75, 70), 1e-6);
    // The return goes on level by 40 more: nothing hangs over there.
    EXPECT_NEAR(stand(flute_world({{0, 140, 0}, {1000, 140, 0}}), 500, 30).bearing, 1 - beyond(75, 30.5), 1e-9);
    // On the very edge of what is level: half.
    EXPECT_NEAR(stand(flute_world({{0, 140, 0}, {1000, 140, 0}}), 500, -0.5).bearing, 0.5, 1e-9);
    // Over the piece's end, at its very corner: a quarter.
    EXPECT_NEAR(stand(flute_world({{0, 140, 0}, {1000, 140, 0}}), 0, -0.5).bearing, 0.25, 1e-9);
}

TEST(PlateBed, AtAThroughEndItBearsAsIfTheShelfWentOn) {
    const geometry::Loft line = flute_line(flute_world({{0, 140, 0}, {1000, 140, 0}}));
    const Job job = flute_world({{0, 140, 0}, {1000, 140, 0}});
    const PlateBed bed(job.skirt.pieces[0], line, *strip_of(line, RecessFace::shelf));
    for (const double along : {0.0, 20.0, 1000.0}) {
        const PlateStand here = bed.stand_at(
            {millimetres(along), millimetres(30), millimetres(75), millimetres(100), along<500, along> 500});
        EXPECT_NEAR(here.bearing, 1 - beyond(75, 30.5), 1e-9) << along;
    }
}

// A rounded edge bears as far as it is level to 0.5: radius 5, turned by 45°: the straight ends 5 tan 22.5° = 2.071
// from the node; from there the rounding falls by 0.5 within sqrt(0.5 (2·5 - 0.5)) = 2.179.
TEST(PlateBed, BearsOnARoundingAsFarAsItIsLevel) {
    Job job = flute_world({{0, 0, 0}, {1000, 0, 0}});
    for (Section& section : job.skirt.pieces[0].drawn.sections) {
        section.nodes[2].radius = flute_mm(5);
    }
    EXPECT_NEAR(stand(job, 500, 30).bearing, 1 - beyond(75, 30 - 5 * std::tan(pi / 8) + std::sqrt(0.5 * 9.5)), 2e-4);
}

TEST(PlateBed, IsTheSameOnAShelfThatLeansAndRises) {
    const Job level = flute_world({{0, 140, 10}, {1000, 140, 10}});
    Job turned = level;
    const double a = 0.2;
    const double rise = 0.05;
    auto& sections = turned.skirt.pieces[0].drawn.sections;
    for (std::size_t s = 0; s < sections.size(); ++s) {
        for (Node& node : sections[s].nodes) {
            const double out = in_mm(node.out.value);
            const double up = in_mm(node.up.value);
            node.out = flute_mm(std::cos(a) * out - std::sin(a) * up);
            node.up = flute_mm(std::sin(a) * out + std::cos(a) * up + (s == 0 ? 0.0 : rise * 1000));
        }
    }
    EXPECT_NEAR(in_mm(*stand(level, 500, 40).room), 60, 1e-9);
    // It rises aslant, which is no rigid turn: lane and wall run side by side along (1, 0, 0.05), 60 apart along the
    // shelf in the section. The wall leans by 0.0005 against the plate: 0.5 up that is 0.00025.
    const double along_lane = rise * std::sin(a) / std::sqrt(1 + rise * rise);
    EXPECT_NEAR(in_mm(*stand(turned, 500, 40).room), 60 * std::sqrt(1 - along_lane * along_lane), 3e-4);
}

TEST(PlateBed, LiesOnTheFaceToo) {
    const Job job = flute_world({{0, 0, 0}, {1000, 0, 0}});
    const PlateStand here = stand(job, 500, 30, 75, 200, RecessFace::face);
    EXPECT_NEAR((here.middle_mm - Eigen::Vector2d(250, 60)).norm(), 0, 1e-9) << "30 down from the bead";
    EXPECT_FALSE(here.room) << "both its edges fall away";
    EXPECT_NEAR(here.bearing, 1 - 2 * beyond(75, 30 + 0.5), 1e-6) << "60 high; 0.5 more at 45° to either side";
}

TEST(PlateBed, AsksForTheNodesItNeeds) {
    Job job = flute_world({{0, 0, 0}, {1000, 0, 0}});
    for (Section& section : job.skirt.pieces[0].drawn.sections) {
        section.nodes[1].name = "elsewhere";
        section.nodes[4].name = "too";
    }
    EXPECT_FALSE(strip_of(flute_line(job), RecessFace::shelf));
    EXPECT_FALSE(strip_of(flute_line(job), RecessFace::face));
}

}  // namespace
}  // namespace sillwright::core
