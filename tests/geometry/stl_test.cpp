#include "geometry/stl.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstring>

#include "mesh_shapes.h"

namespace sillwright::geometry {
namespace {

using testing::HasSubstr;

/// Moving every corner by at most d changes the volume by at most area * d (to
/// first order, and the second is 1e-7 of it here), and a triangle's area by
/// at most d * half its girth. Single precision moves a coordinate by at most
/// 2^-24 of its size, so a point by at most sqrt(3) * 2^-24 * the largest.
double greatest_move_mm(const Mesh& mesh) {
    double largest = 0.0;
    for (const Eigen::Vector3d& p : mesh.points) {
        largest = std::max(largest, p.cwiseAbs().maxCoeff());
    }
    return std::sqrt(3.0) * std::ldexp(largest, -24);
}

double half_girths_mm(const Mesh& mesh) {
    double sum = 0.0;
    for (const Triangle& t : mesh.triangles) {
        for (std::size_t k = 0; k < 3; ++k) {
            sum += (mesh.points[static_cast<std::size_t>(t[k])] - mesh.points[static_cast<std::size_t>(t[(k + 1) % 3])])
                       .norm();
        }
    }
    return sum / 2.0;
}

TEST(Stl, BinaryKeepsVolumeAreaAndClosureToSinglePrecision) {
    const Mesh mesh = ball({1234.5678, -765.4321, 321.0987}, 123.456, 24, 40);
    for (const FileUnit unit : {FileUnit::millimetre, FileUnit::centimetre, FileUnit::inch}) {
        const auto back = mesh_from_stl(stl_binary(mesh, unit), {"ball.stl", unit});
        ASSERT_TRUE(back) << back.error().message;
        EXPECT_EQ(back.value().triangles.size(), mesh.triangles.size());
        EXPECT_EQ(back.value().points.size(), mesh.points.size());
        EXPECT_EQ(open_edge_count(back.value()), 0U);
        const double move = 1.001 * greatest_move_mm(mesh);  // a thousandth for the second order
        EXPECT_NEAR(volume_mm3(back.value()), volume_mm3(mesh), move * area_mm2(mesh));
        EXPECT_NEAR(area_mm2(back.value()), area_mm2(mesh), move * half_girths_mm(mesh));
    }
}

TEST(Stl, TextKeepsEveryDigit) {
    const Mesh mesh = ball({1234.5678, -765.4321, 321.0987}, 123.456, 12, 20);
    const auto back = mesh_from_stl(stl_text(mesh, FileUnit::millimetre), {"ball.stl", FileUnit::millimetre});
    ASSERT_TRUE(back) << back.error().message;
    EXPECT_EQ(open_edge_count(back.value()), 0U);
    EXPECT_EQ(back.value().points.size(), mesh.points.size());
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        for (std::size_t k = 0; k < 3; ++k) {
            EXPECT_EQ(back.value().points[static_cast<std::size_t>(back.value().triangles[i][k])],
                      mesh.points[static_cast<std::size_t>(mesh.triangles[i][k])]);
        }
    }
}

// Hand count: the format's published layout.
TEST(Stl, BinaryHas84BytesAnd50ForEachTriangle) {
    const std::string bytes = stl_binary(box({1, 2, 3}), FileUnit::millimetre);
    EXPECT_EQ(bytes.size(), 84U + 12U * 50U);
    EXPECT_FALSE(bytes.starts_with("solid"));
}

TEST(Stl, NormalsPointOutward) {
    const std::string text = stl_text(box({1, 2, 3}), FileUnit::millimetre);
    for (const char* normal : {"facet normal 1 0 0\n", "facet normal -1 0 0\n", "facet normal 0 1 0\n",
                               "facet normal 0 -1 0\n", "facet normal 0 0 1\n", "facet normal 0 0 -1\n"}) {
        EXPECT_THAT(text, HasSubstr(normal));
    }
}

TEST(Stl, ABinaryFileMayBeginWithSolid) {
    std::string bytes = stl_binary(box({10, 20, 30}), FileUnit::millimetre);
    std::memcpy(bytes.data(), "solid exported", 14);
    const auto mesh = mesh_from_stl(bytes, {"solid.stl", FileUnit::millimetre});
    ASSERT_TRUE(mesh) << mesh.error().message;
    EXPECT_NEAR(volume_mm3(mesh.value()), 6000.0, 1e-9);  // 10 x 20 x 30, all exact in single precision
}

TEST(Stl, TextMayBeWrittenInManyWays) {
    const std::string text =
        "  SOLID\r\nFacet Normal nan nan nan outer loop vertex 0 0 0\nvertex +1 0 0\tvertex 0 1e0 -0\r\nendloop "
        "endfacet\nendsolid\nsolid two with a name\nendsolid two with a name\n\n";
    const auto mesh = mesh_from_stl(text, {"odd.stl", FileUnit::centimetre});
    ASSERT_TRUE(mesh) << mesh.error().message;
    EXPECT_DOUBLE_EQ(area_mm2(mesh.value()), 50.0);  // half a square centimetre
}

TEST(Stl, CornersThatMeetInSinglePrecisionDoNotOpenTheMesh) {
    // Two points 1e-6 mm apart at 1000 mm, where single precision steps by 6e-5.
    Mesh mesh{{{1000, 0, 0}, {1000 + 1e-6, 0, 0}, {1100, 0, 50}, {1050, 80, 0}},
              {{0, 1, 2}, {0, 3, 1}, {1, 3, 2}, {0, 2, 3}},
              {}};
    ASSERT_EQ(open_edge_count(mesh), 0U);
    const auto back = mesh_from_stl(stl_binary(mesh, FileUnit::millimetre), {"thin.stl", FileUnit::millimetre});
    ASSERT_TRUE(back) << back.error().message;
    EXPECT_EQ(back.value().triangles.size(), 2U);
    EXPECT_EQ(open_edge_count(back.value()), 0U);
}

}  // namespace
}  // namespace sillwright::geometry
