#include "geometry/area_moments.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <ostream>
#include <string>
#include <vector>

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;
constexpr double k_pi = std::numbers::pi;

Profile polygon(const std::vector<Vector2d>& corners) {
    std::vector<ProfileNode> nodes;
    for (const Vector2d& corner : corners) {
        nodes.push_back({corner, {}});
    }
    return make_profile(nodes, true).value();
}

Segment line(const Vector2d& from, const Vector2d& to) {
    return {LineSegment{from, to}, 0};
}

Segment arc(const Vector2d& centre, double radius, double start, double sweep) {
    return {ArcSegment{centre, radius, radians(start), radians(sweep)}, 0};
}

AreaMoments moments(const std::vector<Profile>& profiles) {
    return area_moments(profiles).value();
}

void expect_near(double found, double wanted, double part = 1e-12) {
    EXPECT_NEAR(found, wanted, part * std::max(1.0, std::abs(wanted)));
}

/// An annular sector about the origin, symmetric about x.
Profile sector(double inner, double outer, double half) {
    const auto at = [](double r, double a) { return Vector2d{r * std::cos(a), r * std::sin(a)}; };
    return {{arc({0, 0}, outer, -half, 2 * half), line(at(outer, half), at(inner, half)),
             arc({0, 0}, inner, half, -2 * half), line(at(inner, -half), at(outer, -half))},
            true};
}

// Worked by hand from rectangles, sharp corners: b h³/12 and the parallel axis theorem. The angles' principal values
// by ½ atan2(-2 xy, xx - yy).
struct Table {
    std::string name;
    std::vector<Vector2d> corners;
    double area, x, y, xx, yy, xy;
    double greatest = 0.0, least = 0.0, axis_deg = 0.0;
    double value_slack = 0.5;  ///< Half of the last digit that the table has.
};

void PrintTo(const Table& row, std::ostream* out) {
    *out << row.name;
}

class SectionTable : public testing::TestWithParam<Table> {};

TEST_P(SectionTable, AgreesWithTheValuesWorkedByHand) {
    const Table& row = GetParam();
    const AreaMoments found = moments({polygon(row.corners)});
    EXPECT_NEAR(found.area_mm2, row.area, 1e-9);
    EXPECT_NEAR(found.centroid_mm.x(), row.x, 6e-5);
    EXPECT_NEAR(found.centroid_mm.y(), row.y, 6e-5);
    EXPECT_NEAR(found.xx_mm4, row.xx, row.value_slack);
    EXPECT_NEAR(found.yy_mm4, row.yy, row.value_slack);
    EXPECT_NEAR(found.xy_mm4, row.xy, row.value_slack);
    if (row.greatest > 0.0) {
        const auto principal = found.principal();
        EXPECT_NEAR(principal.greatest_mm4, row.greatest, 0.06);
        EXPECT_NEAR(principal.least_mm4, row.least, 0.06);
        EXPECT_NEAR(in_deg(principal.axis), row.axis_deg, 6e-4);
    }
}

INSTANTIATE_TEST_SUITE_P(ByHand, SectionTable,
                         testing::Values(Table{"angle 60 x 40 x 4, heel at the origin",
                                               {{0, 0}, {40, 0}, {40, 4}, {4, 4}, {4, 60}, {0, 60}},
                                               384,
                                               9.5,
                                               19.5,
                                               142752,
                                               51872,
                                               -50400,
                                               165171.8,
                                               29452.2,
                                               23.981,
                                               1e-6},
                                         Table{"angle 120 x 30 x 3",
                                               {{0, 0}, {30, 0}, {30, 3}, {3, 3}, {3, 120}, {0, 120}},
                                               441,
                                               4.2551,
                                               49.2551,
                                               658348.3,
                                               20068.3,
                                               -58022.4,
                                               663579.9,
                                               14836.7,
                                               5.152,
                                               0.06},
                                         Table{
                                             "channel 100 x 50 x 3",
                                             {{0, 0}, {50, 0}, {50, 3}, {3, 3}, {3, 97}, {50, 97}, {50, 100}, {0, 100}},
                                             582,
                                             13.6134,
                                             50,
                                             913546,
                                             142987.0,
                                             0,
                                             0,
                                             0,
                                             0,
                                             0.06},
                                         Table{"hat, crown 60, webs 44 high, feet 30, all 3 thick",
                                               {{-57, 0},
                                                {-27, 0},
                                                {-27, 47},
                                                {27, 47},
                                                {27, 0},
                                                {57, 0},
                                                {57, 3},
                                                {30, 3},
                                                {30, 50},
                                                {-30, 50},
                                                {-30, 3},
                                                {-57, 3}},
                                               624,
                                               0,
                                               25,
                                               241672,
                                               599652,
                                               0,
                                               0,
                                               0,
                                               0,
                                               1e-6}));

