#include "core/mounts/flat_flange.h"

#include <cmath>

#include "flange_world.h"

namespace sillwright::core {
namespace {

using geometry::millimetres;

/// The flange of flat_piece lies at up 10 + 3 (its sheet is laid outside the drawn line or inside it); flat anyhow.
struct Flat {
    Job job = flat_world();
    CarModel car = car_model(job, ".").value();
    FlangeFace face = *FlangeFace::of(job.skirt.pieces[0], *car.pieces[0].line);
};

TEST(FlatFlange, RowsRunFromEndToEndWithBendAndFreeEdge) {
    const Flat world;
    const FlatFlange flat = flat_flange(world.face, millimetres(10.0));
    ASSERT_EQ(flat.rows.size(), 151U);
    EXPECT_DOUBLE_EQ(flat.rows.front().along_mm, 0.0);
    EXPECT_DOUBLE_EQ(flat.rows.back().along_mm, 1500.0);
    for (const FlatRow& row : flat.rows) {
        const auto section = world.face.at(millimetres(row.along_mm));
        EXPECT_DOUBLE_EQ(row.free_edge_mm, section->length_mm);
        EXPECT_NEAR(row.free_edge_mm, 40.0, 1e-9) << "from out 150 to out 110";
        EXPECT_NEAR(row.flat_from_mm, *world.face.flat_from_mm(millimetres(row.along_mm)), 1e-12);
    }
}

TEST(FlatFlange, PlacesComeToLieAtTheirDistanceFromTheRoot) {
    const Flat world;
    const auto landed = landing(world.job.mounts[0], world.face);
    ASSERT_TRUE(landed);
    const auto flat = on_flat(world.face, landed->p_mm);
    ASSERT_TRUE(flat);
    EXPECT_NEAR(flat->x(), 750.0, 1e-9);
    EXPECT_NEAR(flat->y(), 20.0, 1e-9) << "the mount is at out 130, the root at 150";
}

// The covariance by its definition: places of the mount strewn by it, landed one by one, and their spread counted.
TEST(FlatFlange, CovarianceIsThatOfLandings) {
    Flat world;
    Mount& mount = world.job.mounts[0];
    mount.axis = Direction(0.1, 0.2, -1.0).normalized();
    const auto landed = landing(mount, world.face);
    ASSERT_TRUE(landed);
    const auto stated = flat_covariance_mm2(world.face, mount, *landed);
    ASSERT_TRUE(stated);
    // On a flat face the landing is linear in the place, so the moves along the three axes say all of it.
    Eigen::Matrix2d counted = Eigen::Matrix2d::Zero();
    const auto moved = [&](Entry Position::*axis, double sd) {
        Mount other = mount;
        (other.at.*axis).value = (other.at.*axis).value + millimetres(sd);
        const auto there = landing(other, world.face);
        const Eigen::Vector2d by = *on_flat(world.face, there->p_mm) - *on_flat(world.face, landed->p_mm);
        counted += by * by.transpose();
    };
    moved(&Position::along, 0.5);
    moved(&Position::out, 0.5);
    moved(&Position::up, 0.4);
    EXPECT_NEAR((*stated - counted).norm(), 0.0, 1e-9) << *stated << "\n\n" << counted;
}

TEST(FlatFlange, WhatIsNotMeasuredHasNoCovariance) {
    Flat world;
    world.job.mounts[0].sd[1].reset();
    const auto landed = landing(world.job.mounts[0], world.face);
    ASSERT_TRUE(landed);
    EXPECT_FALSE(flat_covariance_mm2(world.face, world.job.mounts[0], *landed));
}

}  // namespace
}  // namespace sillwright::core
