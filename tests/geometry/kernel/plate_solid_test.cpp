#include "geometry/kernel/plate_solid.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <numbers>

namespace sillwright::geometry {
namespace {

const PlatePlace k_across{{700.0, 10.0, 20.0}, Eigen::Vector3d::UnitZ(), Eigen::Vector3d::UnitY(), {12.0, 0.0, 0.0}};

Profile rounded_board() {
    return make_profile({{{0.0, 0.0}, {}},
                         {{100.0, 0.0}, {}},
                         {{100.0, 60.0}, millimetres(20.0)},
                         {{0.0, 60.0}, millimetres(5.0)}},
                        true)
        .value();
}

Profile round_hole(const Eigen::Vector2d& at, double radius) {
    return {{{ArcSegment{at, radius, radians(0.0), radians(2.0 * std::numbers::pi)}, 0}}, true};
}

// By hand: area times thickness; a rounded square corner lacks (1 - pi/4) r².
TEST(PlateSolid, HasTheVolumeOfItsOutline) {
    const Shape plate = plate_solid(rounded_board(), {round_hole({30.0, 30.0}, 3.0)}, k_across).value();
    const double area = 100.0 * 60.0 - (1.0 - std::numbers::pi / 4.0) * (400.0 + 25.0) - std::numbers::pi * 9.0;
    EXPECT_NEAR(kernel_volume_mm3(plate).value(), area * 12.0, 1e-3);
    EXPECT_TRUE(is_valid(plate).value());
    EXPECT_EQ(face_count(plate), 2U + 6U + 2U);
}

TEST(PlateSolid, StandsWhereItIsPut) {
    const Shape plate = plate_solid(rounded_board(), {}, k_across).value();
    Eigen::AlignedBox3d box;
    const Mesh mesh = mesh_of(plate, millimetres(0.1)).value();
    for (const Eigen::Vector3d& p : mesh.points) {
        box.extend(p);
    }
    EXPECT_TRUE(box.min().isApprox(Eigen::Vector3d(700.0, 10.0, 20.0), 1e-9)) << box.min().transpose();
    EXPECT_TRUE(box.max().isApprox(Eigen::Vector3d(712.0, 70.0, 120.0), 1e-9)) << box.max().transpose();
}

TEST(PlateSolid, FacesOutwardWhicheverWayItGoes) {
    PlatePlace other = k_across;
    other.through_mm = -other.through_mm;
    EXPECT_GT(kernel_volume_mm3(plate_solid(rounded_board(), {}, other).value()).value(), 0.0);
}

TEST(PlateSolid, RefusesWhatIsNoPlate) {
    Profile open = rounded_board();
    open.closed = false;
    EXPECT_EQ(plate_solid(open, {}, k_across).error().code, ErrorCode::invalid_argument);
    PlatePlace flat = k_across;
    flat.through_mm = {0.0, 3.0, 0.0};
    EXPECT_EQ(plate_solid(rounded_board(), {}, flat).error().code, ErrorCode::invalid_argument);
    EXPECT_EQ(plate_solid(rounded_board(), {round_hole({0.0, 30.0}, 10.0)}, k_across).error().code,
              ErrorCode::kernel_failure);
}

TEST(PlateSolid, ManyAreOneShape) {
    const Shape plate = plate_solid(rounded_board(), {}, k_across).value();
    EXPECT_EQ(solid_count(together({plate, plate}).value()), 2U);
}

}  // namespace
}  // namespace sillwright::geometry
