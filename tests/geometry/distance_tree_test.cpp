#include "geometry/distance_tree.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <limits>
#include <numeric>

#include "tests/support/swing_scenes.h"

namespace sillwright::geometry {
namespace {

using Eigen::Vector3d;

/// Every corner below a node is inside its box, to rounding.
void expect_boxes_hold(const DistanceTree& tree) {
    for (const auto& node : tree.nodes()) {
        for (std::int32_t slot = node.first_slot; slot < node.first_slot + node.slot_count; ++slot) {
            for (const Vector3d& p : tree.corners(slot)) {
                const Vector3d from = (node.axes.transpose() * (p - node.centre)).cwiseAbs();
                ASSERT_TRUE((from.array() <= node.half.array() + 1e-10).all());
            }
        }
        ASSERT_LT((node.axes.transpose() * node.axes - Eigen::Matrix3d::Identity()).norm(), 1e-12);
    }
}

TEST(DistanceTree, BoxesHoldWhatIsBelowThem) {
    const Mesh mesh = tests::clear_scene(0.05).moving;
    const auto tree = DistanceTree::build(mesh);
    ASSERT_TRUE(tree);
    EXPECT_EQ(tree.value().slot_count(), static_cast<std::int32_t>(mesh.triangles.size()));
    expect_boxes_hold(tree.value());
}

TEST(DistanceTree, RefitFollowsAnEditAndLeavesTheRest) {
    Mesh mesh = tests::clear_scene(0.05).fixed;
    auto tree = std::move(DistanceTree::build(mesh)).value();
    std::vector<std::int32_t> changed;
    for (std::size_t i = 0; i < mesh.points.size(); ++i) {
        if (mesh.points[i].x() > 700.0 && mesh.points[i].x() < 900.0) {
            mesh.points[i].z() += 5.0;
        }
    }
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        for (const auto i : mesh.triangles[t]) {
            const double x = mesh.points[static_cast<std::size_t>(i)].x();
            if (x > 700.0 && x < 900.0) {
                changed.push_back(static_cast<std::int32_t>(t));
                break;
            }
        }
    }
    tree.refit(mesh, changed);
    expect_boxes_hold(tree);
    for (std::int32_t slot = 0; slot < tree.slot_count(); ++slot) {
        const Triangle& t = mesh.triangles[static_cast<std::size_t>(tree.triangle(slot))];
        EXPECT_EQ(tree.corners(slot)[0], mesh.points[static_cast<std::size_t>(t[0])]);
    }
    const Vector3d p(800.0, 20.0, 140.0);
    const auto fresh = DistanceTree::build(mesh);
    EXPECT_DOUBLE_EQ(nearest_on_surface(tree, p).distance_mm, nearest_on_surface(fresh.value(), p).distance_mm);
}

TEST(DistanceTree, RefusesWhatIsNoMesh) {
    EXPECT_EQ(DistanceTree::build({}).error().code, ErrorCode::invalid_argument);
    Mesh bad = tests::box_mesh({0, 0, 0}, {1, 1, 1});
    bad.points[3].x() = std::numeric_limits<double>::quiet_NaN();
    EXPECT_FALSE(DistanceTree::build(bad));
    bad = tests::box_mesh({0, 0, 0}, {1, 1, 1});
    bad.triangles[2][1] = 99;
    const auto refused = DistanceTree::build(bad);
    ASSERT_FALSE(refused);
    EXPECT_NE(refused.error().message.find("99"), std::string::npos);
}

TEST(DistanceTree, InsideOfABoxAndOfTwoThatTouch) {
    Mesh mesh = tests::box_mesh({0, 0, 0}, {10, 10, 10});
    append(mesh, tests::box_mesh({10, 0, 0}, {20, 10, 10}));
    const auto tree = std::move(DistanceTree::build(mesh)).value();
    EXPECT_TRUE(tree.closed());
    EXPECT_EQ(tree.part_slots().size(), 2U);
    for (int i = 0; i < 400; ++i) {  // A lattice that keeps off the faces.
        const Vector3d p(-2.9 + 1.3 * (i % 20), -2.7 + 3.1 * (i / 20 % 5), -1.9 + 4.3 * (i / 100));
        const bool expected = p.x() > 0 && p.x() < 20 && p.y() > 0 && p.y() < 10 && p.z() > 0 && p.z() < 10;
        EXPECT_EQ(inside(tree, p), expected) << p.transpose();
    }
}

TEST(DistanceTree, AMeshWithAHoleIsNotClosed) {
    Mesh mesh = tests::box_mesh({0, 0, 0}, {1, 1, 1});
    mesh.triangles.pop_back();
    EXPECT_FALSE(std::move(DistanceTree::build(mesh)).value().closed());
}

TEST(DistanceTree, NearestOnABoxByHand) {
    const auto tree = std::move(DistanceTree::build(tests::box_mesh({0, 0, 0}, {10, 10, 10}))).value();
    EXPECT_DOUBLE_EQ(nearest_on_surface(tree, {5, 5, 17}).distance_mm, 7.0);
    EXPECT_DOUBLE_EQ(nearest_on_surface(tree, {13, 14, 5}).distance_mm, 5.0);
    EXPECT_DOUBLE_EQ(nearest_on_surface(tree, {5, 4, 9}).distance_mm, 1.0);
    EXPECT_EQ(nearest_on_surface(tree, {5, 5, 17}).p_mm, Vector3d(5, 5, 10));
}

}  // namespace
}  // namespace sillwright::geometry
