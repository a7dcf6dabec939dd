#include "geometry/parallel.h"

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
constexpr double k_rounding = 1e-8;
/// What parallel.h promises: no point nearer than |distance| - 1e-7 mm.
constexpr double k_nearer_mm = 1e-7;
/// Joints meet within 1e-6 mm.
constexpr double k_joint_mm = 1e-6;

ProfileNode node(double x, double y, double radius = 0.0) {
    return {{x, y}, millimetres(radius)};
}

Profile made(const std::vector<ProfileNode>& nodes, bool closed) {
    auto profile = make_profile(nodes, closed);
    EXPECT_TRUE(profile) << profile.error().message;
    return profile.value();
}

Profile rounded_square(double side, double radius) {
    return made({node(0, 0, radius), node(side, 0, radius), node(side, side, radius), node(0, side, radius)}, true);
}

Parallel parallel_of(const Profile& profile, double d) {
    auto result = parallel(profile, millimetres(d));
    EXPECT_TRUE(result) << result.error().message;
    return result ? result.value() : Parallel{};
}

double total_area(const Parallel& result) {
    double sum = 0.0;
    for (const Profile& chain : result.chains) {
        sum += enclosed_area_mm2(chain);
    }
    return sum;
}

double total_length(const Parallel& result) {
    double sum = 0.0;
    for (const Profile& chain : result.chains) {
        sum += in_mm(length(chain));
    }
    return sum;
}

/// Points all along, some at odd places of each segment.
std::vector<Vector2d> samples(const Profile& profile, std::size_t a_segment = 23) {
    std::vector<Vector2d> points;
    for (const Segment& segment : profile.segments) {
        for (std::size_t k = 0; k <= a_segment; ++k) {
            points.push_back(point_at(segment, static_cast<double>(k) / static_cast<double>(a_segment)));
        }
    }
    return points;
}

double distance_to_chains(const Parallel& result, const Vector2d& p) {
    double least = std::numeric_limits<double>::infinity();
    for (const Profile& chain : result.chains) {
        least = std::min(least, in_mm(nearest_point(chain, p).distance));
    }
    return least;
}

void expect_same_points(const Parallel& a, const Parallel& b, double tolerance) {
    EXPECT_EQ(a.chains.size(), b.chains.size());
    EXPECT_EQ(a.vanished, b.vanished);
    EXPECT_NEAR(total_length(a), total_length(b), 100.0 * tolerance);
    for (const auto& [from, to] : {std::pair{&a, &b}, std::pair{&b, &a}}) {
        for (const Profile& chain : from->chains) {
            for (const Vector2d& p : samples(chain)) {
                EXPECT_LE(distance_to_chains(*to, p), tolerance);
            }
        }
    }
}

void expect_joined(const Profile& chain) {
    const std::size_t n = chain.segments.size();
    for (std::size_t i = 0; i + (chain.closed ? 0 : 1) < n; ++i) {
        const Vector2d gap = start_point(chain.segments[(i + 1) % n]) - end_point(chain.segments[i]);
        EXPECT_LE(gap.norm(), k_joint_mm) << "after segment " << i + 1 << " of " << n;
    }
}

/// Everything found is at the distance, nowhere nearer, and in one piece a chain.
void expect_sound(const Profile& source, const Parallel& result, double d) {
    for (const Profile& chain : result.chains) {
        expect_joined(chain);
        for (const Vector2d& p : samples(chain)) {
            const double distance = in_mm(nearest_point(source, p).distance);
            EXPECT_GE(distance, std::abs(d) - k_nearer_mm);
            EXPECT_LE(distance, std::abs(d) + k_joint_mm);
        }
    }
}

/// A point at the distance along a normal of the asked side, and the two just beside it.
struct Beside {
    Vector2d p, before, after;
};

/// Such points all along, and all round outer corners.
std::vector<Beside> points_beside(const Profile& source, double d) {
    constexpr double k_step = 1e-4;
    std::vector<Beside> points;
    const auto add = [&](const auto& point, double fraction) {
        points.push_back({point(fraction), point(fraction - k_step), point(fraction + k_step)});
    };
    const auto off = [d](const Vector2d& p, const Vector2d& along) -> Vector2d {
        return p + d * Vector2d{-along.y(), along.x()};
    };
    const std::size_t n = source.segments.size();
    for (std::size_t i = 0; i < n; ++i) {
        const Segment& segment = source.segments[i];
        for (int k = 1; k < 60; ++k) {
            add([&](double f) { return off(point_at(segment, f), direction_at(segment, f)); }, k / 60.0);
        }
        if (source.closed || i + 1 < n) {
            const Vector2d in = direction_at(segment, 1.0);
            const Vector2d out = direction_at(source.segments[(i + 1) % n], 0.0);
            const double turn = std::atan2(in.x() * out.y() - in.y() * out.x(), in.dot(out));
            for (int k = 1; turn * d < -1e-6 && k < 20; ++k) {
                add([&](double f) { return off(end_point(segment), Eigen::Rotation2Dd{turn * f} * in); }, k / 20.0);
            }
        }
    }
    return points;
}

