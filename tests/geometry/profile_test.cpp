#include "geometry/profile.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <string>

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;
using std::numbers::pi;

/// Closed forms in numbers of a few thousand, to rounding.
constexpr double k_rounding = 1e-9;

ProfileNode node(double x, double y, double radius = 0.0) {
    return {{x, y}, millimetres(radius)};
}

Profile made(const std::vector<ProfileNode>& nodes, bool closed) {
    auto profile = make_profile(nodes, closed);
    EXPECT_TRUE(profile) << profile.error().message;
    return profile.value();
}

std::vector<ProfileNode> rectangle(double width, double height, double radius) {
    return {node(0, 0, radius), node(width, 0, radius), node(width, height, radius), node(0, height, radius)};
}

void expect_refused(const std::vector<ProfileNode>& nodes, bool closed, ErrorCode code, const std::string& part) {
    const auto profile = make_profile(nodes, closed);
    ASSERT_FALSE(profile);
    EXPECT_EQ(profile.error().code, code);
    EXPECT_NE(profile.error().message.find(part), std::string::npos) << profile.error().message;
}

// ---- making ----------------------------------------------------------------

TEST(MakeProfile, AStadiumHasTwoStraightsAndItsClosedForms) {
    const Profile stadium = made(rectangle(100, 20, 10), true);
    EXPECT_EQ(stadium.segments.size(), 6U);
    EXPECT_NEAR(in_mm(length(stadium)), 2.0 * 80.0 + 20.0 * pi, k_rounding);
    EXPECT_NEAR(enclosed_area_mm2(stadium), 80.0 * 20.0 + 100.0 * pi, k_rounding);
}

TEST(MakeProfile, ARoundedSquareLosesFourMinusPiRadiusSquares) {
    const Profile square = made(rectangle(50, 50, 8), true);
    EXPECT_EQ(square.segments.size(), 8U);
    EXPECT_NEAR(enclosed_area_mm2(square), 50.0 * 50.0 - (4.0 - pi) * 64.0, k_rounding);
    EXPECT_NEAR(in_mm(length(square)), 200.0 - 8.0 * 8.0 + 16.0 * pi, k_rounding);
}

TEST(MakeProfile, RadiiThatUseUpAllStraightsMakeACircle) {
    const Profile circle = made(rectangle(30, 30, 15), true);
    EXPECT_EQ(circle.segments.size(), 4U);
    EXPECT_NEAR(enclosed_area_mm2(circle), 225.0 * pi, k_rounding);
}

TEST(MakeProfile, AnOpenCornerIsShorterByTwoRadiiAndAQuarterCircle) {
    const Profile corner = made({node(0, 0, 99), node(40, 0, 6), node(40, 30, 99)}, false);
    ASSERT_EQ(corner.segments.size(), 3U);
    EXPECT_NEAR(in_mm(length(corner)), 70.0 - 12.0 + 3.0 * pi, k_rounding);
    EXPECT_EQ(start_point(corner.segments.front()), Vector2d(0, 0));
    EXPECT_EQ(end_point(corner.segments.back()), Vector2d(40, 30));
}

TEST(MakeProfile, SegmentsNameTheirNodes) {
    const Profile corner = made({node(0, 0), node(40, 0, 6), node(40, 30)}, false);
    EXPECT_EQ(corner.segments[0].node, 0U);
    EXPECT_EQ(corner.segments[1].node, 1U);
    EXPECT_EQ(corner.segments[2].node, 1U);
}

TEST(MakeProfile, NodesAtOnePlaceAreOneWithTheGreaterRadius) {
    const Profile twice = made({node(0, 0), node(40, 0, 2), node(40, 1e-10, 6), node(40, 30)}, false);
    ASSERT_EQ(twice.segments.size(), 3U);
    EXPECT_NEAR(in_mm(length(twice)), 70.0 - 12.0 + 3.0 * pi, k_rounding);
    EXPECT_EQ(twice.segments[2].node, 1U);
    // Across the seam of a closed one too.
    const Profile seam = made({node(0, 0), node(50, 0), node(50, 50), node(0, 50), node(0, 0, 8)}, true);
    EXPECT_NEAR(enclosed_area_mm2(seam), 2500.0 - (4.0 - pi) * 16.0, k_rounding);
}

TEST(MakeProfile, ANodeInAStraightGivesNoArc) {
    const Profile straight = made({node(0, 0), node(20, 10, 5), node(40, 20)}, false);
    EXPECT_EQ(straight.segments.size(), 2U);
    EXPECT_NEAR(in_mm(length(straight)), std::sqrt(2000.0), k_rounding);
}