TEST(AreaMoments, OfARectangleAnywhere) {
    const AreaMoments far = moments({polygon({{1e4, -2e4}, {1e4 + 80, -2e4}, {1e4 + 80, -2e4 + 3}, {1e4, -2e4 + 3}})});
    expect_near(far.area_mm2, 240.0);
    expect_near(far.xx_mm4, 80.0 * 27.0 / 12.0, 1e-9);
    expect_near(far.yy_mm4, 3.0 * 512000.0 / 12.0, 1e-9);
    EXPECT_NEAR(far.xy_mm4, 0.0, 1e-6);
    EXPECT_NEAR(far.centroid_mm.x(), 1e4 + 40, 1e-9);
}

// Closed forms of an annular sector about its centre; from integration in polar coordinates.
TEST(AreaMoments, OfAnnularSectorsOfAnyTurn) {
    for (const double half : {1e-6, 1e-4, 0.01, 0.3, 0.999, 1.001, 1.5, 2.5, 3.1}) {
        for (const auto& [inner, outer] : {std::pair{20.0, 23.0}, std::pair{0.5, 40.0}, std::pair{999.0, 1000.0}}) {
            SCOPED_TRACE(std::to_string(half) + " of " + std::to_string(inner) + " to " + std::to_string(outer));
            const AreaMoments found = moments({sector(inner, outer, half)});
            const double r4 = (std::pow(outer, 4) - std::pow(inner, 4)) / 4.0;
            const double area = half * (outer * outer - inner * inner);
            const double x = 2.0 / 3.0 * std::sin(half) * (std::pow(outer, 3) - std::pow(inner, 3)) / area;
            // a - sin 2a / 2 without its loss of digits at small turns.
            const double thin = half < 0.02 ? 2.0 / 3.0 * std::pow(half, 3) - 2.0 / 15.0 * std::pow(half, 5)
                                            : half - std::sin(2 * half) / 2;
            EXPECT_NEAR(found.area_mm2 / area, 1.0, 1e-9);
            EXPECT_NEAR(found.centroid_mm.x(), x, 1e-9 * outer);
            EXPECT_NEAR(found.centroid_mm.y(), 0.0, 1e-9 * outer);
            EXPECT_NEAR(found.xx_mm4 / (r4 * thin), 1.0, 1e-8);
            if (half >= 0.3) {
                const double yy = r4 * (half + std::sin(2 * half) / 2) - area * x * x;
                EXPECT_NEAR(found.yy_mm4 / yy, 1.0, 1e-9);
            }
        }
    }
}

// The segment of a circle: Roark's table of sections has the same in other words; integrated here in closed form by
// the parabola that it becomes, 4/15 h a³ and 32/105 h³ a about the chord.
TEST(AreaMoments, OfThinSegmentsBecomeThoseOfAParabola) {
    for (const double half : {1e-5, 1e-4, 1e-3}) {
        const double r = 1000.0;
        const double h = r * 2.0 * std::pow(std::sin(half / 2), 2);
        const double a = r * std::sin(half);
        const Vector2d from{r * std::cos(-half), r * std::sin(-half)};
        const Vector2d to{from.x(), -from.y()};
        const AreaMoments found = moments({Profile{{arc({0, 0}, r, -half, 2 * half), line(to, from)}, true}});
        // Of the places of the ends on a circle of a metre 1e-13 mm is lost.
        const double slack = std::max(half * half, 1e-12 / h);
        EXPECT_NEAR(found.area_mm2 / (4.0 / 3.0 * a * h), 1.0, slack);
        EXPECT_NEAR(found.xx_mm4 / (4.0 / 15.0 * h * a * a * a), 1.0, slack);
        const double about_chord = 32.0 / 105.0 * h * h * h * a;
        const double own = about_chord - 4.0 / 3.0 * a * h * std::pow(0.4 * h, 2);
        EXPECT_NEAR(found.yy_mm4 / own, 1.0, 10 * slack + 1e-6);
    }
}

