#include "core/forming/mould_section.h"

#include <gtest/gtest.h>

#include <cmath>
#include <utility>

#include "tests/core/forming/u_world.h"

namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using geometry::degrees;
using geometry::millimetres;

MouldSection section_of(const Job& job, double tilt_deg = 0.0) {
    auto section = mould_section(job, job.skirt.pieces.front(), u_line(job), millimetres(500.0), degrees(tilt_deg));
    EXPECT_TRUE(section) << (section ? "" : section.error().message);
    return section ? std::move(section).value() : MouldSection{};
}

void expect_points(const MouldSection& section, const std::vector<Vector2d>& points) {
    ASSERT_EQ(section.mould_mm.size(), points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
        EXPECT_NEAR((section.mould_mm[i] - points[i]).norm(), 0.0, 1e-9) << i;
    }
}

// The trim allowance of 20 takes both walls from 40 to 60; x is down the car (-up), y outward.
TEST(MouldSectionU, WallsGoOnToTheFootAndThePlatenToTheClamps) {
    const MouldSection section = section_of(u_job());
    expect_points(section, {{-300, 90}, {-180, 90}, {-180, 110}, {-180, 150}, {0, 150}, {0, 110}, {0, 90}, {120, 90}});
    EXPECT_NEAR(section.clamped_mm(), 420.0, 1e-9);
    EXPECT_NEAR(section.formed_mm(), 540.0, 1e-9);
    EXPECT_NEAR(section.at_mark(0.0), 140.0, 1e-9);
    EXPECT_NEAR(section.at_mark(1.5), 270.0, 1e-9);  // half-way down the face
    EXPECT_NEAR(section.at_mark(3.0), 400.0, 1e-9);
}

TEST(MouldSectionU, TheShorterWallGoesOnToTheLowerFoot) {
    Job job = u_job();
    for (Section& section : job.skirt.pieces.front().drawn.sections) {
        section.nodes.back().out = forming_mm(80.0);
    }
    expect_points(section_of(job),
                  {{-300, 60}, {-180, 60}, {-180, 110}, {-180, 150}, {0, 150}, {0, 80}, {0, 60}, {120, 60}});
}

// Into a female mould the sheet comes from the car: y is inward, and its face is the part's outside.
TEST(MouldSectionU, FemaleIsTheOutsideTheOtherWay) {
    Job job = u_job(MouldKind::female);
    job.skirt.pieces.front().drawn_face = DrawnFace::outside;
    const MouldSection section = section_of(job);
    expect_points(section,
                  {{-120, -90}, {0, -90}, {0, -110}, {0, -150}, {180, -150}, {180, -110}, {180, -90}, {300, -90}});
    EXPECT_NEAR(section.at_mark(3.0), 140.0, 1e-9);
    EXPECT_NEAR(section.at_mark(0.0), 140.0 + 40.0 + 180.0 + 40.0, 1e-9);
}

// The outside of sharp corners is round by the sheet's 3 mm.
TEST(MouldSectionU, OutsideOfADrawnInside) {
    const MouldSection section = section_of(u_job(MouldKind::female));
    EXPECT_NEAR(section.formed_mm(), 540.0 + 3.0 * 3.14159265358979, 0.02);
    EXPECT_NEAR(section.at_mark(1.0) - section.at_mark(2.0), 180.0 + 1.5 * 3.14159265358979, 0.02);
}

TEST(MouldSectionU, RoundingsAreChordsOnTheArc) {
    Job job = u_job();
    for (Section& section : job.skirt.pieces.front().drawn.sections) {
        section.nodes[1].radius = forming_mm(10.0);
    }
    const MouldSection section = section_of(job);
    EXPECT_NEAR(section.formed_mm(), 540.0 - 20.0 + 5.0 * 3.14159265358979, 0.02);
    std::size_t on_arc = 0;
    for (const Vector2d& p : section.mould_mm) {
        on_arc += std::abs((p - Vector2d(-170.0, 140.0)).norm() - 10.0) < 1e-9 ? 1U : 0U;
    }
    EXPECT_GE(on_arc, 31U);                                                   // 90 degrees in chords of 3
    EXPECT_NEAR(section.at_mark(1.0), 170.0 + 2.5 * 3.14159265358979, 0.02);  // half-way round
    EXPECT_NEAR(section.at_mark(0.75), 170.0, 1e-9);                          // 10 of 40 before the corner
}

TEST(MouldSectionU, AFlangeBentAfterLiesFlat) {
    Job job = u_job();
    job.skirt.pieces.front().flange.making = FlangeMaking::bent_after;
    const MouldSection section = section_of(job);
    EXPECT_NEAR((section.mould_mm[5] - Vector2d(40.0, 150.0)).norm(), 0.0, 1e-9);
    EXPECT_NEAR((section.mould_mm[6] - Vector2d(40.0, 90.0)).norm(), 0.0, 1e-9);  // leans too far: along the draw
}

TEST(MouldSectionU, RefusedWithPlaceAndCure) {
    Job job = u_job();
    for (Section& section : job.skirt.pieces.front().drawn.sections) {
        section.nodes.front().out = forming_mm(130.0);
        section.nodes.front().up = forming_mm(165.0);
        section.nodes.back().out = forming_mm(50.0);
        section.nodes.back().up = forming_mm(87.0);
    }
    const auto crossed = mould_section(job, job.skirt.pieces.front(), u_line(job), millimetres(500.0), degrees(0.0));
    ASSERT_FALSE(crossed);
    EXPECT_EQ(crossed.error().code, geometry::ErrorCode::does_not_fit);
    EXPECT_NE(crossed.error().message.find("500 mm"), std::string::npos) << crossed.error().message;
    EXPECT_NE(crossed.error().message.find("trim allowance"), std::string::npos);

    Job undercut = u_job();
    undercut.forming.clamp_distance = forming_mm(5.0);
    for (Section& section : undercut.skirt.pieces.front().drawn.sections) {
        section.nodes.back().up = forming_mm(20.0);
    }
    const auto wide =
        mould_section(undercut, undercut.skirt.pieces.front(), u_line(undercut), millimetres(500.0), degrees(0.0));
    ASSERT_FALSE(wide);
    EXPECT_NE(wide.error().message.find("clamp distance"), std::string::npos) << wide.error().message;
}

}  // namespace
}  // namespace sillwright::core