TEST(MakeProfile, JointsMeetAndAreTangent) {
    std::mt19937 engine{5};
    std::uniform_real_distribution<double> turns{-2.0, 2.0};
    std::uniform_real_distribution<double> steps{20.0, 90.0};
    for (int i = 0; i < 200; ++i) {
        std::vector<ProfileNode> nodes{node(0, 0)};
        double course = 0.0;
        for (int k = 0; k < 8; ++k) {
            const Vector2d next = nodes.back().p_mm + steps(engine) * Vector2d{std::cos(course), std::sin(course)};
            nodes.push_back(node(next.x(), next.y(), 5.0));  // 5 tan(1) = 7.8 either side fits in 20
            course += turns(engine);
        }
        const Profile profile = made(nodes, false);
        ASSERT_EQ(profile.segments.size(), 15U);
        for (std::size_t k = 0; k + 1 < profile.segments.size(); ++k) {
            const Segment& a = profile.segments[k];
            const Segment& b = profile.segments[k + 1];
            EXPECT_LE((end_point(a) - start_point(b)).norm(), k_rounding);
            EXPECT_LE((direction_at(a, 1.0) - direction_at(b, 0.0)).norm(), k_rounding);
        }
    }
}

TEST(MakeProfile, RefusesWhatIsNoChain) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double inf = std::numeric_limits<double>::infinity();
    const auto bad = ErrorCode::invalid_argument;
    expect_refused({}, false, bad, "at least 2 nodes in different places; this one has 0");
    expect_refused({node(1, 1)}, false, bad, "this one has 1");
    expect_refused({node(1, 1), node(1, 1)}, false, bad, "this one has 1");
    expect_refused({node(0, 0), node(1, 0), node(0, 0)}, true, bad,
                   "at least 3 nodes in different places; this one has 2");
    expect_refused({node(0, 0), node(nan, 0)}, false, bad, "Node 2 has a coordinate");
    expect_refused({node(0, -inf), node(1, 0)}, false, bad, "Node 1 has a coordinate");
    expect_refused({node(0, 0), node(1e7, 0)}, false, bad, "Node 2 has a coordinate");
    expect_refused({node(0, 0), node(10, 0, -1), node(10, 10)}, false, bad, "Node 2 has a radius");
    expect_refused({node(0, 0), node(10, 0, nan), node(10, 10)}, false, bad, "Node 2 has a radius");
    expect_refused({node(0, 0), node(10, 0, inf), node(10, 10)}, false, bad, "Node 2 has a radius");
}

TEST(MakeProfile, SaysWhichRadiusIsTooLargeAndWhatFits) {
    const auto no_fit = ErrorCode::does_not_fit;
    // A square corner's rounding starts one radius before it.
    expect_refused(
        {node(0, 0), node(10, 0, 12), node(10, 30)}, false, no_fit,
        "radius 12.000 mm at node 2 does not fit: the straight to node 1 is 10.000 mm long. The largest radius "
        "that fits is 10.000 mm.");
    expect_refused(
        {node(0, 0), node(50, 0, 12), node(50, 30, 20), node(0, 30)}, false, no_fit,
        "radius 20.000 mm at node 3 does not fit: the straight to node 2 is 30.000 mm long. The largest radius "
        "that fits is 18.000 mm.");
    expect_refused({node(0, 0), node(50, 0, 35), node(50, 30, 40), node(0, 30)}, false, no_fit,
                   "The largest radius that fits at both nodes is 15.000 mm.");
    // What the message offers does fit.
    EXPECT_TRUE(make_profile({node(0, 0), node(50, 0, 12), node(50, 30, 18), node(0, 30)}, false));
    EXPECT_TRUE(make_profile({node(0, 0), node(50, 0, 15), node(50, 30, 15), node(0, 30)}, false));
}

TEST(MakeProfile, RefusesAChainThatTurnsBackOnItself) {
    const auto no_fit = ErrorCode::does_not_fit;
    expect_refused({node(0, 0), node(10, 0), node(5, 0)}, false, no_fit, "turns back on itself at node 2");
    expect_refused({node(0, 0), node(10, 0), node(20, 0)}, true, no_fit, "turns back on itself at node 1");
}

// ---- measuring -------------------------------------------------------------