TEST(AreaMoments, OfACircleAndARing) {
    const Profile disc{{arc({7, -3}, 10, 0.3, 2 * k_pi)}, true};
    const Profile hole{{arc({7, -3}, 8, 2.0, -2 * k_pi)}, true};
    expect_near(moments({disc}).xx_mm4, k_pi * 1e4 / 4);
    const AreaMoments ring = moments({hole, disc});
    expect_near(ring.area_mm2, k_pi * 36);
    expect_near(ring.xx_mm4, k_pi * (1e4 - 4096) / 4);
    expect_near(ring.yy_mm4, k_pi * (1e4 - 4096) / 4);
    EXPECT_NEAR(ring.xy_mm4, 0.0, 1e-9);
    EXPECT_NEAR((ring.centroid_mm - Vector2d(7, -3)).norm(), 0.0, 1e-12);
}

TEST(AreaMoments, TurnWithTheRegion) {
    const std::vector<ProfileNode> nodes{{{0, 0}, {}},
                                         {{90, 0}, millimetres(7)},
                                         {{90, 40}, millimetres(11)},
                                         {{60, 12}, millimetres(4)},
                                         {{-10, 50}, {}}};
    const AreaMoments plain = moments({make_profile(nodes, true).value()});
    for (const double turn : {0.4, 1.3, 2.9, -2.0}) {
        std::vector<ProfileNode> turned = nodes;
        for (ProfileNode& node : turned) {
            const Vector2d p = node.p_mm;
            node.p_mm = {std::cos(turn) * p.x() - std::sin(turn) * p.y() + 500,
                         std::sin(turn) * p.x() + std::cos(turn) * p.y() - 300};
        }
        const AreaMoments found = moments({make_profile(turned, true).value()});
        expect_near(found.area_mm2, plain.area_mm2, 1e-12);
        expect_near(found.principal().greatest_mm4, plain.principal().greatest_mm4, 1e-11);
        expect_near(found.principal().least_mm4, plain.principal().least_mm4, 1e-11);
        const double turned_by = std::remainder(in_rad(found.principal().axis - plain.principal().axis) - turn, k_pi);
        EXPECT_NEAR(turned_by, 0.0, 1e-10);
        expect_near(found.xx_mm4 + found.yy_mm4, plain.xx_mm4 + plain.yy_mm4, 1e-11);
    }
}

TEST(AreaMoments, OfTheSameRegionCutInTwoAddUp) {
    const Profile left = sector(20, 23, 0.7);
    const AreaMoments whole = moments({left, polygon({{40, 0}, {50, 0}, {50, 20}, {40, 20}})});
    const AreaMoments a = moments({left});
    const AreaMoments b = moments({polygon({{40, 0}, {50, 0}, {50, 20}, {40, 20}})});
    expect_near(whole.area_mm2, a.area_mm2 + b.area_mm2);
    const auto about = [&](const AreaMoments& part) {
        return part.xx_mm4 + part.area_mm2 * std::pow(part.centroid_mm.y() - whole.centroid_mm.y(), 2);
    };
    expect_near(whole.xx_mm4, about(a) + about(b), 1e-11);
}

TEST(AreaMoments, RefusesWhatHasNoArea) {
    const Profile clockwise = polygon({{0, 0}, {0, 10}, {10, 10}, {10, 0}});
    Profile open = polygon({{0, 0}, {10, 0}, {10, 10}});
    open.closed = false;
    const Profile not_finite{{line({0, 0}, {NAN, 0}), line({NAN, 0}, {0, 0})}, true};
    for (const std::vector<Profile>& bad :
         {std::vector<Profile>{}, {clockwise}, {open}, {Profile{{}, true}}, {not_finite}}) {
        const auto found = area_moments(bad);
        ASSERT_FALSE(found);
        EXPECT_EQ(found.error().code, ErrorCode::invalid_argument);
    }
}

}  // namespace
}  // namespace sillwright::geometry
