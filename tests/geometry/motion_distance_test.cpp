#include "geometry/motion_distance.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>
#include <random>

#include "tests/support/swing_scenes.h"

namespace sillwright::geometry {
namespace {

using Eigen::Isometry3d;
using Eigen::Matrix3d;
using Eigen::Vector3d;
using tests::box_mesh;
using tests::edge_mesh;
using tests::point_mesh;
using tests::triangle_mesh;

constexpr double k_pi = std::numbers::pi;

DistanceTree tree_of(const Mesh& mesh) {
    return std::move(DistanceTree::build(mesh)).value();
}

MotionDistance distance(const Mesh& fixed, const Mesh& moving, const HingeMotion& motion,
                        const MotionQuestion& question) {
    auto result = least_distance(tree_of(fixed), tree_of(moving), motion, question);
    EXPECT_TRUE(result) << (result ? "" : result.error().message);
    return std::move(result).value();
}

Isometry3d placed(const Matrix3d& turn, const Vector3d& at) {
    Isometry3d place = Isometry3d::Identity();
    place.linear() = turn;
    place.translation() = at;
    return place;
}

Mesh moved(Mesh mesh, const Isometry3d& place) {
    for (Vector3d& p : mesh.points) {
        p = place * p;
    }
    return mesh;
}

HingeMotion moved(HingeMotion motion, const Isometry3d& place) {
    motion.axis_point_mm = place * motion.axis_point_mm;
    motion.axis_direction = place.linear() * motion.axis_direction;
    motion.sag_direction = place.linear() * motion.sag_direction;
    return motion;
}

/// An axis tilted by 2.3 degrees outward and 0.8 forward, off the origin.
Isometry3d tilted() {
    return placed(
        (Eigen::AngleAxisd(-0.040, Vector3d::UnitX()) * Eigen::AngleAxisd(0.014, Vector3d::UnitY())).toRotationMatrix(),
        {120.0, -35.0, 420.0});
}

/// Least of a + b cos t + c sin t over [0, to].
double least_of_wave(double a, double b, double c, double to) {
    double least = std::min(a + b, a + b * std::cos(to) + c * std::sin(to));
    const double trough = std::remainder(std::atan2(c, b) + k_pi, 2.0 * k_pi);
    for (const double t : {trough, trough + 2.0 * k_pi}) {
        if (t >= 0.0 && t <= to) {
            least = std::min(least, a - std::hypot(b, c));
        }
    }
    return least;
}

const MotionQuestion k_fine{degrees(0.0), degrees(70.0), millimetres(1e-7), degrees(0.02)};
constexpr double k_swing = 70.0 * k_pi / 180.0;
constexpr double k_closed_form = 1e-6;

// In the axis' own frame (axis = z) a point at radius r, angle f, height h goes to (r cos(t+f), r sin(t+f), h);
// `tilted` then puts axis and bodies in place, so that the axis is tilted and nothing is parallel to a coordinate.

TEST(MotionDistance, PointAgainstAPlane) {
    for (const double phase : {-2.6, -1.9, -0.4, 0.7}) {
        SCOPED_TRACE(phase);
        // Plane n.x = d as one large triangle; n inclined. Distance r (nx cos + ny sin) + nz h - d: a wave.
        const Vector3d n = Vector3d(0.62, 0.35, 0.70).normalized();
        const double r = 940.0;
        const double h = -310.0;
        const double d = n.z() * h - std::hypot(n.x(), n.y()) * r - 6.5;
        const Vector3d across = n.unitOrthogonal();
        const Vector3d foot = d * n;
        const Mesh plane = triangle_mesh(foot + 1e5 * across, foot - 5e4 * across + 8e4 * n.cross(across),
                                         foot - 5e4 * across - 8e4 * n.cross(across));
        const Vector3d p(r * std::cos(phase), r * std::sin(phase), h);
        const double expected =
            least_of_wave(n.z() * h - d, n.x() * p.x() + n.y() * p.y(), n.y() * p.x() - n.x() * p.y(), k_swing);
        const MotionDistance found =
            distance(moved(plane, tilted()), moved(point_mesh(p), tilted()), moved(HingeMotion{}, tilted()), k_fine);
        EXPECT_NEAR(in_mm(found.least), expected, k_closed_form);
        EXPECT_LE(in_mm(found.proven), expected + 1e-9);
        EXPECT_GE(in_mm(found.proven), in_mm(found.least) - 1.1e-7);
    }
}

TEST(MotionDistance, SphereAgainstASphere) {
    // Centres: |p(t) - q|^2 = |p|^2 + |q|^2 - 2 (hz + r (qx cos + qy sin)); radii 25 and 40 come off.
    for (const double phase : {-0.9, -0.2, 0.5, 2.0}) {
        SCOPED_TRACE(phase);
        const Vector3d p(820.0 * std::cos(phase), 820.0 * std::sin(phase), -250.0);
        const Vector3d q(600.0, 700.0, -180.0);
        const double squared =
            least_of_wave(p.squaredNorm() + q.squaredNorm() - 2.0 * p.z() * q.z(),
                          -2.0 * (q.x() * p.x() + q.y() * p.y()), -2.0 * (q.y() * p.x() - q.x() * p.y()), k_swing);
        const MotionDistance found = distance(moved(point_mesh(q), tilted()), moved(point_mesh(p), tilted()),
                                              moved(HingeMotion{}, tilted()), k_fine);
        EXPECT_NEAR(in_mm(found.least) - 65.0, std::sqrt(squared) - 65.0, k_closed_form);
    }
}

TEST(MotionDistance, SphereAgainstACylinderParallelToTheAxis) {
    // In plan: a circle of radius r against the point where the cylinder's line stands.
    for (const double phase : {-1.3, -0.3, 0.9}) {
        SCOPED_TRACE(phase);
        const Vector3d p(760.0 * std::cos(phase), 760.0 * std::sin(phase), -200.0);
        const Vector3d q(500.0, 640.0, 0.0);
        const double squared = least_of_wave(760.0 * 760.0 + q.squaredNorm(), -2.0 * (q.x() * p.x() + q.y() * p.y()),
                                             -2.0 * (q.y() * p.x() - q.x() * p.y()), k_swing);
        const Mesh line = edge_mesh(q - Vector3d(0, 0, 900), q + Vector3d(0, 0, 900));
        const MotionDistance found =
            distance(moved(line, tilted()), moved(point_mesh(p), tilted()), moved(HingeMotion{}, tilted()), k_fine);
        EXPECT_NEAR(in_mm(found.least), std::sqrt(squared), k_closed_form);
    }
}

TEST(MotionDistance, SphereAgainstASkewCylinder) {
    // A line along x at y = b, height k: distance^2 = (r sin - b)^2 + (h - k)^2. Over angles that rise to the
    // quarter: least where r sin = b if that is reached, else at the nearer end.
    struct Case {
        double phase, b;
    };
    for (const auto& [phase, b] : {Case{0.1, 500.0}, Case{0.1, 790.0}, Case{0.4, 100.0}}) {
        SCOPED_TRACE(b);
        const double r = 780.0;
        const Vector3d p(r * std::cos(phase), r * std::sin(phase), -260.0);
        const double low = r * std::sin(phase);
        const double high = r * std::sin(std::min(phase + k_swing, k_pi / 2.0));
        const double in_plan = b < low ? low - b : std::max(b - high, 0.0);
        const Mesh line = edge_mesh({-4000.0, b, -300.0}, {4000.0, b, -300.0});
        const MotionDistance found =
            distance(moved(line, tilted()), moved(point_mesh(p), tilted()), moved(HingeMotion{}, tilted()), k_fine);
        EXPECT_NEAR(in_mm(found.least), std::hypot(in_plan, 40.0), k_closed_form);
    }
}

TEST(MotionDistance, EdgeOverEdgeIsFoundBetweenTheCorners) {
    // A radial edge 12 above a fixed edge that it crosses square at 45 degrees, far from all corners: the least
    // distance is 12, taken by two edges, for as long as they cross.
    const Mesh radial = edge_mesh({400.0, 0.0, 0.0}, {1100.0, 0.0, 0.0});
    const Mesh fixed = edge_mesh({800.0, 400.0, -12.0}, {400.0, 800.0, -12.0});
    const MotionDistance found =
        distance(moved(fixed, tilted()), moved(radial, tilted()), moved(HingeMotion{}, tilted()), k_fine);
    EXPECT_NEAR(in_mm(found.least), 12.0, k_closed_form);
    EXPECT_FALSE(found.touches);
    // Tapered: the radial edge falls by 10 along its length, and the least is where the fixed edge is met furthest out.
    const Mesh falling = edge_mesh({400.0, 0.0, 0.0}, {1100.0, 0.0, -10.0});
    const MotionDistance lower =
        distance(moved(fixed, tilted()), moved(falling, tilted()), moved(HingeMotion{}, tilted()), k_fine);
    // Sampled at 1e-4 degree, independent of the search.
    double sampled = 1e9;
    for (int i = 0; i <= 700000; ++i) {
        const double t = i * 1e-4 * k_pi / 180.0;
        const Vector3d u(std::cos(t), std::sin(t), 0.0);
        const ClosestPoints pair = segment_distance(400.0 * u, Vector3d(1100.0 * u + Vector3d(0, 0, -10)),
                                                    {800.0, 400.0, -12.0}, {400.0, 800.0, -12.0});
        sampled = std::min(sampled, std::sqrt(pair.squared_mm2));
    }
    EXPECT_NEAR(in_mm(lower.least), sampled, 1e-6);
    EXPECT_LE(in_mm(lower.proven), sampled + 1e-9);
}

TEST(MotionDistance, MidSwingContactIsAnInterval) {
    // A radial edge from 600 to 900 against a box whose corners (700, 500) and (500, 700) it meets first and last:
    // atan(500/700) = 35.5377 and 90 - that = 54.4623 degrees.
    const Mesh box = box_mesh({500.0, 500.0, -10.0}, {700.0, 700.0, 10.0});
    const Mesh edge = edge_mesh({600.0, 0.0, 1.0}, {900.0, 0.0, 1.0});
    const MotionDistance found = distance(box, edge, HingeMotion{}, {degrees(0.0), degrees(70.0)});
    ASSERT_TRUE(found.touches);
    EXPECT_EQ(in_mm(found.least), 0.0);
    const double first = std::atan2(500.0, 700.0) * 180.0 / k_pi;
    ASSERT_GE(found.states.size(), 3U);
    EXPECT_EQ(found.states.front().state, AngleState::free);
    EXPECT_EQ(found.states.back().state, AngleState::free);
    // Free up to the contact and beyond it, bracketed; never called free where it touches.
    EXPECT_LE(in_deg(found.states.front().to), first + 1e-9);
    EXPECT_GE(in_deg(found.states.front().to), first - 0.02);
    EXPECT_GE(in_deg(found.states.back().from), 90.0 - first - 1e-9);
    EXPECT_LE(in_deg(found.states.back().from), 90.0 - first + 0.02);
    double touching = 0.0;
    for (std::size_t i = 0; i < found.states.size(); ++i) {
        const AngleInterval& s = found.states[i];
        EXPECT_TRUE(i == 0 || found.states[i - 1].to == s.from);
        if (s.state == AngleState::touching) {
            touching += in_deg(s.to) - in_deg(s.from);
            EXPECT_GE(in_deg(s.from), first - 1e-9);
            EXPECT_LE(in_deg(s.to), 90.0 - first + 1e-9);
        }
    }
    EXPECT_GT(touching, 90.0 - 2.0 * first - 0.08);
    EXPECT_NEAR(in_deg(found.at), first, 0.021);
}

TEST(MotionDistance, GrazingIsNeitherFreeNorTouching) {
    // A corner that comes exactly to a plane and leaves again: r cos reaches 800 at 20 degrees.
    const Vector3d p(800.0 * std::cos(20.0 * k_pi / 180.0), -800.0 * std::sin(20.0 * k_pi / 180.0), 0.0);
    const Mesh plane = triangle_mesh({800.0, -3000.0, -2000.0}, {800.0, 3000.0, -2000.0}, {800.0, 0.0, 4000.0});
    const MotionDistance found = distance(plane, point_mesh(p), HingeMotion{}, {degrees(0.0), degrees(70.0)});
    EXPECT_FALSE(found.touches);
    EXPECT_NEAR(in_mm(found.least), 0.0, 1e-9);
    EXPECT_LE(in_mm(found.proven), 1e-9);
    ASSERT_EQ(found.states.size(), 3U);
    EXPECT_EQ(found.states[1].state, AngleState::within_tolerance);
    EXPECT_LE(in_deg(found.states[1].from), 20.0);
    EXPECT_GE(in_deg(found.states[1].to), 20.0);
    EXPECT_LT(in_deg(found.states[1].to - found.states[1].from), 0.02);
}

TEST(MotionDistance, AlmostGrazingStaysFree) {
    const Vector3d p(800.0 * std::cos(20.0 * k_pi / 180.0), -800.0 * std::sin(20.0 * k_pi / 180.0), 0.0);
    const double gap = 1e-4;
    const Mesh plane =
        triangle_mesh({800.0 + gap, -3000.0, -2000.0}, {800.0 + gap, 3000.0, -2000.0}, {800.0 + gap, 0.0, 4000.0});
    const MotionDistance found = distance(plane, point_mesh(p), HingeMotion{}, {degrees(0.0), degrees(70.0)});
    EXPECT_FALSE(found.touches);
    EXPECT_NEAR(in_mm(found.least), gap, 1e-9);
    for (const AngleInterval& s : found.states) {
        EXPECT_EQ(s.state, AngleState::free);
    }
}

TEST(MotionDistance, OneBodyInsideTheOtherTouchesAtEveryAngle) {
    // A small box wanders inside a large one and never meets its walls: surfaces 60 apart at least, yet no clearance.
    const Mesh hall = box_mesh({-1000.0, -1000.0, -100.0}, {1000.0, 1000.0, 100.0});
    const Mesh small = box_mesh({480.0, -20.0, -20.0}, {520.0, 20.0, 20.0});
    const MotionDistance found = distance(hall, small, HingeMotion{}, {degrees(0.0), degrees(70.0)});
    EXPECT_TRUE(found.touches);
    ASSERT_EQ(found.states.size(), 1U);
    EXPECT_EQ(found.states.front().state, AngleState::touching);
    EXPECT_GE(in_mm(found.depth), 80.0 - 1e-9);  // A corner of the small box is 80 from top or bottom.
    // And the other way round: the moving body holds the fixed one.
    const MotionDistance other = distance(small, hall, HingeMotion{}, {degrees(0.0), degrees(5.0)});
    EXPECT_TRUE(other.touches);
}

TEST(MotionDistance, DepthIsAtLeastThatOfTheDeepestCornerMet) {
    // A box driven 5 into a slab: its front corners stand 5 deep, exactly, at the stop.
    const Mesh slab = box_mesh({-2000.0, 500.0, -500.0}, {2000.0, 700.0, 500.0});
    const Mesh head = box_mesh({900.0, -40.0, -20.0}, {1000.0, 0.0, 20.0});
    const double stop = std::asin(505.0 / 1000.0);
    const MotionDistance found = distance(slab, head, HingeMotion{}, {degrees(0.0), radians(stop)});
    ASSERT_TRUE(found.touches);
    EXPECT_GT(in_mm(found.depth), 4.0);
    EXPECT_LE(in_mm(found.depth), 5.0 + 1e-9);
}

TEST(MotionDistance, SagThatIsLeftOutOfTheBoundWouldBeSeen) {
    // Upright axis, sag growing to 5 degrees: a point 1000 behind the axis point at its height drops by
    // 1000 sin(5 deg t/70). A floor 100 below: least 100 - 87.1557 at the stop. Without the sag's term every bound
    // along z would be that of the middle angle, and the proof would come out too high.
    HingeMotion motion;
    motion.sag_growth = degrees(5.0);
    motion.opening = degrees(70.0);
    const Mesh floor = triangle_mesh({-9000.0, -9000.0, -100.0}, {9000.0, -9000.0, -100.0}, {0.0, 12000.0, -100.0});
    const MotionDistance found = distance(floor, point_mesh({1000.0, 0.0, 0.0}), motion, {degrees(0.0), degrees(70.0)});
    const double expected = 100.0 - 1000.0 * std::sin(5.0 * k_pi / 180.0);
    EXPECT_NEAR(in_mm(found.least), expected, 1e-9);
    EXPECT_LE(in_mm(found.proven), expected);
    EXPECT_GE(in_mm(found.proven), expected - 0.01);
    EXPECT_NEAR(in_deg(found.at), 70.0, 1e-6);
}

TEST(MotionDistance, SagInsideTheSwingAgreesWithSampling) {
    HingeMotion motion = moved(HingeMotion{}, tilted());
    motion.sag_at_once = degrees(0.4);
    motion.sag_growth = degrees(4.6);
    motion.opening = degrees(70.0);
    std::mt19937 random(7);
    std::uniform_real_distribution<double> uniform(-1.0, 1.0);
    for (int trial = 0; trial < 12; ++trial) {
        SCOPED_TRACE(trial);
        const auto cloud = [&](const Vector3d& about, double size) {
            Mesh mesh;
            for (int i = 0; i < 60; ++i) {
                mesh.points.push_back(about + size * Vector3d(uniform(random), uniform(random), uniform(random)));
            }
            for (std::int32_t i = 0; i + 2 < 60; i += 3) {
                mesh.triangles.push_back({i, i + 1, i + 2});
            }
            return mesh;
        };
        const Mesh moving = cloud({900.0, 0.0, 100.0}, 60.0);
        const Mesh fixed = cloud({600.0 + 80.0 * uniform(random), 700.0, 160.0}, 60.0);
        const DistanceTree a = tree_of(fixed);
        const DistanceTree b = tree_of(moving);
        const auto found = least_distance(a, b, motion, {degrees(0.0), degrees(70.0)});
        ASSERT_TRUE(found);
        double sampled = 1e9;
        for (int i = 0; i <= 1400; ++i) {
            const Isometry3d door = pose(motion, degrees(0.05 * i));
            for (const Triangle& s : fixed.triangles) {
                for (const Triangle& t : moving.triangles) {
                    const auto at = [](const Mesh& m, std::int32_t k) { return m.points[static_cast<std::size_t>(k)]; };
                    const ClosestPoints pair =
                        triangle_distance({at(fixed, s[0]), at(fixed, s[1]), at(fixed, s[2])},
                                          {door * at(moving, t[0]), door * at(moving, t[1]), door * at(moving, t[2])});
                    sampled = std::min(sampled, std::sqrt(pair.squared_mm2));
                }
            }
        }
        if (found.value().touches) {
            EXPECT_LT(sampled, 2.0);  // Between two samples a far point moves 1 mm.
        } else {
            EXPECT_LE(in_mm(found.value().proven), sampled + 1e-9);
            EXPECT_LE(in_mm(found.value().least), sampled + 0.01);
            EXPECT_GE(in_mm(found.value().least), sampled - 1.1);
        }
    }
}

TEST(MotionDistance, MirroredAndMovedScenesAgree) {
    const tests::SwingScene scene = tests::clear_scene(0.05);
    const MotionQuestion question{degrees(0.0), degrees(70.0)};
    const MotionDistance here = distance(scene.fixed, scene.moving, scene.motion, question);
    const MotionDistance mirrored =
        distance(mirrored_y(scene.fixed), mirrored_y(scene.moving), mirrored_y(scene.motion), question);
    const Isometry3d away = placed(Eigen::AngleAxisd(1.1, Vector3d(0.3, -0.5, 0.8).normalized()).toRotationMatrix(),
                                   {300.0, -900.0, 150.0});
    const MotionDistance turned =
        distance(moved(scene.fixed, away), moved(scene.moving, away), moved(scene.motion, away), question);
    for (const MotionDistance* other : {&mirrored, &turned}) {
        const bool same_place = std::abs(in_deg(other->at - here.at)) < 1e-4;
        EXPECT_NEAR(in_mm(other->least), in_mm(here.least), same_place ? 1e-7 : 0.01);
        // The proven intervals [proven, least] overlap.
        EXPECT_LE(in_mm(other->proven), in_mm(here.least) + 1e-9);
        EXPECT_LE(in_mm(here.proven), in_mm(other->least) + 1e-9);
    }
}

TEST(MotionDistance, APointThatPassesQuicklyBetweenTheSeedsIsFound) {
    // One point near the axis keeps 50 mm off at every angle; another, far out, passes at 1 mm within a blink at 10.3
    // degrees. Its box has no size, so nothing but the slack ends the halving of angles: once this never ended.
    const double at = 10.3 * k_pi / 180.0;
    Mesh moving = point_mesh({0.0, 0.0, 350.0});
    append(moving, point_mesh({2000.0, 0.0, 0.0}));
    Mesh fixed = point_mesh({0.0, 0.0, 400.0});
    append(fixed, point_mesh({2001.0 * std::cos(at), 2001.0 * std::sin(at), 0.0}));
    const MotionDistance found = distance(fixed, moving, HingeMotion{}, {degrees(0.0), degrees(70.0)});
    EXPECT_NEAR(in_mm(found.least), 1.0, 1e-6);
    EXPECT_NEAR(in_deg(found.at), 10.3, 1e-3);
}

TEST(MotionDistance, ToleranceIsKeptAndTighterIsNeverHigher) {
    const tests::SwingScene scene = tests::glide_scene(0.02);
    double last_least = 1e9;
    for (const double tolerance : {0.1, 0.01, 0.001}) {
        const MotionDistance found =
            distance(scene.fixed, scene.moving, scene.motion, {degrees(0.0), degrees(70.0), millimetres(tolerance)});
        EXPECT_LE(in_mm(found.least - found.proven), tolerance + 1e-9);
        EXPECT_LE(in_mm(found.least), last_least + 1e-12);
        last_least = in_mm(found.least);
    }
}

TEST(MotionDistance, CurveMeetsTheLeastDistanceAndItsEnds) {
    const tests::SwingScene scene = tests::clear_scene(0.02);
    const DistanceTree fixed = tree_of(scene.fixed);
    const DistanceTree moving = tree_of(scene.moving);
    const MotionDistance found = distance(scene.fixed, scene.moving, scene.motion, {degrees(0.0), degrees(70.0)});
    const auto curve = clearance_curve(fixed, moving, scene.motion, degrees(0.0), degrees(70.0), degrees(0.5));
    ASSERT_TRUE(curve);
    ASSERT_EQ(curve.value().size(), 141U);
    EXPECT_DOUBLE_EQ(in_deg(curve.value().back().at), 70.0);
    for (const PoseDistance& point : curve.value()) {
        EXPECT_GE(in_mm(point.distance), in_mm(found.proven) - 1e-9);
        EXPECT_NEAR(in_mm(point.distance), in_mm(distance_at(fixed, moving, scene.motion, point.at).distance), 2e-9);
    }
}

TEST(MotionDistance, CanBeStoppedAndFollowed) {
    const tests::SwingScene scene = tests::clear_scene(0.3);
    const DistanceTree fixed = tree_of(scene.fixed);
    const DistanceTree moving = tree_of(scene.moving);
    std::stop_source stop;
    int calls = 0;
    double last = 0.0;
    Watch watch{stop.get_token(), [&](double part) {
                    ++calls;
                    last = part;
                    EXPECT_GE(part, 0.0);
                    EXPECT_LE(part, 1.0);
                }};
    // Fine enough to take long.
    const MotionQuestion question{degrees(0.0), degrees(70.0), millimetres(1e-6)};
    ASSERT_TRUE(least_distance(fixed, moving, scene.motion, question, watch));
    EXPECT_GT(calls, 0);
    stop.request_stop();
    const auto stopped = least_distance(fixed, moving, scene.motion, question, watch);
    ASSERT_FALSE(stopped);
    EXPECT_EQ(stopped.error().code, ErrorCode::stopped);
}

TEST(MotionDistance, RefusesWhatHasNoAnswer) {
    const DistanceTree tree = tree_of(point_mesh({1.0, 0.0, 0.0}));
    HingeMotion no_axis;
    no_axis.axis_direction = Vector3d::Zero();
    EXPECT_FALSE(least_distance(tree, tree, no_axis, {degrees(0.0), degrees(70.0)}));
    EXPECT_FALSE(least_distance(tree, tree, {}, {degrees(10.0), degrees(0.0)}));
    EXPECT_FALSE(least_distance(tree, tree, {}, {degrees(0.0), degrees(181.0)}));
    EXPECT_FALSE(least_distance(tree, tree, {}, {degrees(0.0), degrees(70.0), millimetres(0.0)}));
    EXPECT_FALSE(clearance_curve(tree, tree, {}, degrees(0.0), degrees(70.0), degrees(0.0)));
    EXPECT_FALSE(clearance_curve(tree, tree, {}, degrees(0.0), degrees(70.0), degrees(1e-9)));
}

}  // namespace
}  // namespace sillwright::geometry
