#include "geometry/section_faces.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>
#include <random>

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

constexpr double k_deg = std::numbers::pi / 180.0;

struct Spot {
    double x, y, radius = 0.0;
};

Loft loft(const std::vector<std::pair<double, std::vector<Spot>>>& sections, const std::vector<RunOut>& run_outs = {},
          const std::vector<std::vector<std::string>>& names = {}) {
    std::vector<LoftSection> all;
    for (std::size_t i = 0; i < sections.size(); ++i) {
        LoftSection section{millimetres(sections[i].first), {}};
        for (std::size_t k = 0; k < sections[i].second.size(); ++k) {
            const Spot& spot = sections[i].second[k];
            section.nodes.push_back({names.empty() ? std::string(1, static_cast<char>('a' + k)) : names[i][k],
                                     {spot.x, spot.y},
                                     millimetres(spot.radius)});
        }
        all.push_back(section);
    }
    auto made = Loft::make(all, run_outs, false);
    EXPECT_TRUE(made) << (made ? "" : made.error().message);
    return std::move(made).value();
}

std::vector<SectionFace> faces_at(const Loft& line, double along, double offset = 0.0) {
    auto faces = section_faces(LoftStretch::of(line, millimetres(along)).at(millimetres(along)), line.names(),
                               millimetres(offset));
    EXPECT_TRUE(faces) << (faces ? "" : faces.error().message);
    return faces ? std::move(faces).value() : std::vector<SectionFace>{};
}

/// A C that bulges, twists and grows its roundings along the body.
Loft lively(unsigned seed) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> by(-3.0, 3.0);
    std::vector<std::pair<double, std::vector<Spot>>> sections;
    for (int i = 0; i < 6; ++i) {
        std::vector<Spot> spots{{60, 118},    {82, 116, 6}, {142, 110, 5}, {154, 100, 6},
                                {147, 30, 6}, {70, 16, 5},  {34, 15}};
        for (Spot& spot : spots) {
            spot.x += by(random);
            spot.y += by(random);
            spot.radius += spot.radius > 0.0 ? 0.5 * by(random) : 0.0;
        }
        sections.emplace_back(150.0 * i, spots);
    }
    return loft(sections);
}

Vector3d in_space(double along, const Vector2d& p) {
    return {along, p.x(), p.y()};
}

// A plane through a strip that grows along the body: its normal by the cross product of two of its edges.
TEST(SectionFaces, TaperedWedgeHasThePlanesNormal) {
    const Loft line =
        loft({{0, {{0, 40}, {100, 30}, {100, -30}, {0, -40}}}, {200, {{0, 50}, {100, 40}, {100, -30}, {0, -40}}}});
    const Vector3d normal = Vector3d(0, 100, -10).cross(Vector3d(200, 0, 10)).normalized();
    const auto faces = faces_at(line, 50);
    ASSERT_EQ(faces.size(), 3U);
    for (const double fraction : {0.0, 0.3, 1.0}) {
        const Vector2d n = faces[0].normal_at(fraction);
        EXPECT_NEAR(n.x(), std::abs(normal.y()), 1e-14);
        EXPECT_NEAR(n.y(), std::abs(normal.z()), 1e-14);
        // Drawn along the first axis, the wall has its angle to that axis in space, not in the section.
        EXPECT_NEAR(in_rad(least_draft(faces[0], degrees(0)).draft), std::asin(std::abs(normal.y())), 1e-14);
        EXPECT_LT(in_rad(least_draft(faces[0], degrees(0)).draft), std::atan(0.1));
    }
    EXPECT_NEAR(in_rad(least_draft(faces[2], degrees(0)).draft), std::atan(0.1), 1e-14);
}