/// Nothing is missing: what lies at the distance and nowhere nearer was found. (A
/// single such point, as a square's centre, is no chain.)
void expect_complete(const Profile& source, const Parallel& result, double d) {
    constexpr double k_surely_on_border_mm = 1e-10;  // not one of the stubs within tolerance
    const auto on_border = [&](const Vector2d& p) {
        return in_mm(nearest_point(source, p).distance) >= std::abs(d) - k_surely_on_border_mm;
    };
    for (const Beside& b : points_beside(source, d)) {
        if (on_border(b.p) && (on_border(b.before) || on_border(b.after))) {
            EXPECT_LE(distance_to_chains(result, b.p), k_joint_mm) << "missing at " << b.p.x() << ", " << b.p.y();
        }
    }
}

void expect_right(const Profile& source, double d) {
    const auto result = parallel(source, millimetres(d));
    ASSERT_TRUE(result) << result.error().message;
    expect_sound(source, result.value(), d);
    expect_complete(source, result.value(), d);
}

// ---- closed forms ----------------------------------------------------------

TEST(Parallel, OutsideOfAConvexProfileFollowsSteiner) {
    // J. Steiner, 1840: P + 2 pi d and A + P d + pi d^2 for a convex body.
    const Profile triangle = made({node(0, 0), node(70, 5), node(20, 60)}, true);
    const Profile soft = made({node(0, 0, 8), node(90, 0, 20), node(110, 50, 3), node(30, 80, 10)}, true);
    for (const Profile& profile : {triangle, soft, rounded_square(50, 10)}) {
        for (const double d : {0.3, 4.0, 37.5}) {
            const Parallel result = parallel_of(profile, -d);
            ASSERT_EQ(result.chains.size(), 1U);
            EXPECT_TRUE(result.chains[0].closed);
            EXPECT_FALSE(result.crossings_removed);
            EXPECT_TRUE(result.vanished.empty());
            const double perimeter = in_mm(length(profile));
            EXPECT_NEAR(total_length(result), perimeter + 2.0 * pi * d, k_rounding);
            EXPECT_NEAR(total_area(result), enclosed_area_mm2(profile) + perimeter * d + pi * d * d, k_rounding);
        }
    }
}

TEST(Parallel, InsideOfARoundedSquareHasSmallerRadii) {
    const Parallel result = parallel_of(rounded_square(50, 10), 4.0);
    ASSERT_EQ(result.chains.size(), 1U);
    EXPECT_EQ(result.chains[0].segments.size(), 8U);
    EXPECT_NEAR(total_area(result), 42.0 * 42.0 - (4.0 - pi) * 36.0, k_rounding);
    EXPECT_TRUE(result.vanished.empty());
    EXPECT_FALSE(result.crossings_removed);
}

TEST(Parallel, RadiiVanishAtTheirOwnDistanceAndAreNamed) {
    const std::vector<std::size_t> all{0, 1, 2, 3};
    for (const double d : {10.0, 10.0 + 1e-8, 12.0}) {
        const Parallel result = parallel_of(rounded_square(50, 10), d);
        ASSERT_EQ(result.chains.size(), 1U) << d;
        EXPECT_NEAR(total_area(result), (50.0 - 2.0 * d) * (50.0 - 2.0 * d), k_rounding);
        EXPECT_EQ(result.chains[0].segments.size(), 4U);
        EXPECT_EQ(result.vanished, all);
    }
}

TEST(Parallel, OnlyTheSmallRadiusVanishes) {
    const Profile profile = made({node(0, 0, 3), node(60, 0, 10), node(60, 40, 10), node(0, 40, 10)}, true);
    const Parallel result = parallel_of(profile, 5.0);
    EXPECT_EQ(result.vanished, std::vector<std::size_t>{0});
    EXPECT_TRUE(result.crossings_removed);  // the two straights beyond the lost arc
    EXPECT_NEAR(total_area(result), 50.0 * 30.0 - 0.75 * (4.0 - pi) * 25.0, k_rounding);
}

