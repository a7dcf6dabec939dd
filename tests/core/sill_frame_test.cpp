#include "core/sill_frame.h"

#include <gtest/gtest.h>

#include "core/typed.h"

namespace sillwright::core {

namespace {

using Eigen::Vector3d;

std::optional<Entry> zero(double mm) {
    return entry(geometry::millimetres(mm));
}

// A tetrahedron with corners at 0 and 1 on each axis: volume 1/6 (closed form).
geometry::Mesh tetrahedron() {
    return {{Vector3d(0, 0, 0), Vector3d(1, 0, 0), Vector3d(0, 1, 0), Vector3d(0, 0, 1)},
            {{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}},
            geometry::Length{}};
}

// By hand from ISO 4130: y to the driver's right.
TEST(SillFrame, RightIsPlusYAndLeftIsMinusY) {
    const SillFrame right(Side::right, zero(700.0));
    const SillFrame left(Side::left, zero(700.0));
    EXPECT_EQ(right.car_from_sill(Vector3d(10, 50, 20)), Vector3d(10, 750, 20));
    EXPECT_EQ(left.car_from_sill(Vector3d(10, 50, 20)), Vector3d(10, -750, 20));
    EXPECT_EQ(left.turned(Vector3d(1, 2, 3)), Vector3d(1, -2, 3));
    EXPECT_EQ(right.turned(Vector3d(1, 2, 3)), Vector3d(1, 2, 3));
}

TEST(SillFrame, ThereAndBack) {
    for (const Side side : {Side::left, Side::right}) {
        const SillFrame frame(side, zero(712.5));
        const Vector3d p(123.25, -41.5, 9.75);  // exact in doubles
        EXPECT_EQ(frame.sill_from_car(frame.car_from_sill(p)), p);
        EXPECT_EQ(frame.turned(frame.turned(p)), p);
    }
}

TEST(SillFrame, SaysWhenTheZeroIsNotMeasured) {
    EXPECT_TRUE(SillFrame(Side::left, zero(700.0)).placed());
    const SillFrame frame(Side::left, std::nullopt);
    EXPECT_FALSE(frame.placed());
    EXPECT_EQ(frame.car_from_sill(Vector3d(1, 2, 3)), Vector3d(1, -2, 3));
}

TEST(SillFrame, AMeshKeepsItsOutside) {
    for (const Side side : {Side::left, Side::right}) {
        const SillFrame frame(side, zero(700.0));
        const geometry::Mesh car = frame.car_from_sill(tetrahedron());
        EXPECT_NEAR(geometry::volume_mm3(car), 1.0 / 6.0, 1e-12);
        const geometry::Mesh sill = frame.sill_from_car(car);
        EXPECT_NEAR(geometry::volume_mm3(sill), 1.0 / 6.0, 1e-12);
        EXPECT_EQ(sill.points, tetrahedron().points);
    }
}

TEST(SillFrame, TakesSideAndZeroFromTheJob) {
    Job job;
    job.side = Side::left;
    EXPECT_FALSE(SillFrame(job).placed());
    job.zero_to_midplane = zero(10.0);
    EXPECT_EQ(SillFrame(job).car_from_sill(Vector3d(0, 5, 0)), Vector3d(0, -15, 0));
}

}  // namespace

}  // namespace sillwright::core
