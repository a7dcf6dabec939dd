#include "geometry/obj.h"

#include <gtest/gtest.h>

#include "mesh_shapes.h"

namespace sillwright::geometry {
namespace {

TEST(Obj, RoundTripKeepsEverything) {
    const Mesh mesh = ball({1234.5678, -765.4321, 321.0987}, 123.456, 12, 20);
    const auto back = mesh_from_obj(obj_text(mesh, FileUnit::millimetre), {"ball.obj", FileUnit::millimetre});
    ASSERT_TRUE(back) << back.error().message;
    EXPECT_EQ(back.value().points, mesh.points);
    EXPECT_EQ(back.value().triangles, mesh.triangles);
}

TEST(Obj, RoundTripInInchesIsOneRoundingEachWay) {
    const Mesh mesh = box({1000, 300, 25.4});
    const auto back = mesh_from_obj(obj_text(mesh, FileUnit::inch), {"box.obj", FileUnit::inch});
    ASSERT_TRUE(back) << back.error().message;
    // Two roundings of 2^-53 on each of three factors.
    EXPECT_NEAR(volume_mm3(back.value()), 1000 * 300 * 25.4, 1000 * 300 * 25.4 * 6 * std::ldexp(1.0, -53));
}

TEST(Obj, CornersMayBeNamedInFourWaysAndBackward) {
    const std::string points = "v 0 0 0\nv 30 0 0\nv 0 40 0\n";
    for (const char* face : {"f 1 2 3", "f 1/1 2/2 3/3", "f 1//1 2//2 3//3", "f 1/1/1 2/2/2 3/3/3", "f -3 -2 -1",
                             "f -3/-1 2/9/9 -1//4", "f 1 2 \\\n 3", "f 1 2\\\r\n3 # remark"}) {
        const auto mesh = mesh_from_obj(points + face, {"face.obj", FileUnit::millimetre});
        ASSERT_TRUE(mesh) << face << ": " << mesh.error().message;
        EXPECT_EQ(mesh.value().triangles, (std::vector<Triangle>{{0, 1, 2}})) << face;
    }
}

TEST(Obj, APolygonBecomesAFan) {
    const auto mesh =
        mesh_from_obj("v 0 0 0\nv 2 0 0\nv 3 1 0\nv 2 2 0\nv 0 2 0\nf 1 2 3 4 5\n", {"five.obj", FileUnit::millimetre});
    ASSERT_TRUE(mesh) << mesh.error().message;
    EXPECT_EQ(mesh.value().triangles, (std::vector<Triangle>{{0, 1, 2}, {0, 2, 3}, {0, 3, 4}}));
    EXPECT_DOUBLE_EQ(area_mm2(mesh.value()), 5.0);  // square of 2 plus a triangle of 2 x 1 / 2
}

TEST(Obj, OtherLinesArePassedOver) {
    const auto mesh = mesh_from_obj(
        "# remark C:\\models\\\nmtllib a.mtl\no door\nv 1 0 0 0.5 0.5 0.5\nvt 0 0\nvn 0 0 1\nv 0 1 0 1\ng x\nv 0 0 1\n"
        "usemtl paint\ns off\nl 1 2\nf 1 2 3\n",
        {"all.obj", FileUnit::centimetre});
    ASSERT_TRUE(mesh) << mesh.error().message;
    EXPECT_EQ(mesh.value().points, (std::vector<Eigen::Vector3d>{{10, 0, 0}, {0, 10, 0}, {0, 0, 10}}));
}

TEST(Obj, AFaceMayStandAboveItsPoints) {
    EXPECT_TRUE(mesh_from_obj("f 1 2 3\nv 0 0 0\nv 1 0 0\nv 0 1 0\n", {"up.obj", FileUnit::millimetre}));
}

}  // namespace
}  // namespace sillwright::geometry
