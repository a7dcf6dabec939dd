#include "geometry/drawing.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>

namespace sillwright::geometry {
namespace {

using testing::HasSubstr;

constexpr double k_rounding_mm = 1e-12;  // a few times 2^-53 of 100 mm

Segment line(const Eigen::Vector2d& from, const Eigen::Vector2d& to) {
    return {LineSegment{from, to}, 0};
}
Segment arc(const Eigen::Vector2d& centre, double radius_mm, double start_deg, double sweep_deg) {
    return {ArcSegment{centre, radius_mm, degrees(start_deg), degrees(sweep_deg)}, 0};
}

/// Two straights of 30 mm joined by half circles of radius 10: a slot.
Profile slot() {
    return {{line({0, 0}, {30, 0}), arc({30, 10}, 10, -90, 180), line({30, 20}, {0, 20}), arc({0, 10}, 10, 90, 180)},
            true};
}

TEST(Drawing, ASlotIsAChainOfFourVertices) {
    const auto shape = shape_of(slot());
    ASSERT_TRUE(shape) << shape.error().message;
    const auto& chain = std::get<DrawnChain>(shape.value());
    EXPECT_TRUE(chain.closed);
    ASSERT_EQ(chain.vertices.size(), 4U);
    const std::vector<Eigen::Vector2d> corners{{0, 0}, {30, 0}, {30, 20}, {0, 20}};
    for (std::size_t i = 0; i < 4; ++i) {
        EXPECT_LT((chain.vertices[i].p_mm - corners[i]).norm(), k_rounding_mm);
        // A half circle has the bulge tan(180 / 4) = 1.
        EXPECT_NEAR(chain.vertices[i].bulge, i % 2 == 0 ? 0.0 : 1.0, 1e-15);
    }
}

TEST(Drawing, AnOpenChainKeepsItsEnd) {
    Profile profile = slot();
    profile.closed = false;
    profile.segments.pop_back();
    const auto shape = shape_of(profile);
    ASSERT_TRUE(shape);
    const auto& chain = std::get<DrawnChain>(shape.value());
    EXPECT_FALSE(chain.closed);
    ASSERT_EQ(chain.vertices.size(), 4U);
    EXPECT_EQ(chain.vertices.back().p_mm, Eigen::Vector2d(0, 20));
}

TEST(Drawing, ArcsThatMakeAFullTurnAreACircle) {
    for (const Profile& profile : {Profile{{arc({3, 4}, 7, 20, 360)}, true}, Profile{{arc({3, 4}, 7, 20, -360)}, true},
                                   Profile{{arc({3, 4}, 7, 0, 250), arc({3, 4}, 7, 250, 110)}, true}}) {
        const auto shape = shape_of(profile);
        ASSERT_TRUE(shape);
        const auto* circle = std::get_if<DrawnCircle>(&shape.value());
        ASSERT_NE(circle, nullptr);
        EXPECT_EQ(circle->centre_mm, Eigen::Vector2d(3, 4));
        EXPECT_EQ(circle->radius, millimetres(7));
    }
}

TEST(Drawing, ALongArcBecomesTwo) {
    const auto shape = shape_of({{arc({0, 0}, 50, 10, 350)}, false});
    ASSERT_TRUE(shape);
    const auto& chain = std::get<DrawnChain>(shape.value());
    ASSERT_EQ(chain.vertices.size(), 3U);
    EXPECT_NEAR(chain.vertices[0].bulge, std::tan(degrees(350.0 / 8.0) / radians(1.0)), 1e-15);
    EXPECT_EQ(chain.vertices[0].bulge, chain.vertices[1].bulge);
}

TEST(Drawing, RefusesProfilesThatAreNone) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    struct Bad {
        Profile profile;
        const char* words;
    };
    for (const Bad& bad :
         {Bad{{}, "no segment"}, Bad{{{line({0, 0}, {nan, 1})}, false}, "Segment 1 of the profile has a number"},
          Bad{{{arc({0, 0}, 0, 0, 90)}, false}, "needs a radius"}, Bad{{{arc({0, 0}, 5, 0, 0)}, false}, "a sweep"},
          Bad{{{arc({0, 0}, 5, 0, 400)}, false}, "a full turn"},
          Bad{{{line({0, 0}, {1, 0}), line({1, 0.001}, {2, 0})}, false}, "Segment 1 of the profile does not end"},
          Bad{{{line({0, 0}, {1, 0}), line({1, 0}, {1, 1})}, true}, "Segment 2 of the profile does not end"}}) {
        const auto shape = shape_of(bad.profile);
        ASSERT_FALSE(shape) << bad.words;
        EXPECT_THAT(shape.error().message, HasSubstr(bad.words));
    }
}

TEST(Drawing, ABulgeGivesItsArcBack) {
    for (const double sweep_deg : {-299.0, -180.0, -90.0, -1.0, 1.0, 45.0, 180.0, 270.0}) {
        const Eigen::Vector2d centre{12, -5};
        const double start = 0.7;
        const double sweep = in_rad(degrees(sweep_deg));
        const auto at = [&](double angle) -> Eigen::Vector2d {
            return centre + 40.0 * Eigen::Vector2d{std::cos(angle), std::sin(angle)};
        };
        const DrawnArc back = arc_of_bulge(at(start), at(start + sweep), std::tan(sweep / 4.0));
        // The centre of a flat arc hangs on its short chord: rounding grows by radius / sagitta, 26 000 at 1 degree.
        EXPECT_LT((back.centre_mm - centre).norm(), 26000 * 40 * std::ldexp(1.0, -51)) << sweep_deg;
        EXPECT_NEAR(in_rad(back.sweep), sweep, 1e-14);
        EXPECT_NEAR(std::remainder(in_rad(back.start) - start, 2.0 * std::numbers::pi), 0.0, 1e-9);
    }
}

TEST(Drawing, BoundsReachTheTopOfAnArc) {
    Drawing drawing;
    EXPECT_TRUE(bounds_mm(drawing).isEmpty());
    // From 45 to 135 degrees: up to the top at 10, no further down than 10 / sqrt 2.
    drawing.entities = {{"A", DrawnArc{{0, 0}, millimetres(10), degrees(135), degrees(-90)}}};
    EXPECT_NEAR(bounds_mm(drawing).max().y(), 10.0, k_rounding_mm);
    EXPECT_NEAR(bounds_mm(drawing).min().y(), 10.0 / std::numbers::sqrt2, k_rounding_mm);
    EXPECT_NEAR(bounds_mm(drawing).max().x(), 10.0 / std::numbers::sqrt2, k_rounding_mm);
    drawing.entities = {{"A", shape_of(slot()).value()}, {"A", DrawnCircle{{0, 0}, millimetres(4)}}};
    EXPECT_LT((bounds_mm(drawing).min() - Eigen::Vector2d(-10, -4)).norm(), k_rounding_mm);
    EXPECT_LT((bounds_mm(drawing).max() - Eigen::Vector2d(40, 20)).norm(), k_rounding_mm);
}

// A quarter turn takes (x, y) to (-y, x); then moved by (100, 200).
TEST(Drawing, ShapesAreTurnedThenMoved) {
    const Eigen::Isometry2d pose = Eigen::Translation2d(100, 200) * Eigen::Rotation2Dd(std::numbers::pi / 2.0);
    const auto line = std::get<DrawnLine>(placed(DrawnLine{{1, 0}, {0, 2}}, pose));
    EXPECT_TRUE(line.from_mm.isApprox(Eigen::Vector2d(100, 201)));
    EXPECT_TRUE(line.to_mm.isApprox(Eigen::Vector2d(98, 200)));
    const auto arc = std::get<DrawnArc>(placed(DrawnArc{{3, 4}, millimetres(5), degrees(10), degrees(-20)}, pose));
    EXPECT_TRUE(arc.centre_mm.isApprox(Eigen::Vector2d(96, 203)));
    EXPECT_NEAR(in_deg(arc.start), 100.0, 1e-9);
    EXPECT_NEAR(in_deg(arc.sweep), -20.0, 1e-9);
    const auto chain = std::get<DrawnChain>(placed(DrawnChain{{{{1, 1}, 0.3}, {{2, 0}}}, true}, pose));
    EXPECT_TRUE(chain.vertices[0].p_mm.isApprox(Eigen::Vector2d(99, 201)));
    EXPECT_EQ(chain.vertices[0].bulge, 0.3);
    EXPECT_TRUE(chain.closed);
    const auto text = std::get<DrawnText>(placed(DrawnText{{0, 0}, millimetres(3), degrees(5), "A"}, pose));
    EXPECT_TRUE(text.at_mm.isApprox(Eigen::Vector2d(100, 200)));
    EXPECT_NEAR(in_deg(text.turned), 95.0, 1e-9);
}

TEST(Drawing, DividedIsSmallerInEveryLength) {
    const Drawing drawing{{{"NOTE", 7}},
                          {{"NOTE", DrawnArc{{3, 4}, millimetres(5), degrees(10), degrees(-20)}},
                           {"NOTE", DrawnChain{{{{1, 1}, 0.3}, {{2, 0}}}, true}},
                           {"NOTE", DrawnText{{1, 2}, millimetres(3), degrees(5), "A"}}}};
    const Drawing half = divided(drawing, 2.0);
    const auto& arc = std::get<DrawnArc>(half.entities[0].shape);
    EXPECT_EQ(arc.centre_mm, Eigen::Vector2d(1.5, 2));
    EXPECT_EQ(arc.radius, millimetres(2.5));
    EXPECT_EQ(arc.sweep, degrees(-20));
    const auto& chain = std::get<DrawnChain>(half.entities[1].shape);
    EXPECT_EQ(chain.vertices[1].p_mm, Eigen::Vector2d(1, 0));
    EXPECT_EQ(chain.vertices[0].bulge, 0.3);
    EXPECT_EQ(std::get<DrawnText>(half.entities[2].shape).height, millimetres(1.5));
}

TEST(Drawing, WritingOfControlCharactersHasNoWords) {
    for (const char* words : {"", "  ", "\n\t", "\xC2\x85 "}) {
        EXPECT_FALSE(check_drawing({{{"NOTE", 7}}, {{"NOTE", DrawnText{{0, 0}, millimetres(3), {}, words}}}}));
    }
    EXPECT_TRUE(check_drawing({{{"NOTE", 7}}, {{"NOTE", DrawnText{{0, 0}, millimetres(3), {}, "\xC2\xB0"}}}}));
}

}  // namespace
}  // namespace sillwright::geometry