// The same surface by differences of points of neighbouring sections: another way to its normal.
TEST(SectionFaces, NormalsAreThoseOfTheSurface) {
    constexpr double k_step = 1e-3;
    for (unsigned seed = 1; seed <= 5; ++seed) {
        const Loft line = lively(seed);
        for (const double along : {40.0, 210.0, 333.0, 690.0}) {
            const auto faces = faces_at(line, along, -2.5);
            const auto before = faces_at(line, along - k_step, -2.5);
            const auto behind = faces_at(line, along + k_step, -2.5);
            ASSERT_EQ(faces.size(), 11U);
            for (std::size_t i = 0; i < faces.size(); ++i) {
                for (const double f : {0.0, 0.21, 0.5, 0.83, 1.0}) {
                    const double inside = std::clamp(f, 0.01, 0.99);
                    const Vector3d round =
                        in_space(0.0, faces[i].point_at(inside + 0.01) - faces[i].point_at(inside - 0.01));
                    const Vector3d on = in_space(along + k_step, behind[i].point_at(inside)) -
                                        in_space(along - k_step, before[i].point_at(inside));
                    const Vector3d normal = on.cross(round).normalized();
                    const Vector2d found = faces[i].normal_at(inside);
                    EXPECT_NEAR(found.x(), normal.y(), 2e-7) << seed << " " << along << " face " << i << " at " << f;
                    EXPECT_NEAR(found.y(), normal.z(), 2e-7) << seed << " " << along << " face " << i << " at " << f;
                }
            }
        }
    }
}

TEST(SectionFaces, MeetOneAnother) {
    const Loft line = lively(7);
    for (const double offset : {-3.0, 0.0, 3.0}) {
        const auto faces = faces_at(line, 210, offset);
        for (std::size_t i = 0; i + 1 < faces.size(); ++i) {
            EXPECT_LT((faces[i].to_mm - faces[i + 1].from_mm).norm(), 1e-9);
            EXPECT_NEAR(faces[i].ends, faces[i + 1].begins, 1e-9);
            EXPECT_LT((faces[i].normal_at(1.0) - faces[i + 1].normal_at(0.0)).norm(), 1e-9);
        }
        EXPECT_NEAR(faces.front().begins, 0.0, 1e-12);
        EXPECT_NEAR(faces.back().ends, 6.0, 1e-12);
    }
}

TEST(SectionFaces, LeastDraftIsTheLeast) {
    for (unsigned seed = 1; seed <= 4; ++seed) {
        const auto faces = faces_at(lively(seed), 333);
        for (const double tilt : {-15.0, 0.0, 8.0, 70.0, 170.0}) {
            for (const SectionFace& face : faces) {
                const auto least = least_draft(face, degrees(tilt));
                EXPECT_NEAR(in_rad(draft_of(face.normal_at(least.fraction), degrees(tilt))), in_rad(least.draft),
                            1e-12);
                for (int i = 0; i <= 200; ++i) {
                    EXPECT_LE(in_rad(least.draft), in_rad(draft_of(face.normal_at(i / 200.0), degrees(tilt))) + 1e-9);
                }
            }
        }
    }
}

// A strip that turns about its middle stands still there: where it is held, that is its worst place.
TEST(SectionFaces, TwistedStripIsHeldMostWhereItStandsStill) {
    const Loft line =
        loft({{0, {{0, 10}, {100, 30}, {100, -60}, {0, -70}}}, {100, {{0, 0}, {100, 40}, {100, -60}, {0, -70}}}});
    const auto faces = faces_at(line, 50);
    const auto least = least_draft(faces[0], degrees(0));
    EXPECT_NEAR(least.fraction, 0.5, 1e-12);
    EXPECT_NEAR(in_rad(least.draft), -std::atan2(35.0 - 5.0, 100.0), 1e-12);
    std::vector<Vector2d> normals;
    add_normals(faces[0], normals);
    EXPECT_EQ(normals.size(), 3U);
    EXPECT_NEAR(in_rad(LeastDraft(normals).at(degrees(0))), in_rad(least.draft), 1e-12);
}