TEST(Parallel, NothingIsLeftBeyondTheMiddle) {
    for (const double d : {25.0 + 1e-3, 30.0, 1000.0}) {
        const Parallel result = parallel_of(rounded_square(50, 10), d);
        EXPECT_TRUE(result.chains.empty()) << d;
        EXPECT_EQ(result.vanished.size(), 4U);
    }
}

TEST(Parallel, ACircleShrinksToNothing) {
    const Profile circle = rounded_square(20, 10);
    EXPECT_NEAR(total_area(parallel_of(circle, 9.0)), pi, k_rounding);
    EXPECT_NEAR(total_area(parallel_of(circle, -5.0)), pi * 225.0, k_rounding);
    EXPECT_TRUE(parallel_of(circle, 10.0).chains.empty());
    EXPECT_TRUE(parallel_of(circle, 11.0).chains.empty());
}

TEST(Parallel, AFullCircleInOneArcIsOneSegment) {
    const Profile circle{{{ArcSegment{{3, 4}, 10.0, radians(1.0), radians(2.0 * pi)}, 0}}, true};
    EXPECT_NEAR(total_area(parallel_of(circle, 4.0)), pi * 36.0, k_rounding);
    EXPECT_NEAR(total_area(parallel_of(circle, -4.0)), pi * 196.0, k_rounding);
    EXPECT_TRUE(parallel_of(circle, 10.5).chains.empty());
}

/// Two legs 20 wide and 60 high, 40 apart, on a bridge 6 thick.
Profile letter_u() {
    return made(
        {node(0, 0), node(80, 0), node(80, 60), node(60, 60), node(60, 6), node(20, 6), node(20, 60), node(0, 60)},
        true);
}

TEST(Parallel, AUSplitsIntoItsLegsWhenTheBridgeIsTooThin) {
    const Parallel result = parallel_of(letter_u(), 4.0);
    ASSERT_EQ(result.chains.size(), 2U);
    EXPECT_TRUE(result.crossings_removed);
    // A leg is 12 by 52, and runs out towards the bridge up to the circle of 4 about the
    // inner corner, over the 2 mm of height that the circle leaves: the integral of
    // 4 - sqrt(16 - u^2) for u from 0 to 2.
    const double run_out = 8.0 - (std::sqrt(12.0) + 8.0 * std::asin(0.5));
    for (const Profile& leg : result.chains) {
        EXPECT_TRUE(leg.closed);
        EXPECT_NEAR(enclosed_area_mm2(leg), 12.0 * 52.0 + run_out, k_rounding);
    }
    expect_right(letter_u(), 4.0);
}

TEST(Parallel, AUIsOneOutsideUntilItsMouthCloses) {
    EXPECT_EQ(parallel_of(letter_u(), -19.0).chains.size(), 1U);
    // 22 beyond the rim the mouth of 40 is shut, and no hole is left behind it.
    EXPECT_EQ(parallel_of(letter_u(), -22.0).chains.size(), 1U);
    EXPECT_TRUE(contains(parallel_of(letter_u(), -22.0).chains[0], {40, 40}));
}

TEST(Parallel, AFlaskKeepsAHoleBehindItsNarrowNeck) {
    // A pocket 40 wide and 40 deep behind a neck 10 wide and 10 long, in a block of 80 by 80.
    const Profile flask = made({node(0, 0), node(80, 0), node(80, 80), node(45, 80), node(45, 70), node(60, 70),
                                node(60, 30), node(20, 30), node(20, 70), node(35, 70), node(35, 80), node(0, 80)},
                               true);
    const Parallel result = parallel_of(flask, -8.0);
    ASSERT_EQ(result.chains.size(), 2U);
    // The hole is 24 by 24, and runs up towards the neck to the circles of 8 about (35, 70)
    // and (45, 70), which meet in the middle, 5 from each: twice the integral of
    // 8 - sqrt(64 - u^2) for u from 0 to 5.
    const double under_circle = 0.5 * (5.0 * std::sqrt(39.0) + 64.0 * std::asin(5.0 / 8.0));
    EXPECT_NEAR(-enclosed_area_mm2(result.chains[1]), 24.0 * 24.0 + 2.0 * (5.0 * 8.0 - under_circle), k_rounding);
    expect_right(flask, -8.0);
}

