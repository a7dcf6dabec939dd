#include "geometry/mesh_check.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "mesh_shapes.h"

namespace sillwright::geometry {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

std::vector<MeshFault> faults(const Mesh& mesh) {
    std::vector<MeshFault> kinds;
    for (const MeshFinding& finding : check_mesh(mesh, {})) {
        EXPECT_FALSE(finding.words.empty());
        kinds.push_back(finding.kind);
    }
    return kinds;
}

/// A box of a skirt's size with one more point in the middle of its edge from
/// point 0 to 1 (along x), in a face without area that fills the gap to the
/// neighbour that keeps the whole edge.
Mesh box_with_a_flat_face() {
    Mesh mesh = box({1900, 120, 180});
    mesh.points.emplace_back(950, 0, 0);
    mesh.triangles[0] = {0, 2, 8};  // was 0, 2, 1
    mesh.triangles.push_back({8, 2, 1});
    mesh.triangles.push_back({0, 8, 1});
    return mesh;
}

TEST(MeshCheck, NothingIsWrongWithABoxOrTwoThatTouch) {
    EXPECT_TRUE(check_mesh(box({1900, 120, 180}), {}).empty());
    // Two boxes share four points, as a weld leaves them: one edge has four faces.
    Mesh two = box({100, 100, 100});
    Mesh other = box({100, 100, 100});
    for (Eigen::Vector3d& p : other.points) {
        p += Eigen::Vector3d{100, 100, 0};
    }
    append(two, other);
    for (Triangle& t : two.triangles) {
        for (std::int32_t& index : t) {
            index = index == 8 ? 3 : index == 12 ? 7 : index;  // the second box's edge upright over its origin
        }
    }
    EXPECT_TRUE(check_mesh(two, {}).empty());
}

TEST(MeshCheck, EmptyIsSaid) {
    EXPECT_THAT(faults({}), ElementsAre(MeshFault::empty));
}

TEST(MeshCheck, AMissingFaceOpensThreeEdges) {
    Mesh mesh = box({1900, 120, 180});
    mesh.triangles.pop_back();  // 3, 7, 5 on the side x = 1900
    const auto findings = check_mesh(mesh, {});
    ASSERT_EQ(findings.size(), 1U);
    EXPECT_EQ(findings[0].kind, MeshFault::not_closed);
    EXPECT_EQ(findings[0].number, 3.0);
    EXPECT_EQ(findings[0].first_mm->x(), 1900.0);
    EXPECT_THAT(findings[0].words, HasSubstr("3 edges are open"));
}

TEST(MeshCheck, OneTurnedFaceIsSeenAtItsThreeEdges) {
    Mesh mesh = box({1900, 120, 180});
    std::swap(mesh.triangles[4][0], mesh.triangles[4][1]);
    const auto findings = check_mesh(mesh, {});
    ASSERT_EQ(findings.size(), 1U);
    EXPECT_EQ(findings[0].kind, MeshFault::not_consistently_turned);
    EXPECT_EQ(findings[0].number, 3.0);
}

TEST(MeshCheck, InsideOutIsSeen) {
    Mesh mesh = box({1900, 120, 180});
    for (Triangle& t : mesh.triangles) {
        std::swap(t[0], t[1]);
    }
    EXPECT_THAT(faults(mesh), ElementsAre(MeshFault::inside_out));
}

TEST(MeshCheck, AFoldedSheetIsNotInsideOut) {
    EXPECT_TRUE(faults({{{0, 0, 0}, {100, 0, 0}, {0.1, 70, 1.7}}, {{0, 1, 2}, {0, 2, 1}}, {}}).empty());
}

TEST(MeshCheck, AWrongUnitIsSuspected) {
    const auto inches_as_mm = check_mesh(box({48, 4, 7}), {});
    ASSERT_EQ(inches_as_mm.size(), 1U);
    EXPECT_EQ(inches_as_mm[0].kind, MeshFault::too_small);
    EXPECT_EQ(inches_as_mm[0].number, 48.0);
    EXPECT_THAT(inches_as_mm[0].words, HasSubstr("48 mm"));
    EXPECT_THAT(faults(box({19000, 1200, 1800})), ElementsAre(MeshFault::too_large));
    EXPECT_TRUE(faults(box({10000, 50, 50})).empty());
    EXPECT_TRUE(faults(box({50, 5, 5})).empty());
    EXPECT_TRUE(check_mesh(box({48, 4, 7}), {millimetres(10), millimetres(60)}).empty());
}

TEST(MeshCheck, AStrayPointDoesNotCount) {
    Mesh mesh = box({1900, 120, 180});
    mesh.points.emplace_back(1e6, 0, 0);
    EXPECT_TRUE(faults(mesh).empty());
}

TEST(MeshCheck, DegenerateFacesAreCounted) {
    const auto findings = check_mesh(box_with_a_flat_face(), {});
    ASSERT_EQ(findings.size(), 1U);
    EXPECT_EQ(findings[0].kind, MeshFault::degenerate_faces);
    EXPECT_EQ(findings[0].number, 1.0);
    EXPECT_EQ(*findings[0].first_mm, Eigen::Vector3d(950, 0, 0));
}

void expect_clean_box(const Mesh& mesh, std::size_t faces) {
    EXPECT_EQ(mesh.triangles.size(), faces);
    EXPECT_TRUE(check_mesh(mesh, {}).empty());
    EXPECT_EQ(open_edge_count(mesh), 0U);
    EXPECT_DOUBLE_EQ(volume_mm3(mesh), 1900.0 * 120 * 180);
    EXPECT_DOUBLE_EQ(area_mm2(mesh), 2.0 * (1900.0 * 120 + 120.0 * 180 + 180.0 * 1900));
}

TEST(Cleaned, AFlatFaceGoesIntoItsNeighbour) {
    // The face goes, and the point in the middle of the edge now splits the neighbour as well: 12 + 2.
    expect_clean_box(cleaned(box_with_a_flat_face()), 14);
}

TEST(Cleaned, ManyFlatFacesOnOneEdge) {
    // A fan of flat faces from point 1 over 30 points on the edge 0-1.
    Mesh mesh = box({1900, 120, 180});
    mesh.triangles.erase(mesh.triangles.begin());  // 0, 2, 1
    std::int32_t before = 0;
    for (int i = 1; i <= 30; ++i) {
        const auto now = static_cast<std::int32_t>(mesh.points.size());
        mesh.points.emplace_back(50.0 * i, 0, 0);
        mesh.triangles.push_back({before, 2, now});
        mesh.triangles.push_back({before, now, 1});
        before = now;
    }
    mesh.triangles.push_back({before, 2, 1});
    ASSERT_EQ(open_edge_count(mesh), 0U);
    expect_clean_box(cleaned(mesh), 12 + 60);
}

TEST(Cleaned, RepeatedCornersGoWithoutOpening) {
    // Point 8 stands where point 1 stands; two faces without area join them.
    Mesh mesh = box({1900, 120, 180});
    mesh.points.push_back(mesh.points[1]);
    mesh.triangles[0] = {0, 2, 8};
    mesh.triangles.push_back({0, 8, 1});
    mesh.triangles.push_back({8, 2, 1});
    ASSERT_EQ(open_edge_count(mesh), 0U);
    EXPECT_EQ(check_mesh(mesh, {}).at(0).number, 2.0);
    expect_clean_box(cleaned(mesh), 12);
    // And a face that names one point twice.
    mesh = box({1900, 120, 180});
    mesh.triangles.push_back({3, 3, 5});
    expect_clean_box(cleaned(mesh), 12);
}

TEST(Cleaned, LeavesAGoodMeshAsItIs) {
    const Mesh mesh = ball({0, 0, 0}, 300, 12, 20);
    const Mesh clean = cleaned(mesh);
    EXPECT_EQ(clean.points, mesh.points);
    EXPECT_EQ(clean.triangles, mesh.triangles);
}

/// A law, whatever the mesh: cleaning opens nothing, turns nothing, moves nothing.
TEST(Cleaned, ASnappedBallStaysClosed) {
    for (const double grid : {7.0, 20.0, 40.0, 60.0, 90.0}) {
        SCOPED_TRACE(grid);
        Mesh mesh = ball({0, 0, 0}, 300, 24, 40);
        for (Eigen::Vector3d& p : mesh.points) {
            p = (p / grid).array().round() * grid;
        }
        const Mesh clean = cleaned(mesh);
        EXPECT_THAT(faults(mesh), ElementsAre(MeshFault::degenerate_faces));
        EXPECT_TRUE(check_mesh(clean, {}).empty());
        EXPECT_EQ(open_edge_count(clean), 0U);
        EXPECT_NEAR(volume_mm3(clean), volume_mm3(mesh), 1e-12 * volume_mm3(mesh));
    }
}

TEST(Cleaned, AFlatFaceAtTheRimStays) {
    Mesh mesh = box_with_a_flat_face();
    mesh.triangles.erase(mesh.triangles.begin() + 4);  // 0, 1, 4: the neighbour across the whole edge
    const std::size_t open = open_edge_count(mesh);
    const Mesh clean = cleaned(mesh);
    EXPECT_EQ(clean.triangles, mesh.triangles);
    EXPECT_EQ(open_edge_count(clean), open);
}

}  // namespace
}  // namespace sillwright::geometry
