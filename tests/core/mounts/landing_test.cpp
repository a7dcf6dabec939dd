#include "core/mounts/landing.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "core/drawn_loft.h"
#include "tests/core/mounts/flange_world.h"

// Expected numbers: plane trigonometry in the world of flange_world.h, by hand.

namespace sillwright::core {
namespace {

constexpr double k_rounding = 1e-9;

/// The flange's face of a world, its line kept beside it.
struct FaceOf {
    geometry::Loft line;
    FlangeFace face;

    explicit FaceOf(const Job& job)
        : line{loft_of(job, job.skirt.pieces[0].drawn, false, "skirt").value()},
          face{*FlangeFace::of(job.skirt.pieces[0], line)} {}
};

TEST(Landing, PlaceAndDistances) {
    const Job job = flat_world();
    const FaceOf of(job);
    const auto found = landing(job.mounts[0], of.face);
    ASSERT_TRUE(found);
    EXPECT_NEAR((found->p_mm - Eigen::Vector3d(750, 130, 10)).norm(), 0.0, k_rounding);
    EXPECT_NEAR((found->normal - Eigen::Vector3d::UnitZ()).norm(), 0.0, k_rounding);
    EXPECT_NEAR(found->down_axis_mm, 2.0, k_rounding);
    EXPECT_NEAR(found->free_edge.distance_mm, 20.0, k_rounding);
    EXPECT_NEAR(found->bend.distance_mm, 14.0, k_rounding);
    EXPECT_NEAR(found->front_end.distance_mm, 750.0, k_rounding);
    EXPECT_NEAR(found->rear_end.distance_mm, 750.0, k_rounding);
    EXPECT_EQ(found->bounds().size(), 4U);
    EXPECT_EQ(found->hole_edges.size(), 3U);
    EXPECT_EQ(found->hole_bends.size(), 1U);
}

TEST(Landing, SlotHasTheDistancesOfItsTwoEndsToo) {
    Job job = flat_world();
    job.mounts[0].part_slot = mm(26.5);  // 10 from the centre to the centre of each end
    const FaceOf of(job);
    const auto found = landing(job.mounts[0], of.face);
    ASSERT_TRUE(found);
    ASSERT_EQ(found->hole_edges.size(), 9U);
    EXPECT_NEAR(found->hole_edges[4].distance_mm, 740.0, k_rounding);
    EXPECT_NEAR(found->hole_edges[8].distance_mm, 740.0, k_rounding);
    ASSERT_EQ(found->hole_bends.size(), 3U);
    EXPECT_NEAR(found->hole_bends[2].distance_mm, 14.0, k_rounding);
}

TEST(Landing, ShiftMovesTheHoleNotTheLanding) {
    Job job = flat_world();
    job.mounts[0].part_slot = mm(26.5);
    job.mounts[0].part_shift = mm(-5);
    const FaceOf of(job);
    const auto found = landing(job.mounts[0], of.face);
    ASSERT_TRUE(found);
    EXPECT_NEAR(found->front_end.distance_mm, 750.0, k_rounding);
    ASSERT_EQ(found->hole_edges.size(), 9U);
    EXPECT_NEAR(found->hole_edges[1].distance_mm, 745.0, k_rounding);  // Its middle to the front end,
    EXPECT_NEAR(found->hole_edges[4].distance_mm, 735.0, k_rounding);  // its front end,
    EXPECT_NEAR(found->hole_edges[8].distance_mm, 745.0, k_rounding);  // and its rear end to the rear.
}

TEST(Landing, SeatInsideTheFlangeLandsUpTheAxis) {
    Job job = flat_world();
    job.mounts[0].at.up = mm(7);
    const FaceOf of(job);
    EXPECT_NEAR(landing(job.mounts[0], of.face)->down_axis_mm, -3.0, k_rounding);
}

TEST(Landing, LooksNoFurtherThanPromised) {
    Job job = flat_world();
    const FaceOf of(job);
    job.mounts[0].at.up = mm(10 + k_look_ahead_mm - 0.5);
    EXPECT_TRUE(landing(job.mounts[0], of.face));
    job.mounts[0].at.up = mm(10 + k_look_ahead_mm + 0.5);
    EXPECT_FALSE(landing(job.mounts[0], of.face));
    job.mounts[0].at.up = mm(10 - k_look_back_mm - 0.5);
    EXPECT_FALSE(landing(job.mounts[0], of.face));
}

TEST(Landing, DoesNotLandFromTheRoadsSide) {
    Job job = flat_world();
    const FaceOf of(job);
    job.mounts[0].axis = {0, 0, 1};
    EXPECT_FALSE(landing(job.mounts[0], of.face));
}

TEST(Landing, BendedCornerOfADrawnOutsideWithoutRoundingTakesTheSheetsOwn) {
    // A sharp corner of 90 degrees on the outside line: the insides meet 3 mm nearer, so
    // that the flat begins 3 from the drawn root.
    Piece piece = world_piece(std::vector<Spot>(4, {150, 10}), std::vector<Spot>(4, {110, 10}));
    piece.drawn_face = DrawnFace::outside;
    const FaceOf of(world(piece, world_mount()));
    EXPECT_NEAR(*of.face.flat_from_mm(geometry::millimetres(750)), 3.0, k_rounding);
}

/// A landing on a level face, as sure as the mount.
Landing on_level_face(const Mount& mount) {
    Landing landed;
    landed.normal = Eigen::Vector3d::UnitZ();
    landed.covariance_mm2 = typed_covariance_mm2(mount);
    return landed;
}

TEST(Landing, DeviationIsCarriedAlongTheAxis) {
    Mount mount = world_mount();
    const double b = 0.3;
    mount.axis = {0, std::sin(b), -std::cos(b)};
    Landing landed = on_level_face(mount);
    // An error in up shifts the landing outward by tan(b) of it, and the gap by 1/cos(b).
    EXPECT_NEAR(*landing_sd_mm(mount, landed, Eigen::Vector3d::UnitY()), std::hypot(0.5, 0.4 * std::tan(b)), 1e-12);
    EXPECT_NEAR(*landing_sd_mm(mount, landed, Eigen::Vector3d::UnitX()), 0.5, 1e-12);
    EXPECT_NEAR(*gap_sd_mm(mount, landed), 0.4 / std::cos(b), 1e-12);
    // If out and up are wrong together, fully, they add up, or take each other away: 0.5 + 0.4 tan(b), or less.
    landed.covariance_mm2->coeffRef(1, 2) = landed.covariance_mm2->coeffRef(2, 1) = 0.5 * 0.4;
    EXPECT_NEAR(*landing_sd_mm(mount, landed, Eigen::Vector3d::UnitY()), 0.5 + 0.4 * std::tan(b), 1e-12);
    mount.sd[1].reset();
    landed = on_level_face(mount);
    EXPECT_FALSE(landing_sd_mm(mount, landed, Eigen::Vector3d::UnitY()));
    EXPECT_FALSE(gap_sd_mm(mount, landed));
}

TEST(Landing, DeviationDoesNotDependOnTheFrame) {
    // The same deviation every way: along the face it is 1 / cos of the axis's tilt in
    // the plane of tilt, whichever way that plane lies.
    Mount mount = world_mount();
    mount.sd = {mm(0.5), mm(0.5), mm(0.5)};
    const Landing landed = on_level_face(mount);
    const double b = 0.2;
    for (const double turn : {0.0, 0.7, 2.1}) {
        const Eigen::Vector3d lie(std::cos(turn), std::sin(turn), 0);
        mount.axis = std::sin(b) * lie - std::cos(b) * Eigen::Vector3d::UnitZ();
        EXPECT_NEAR(*landing_sd_mm(mount, landed, lie), 0.5 / std::cos(b), 1e-12);
    }
}

TEST(Landing, SlotHalf) {
    Mount mount = world_mount();
    EXPECT_EQ(slot_half_mm(mount), 0.0);
    mount.part_slot = mm(16);
    EXPECT_NEAR(slot_half_mm(mount), (16 - 6.5) / 2, 1e-12);
    mount.part_hole.reset();  // The width is not known: the whole length counts.
    EXPECT_NEAR(slot_half_mm(mount), 8.0, 1e-12);
}

}  // namespace
}  // namespace sillwright::core
