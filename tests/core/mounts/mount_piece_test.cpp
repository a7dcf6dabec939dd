#include "core/mounts/mount_piece.h"

#include <gtest/gtest.h>

#include "tests/core/mounts/fitting_world.h"

namespace sillwright::core {
namespace {

TEST(MountPiece, IsTheNearestCarriedByTheBody) {
    Job job = fitting_world({700, 1700});
    const CarModel car = car_of(job);
    const auto within = mount_piece(job, car, job.mounts[0]);
    ASSERT_TRUE(within);
    EXPECT_TRUE(within->drawn);
    EXPECT_EQ(within->off_mm, 0.0);
    EXPECT_NEAR(mount_piece(job, car, job.mounts[1])->off_mm, 200.0, k_rounding);
    job.skirt.pieces[0].carried_by = "front door";
    EXPECT_FALSE(mount_piece(job, car, job.mounts[0]));
}

TEST(MountPiece, LandsWithTheBooksCovarianceWhereThereIsOne) {
    const Job job = fitting_world({700});
    CarModel car = car_of(job);
    const auto typed = landed_mount(job, car, job.mounts[0]);
    ASSERT_TRUE(typed);
    EXPECT_NEAR((typed->landing.p_mm - Eigen::Vector3d(700, 130, 10)).norm(), 0.0, k_rounding);
    EXPECT_EQ(*typed->landing.covariance_mm2, Eigen::Matrix3d::Zero());
    car.mount_covariances_mm2["H1"] = Eigen::Matrix3d::Identity();
    EXPECT_EQ(*landed_mount(job, car, job.mounts[0])->landing.covariance_mm2, Eigen::Matrix3d::Identity());
}

TEST(MountPiece, DoesNotLandBesideTheFlange) {
    Job job = fitting_world({700});
    job.mounts[0].axis = {0, 1, 0};
    EXPECT_FALSE(landed_mount(job, car_of(job), job.mounts[0]));
}

}  // namespace
}  // namespace sillwright::core