TEST(Parallel, OpenChainsTrimInnerCornersAndRoundOuterOnes) {
    const Profile corner = made({node(0, 0), node(50, 0), node(50, 30)}, false);
    const Parallel inner = parallel_of(corner, 5.0);
    ASSERT_EQ(inner.chains.size(), 1U);
    EXPECT_FALSE(inner.chains[0].closed);
    EXPECT_NEAR(total_length(inner), 45.0 + 25.0, k_rounding);
    EXPECT_TRUE(inner.crossings_removed);
    const Parallel outer = parallel_of(corner, -5.0);
    ASSERT_EQ(outer.chains.size(), 1U);
    EXPECT_NEAR(total_length(outer), 50.0 + 30.0 + 2.5 * pi, k_rounding);
    EXPECT_FALSE(outer.crossings_removed);
    // Ends are square.
    EXPECT_NEAR((start_point(outer.chains[0].segments.front()) - Vector2d{0, -5}).norm(), 0.0, k_rounding);
    EXPECT_NEAR((end_point(outer.chains[0].segments.back()) - Vector2d{55, 30}).norm(), 0.0, k_rounding);
}

TEST(Parallel, ASectionWithASheetKeepsItsNodes) {
    const Profile section =
        made({node(0, 0), node(60, 10, 12), node(80, -70, 15), node(10, -90, 4), node(10, -95)}, false);
    const Parallel inside = parallel_of(section, -3.0);
    ASSERT_EQ(inside.chains.size(), 1U);
    ASSERT_EQ(inside.chains[0].segments.size(), section.segments.size());
    for (std::size_t i = 0; i < section.segments.size(); ++i) {
        EXPECT_EQ(inside.chains[0].segments[i].node, section.segments[i].node);
    }
    EXPECT_TRUE(inside.vanished.empty() && !inside.crossings_removed);
}

TEST(Parallel, AnOpenChainEndsWhereTheCircleAboutItsEndTakesOver) {
    // A hook whose end turns in over its own foot: the foot's parallel at 6 runs into the
    // circle of 6 about the end, which stands 8 above the foot at x = 30.
    const Profile hook = made({node(0, 0), node(60, 0), node(60, 40), node(30, 40), node(30, 8)}, false);
    const Parallel result = parallel_of(hook, 6.0);
    ASSERT_FALSE(result.chains.empty());
    const Vector2d end = end_point(result.chains[0].segments.back());
    EXPECT_NEAR(end.y(), 6.0, k_rounding);
    EXPECT_NEAR(end.x(), 30.0 - std::sqrt(36.0 - 4.0), k_rounding);
    expect_right(hook, 6.0);
    expect_right(hook, -6.0);
}

TEST(Parallel, DistanceZeroIsTheProfileItself) {
    const Profile profile = rounded_square(50, 10);
    const Parallel result = parallel_of(profile, 0.0);
    ASSERT_EQ(result.chains.size(), 1U);
    EXPECT_EQ(enclosed_area_mm2(result.chains[0]), enclosed_area_mm2(profile));
}

// ---- laws ------------------------------------------------------------------

class Dice {
public:
    explicit Dice(std::uint64_t seed) : engine_{seed} {}
    double between(double low, double high) {
        return low + (high - low) * static_cast<double>(engine_() >> 11) * 0x1p-53;
    }
    std::size_t count(std::size_t low, std::size_t high) { return low + engine_() % (high - low + 1); }

private:
    std::mt19937_64 engine_;
};

/// Gives each inner node up to its share of its straights.
void round_corners(std::vector<ProfileNode>& nodes, bool closed, Dice& dice) {
    const std::size_t n = nodes.size();
    for (std::size_t i = closed ? 0 : 1; i + (closed ? 0 : 1) < n; ++i) {
        const Vector2d back = nodes[(i + n - 1) % n].p_mm - nodes[i].p_mm;
        const Vector2d on = nodes[(i + 1) % n].p_mm - nodes[i].p_mm;
        const double inside = std::acos(std::clamp(back.normalized().dot(on.normalized()), -1.0, 1.0));
        const double largest = 0.5 * std::min(back.norm(), on.norm()) * std::tan(inside / 2.0);
        const double share = dice.between(-0.4, 1.0);
        nodes[i].radius = millimetres(share > 0.0 ? std::min(share * largest, 1000.0) : 0.0);
    }
}

