#include "geometry/followed_distance.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string_view>

#include "tests/support/swing_scenes.h"

namespace sillwright::geometry {
namespace {

/// Tolerance of the questions here.
constexpr double k_tolerance_mm = 0.05;

class FollowedDistanceOf : public testing::TestWithParam<const char*> {};

DistanceTree tree_of(const Mesh& mesh) {
    return DistanceTree::build(mesh).value();
}

tests::SwingScene scene(std::string_view name) {
    if (name == "glide") {
        return tests::glide_scene(0.15);
    }
    return name == "clear" ? tests::clear_scene(0.15) : tests::level_glide_scene(40);
}

/// The fixed body with a bump: what is within 300 mm of x = 800 is raised, most in the middle.
Mesh bumped(Mesh mesh, double by_mm) {
    for (Eigen::Vector3d& p : mesh.points) {
        const double off = std::abs(p.x() - 800.0) / 300.0;
        p.z() += off < 1.0 ? by_mm * (1.0 - off) : 0.0;
    }
    return mesh;
}

std::vector<std::int32_t> all_triangles(const Mesh& mesh) {
    std::vector<std::int32_t> all(mesh.triangles.size());
    for (std::size_t i = 0; i < all.size(); ++i) {
        all[i] = static_cast<std::int32_t>(i);
    }
    return all;
}

TEST_P(FollowedDistanceOf, IsThatOfTheChangedBodies) {
    const tests::SwingScene world = scene(GetParam());
    const DistanceTree start = tree_of(world.fixed);
    DistanceTree fixed = start;
    const DistanceTree moving = tree_of(world.moving);
    const MotionQuestion question{Angle{}, degrees(70), millimetres(k_tolerance_mm)};
    auto followed = FollowedDistance::begin(fixed, moving, world.motion, question);
    ASSERT_TRUE(followed);
    FollowedDistance distance = std::move(followed).value();
    for (const double by : {0.0, 0.5, 2.0, -3.0, 4.0, 0.5}) {
        const Mesh mesh = bumped(world.fixed, by);
        fixed = start;
        fixed.refit(mesh, all_triangles(mesh), DistanceTree::Axes::of_leaves);
        const auto now = distance.now(moved_by_node(start, fixed), {});
        ASSERT_TRUE(now);
        // The same question to the whole search, of a tree built anew.
        const auto whole = least_distance(tree_of(mesh), moving, world.motion, question);
        ASSERT_TRUE(whole);
        EXPECT_LE(now.value().proven, whole.value().least) << by;
        EXPECT_GE(now.value().proven, whole.value().proven - question.tolerance) << by;
        EXPECT_LE(now.value().least - now.value().proven, question.tolerance + millimetres(1e-9)) << by;
        EXPECT_GE(now.value().least, whole.value().proven) << by;
        // Attained: by the very triangles it names.
        EXPECT_NEAR((now.value().on_fixed_mm - now.value().on_moving_mm).norm(), in_mm(now.value().least), 1e-9) << by;
        if (const auto at_start = distance.last_at(Angle{})) {
            const auto there = distance_at(fixed, moving, world.motion, Angle{}).distance;
            EXPECT_LE(at_start->proven, there) << by;
            EXPECT_GE(at_start->proven, there - question.tolerance) << by;
        }
    }
}
INSTANTIATE_TEST_SUITE_P(Scenes, FollowedDistanceOf, testing::Values("clear", "glide"),
                         [](const testing::TestParamInfo<const char*>& one) {
                             std::string name = one.param;
                             std::replace(name.begin(), name.end(), ' ', '_');
                             return name;
                         });

TEST(FollowedDistance, SaysThatBodiesTouchOnceTheyDo) {
    const tests::SwingScene world = scene("level glide");
    const DistanceTree start = tree_of(world.fixed);
    DistanceTree fixed = start;
    const DistanceTree moving = tree_of(world.moving);
    const MotionQuestion question{Angle{}, degrees(70), millimetres(k_tolerance_mm), degrees(0.5)};
    auto followed = FollowedDistance::begin(fixed, moving, world.motion, question);
    ASSERT_TRUE(followed);
    FollowedDistance distance = std::move(followed).value();
    const Mesh mesh = bumped(world.fixed, 8.0);  // 5 mm are between them.
    fixed.refit(mesh, all_triangles(mesh), DistanceTree::Axes::of_leaves);
    const auto now = distance.now(moved_by_node(start, fixed), {});
    ASSERT_TRUE(now);
    EXPECT_TRUE(now.value().touches);
    EXPECT_FALSE(distance.last_at(Angle{}));
}

TEST(FollowedDistance, PlainDistanceHoldsItsTolerance) {
    for (const char* name : {"clear", "glide", "level glide"}) {
        const tests::SwingScene world = scene(name);
        const DistanceTree fixed = tree_of(world.fixed);
        const DistanceTree moving = tree_of(world.moving);
        const MotionQuestion question{Angle{}, degrees(70), millimetres(k_tolerance_mm)};
        const auto plain = plain_distance(fixed, moving, world.motion, question);
        const auto whole = least_distance(fixed, moving, world.motion, question);
        ASSERT_TRUE(plain && whole);
        EXPECT_LE(plain.value().proven, whole.value().least) << name;
        EXPECT_GE(plain.value().proven, whole.value().proven - question.tolerance) << name;
    }
}

TEST(FollowedDistance, RefusesWhatLeastDistanceRefuses) {
    const tests::SwingScene world = scene("clear");
    const DistanceTree fixed = tree_of(world.fixed);
    const DistanceTree moving = tree_of(world.moving);
    const auto backwards = FollowedDistance::begin(fixed, moving, world.motion, {degrees(10), Angle{}});
    ASSERT_FALSE(backwards);
    EXPECT_EQ(backwards.error().code, ErrorCode::invalid_argument);
}

}  // namespace
}  // namespace sillwright::geometry
