#include "geometry/mesh_section.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "tests/geometry/mesh_shapes.h"

// Expected values: closed forms; hand counts.
namespace sillwright::geometry {
namespace {

using Eigen::Vector3d;

constexpr double k_pi = std::numbers::pi;

/// Area enclosed by a chain, as a vector along its axis (Green's theorem).
Vector3d area_vector(const CutChain& chain) {
    Vector3d twice = Vector3d::Zero();
    for (std::size_t i = 0; i < chain.points_mm.size(); ++i) {
        twice += chain.points_mm[i].cross(chain.points_mm[(i + 1) % chain.points_mm.size()]);
    }
    return 0.5 * twice;
}

TEST(MeshSection, OfABoxIsItsOwnOutline) {
    const auto chains = mesh_section(box({100, 30, 20}), {{40, 0, 0}, Vector3d::UnitX()});
    ASSERT_EQ(chains.size(), 1U);
    EXPECT_TRUE(chains[0].closed);
    EXPECT_NEAR(area_vector(chains[0]).x(), 600.0, 1e-9) << "anticlockwise, seen against the normal";
    for (const Vector3d& p : chains[0].points_mm) {
        EXPECT_EQ(p.x(), 40.0);
    }
}

TEST(MeshSection, TheOtherNormalTurnsItAbout) {
    const auto chains = mesh_section(box({100, 30, 20}), {{40, 0, 0}, -Vector3d::UnitX()});
    ASSERT_EQ(chains.size(), 1U);
    EXPECT_NEAR(area_vector(chains[0]).dot(-Vector3d::UnitX()), 600.0, 1e-9);
}

TEST(MeshSection, OfABallIsACircleWherever) {
    const Vector3d centre(10, -20, 30);
    const double radius = 50.0;
    const Mesh mesh = ball(centre, radius, 180, 360);
    const Vector3d normal = Vector3d(1, 2, -2) / 3.0;
    for (const double height : {-40.0, 0.0, 30.0}) {
        const auto chains = mesh_section(mesh, {centre + height * normal, normal});
        ASSERT_EQ(chains.size(), 1U) << height;
        EXPECT_TRUE(chains[0].closed);
        const double true_radius = std::sqrt(radius * radius - height * height);
        // A face of 1 by 1 degree lies at most r (1 - cos(sqrt(2) / 2 deg)) = 0.0038 mm inside the ball.
        for (const Vector3d& p : chains[0].points_mm) {
            EXPECT_NEAR(normal.dot(p - centre), height, 1e-12 * 100);
            EXPECT_NEAR((p - centre - height * normal).norm(), true_radius, 0.0039 * radius / true_radius);
        }
        EXPECT_NEAR(area_vector(chains[0]).dot(normal), k_pi * true_radius * true_radius, 2 * k_pi * radius * 0.0039);
    }
}

TEST(MeshSection, AHollowRunsTheOtherWayRound) {
    Mesh hollow = box({100, 30, 20});
    Mesh inner = box({80, 10, 8});
    for (Vector3d& p : inner.points) {
        p += Vector3d(10, 10, 6);
    }
    for (Triangle& triangle : inner.triangles) {
        std::swap(triangle[1], triangle[2]);
    }
    append(hollow, inner);
    const auto chains = mesh_section(hollow, {{50, 0, 0}, Vector3d::UnitX()});
    ASSERT_EQ(chains.size(), 2U);
    EXPECT_NEAR(area_vector(chains[0]).x() + area_vector(chains[1]).x(), 600.0 - 80.0, 1e-9);
}

TEST(MeshSection, CornersInThePlaneDoNotBreakIt) {
    // The ball's points of one ring, its two poles and its equator lie in the plane.
    const Mesh mesh = ball(Vector3d::Zero(), 50.0, 16, 24);
    const auto through_poles = mesh_section(mesh, {Vector3d::Zero(), Vector3d::UnitY()});
    ASSERT_EQ(through_poles.size(), 1U);
    EXPECT_TRUE(through_poles[0].closed);
    // A regular polygon of 32 corners: area n/2 r^2 sin(2 pi / n).
    EXPECT_NEAR(area_vector(through_poles[0]).y(), 16.0 * 2500.0 * std::sin(k_pi / 16.0), 1e-6);
    const auto equator = mesh_section(mesh, {Vector3d::Zero(), Vector3d::UnitZ()});
    ASSERT_EQ(equator.size(), 1U);
    EXPECT_NEAR(area_vector(equator[0]).z(), 12.0 * 2500.0 * std::sin(k_pi / 12.0), 1e-6);
    EXPECT_EQ(equator[0].points_mm.size(), 24U) << "no point twice";
}

TEST(MeshSection, AFaceInThePlaneIsCutFromItsBodysSideOnly) {
    const Mesh mesh = box({100, 30, 20});
    const auto behind = mesh_section(mesh, {{100, 0, 0}, Vector3d::UnitX()});
    ASSERT_EQ(behind.size(), 1U);
    EXPECT_NEAR(area_vector(behind[0]).x(), 600.0, 1e-9);
    EXPECT_TRUE(mesh_section(mesh, {{0, 0, 0}, Vector3d::UnitX()}).empty());
}

TEST(MeshSection, AnOpenMeshGivesAnOpenChain) {
    Mesh open = box({100, 30, 20});
    open.triangles.erase(open.triangles.begin() + 4, open.triangles.begin() + 6);  // the face y = 0
    const auto chains = mesh_section(open, {{50, 0, 0}, Vector3d::UnitX()});
    ASSERT_EQ(chains.size(), 1U);
    EXPECT_FALSE(chains[0].closed);
    EXPECT_EQ(chains[0].points_mm.front().y(), 0.0);
    EXPECT_EQ(chains[0].points_mm.back().y(), 0.0);
}

TEST(MeshSection, OfNothingIsNothing) {
    EXPECT_TRUE(mesh_section({}, {}).empty());
    EXPECT_TRUE(mesh_section(box({1, 1, 1}), {{5, 0, 0}, Vector3d::UnitX()}).empty());
}

TEST(MeshSection, ManyPlanesGiveWhatEachGivesAlone) {
    const Mesh round = ball({0, 0, 0}, 50.0, 48, 24);
    const std::vector<double> places{12.5, -49.0, 0.0, 80.0, 31.0};
    const auto sections = mesh_sections(round, Vector3d::UnitX(), places);
    ASSERT_EQ(sections.size(), places.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
        const auto alone = mesh_section(round, {Vector3d(places[i], 0, 0), Vector3d::UnitX()});
        ASSERT_EQ(sections[i].size(), alone.size()) << places[i];
        for (std::size_t k = 0; k < alone.size(); ++k) {
            EXPECT_TRUE(sections[i][k].closed);
            EXPECT_LT((area_vector(sections[i][k]) - area_vector(alone[k])).norm(), 1e-9) << places[i];
        }
    }
    EXPECT_TRUE(sections[3].empty()) << "beyond the body";
}

TEST(MeshSection, JoinsALineThroughTrianglesThatAreTurnedOtherwise) {
    // A flat open strip along y, cut along its middle, with every third triangle turned about.
    Mesh mesh;
    for (std::int32_t i = 0; i <= 10; ++i) {
        mesh.points.emplace_back(-5.0, 10.0 * i, 0.0);
        mesh.points.emplace_back(5.0, 10.0 * i, 0.0);
    }
    for (std::int32_t i = 0; i < 10; ++i) {
        mesh.triangles.push_back({2 * i, 2 * i + 1, 2 * i + 2});
        mesh.triangles.push_back({2 * i + 1, 2 * i + 3, 2 * i + 2});
    }
    for (std::size_t i = 0; i < mesh.triangles.size(); i += 3) {
        std::swap(mesh.triangles[i][0], mesh.triangles[i][1]);
    }
    const std::vector<double> places{1.0};
    const auto sections = mesh_sections(mesh, Vector3d::UnitX(), places);
    ASSERT_EQ(sections[0].size(), 1U);
    EXPECT_FALSE(sections[0][0].closed);
    EXPECT_EQ(sections[0][0].points_mm.size(), 21U);
    EXPECT_NEAR((sections[0][0].points_mm.back() - sections[0][0].points_mm.front()).norm(), 100.0, 1e-9);
}

}  // namespace
}  // namespace sillwright::geometry