Profile random_closed(Dice& dice) {
    const std::size_t n = dice.count(3, 11);
    std::vector<ProfileNode> nodes;
    for (std::size_t i = 0; i < n; ++i) {
        const double angle = 2.0 * pi * (static_cast<double>(i) + dice.between(0.1, 0.9)) / static_cast<double>(n);
        nodes.push_back({dice.between(20.0, 120.0) * Vector2d{std::cos(angle), std::sin(angle)}, {}});
    }
    round_corners(nodes, true, dice);
    return made(nodes, true);
}

/// Turns either way at each node, so that long ones often come near themselves or cross.
Profile random_open(Dice& dice) {
    const std::size_t n = dice.count(2, 12);
    std::vector<ProfileNode> nodes{node(0, 0)};
    double course = 0.0;
    for (std::size_t i = 1; i < n; ++i) {
        course += dice.between(-2.2, 2.2);
        nodes.push_back(
            {nodes.back().p_mm + dice.between(4.0, 60.0) * Vector2d{std::cos(course), std::sin(course)}, {}});
    }
    round_corners(nodes, false, dice);
    return made(nodes, false);
}

TEST(ParallelLaws, RandomClosedProfilesAreSoundAndComplete) {
    Dice dice{11};
    for (int i = 0; i < 300; ++i) {
        const Profile profile = random_closed(dice);
        const double d = dice.between(-30.0, 30.0);
        SCOPED_TRACE("case " + std::to_string(i) + " at " + std::to_string(d) + " mm");
        expect_right(profile, d);
        for (const Profile& chain : parallel_of(profile, d).chains) {
            EXPECT_TRUE(chain.closed);
        }
    }
}

TEST(ParallelLaws, AVeryShallowInnerCornerLeavesNoStubBehind) {
    // Found by a random search: the corner at the sixth node turns by 0.00015 rad, and the
    // stubs of 0.0003 mm beyond the crossing are within tolerance of the parallel.
    const Profile profile = made(
        {node(108.08832025228531, 31.614414428525812), node(36.455165616636819, 47.761518381012039),
         node(26.23063238466176, 100.54645227814895, 6.288831367618779),
         node(-23.44666818557976, 55.561753180528612, 131.41254164592277),
         node(-95.797979832305529, 38.122561677208722, 4.0852350650143698),
         node(-65.528321647932373, -0.65582841980105744),
         node(-42.410076995276171, -30.277092429670905, 41.358820079990551),
         node(-32.979007550508015, -98.479602884797558, 12.785129938644777),
         node(21.262971871085092, -78.410000887311, 78.621673674041688), node(48.624430497631877, -54.215896192614281),
         node(110.14401432171981, -26.295223355839905, 5.9120139681562822)},
        true);
    const double d = -4.302488164018861;
    const Parallel result = parallel_of(profile, d);
    ASSERT_EQ(result.chains.size(), 1U);
    EXPECT_TRUE(result.chains[0].closed);
    expect_right(profile, d);
}

TEST(ParallelLaws, RandomOpenChainsAreSoundAndComplete) {
    Dice dice{12};
    for (int i = 0; i < 400; ++i) {
        const Profile profile = random_open(dice);
        const double d = dice.between(-20.0, 20.0);
        SCOPED_TRACE("case " + std::to_string(i) + " at " + std::to_string(d) + " mm");
        expect_right(profile, d);
    }
}

/// Corners on a grid and distances on the same grid: edges overlap, touch and meet three at a time.
TEST(ParallelLaws, ProfilesOnAGridAreSoundAndComplete) {
    Dice dice{13};
    for (int i = 0; i < 100; ++i) {
        const std::size_t teeth = dice.count(1, 5);
        std::vector<ProfileNode> nodes{node(0, 0)};
        const auto grid = [&](std::size_t low, std::size_t high) {
            return 5.0 * static_cast<double>(dice.count(low, high));
        };
        const auto radius = [&] { return 2.5 * static_cast<double>(dice.count(0, 1)); };
        double x = 0.0;
        for (std::size_t k = 0; k < teeth; ++k) {
            const double low = grid(2, 4);
            const double high = low + grid(1, 8);
            for (const double y : {low, high}) {
                nodes.push_back(node(x, y, k == 0 && y == low ? 0.0 : radius()));
                x += grid(1, 5);
                nodes.push_back(node(x, y, radius()));
            }
        }
        nodes.push_back(node(x, 0));
        std::reverse(nodes.begin(), nodes.end());  // anticlockwise
        const Profile profile = made(nodes, true);
        for (const double d : {2.5, -2.5, 5.0, -5.0, 7.5, -7.5, 10.0, -10.0}) {
            SCOPED_TRACE("case " + std::to_string(i) + " at " + std::to_string(d) + " mm");
            expect_right(profile, d);
        }
    }
}

