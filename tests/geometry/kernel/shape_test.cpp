#include "geometry/kernel/shape.h"

#include <gtest/gtest.h>

#include "geometry/kernel/make_solid.h"
#include "geometry/sheet_ring.h"
#include "tests/support/example_lofts.h"

namespace sillwright::geometry {
namespace {

constexpr Length k_tolerance = millimetres(0.02);

TEST(Shape, MeshIsClosedAndHasTheVolume) {
    const Loft loft = examples::panel();
    const RingBody body = solid_ring(loft, layout_of_solid(loft, 0.5 * k_tolerance).value()).value();
    const RingMesh own = mesh_of(body, k_tolerance).value();
    const Shape shape = make_solid(body, own, millimetres(0.005)).value();
    const Mesh mesh = mesh_of(shape, millimetres(0.1)).value();
    EXPECT_EQ(open_edge_count(mesh), 0U);
    EXPECT_EQ(mesh.deviation, millimetres(0.2));
    EXPECT_NEAR(volume_mm3(mesh), volume_mm3(own.mesh), in_mm(mesh.deviation + own.mesh.deviation) * area_mm2(mesh));
}

TEST(Shape, RefusesANonPositiveDeflection) {
    using examples::node;
    const std::vector<LoftNode> nodes{node("a", 0, 0), node("b", 20, 0), node("c", 20, 50)};
    const Loft loft = Loft::make({{millimetres(0.0), nodes}, {millimetres(9.0), nodes}}, {}, true).value();
    const RingBody body = solid_ring(loft, layout_of_solid(loft, k_tolerance).value()).value();
    const Shape wedge = make_solid(body, mesh_of(body, k_tolerance).value(), k_tolerance).value();
    EXPECT_NEAR(kernel_volume_mm3(wedge).value(), 0.5 * 20.0 * 50.0 * 9.0, 1e-9);  // half a block
    EXPECT_EQ(face_count(wedge), 5U);
    EXPECT_EQ(solid_count(wedge), 1U);
    EXPECT_TRUE(is_valid(wedge).value());
    EXPECT_FALSE(mesh_of(wedge, millimetres(0.0)).has_value());
    EXPECT_FALSE(mesh_of(wedge, millimetres(-1.0)).has_value());
}

}  // namespace
}  // namespace sillwright::geometry