TEST(SectionFaces, NodeThatHasRunOutKeepsTheStraight) {
    // "b" stands out at the first two stations and runs out at 150 into the straight from a to c.
    const Loft line =
        loft({{0, {{0, 40}, {50, 45}, {100, 30, 4}, {100, -40}}},
              {100, {{0, 40}, {50, 45}, {100, 30, 4}, {100, -40}}},
              {200, {{0, 40}, {100, 30, 4}, {100, -40}}},
              {300, {{0, 40}, {100, 30, 4}, {100, -40}}}},
             {{"b", millimetres(150)}}, {{"a", "b", "c", "d"}, {"a", "b", "c", "d"}, {"a", "c", "d"}, {"a", "c", "d"}});
    const auto behind = faces_at(line, 250);
    ASSERT_EQ(behind.size(), 4U);
    for (const std::size_t i : {0U, 1U}) {
        EXPECT_NEAR(in_rad(least_draft(behind[i], degrees(0)).draft), std::atan(0.1), 1e-12);
    }
    // In front of the run-out its node comes down to the straight: there the surface leans along the body.
    const LoftStretch front = LoftStretch::of(line, millimetres(150));
    EXPECT_NEAR(in_mm(front.from()), 100.0, 1e-12);
    EXPECT_LT(front.at(millimetres(150))[1].rate.y(), -0.05);
    const LoftStretch rear(line, millimetres(150), millimetres(200));
    EXPECT_NEAR(rear.at(millimetres(150))[1].rate.y(), 0.0, 1e-12);
}

TEST(SectionFaces, RatesAreThoseOfTheLoft) {
    const Loft line = lively(3);
    for (const double along : {1.0, 149.0, 333.0, 749.0}) {
        const auto courses = LoftStretch::of(line, millimetres(along)).at(millimetres(along));
        constexpr double k_step = 1e-2;
        const auto before = line.nodes_at(millimetres(along - k_step));
        const auto behind = line.nodes_at(millimetres(along + k_step));
        for (std::size_t i = 0; i < courses.size(); ++i) {
            EXPECT_LT((courses[i].rate - (behind[i].p_mm - before[i].p_mm) / (2.0 * k_step)).norm(), 1e-8);
            EXPECT_NEAR(courses[i].radius_rate, in_mm(behind[i].radius - before[i].radius) / (2.0 * k_step), 1e-8);
        }
    }
}

TEST(SectionFaces, ChainThatTurnsBackIsAnError) {
    EXPECT_FALSE(section_faces({{{0, 0}, {0, 0}, {}, 0}, {{10, 0}, {0, 0}, {}, 0}, {{0, 0}, {0, 0}, {}, 0}},
                               {"a", "b", "c"}, millimetres(0)));
}

/// A shelf of 60 mm that leans back by some degrees, over an upright face of 80 and a level underside.
std::vector<SectionFace> leaning_shelf(double lean_deg, double radius = 0.0) {
    const double c = 60 * std::cos(lean_deg * k_deg);
    const double s = 60 * std::sin(lean_deg * k_deg);
    const std::vector<Spot> spots{{100 - c, 80 - s}, {100, 80, radius}, {100, 0, radius}, {40, 0}};
    return faces_at(loft({{0, spots}, {100, spots}}), 50);
}

