#include "geometry/ply.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <bit>

#include "mesh_shapes.h"

namespace sillwright::geometry {
namespace {

TEST(Ply, RoundTripKeepsEverythingInEveryKind) {
    const Mesh mesh = ball({1234.5678, -765.4321, 321.0987}, 123.456, 12, 20);
    for (const PlyKind kind : {PlyKind::text, PlyKind::binary_little, PlyKind::binary_big}) {
        const auto back = mesh_from_ply(ply_bytes(mesh, kind, FileUnit::millimetre), {"b.ply", FileUnit::millimetre});
        ASSERT_TRUE(back) << back.error().message;
        EXPECT_EQ(back.value().points, mesh.points);
        EXPECT_EQ(back.value().triangles, mesh.triangles);
    }
}

// The bytes of 1.0 and of 3 by IEEE 754 and by hand, not by our writer.
TEST(Ply, BigEndianPutsTheHighestByteFirst) {
    const std::string header =
        "ply\nformat binary_big_endian 1.0\nelement vertex 3\nproperty float x\nproperty float y\nproperty short z\n"
        "element face 1\nproperty list ushort int vertex_index\nend_header\n";
    const auto bytes = [](std::initializer_list<int> values) {
        std::string text;
        for (const int value : values) {
            text.push_back(static_cast<char>(value));
        }
        return text;
    };
    const std::string data = bytes({0x3F, 0x80, 0, 0, 0, 0, 0, 0, 0x01, 0x02}) +  // 1, 0, 258
                             bytes({0xC0, 0x20, 0, 0, 0, 0, 0, 0, 0xFF, 0xFE}) +  // -2.5, 0, -2
                             bytes({0, 0, 0, 0, 0x3F, 0x80, 0, 0, 0, 0}) +        // 0, 1, 0
                             bytes({0, 3, 0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 2});
    const auto mesh = mesh_from_ply(header + data, {"big.ply", FileUnit::millimetre});
    ASSERT_TRUE(mesh) << mesh.error().message;
    EXPECT_EQ(mesh.value().points, (std::vector<Eigen::Vector3d>{{1, 0, 258}, {-2.5, 0, -2}, {0, 1, 0}}));
    EXPECT_EQ(mesh.value().triangles, (std::vector<Triangle>{{0, 1, 2}}));
}

TEST(Ply, PassesOverWhatItDoesNotKnow) {
    const auto mesh = mesh_from_ply(
        "ply\r\nformat ascii 1.0\r\ncomment scanned\r\nobj_info x\r\nelement camera 1\r\nproperty list uchar float "
        "at\r\n"
        "property int n\r\nelement vertex 4\r\nproperty uchar red\r\nproperty float z\r\nproperty float x\r\n"
        "property list int int near\r\nproperty float y\r\nelement face 1\r\nproperty float quality\r\n"
        "property list uint8 uint32 vertex_indices\r\nproperty list uchar float texcoord\r\nend_header\r\n"
        "3 1 2 3 9\r\n"
        "255 0 0 2 7 7 0\r\n255 0 2 0 0\r\n\r\n255 0 2 1 5 2\r\n255 0 0 0 2\r\n"
        "0.5 4 0 1 2 3 2 0.5 0.5\r\n",
        {"extra.ply", FileUnit::inch});
    ASSERT_TRUE(mesh) << mesh.error().message;
    ASSERT_EQ(mesh.value().triangles, (std::vector<Triangle>{{0, 1, 2}, {0, 2, 3}}));
    EXPECT_DOUBLE_EQ(area_mm2(mesh.value()), 4.0 * 25.4 * 25.4);  // a square of 2 in
}

TEST(Ply, BinaryListsArePassedOverByTheirLength) {
    const Mesh mesh = box({1, 2, 3});
    std::string bytes = ply_bytes(mesh, PlyKind::binary_little, FileUnit::millimetre);
    // One more element of one record stands between the header and the points.
    const std::string before = "element vertex";
    bytes.insert(bytes.find(before), "element extra 1\nproperty list ushort double many\n");
    const std::string end = "end_header\n";
    bytes.insert(bytes.find(end) + end.size(), std::string{"\x02\x00", 2} + std::string(16, 'x'));
    const auto back = mesh_from_ply(bytes, {"list.ply", FileUnit::millimetre});
    ASSERT_TRUE(back) << back.error().message;
    EXPECT_EQ(back.value().points, mesh.points);
}

}  // namespace
}  // namespace sillwright::geometry