TEST(ProfileMeasures, DoNotChangeUnderARigidMotionAndTheAreaTurnsWithTheSense) {
    const std::vector<ProfileNode> nodes{node(0, 0, 8), node(90, 0, 12), node(60, 30, 3), node(30, 80, 10)};
    std::vector<ProfileNode> far = nodes;
    for (ProfileNode& n : far) {
        n.p_mm = Eigen::Rotation2Dd{2.1} * n.p_mm + Vector2d{9000, -4000};
    }
    const Profile near = made(nodes, true);
    EXPECT_NEAR(in_mm(length(near)), in_mm(length(made(far, true))), 1e-8);
    EXPECT_NEAR(enclosed_area_mm2(near), enclosed_area_mm2(made(far, true)), 1e-6);
    EXPECT_NEAR(enclosed_area_mm2(reversed(near)), -enclosed_area_mm2(near), k_rounding);
    EXPECT_NEAR(in_mm(length(reversed(near))), in_mm(length(near)), k_rounding);
    EXPECT_EQ(enclosed_area_mm2({}), 0.0);
}

TEST(NearestPoint, IsOnTheStraightTheArcOrTheEnd) {
    const Profile corner = made({node(0, 0), node(40, 0, 10), node(40, 30)}, false);
    const NearestOnProfile straight = nearest_point(corner, {12, 5});
    EXPECT_NEAR(in_mm(straight.distance), 5.0, k_rounding);
    EXPECT_EQ(straight.segment, 0U);
    EXPECT_NEAR(in_mm(straight.along), 12.0, k_rounding);
    // The arc's centre is (30, 10); from the corner (40, 0) it is 10 (sqrt 2 - 1) away, half-way along.
    const NearestOnProfile arc = nearest_point(corner, {40, 0});
    EXPECT_NEAR(in_mm(arc.distance), 10.0 * (std::sqrt(2.0) - 1.0), k_rounding);
    EXPECT_EQ(arc.segment, 1U);
    EXPECT_NEAR(in_mm(arc.along), 30.0 + 2.5 * pi, k_rounding);
    const NearestOnProfile end = nearest_point(corner, {43, 34});
    EXPECT_NEAR(in_mm(end.distance), 5.0, k_rounding);
    EXPECT_NEAR(in_mm(end.along), in_mm(length(corner)), k_rounding);
    EXPECT_EQ(nearest_point(corner, {-3, 4}).p_mm, Vector2d(0, 0));
}

TEST(NearestPoint, TheFirstOfEqualsIsGiven) {
    const Profile square = made(rectangle(10, 10, 0), true);
    EXPECT_EQ(nearest_point(square, {5, 5}).segment, 0U);
}

TEST(NearestPoint, IsNoFurtherThanAnyPointOfAFinePolyline) {
    const Profile profile = made({node(0, 0, 8), node(90, 0, 12), node(60, 30, 3), node(30, 80, 10)}, true);
    const auto points = polyline(profile, millimetres(1e-4)).value();
    std::mt19937 engine{6};
    std::uniform_real_distribution<double> place{-40.0, 130.0};
    for (int i = 0; i < 200; ++i) {
        const Vector2d p{place(engine), place(engine)};
        const NearestOnProfile found = nearest_point(profile, p);
        EXPECT_NEAR((found.p_mm - p).norm(), in_mm(found.distance), k_rounding);
        for (const Vector2d& q : points) {
            EXPECT_LE(in_mm(found.distance), (q - p).norm() + k_rounding);
        }
    }
}

// ---- inside ----------------------------------------------------------------

/// Closed form: within the radius of the stadium's middle line.
bool in_stadium(const Vector2d& p) {
    const Vector2d middle{std::clamp(p.x(), 10.0, 90.0), 10.0};
    return (p - middle).norm() < 10.0;
}

TEST(Contains, AgreesWithTheStadiumsClosedFormEitherWayRound) {
    const Profile stadium = made(rectangle(100, 20, 10), true);
    for (double x = -5.03; x <= 105.0; x += 0.7) {
        for (double y = -5.07; y <= 25.0; y += 0.9) {
            EXPECT_EQ(contains(stadium, {x, y}), in_stadium({x, y})) << x << ", " << y;
            EXPECT_EQ(contains(reversed(stadium), {x, y}), in_stadium({x, y})) << x << ", " << y;
        }
    }
}

