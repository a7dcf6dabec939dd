#include "core/skirt/fluted_section.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/core/holding/holding_world.h"

// Expected places: plane geometry by hand, on a shelf that is level, from out 80 to 140 at up 118.

namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using geometry::Length;
using geometry::millimetres;
using geometry::ProfileNode;
using testing::HasSubstr;

Flute flute(const std::string& name, double offset, double width, double depth, double radius) {
    return {name, held_mm(offset), held_mm(width), held_mm(depth), held_mm(radius), {}, {}, {}};
}

Job level_job(std::vector<Flute> flutes) {
    Job job = held_job();
    Piece& piece = job.skirt.pieces[0];
    for (Section& section : piece.drawn.sections) {
        section.nodes[2].up = held_mm(118);
    }
    piece.flutes = std::move(flutes);
    return job;
}

geometry::Result<std::vector<ProfileNode>> nodes_of(const Job& job, double along = 900) {
    const CarModel car = held_car(job);
    return fluted_nodes(job.skirt.pieces[0], *car.pieces[0].line, millimetres(along));
}

std::string refusal(std::vector<Flute> flutes) {
    const auto nodes = nodes_of(level_job(std::move(flutes)));
    EXPECT_FALSE(nodes);
    EXPECT_EQ(nodes ? geometry::ErrorCode::stopped : nodes.error().code, geometry::ErrorCode::does_not_fit);
    return nodes ? "" : nodes.error().message;
}

void expect_at(const ProfileNode& node, double out, double up, double radius = 0.0) {
    EXPECT_NEAR((node.p_mm - Vector2d(out, up)).norm(), 0.0, 1e-9) << node.p_mm.transpose();
    EXPECT_NEAR(geometry::in_mm(node.radius), radius, 1e-12);
}

TEST(FlutedSection, WithoutFlutesIsTheDrawnLine) {
    const auto nodes = nodes_of(level_job({})).value();
    ASSERT_EQ(nodes.size(), 7U);
    expect_at(nodes[1], 80, 118, 6);
}

TEST(FlutedSection, PutsThemHollowAboveFromTheEdgeInward) {
    const auto nodes = nodes_of(level_job({flute("outer", 18, 14, 5, 2), flute("inner", 38, 12, 4, 1)})).value();
    ASSERT_EQ(nodes.size(), 15U);
    expect_at(nodes[2], 140 - 38 - 6, 118);
    expect_at(nodes[3], 140 - 38 - 6, 114, 1);
    expect_at(nodes[4], 140 - 38 + 6, 114, 1);
    expect_at(nodes[5], 140 - 38 + 6, 118);
    expect_at(nodes[6], 140 - 18 - 7, 118);
    expect_at(nodes[7], 140 - 18 - 7, 113, 2);
    expect_at(nodes[10], 140, 118, 5);
    EXPECT_TRUE(geometry::make_profile(nodes, false));
}

TEST(FlutedSection, StandsSquareToAShelfThatFalls) {
    Job job = held_job();
    job.skirt.pieces[0].flutes.push_back(flute("a", 30, 10, 5, 0));
    const auto nodes = nodes_of(job).value();
    const Vector2d along = (nodes[1].p_mm - nodes.at(6).p_mm).normalized();
    EXPECT_NEAR((nodes[3].p_mm - nodes[2].p_mm).dot(along), 0.0, 1e-9);
    EXPECT_NEAR((nodes[3].p_mm - nodes[2].p_mm).norm(), 5.0, 1e-9);
    EXPECT_LT(nodes[3].p_mm.y(), nodes[2].p_mm.y());
}

// A round-nose cut: w = 2 sqrt(d (2 r - d)): radius 12, 6 deep is 20.785 wide, and one arc.
TEST(FlutedSection, AShallowCutOfARoundBitIsOneArc) {
    const double width = 2 * std::sqrt(6.0 * (24 - 6));
    EXPECT_NEAR(width, 20.785, 5e-4);
    const auto nodes = nodes_of(level_job({flute("a", 30, width, 6, 12)})).value();
    const auto profile = geometry::make_profile(nodes, false);
    ASSERT_TRUE(profile) << profile.error().message;
    const Vector2d centre{110, 118 + 6};
    double turned = 0.0;
    for (const geometry::Segment& segment : profile.value().segments) {
        const auto* arc = std::get_if<geometry::ArcSegment>(&segment.shape);
        if (arc != nullptr && std::abs(arc->radius_mm - 12) < 1e-9) {
            EXPECT_NEAR((arc->centre - centre).norm(), 0.0, 1e-6);
            turned += geometry::in_rad(arc->sweep);
        }
    }
    EXPECT_NEAR(turned, 2 * std::acos(0.5), 1e-6);
}

TEST(FlutedSection, RunsFromRunOutToRunOut) {
    Flute one = flute("a", 30, 16, 5, 2);
    one.front = held_mm(300);
    one.rear = held_mm(1500);
    const Job job = level_job({one});
    EXPECT_EQ(nodes_of(job, 299).value().size(), 7U);
    EXPECT_EQ(nodes_of(job, 300).value().size(), 11U);
    EXPECT_EQ(nodes_of(job, 1500).value().size(), 11U);
    EXPECT_EQ(nodes_of(job, 1501).value().size(), 7U);
}

TEST(FlutedSection, SaysWhatDoesNotFitAndWhatWould) {
    // The edge's rounding of 5 turns by about 38.66 degrees: from 1.754 on the shelf is straight.
    EXPECT_THAT(refusal({flute("a", 5, 16, 5, 2)}),
                HasSubstr("flute \"a\" reaches into the rounding of the shelf edge"));
    EXPECT_THAT(refusal({flute("a", 55, 16, 5, 2)}), HasSubstr("shelf's inner rounding"));
    EXPECT_THAT(refusal({flute("a", 20, 16, 5, 2), flute("b", 30, 14, 5, 2)}), HasSubstr("15.00 mm apart"));
    EXPECT_THAT(refusal({flute("a", 30, 16, 10, 9)}), HasSubstr("The largest that fits is 8.00 mm"));
    // 10 wide, 4 deep: (25 + 16) / 8.
    EXPECT_THAT(refusal({flute("a", 30, 10, 4, 6)}), HasSubstr("The largest that fits is 5.12 mm"));
    EXPECT_THAT(refusal({flute("a", 30, 5.5, 4, 1)}), HasSubstr("closed by the sheet"));
    Flute backward = flute("a", 30, 16, 5, 2);
    backward.front = held_mm(900);
    backward.rear = held_mm(900);
    EXPECT_THAT(refusal({backward}), HasSubstr("front run-out must lie ahead"));
    Job job = level_job({flute("a", 30, 16, 5, 2)});
    for (Section& section : job.skirt.pieces[0].drawn.sections) {
        section.nodes[1].name = "somewhere";
    }
    EXPECT_THAT(nodes_of(job).error().message, HasSubstr("has no shelf"));
}

// What the message asks for fits.
TEST(FlutedSection, TheCureFits) {
    const std::string message = refusal({flute("a", 5, 16, 5, 2)});
    const auto at = message.find("Move its middle to ");
    ASSERT_NE(at, std::string::npos);
    const double offset = std::stod(message.substr(at + 19));
    EXPECT_TRUE(nodes_of(level_job({flute("a", offset + 0.01, 16, 5, 2)})));
}

}  // namespace
}  // namespace sillwright::core