// By hand: from the shelf's edge back to its end the line falls by 60 sin 2 degrees.
TEST(HeldFaces, DepthIsHowFarTheShelfComesBack) {
    const auto faces = leaning_shelf(2.0);
    const auto held = held_faces(faces, degrees(0));
    ASSERT_EQ(held.size(), 1U);
    EXPECT_EQ(faces[held[0].face].from, 0U);
    EXPECT_EQ(faces[held[0].face].to, 1U);
    EXPECT_NEAR(held[0].depth_mm, 60 * std::sin(2.0 * k_deg), 1e-12);
    EXPECT_NEAR(held[0].at_mm.x(), 100 - 60 * std::cos(2.0 * k_deg), 1e-12);
    // Tilted, the shelf is held by its angle to the draw direction; the underside now has the rest.
    const auto tilted = held_faces(faces, degrees(1.5));
    ASSERT_EQ(tilted.size(), 2U);
    EXPECT_NEAR(tilted[0].depth_mm, 60 * std::sin(0.5 * k_deg), 1e-12);
    EXPECT_NEAR(tilted[1].depth_mm, 60 * std::sin(1.5 * k_deg), 1e-12);
    EXPECT_TRUE(held_faces(leaning_shelf(-2.0), degrees(0)).empty());
    EXPECT_TRUE(held_faces(leaning_shelf(0.0), degrees(0)).empty());
}

// The rounding takes the edge's tip away: its top stands r - r (1 + sin) / cos off it (tangent circle, by hand).
TEST(HeldFaces, RoundingIsTheFurthestThatTheLineReached) {
    const double lean = 2.0 * k_deg;
    const auto faces = leaning_shelf(2.0, 6.0);
    const auto held = held_faces(faces, degrees(0));
    ASSERT_EQ(held.size(), 1U);
    EXPECT_FALSE(faces[held[0].face].rounding());
    EXPECT_NEAR(held[0].depth_mm, 60 * std::sin(lean) + 6 - 6 * (1 + std::sin(lean)) / std::cos(lean), 1e-12);
}

// Walls that step outwards leave the mould; one step back is as deep as it is drawn, and the wall behind it, that
// goes out again, is not held by itself.
TEST(HeldFaces, SteppedWalls) {
    const auto faces = [](double back) {
        const std::vector<Spot> spots{{0, 60},  {20, 58},  {40, 50 - back}, {60, 50},
                                      {80, 45}, {100, 40}, {100, 0},        {0, -5}};
        return faces_at(loft({{0, spots}, {100, spots}}), 50);
    };
    EXPECT_TRUE(held_faces(faces(-1.0), degrees(0)).empty());
    const auto held = held_faces(faces(2.5), degrees(0));
    ASSERT_EQ(held.size(), 1U);
    EXPECT_EQ(held[0].face, 2U);
    EXPECT_NEAR(held[0].depth_mm, 2.5, 1e-12);
}

// A return that hangs down behind the shelf is held all of its height.
TEST(HeldFaces, ReturnThatHangsDown) {
    const std::vector<Spot> spots{{40, 60}, {40, 80}, {100, 76}, {100, 0}, {40, -2}};
    const auto faces = faces_at(loft({{0, spots}, {100, spots}}), 50);
    const auto held = held_faces(faces, degrees(0));
    ASSERT_EQ(held.size(), 1U);
    EXPECT_EQ(held[0].face, 0U);
    EXPECT_NEAR(held[0].depth_mm, 20.0, 1e-12);
}

// Held somewhere and a negative draft somewhere are the same in a section that does not lean along the body.
TEST(HeldFaces, AgreeWithTheSignOfTheDraft) {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> by(-6.0, 6.0);
    int some = 0;
    for (int round = 0; round < 200; ++round) {
        std::vector<Spot> spots{{60, 118},    {82, 114, 6}, {142, 108, 5}, {154, 96, 4},
                                {147, 30, 6}, {70, 14, 5},  {34, 10}};
        for (Spot& spot : spots) {
            spot.y += by(random);
        }
        const auto faces = faces_at(loft({{0, spots}, {100, spots}}), 50);
        double least = 90.0;
        for (const SectionFace& face : faces) {
            least = std::min(least, in_deg(least_draft(face, degrees(0)).draft));
        }
        EXPECT_EQ(held_faces(faces, degrees(0)).empty(), least >= 0.0) << round << ": " << least;
        some += least >= 0.0 ? 1 : 0;
    }
    EXPECT_GT(some, 20);
    EXPECT_LT(some, 180);
}

}  // namespace
}  // namespace sillwright::geometry
