#include "geometry/kernel/placement.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>

#include "geometry/kernel/make_solid.h"
#include "geometry/sheet_ring.h"
#include "tests/support/example_lofts.h"

namespace sillwright::geometry {
namespace {

Shape skirt_solid() {
    const Loft loft = examples::skirt();
    const SheetFaces faces{millimetres(3.0), millimetres(0.0)};
    const RingBody body = sheet_ring(loft, faces, layout_of_sheet(loft, faces, millimetres(0.02)).value()).value();
    return make_solid(body, mesh_of(body, millimetres(0.05)).value(), millimetres(0.01)).value();
}

Eigen::AlignedBox3d box_of(const Shape& shape) {
    Eigen::AlignedBox3d box;
    const Mesh mesh = mesh_of(shape, millimetres(0.1)).value();
    for (const Eigen::Vector3d& p : mesh.points) {
        box.extend(p);
    }
    return box;
}

// Laws: a rigid move and a mirror keep the volume, which stays positive as the faces still look outward.
TEST(Placement, MovesAndMirrorsASolid) {
    const Shape shape = skirt_solid();
    const Eigen::Vector3d by(10.0, -700.0, 3.0);
    const double volume = kernel_volume_mm3(shape).value();
    const Eigen::AlignedBox3d before = box_of(shape);
    for (const Mirror mirror : {Mirror::none, Mirror::in_y}) {
        const auto moved = placed(shape, mirror, by);
        ASSERT_TRUE(moved) << moved.error().message;
        EXPECT_TRUE(is_valid(moved.value()).value());
        EXPECT_EQ(solid_count(moved.value()), 1U);
        EXPECT_NEAR(kernel_volume_mm3(moved.value()).value(), volume, 1e-9 * volume);
        const Eigen::AlignedBox3d after = box_of(moved.value());
        const bool mirrored = mirror == Mirror::in_y;
        // The kernel's triangles need not be the mirror of each other: twice the deflection.
        EXPECT_NEAR(after.min().y(), (mirrored ? -before.max().y() : before.min().y()) - 700.0, 0.2);
        EXPECT_NEAR(after.min().x(), before.min().x() + 10.0, 0.2);
        EXPECT_NEAR(after.max().z(), before.max().z() + 3.0, 0.2);
    }
}

}  // namespace
}  // namespace sillwright::geometry
