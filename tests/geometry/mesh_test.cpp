#include "geometry/mesh.h"

#include <gtest/gtest.h>

namespace sillwright::geometry {
namespace {

/// The tetrahedron on the origin and the three axis points at 3, 4 and 5 mm.
Mesh tetrahedron() {
    return {{{0, 0, 0}, {3, 0, 0}, {0, 4, 0}, {0, 0, 5}}, {{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {0, 3, 2}}, {}};
}

TEST(Mesh, VolumeOfATetrahedronIsASixthOfItsBox) {
    EXPECT_DOUBLE_EQ(volume_mm3(tetrahedron()), 3.0 * 4.0 * 5.0 / 6.0);
}

TEST(Mesh, AreaOfATetrahedronByPythagorasForAreas) {
    // De Gua's theorem: the square of the slanted face is the sum of the other three squares.
    const double a = 6.0, b = 7.5, c = 10.0;
    EXPECT_NEAR(area_mm2(tetrahedron()), a + b + c + std::sqrt(a * a + b * b + c * c), 1e-12);
}

TEST(Mesh, ClosedHasNoOpenEdgeAndAHoleHasThree) {
    Mesh mesh = tetrahedron();
    EXPECT_EQ(open_edge_count(mesh), 0U);
    mesh.triangles.pop_back();
    EXPECT_EQ(open_edge_count(mesh), 3U);
}

TEST(Mesh, OneTurnedTriangleOpensItsEdges) {
    Mesh mesh = tetrahedron();
    std::swap(mesh.triangles[0][0], mesh.triangles[0][1]);
    EXPECT_EQ(open_edge_count(mesh), 3U);
}

TEST(Mesh, MirrorKeepsVolumeAndClosure) {
    const Mesh image = mirrored_y(tetrahedron());
    EXPECT_DOUBLE_EQ(volume_mm3(image), 10.0);
    EXPECT_EQ(open_edge_count(image), 0U);
    EXPECT_EQ(image.points[2].y(), -4.0);
}

TEST(Mesh, AppendAddsVolumesAndKeepsTheWorseDeviation) {
    Mesh mesh = tetrahedron();
    Mesh other = tetrahedron();
    other.deviation = millimetres(0.02);
    append(mesh, other);
    EXPECT_DOUBLE_EQ(volume_mm3(mesh), 20.0);
    EXPECT_EQ(mesh.deviation, millimetres(0.02));
}

}  // namespace
}  // namespace sillwright::geometry
