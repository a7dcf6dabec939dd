#include "app/drawings/crease.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

// Expected values: closed forms.
namespace sillwright::app {
namespace {

using geometry::degrees;
using geometry::in_rad;

/// Two unit squares that meet along the y axis: one level, one rising by `angle`.
geometry::Mesh folded_sheet(geometry::Angle angle) {
    const double c = std::cos(in_rad(angle));
    const double s = std::sin(in_rad(angle));
    geometry::Mesh mesh;
    mesh.points = {{-1, 0, 0}, {0, 0, 0}, {0, 1, 0}, {-1, 1, 0}, {c, 0, s}, {c, 1, s}};
    mesh.triangles = {{0, 1, 2}, {0, 2, 3}, {1, 4, 5}, {1, 5, 2}};
    return mesh;
}

Eigen::Vector3d normal_at(const ShadedMesh& mesh, std::size_t triangle, std::size_t corner) {
    return mesh.normals[static_cast<std::size_t>(mesh.triangles[triangle][corner])];
}

TEST(Crease, KeepsTheTriangles) {
    const geometry::Mesh sheet = folded_sheet(degrees(10));
    const ShadedMesh result = shaded(sheet, degrees(30));
    ASSERT_EQ(result.triangles.size(), sheet.triangles.size());
    ASSERT_EQ(result.normals.size(), result.points.size());
    for (std::size_t i = 0; i < sheet.triangles.size(); ++i) {
        for (std::size_t k = 0; k < 3; ++k) {
            EXPECT_EQ(result.points[static_cast<std::size_t>(result.triangles[i][k])],
                      sheet.points[static_cast<std::size_t>(sheet.triangles[i][k])]);
        }
    }
}

TEST(Crease, ASharpEdgeStaysSharp) {
    const ShadedMesh result = shaded(folded_sheet(degrees(90)), degrees(30));
    for (std::size_t i = 0; i < 4; ++i) {
        const Eigen::Vector3d expected = i < 2 ? Eigen::Vector3d(0, 0, 1) : Eigen::Vector3d(-1, 0, 0);
        for (std::size_t k = 0; k < 3; ++k) {
            EXPECT_NEAR((normal_at(result, i, k) - expected).norm(), 0.0, 1e-12) << i;
        }
    }
    EXPECT_EQ(result.points.size(), 8U) << "four corners of either square";
}

TEST(Crease, ASoftEdgeSharesItsNormal) {
    // At the fold's second point (0, 1, 0) meet two level triangles and one rising one, of one area.
    const ShadedMesh result = shaded(folded_sheet(degrees(20)), degrees(30));
    const double angle = in_rad(degrees(20));
    const Eigen::Vector3d expected = Eigen::Vector3d(-std::sin(angle), 0.0, 2.0 + std::cos(angle)).normalized();
    EXPECT_NEAR((normal_at(result, 0, 2) - expected).norm(), 0.0, 1e-12);
    EXPECT_NEAR((normal_at(result, 3, 2) - expected).norm(), 0.0, 1e-12);
    EXPECT_EQ(result.points.size(), 6U) << "each point once";
}

TEST(Crease, ATriangleWithoutAreaHasANormalAllTheSame) {
    geometry::Mesh mesh;
    mesh.points = {{0, 0, 0}, {1, 0, 0}, {2, 0, 0}};
    mesh.triangles = {{0, 1, 2}};
    for (const Eigen::Vector3d& normal : shaded(mesh, degrees(30)).normals) {
        EXPECT_EQ(normal, Eigen::Vector3d::UnitZ());
    }
}

TEST(Crease, TheRimAndAFoldAreSharpEdges) {
    // Two squares have a rim of six edges, and the fold between point 1 and 2.
    const auto folded = sharp_edges(folded_sheet(degrees(90)), degrees(30));
    EXPECT_EQ(folded.size(), 7U);
    EXPECT_EQ(std::count(folded.begin(), folded.end(), std::array<std::int32_t, 2>{1, 2}), 1);
    const auto soft = sharp_edges(folded_sheet(degrees(20)), degrees(30));
    EXPECT_EQ(soft.size(), 6U);
    EXPECT_EQ(std::count(soft.begin(), soft.end(), std::array<std::int32_t, 2>{1, 2}), 0);
}

TEST(Crease, NothingGivesNothing) {
    EXPECT_TRUE(shaded({}, degrees(30)).points.empty());
    EXPECT_TRUE(sharp_edges({}, degrees(30)).empty());
}

}  // namespace
}  // namespace sillwright::app