TEST(ParallelLaws, LeftOfTheReversedIsRight) {
    Dice dice{14};
    for (int i = 0; i < 100; ++i) {
        const Profile profile = i % 2 == 0 ? random_closed(dice) : random_open(dice);
        const double d = dice.between(0.5, 20.0);
        SCOPED_TRACE("case " + std::to_string(i) + " at " + std::to_string(d) + " mm");
        expect_same_points(parallel_of(profile, -d), parallel_of(reversed(profile), d), k_joint_mm);
    }
}

Profile moved(const Profile& profile, double turn, const Vector2d& shift) {
    const Eigen::Rotation2Dd rotation{turn};
    Profile image = profile;
    for (Segment& segment : image.segments) {
        if (auto* line = std::get_if<LineSegment>(&segment.shape)) {
            segment.shape = LineSegment{rotation * line->from + shift, rotation * line->to + shift};
        } else if (auto* arc = std::get_if<ArcSegment>(&segment.shape)) {
            segment.shape =
                ArcSegment{rotation * arc->centre + shift, arc->radius_mm, arc->start + radians(turn), arc->sweep};
        }
    }
    return image;
}

TEST(ParallelLaws, MovesWithItsSource) {
    Dice dice{15};
    for (int i = 0; i < 100; ++i) {
        const Profile profile = i % 2 == 0 ? random_closed(dice) : random_open(dice);
        const double d = dice.between(-20.0, 20.0);
        const double turn = dice.between(-3.0, 3.0);
        const Vector2d shift{dice.between(-2000.0, 2000.0), dice.between(-2000.0, 2000.0)};
        SCOPED_TRACE("case " + std::to_string(i) + " at " + std::to_string(d) + " mm");
        Parallel expected = parallel_of(profile, d);
        for (Profile& chain : expected.chains) {
            chain = moved(chain, turn, shift);
        }
        expect_same_points(expected, parallel_of(moved(profile, turn, shift), d), k_joint_mm);
    }
}

TEST(ParallelLaws, OutAndBackIsTheSourceOfAConvexProfile) {
    const Profile profile = made({node(0, 0, 8), node(90, 0), node(110, 50, 3), node(30, 80, 10)}, true);
    for (const double d : {0.01, 1.0, 40.0}) {
        const Parallel out = parallel_of(profile, -d);
        ASSERT_EQ(out.chains.size(), 1U);
        const Parallel back = parallel_of(out.chains[0], d);
        ASSERT_EQ(back.chains.size(), 1U);
        EXPECT_NEAR(total_area(back), enclosed_area_mm2(profile), 1e-6);
        EXPECT_NEAR(total_length(back), in_mm(length(profile)), 1e-6);
        for (const Vector2d& p : samples(back.chains[0])) {
            EXPECT_LE(in_mm(nearest_point(profile, p).distance), k_joint_mm);
        }
    }
}

// ---- what is refused -------------------------------------------------------

void expect_refused(const Profile& profile, double d, const std::string& part) {
    const auto result = parallel(profile, millimetres(d));
    ASSERT_FALSE(result);
    EXPECT_EQ(result.error().code, ErrorCode::invalid_argument);
    EXPECT_NE(result.error().message.find(part), std::string::npos) << result.error().message;
}

TEST(ParallelErrors, RefusesWhatHasNoParallel) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const Profile good = rounded_square(50, 10);
    expect_refused({}, 1.0, "empty");
    expect_refused(good, nan, "within 1 km");
    expect_refused(good, std::numeric_limits<double>::infinity(), "within 1 km");
    expect_refused(good, 1e7, "within 1 km");
    expect_refused(good, 1e-5, "0.0001 mm or more");
    expect_refused({{{LineSegment{{0, 0}, {nan, 0}}, 0}}, false}, 1.0, "Segment 1");
    expect_refused({{{LineSegment{{1, 1}, {1, 1}}, 0}}, false}, 1.0, "Segment 1");
    expect_refused({{{ArcSegment{{0, 0}, -5.0, radians(0), radians(1)}, 0}}, false}, 1.0, "Segment 1");
    expect_refused({{{ArcSegment{{0, 0}, 5.0, radians(0), radians(7)}, 0}}, false}, 1.0, "Segment 1");
    Profile torn = good;
    torn.segments.erase(torn.segments.begin() + 2);
    expect_refused(torn, 1.0, "Segment 2 of the profile does not end where");
}

}  // namespace
}  // namespace sillwright::geometry