TEST(Contains, KnowsHollowsAndBulgesBesideAChord) {
    // A 20 square whose right edge is an arc, bulging out, then biting in; the chord is x = 20.
    const auto square_with = [](double sweep) {
        const double centre_x = 20.0;
        const ArcSegment arc{{centre_x, 10}, 10.0, radians(-pi / 2.0), radians(sweep)};
        return Profile{{{LineSegment{{0, 20}, {0, 0}}, 0},
                        {LineSegment{{0, 0}, {20, 0}}, 1},
                        {arc, 2},
                        {LineSegment{{20, 20}, {0, 20}}, 3}},
                       true};
    };
    const Profile bulging = square_with(pi);
    const Profile bitten = square_with(-pi);
    for (const double y : {5.0, 10.0, 15.0}) {
        EXPECT_TRUE(contains(bulging, {20, y}));  // on the chord
        EXPECT_TRUE(contains(bulging, {25, y}));
        EXPECT_TRUE(contains(bulging, {5, y}));
        EXPECT_FALSE(contains(bulging, {31, y}));
        EXPECT_FALSE(contains(bitten, {20, y}));  // on the chord
        EXPECT_FALSE(contains(bitten, {15, y}));
        EXPECT_TRUE(contains(bitten, {5, y}));
        EXPECT_FALSE(contains(bitten, {25, y}));
    }
}

TEST(Contains, CountsItsBorderAndAFullCircleInOneArc) {
    const Profile square = made(rectangle(10, 10, 0), true);
    EXPECT_TRUE(contains(square, {0, 0}));
    EXPECT_TRUE(contains(square, {10, 4}));
    EXPECT_FALSE(contains(square, {10 + 1e-6, 4}));
    const Profile circle{{{ArcSegment{{3, 4}, 10.0, radians(1.0), radians(-2.0 * pi)}, 0}}, true};
    EXPECT_TRUE(contains(circle, {3, 4}));
    EXPECT_TRUE(contains(circle, {-6.9, 4}));
    EXPECT_FALSE(contains(circle, {-7.1, 4}));
}

// ---- polyline --------------------------------------------------------------

TEST(Polyline, StaysWithinTheChordToleranceAndKeepsTheJoints) {
    const Profile profile = made({node(0, 0, 8), node(90, 0, 12), node(60, 30, 3), node(30, 80, 10)}, true);
    for (const double tolerance : {5.0, 0.1, 1e-3, 1e-5}) {
        const auto points = polyline(profile, millimetres(tolerance)).value();
        EXPECT_EQ(points.front(), points.back());
        for (std::size_t i = 0; i + 1 < points.size(); ++i) {
            // The chord's middle is where it is furthest from its arc.
            EXPECT_LE(in_mm(nearest_point(profile, (points[i] + points[i + 1]) / 2.0).distance),
                      tolerance * (1.0 + 1e-6));
        }
        for (const Segment& segment : profile.segments) {
            const auto nearest = std::ranges::min(
                points, {}, [&](const Vector2d& p) { return (p - start_point(segment)).squaredNorm(); });
            EXPECT_LE((nearest - start_point(segment)).norm(), k_rounding);
        }
    }
}

TEST(Polyline, LengthComesUpToTheProfilesWithTheToleranceAtFirstOrder) {
    // An arc of radius r in chords of sagitta t is short by the fraction t / (3 r): from
    // chord = 2 r sin(h / 2) and t = r (1 - cos(h / 2)), first terms.
    const Profile circle = made(rectangle(200, 200, 100), true);
    double shortfall = 0.0;
    for (const double tolerance : {1e-2, 1e-4}) {
        const auto points = polyline(circle, millimetres(tolerance)).value();
        double sum = 0.0;
        for (std::size_t i = 0; i + 1 < points.size(); ++i) {
            sum += (points[i + 1] - points[i]).norm();
        }
        shortfall = in_mm(length(circle)) - sum;
        EXPECT_GT(shortfall, 0.0);
        EXPECT_LE(shortfall, 200.0 * pi * tolerance / 300.0 * 1.01);
    }
}

TEST(Polyline, RefusesAToleranceThatMeansNothing) {
    const Profile circle = made(rectangle(30, 30, 15), true);
    for (const double tolerance :
         {0.0, -1.0, 1e-300, std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
        const auto points = polyline(circle, millimetres(tolerance));
        ASSERT_FALSE(points) << tolerance;
        EXPECT_EQ(points.error().code, ErrorCode::invalid_argument);
    }
    EXPECT_FALSE(polyline({}, millimetres(0.1)));
}

}  // namespace
}  // namespace sillwright::geometry
