#include "core/road/outer_edges.h"

#include <gmock/gmock.h>

#include <cmath>

#include "tests/core/forming/hand_formed.h"
#include "tests/core/road/road_world.h"

// The rules are from memory of UN Regulation 26; the numbers of the world by hand.

namespace sillwright::core {
namespace {

using geometry::millimetres;
using road_world::Corner;
using road_world::expect_mend_taken;
using road_world::job_of;
using road_world::k_outside_mm;
using road_world::mm;
using road_world::model_of;
using testing::Contains;
using testing::HasSubstr;

std::vector<Finding> all(const Job& job, const CarModel& car) {
    return outer_edge_findings(job, car);
}

Finding finding_of(const Job& job, const std::string& what) {
    return road_world::finding_of(job, all, "mounts/road/edge " + what);
}

TEST(Classify, ByHowFarAnEdgeStandsOut) {
    using enum EdgeRule;
    EXPECT_EQ(classify(20.0, std::nullopt, true), exempt);
    EXPECT_EQ(classify(20.0, 60.0, false), soft);
    EXPECT_EQ(classify(20.0, 61.0, false), radius_2_5);
    EXPECT_EQ(classify(1.49, std::nullopt, false), low);
    EXPECT_EQ(classify(1.5, std::nullopt, false), blunted);
    EXPECT_EQ(classify(4.99, std::nullopt, false), blunted);
    EXPECT_EQ(classify(5.0, std::nullopt, false), radius_2_5);
    EXPECT_EQ(radius_asked_mm(radius_2_5), std::optional(2.5));
    EXPECT_EQ(radius_asked_mm(blunted), std::optional(0.5));
    for (const EdgeRule rule : {exempt, soft, low}) {
        EXPECT_FALSE(radius_asked_mm(rule));
    }
}

// By hand: a sill of radius 50 about (800, 200) is met where its normal looks 30 degrees down:
// (800 + 50 cos 30, 200 - 50 sin 30).
TEST(FloorLine, OfARoundSill) {
    const geometry::Profile sill{
        {{geometry::ArcSegment{{800, 200}, 50.0, geometry::degrees(90), geometry::degrees(-180)}, 0}}, false};
    const auto p = floor_line_point(sill);
    EXPECT_NEAR(p.x(), 843.30, 0.005);
    EXPECT_NEAR(p.y(), 175.00, 0.005);
}

TEST(FloorLine, OfAPolygonIsACorner) {
    const auto polygon =
        geometry::make_profile({{{0, 300}, {}}, {{100, 250}, {}}, {{90, 120}, {}}, {{20, 100}, {}}}, false);
    ASSERT_TRUE(polygon);
    // out cos 30 - up sin 30: 100 - 38.4 = -38.4 (86.6 - 125), 77.9 - 60 = 17.9, 17.3 - 50 = -32.7.
    EXPECT_EQ(floor_line_point(polygon.value()), Eigen::Vector2d(90, 120));
}

TEST(OuterEdges, RadiusOfThePaintedOutside) {
    const Finding finding = finding_of(job_of(), "shelf edge");
    EXPECT_NEAR(finding.found.value_or(0.0), 6.0 + k_outside_mm, 1e-9);
    EXPECT_EQ(finding.required, std::optional(2.5));
    EXPECT_EQ(finding.state, State::holds);
    EXPECT_EQ(finding.stage, Stage::mounts);
    EXPECT_THAT(finding.source, HasSubstr("inspection"));
}

TEST(OuterEdges, WhatLiesBelowTheFloorLineIsExempt) {
    // The lower edge is what the cone touches; the flange's end lies higher and behind, out of the sphere's reach or
    // below the line.
    const Finding lower = finding_of(job_of(), "lower edge");
    EXPECT_NE(lower.state, State::falls_short);
    Job job = job_of([](std::size_t, std::vector<Corner>& corners) {
        corners[4].up = corners[5].up = 100.0;  // The flange hangs below the lower edge.
        corners[4].radius = 6.0;
    });
    const Finding end = finding_of(job, "flange end");
    EXPECT_EQ(end.state, State::holds);
    EXPECT_FALSE(end.found);
    EXPECT_THAT(end.why, HasSubstr("below the floor line"));
}

/// With the outside drawn, so that a sharp corner stays sharp but for the paint.
Job sharp_job(double radius) {
    Job job = job_of([radius](std::size_t, std::vector<Corner>& corners) { corners[2].radius = radius; });
    job.skirt.pieces[0].drawn_face = DrawnFace::outside;
    for (Section& section : job.skirt.pieces[0].drawn.sections) {
        for (Node& node : section.nodes) {
            if (node.name == "shelf inner" || node.name == "lower edge" || node.name == "flange root") {
                node.radius = mm(8);
            }
        }
    }
    return job;
}

TEST(OuterEdges, ASharpEdgeIsMendedByItsRadius) {
    const Job job = sharp_job(0.5);
    const Finding finding = finding_of(job, "shelf edge");
    EXPECT_NEAR(finding.found.value_or(0.0), 0.6, 1e-9);
    EXPECT_EQ(finding.state, State::falls_short);
    ASSERT_TRUE(finding.mend);
    ASSERT_EQ(finding.mend->changes.size(), 4U);
    EXPECT_EQ(finding.mend->changes[0].pointer, "/skirt/pieces/0/sections/0/nodes/2/radius");
    expect_mend_taken(job, all, "mounts/road/edge shelf edge", 0.11);
}

TEST(OuterEdges, WithinTheBodysOutlineNoRadiusIsAskedFor) {
    Job job = sharp_job(0.5);
    for (const std::string n : {"1", "4"}) {
        job.body.sections.push_back({n,
                                     {{"b" + n + "a", "sill outer", mm(205), mm(500), mm(0), {}},
                                      {"b" + n + "b", "sill lower", mm(205), mm(380), mm(0), {}}},
                                     {}});
    }
    const Finding finding = finding_of(job, "shelf edge");
    EXPECT_EQ(finding.state, State::holds);
    EXPECT_FALSE(finding.found);
    EXPECT_THAT(finding.why, HasSubstr("less than 1.5 mm"));
}

TEST(OuterEdges, AFreeEdgeOfTheSheetThatStandsOutHasWords) {
    // A lip that ends in the open, pointing outwards, above the floor line.
    Job job = job_of([](std::size_t, std::vector<Corner>& corners) {
        corners = {{"top return end", 260, 400},
                   {"shelf inner", 200, 300, 6},
                   {"lower edge", 200, 150, 6},
                   {"flange root", 140, 170, 6},
                   {"flange end", 100, 170}};
    });
    const Finding finding = finding_of(job, "top return end");
    EXPECT_NEAR(finding.found.value_or(0.0), 1.5, 1e-9);
    EXPECT_EQ(finding.state, State::falls_short);
    ASSERT_TRUE(finding.mend);
    EXPECT_FALSE(finding.mend->can_be_taken());
    EXPECT_THAT(finding.mend->words, HasSubstr("soft edging"));
}

TEST(OuterEdges, HollowCornersAreNoEdges) {
    Job job = job_of([](std::size_t, std::vector<Corner>& corners) {
        corners = {{"top return end", 80, 290}, {"shelf edge", 200, 290, 6},  {"waist", 180, 220, 0},
                   {"lower edge", 200, 150, 6}, {"flange root", 140, 170, 6}, {"flange end", 100, 170}};
        corners[2].radius = 8.0;
    });
    for (const Finding& finding : all(job, road_world::model_of(job))) {
        EXPECT_NE(finding.id, "mounts/road/edge waist");
    }
}

TEST(OuterEdges, EndsDependOnWhatIsBesideThem) {
    Job job = job_of();
    const Finding unknown = finding_of(job, "front end");
    EXPECT_EQ(unknown.state, State::not_measured);
    EXPECT_THAT(unknown.missing, Contains(HasSubstr("front end")));
    job.fitting.front_gap = mm(6);
    // A sphere of radius 50 dips into a gap of 6 by 50 - sqrt(50^2 - 3^2) = 0.09.
    const Finding beside = finding_of(job, "front end");
    EXPECT_EQ(beside.state, State::holds);
    EXPECT_THAT(beside.inputs, Contains(Input{"a 100 mm sphere dips in by", "0.09 mm"}));
    job.fitting.rear_gap = mm(60);
    const Finding open = finding_of(job, "rear end");
    EXPECT_EQ(open.state, State::falls_short);
    EXPECT_EQ(open.found, std::optional(1.5));
    EXPECT_TRUE(open.mend);
}

// By hand: 0.6 of 3 at the shelf edge, which is node 2, so 6 + 1.8 + 0.1 of paint.
TEST(OuterEdges, RadiusGrowsByTheSheetAsItIsFormed) {
    const Job job = job_of();
    CarModel car = model_of(job);
    car.pieces[0].formed = hand_formed(1.0, 2.0);
    for (const Finding& finding : outer_edge_findings(job, car)) {
        if (finding.id == "mounts/road/edge shelf edge") {
            EXPECT_NEAR(finding.found.value_or(0.0), 6.0 + 1.8 + 0.1, 1e-9);
            return;
        }
    }
    FAIL() << "no finding of the shelf edge";
}

}  // namespace
}  // namespace sillwright::core
