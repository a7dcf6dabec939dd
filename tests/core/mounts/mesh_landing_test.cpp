#include "core/mounts/mesh_landing.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/core/mounts/flange_world.h"

// Expected numbers: a box, by hand.

namespace sillwright::core {
namespace {

/// A closed box 1500 by 40 by 3, its upper face at up 10, facing outward.
geometry::Mesh box() {
    geometry::Mesh mesh;
    for (const double up : {7.0, 10.0}) {
        for (const auto& [along, out] : {std::pair{0.0, 110.0}, {1500.0, 110.0}, {1500.0, 150.0}, {0.0, 150.0}}) {
            mesh.points.emplace_back(along, out, up);
        }
    }
    mesh.triangles = {{0, 2, 1}, {0, 3, 2}, {4, 5, 6}, {4, 6, 7}, {0, 1, 5}, {0, 5, 4},
                      {1, 2, 6}, {1, 6, 5}, {2, 3, 7}, {2, 7, 6}, {3, 0, 4}, {3, 4, 7}};
    return mesh;
}

/// A job whose part is a mesh, and its model.
struct MeshWorld {
    Job job = flat_world();
    CarModel car;

    MeshWorld() {
        job.skirt.pieces[0].drawn = {};
        job.skirt.pieces[0].file = ShapeFile{"part.stl", "", BareUnit::mm, {}};
        PieceModel piece;
        piece.name = "skirt";
        piece.body = BodyModel{"skirt", box(), std::nullopt, nullptr};
        car.pieces.push_back(std::move(piece));
    }

    [[nodiscard]] Finding finding(const std::string& id) const {
        const auto findings = reach_findings(job, car);
        const Finding* found = find(findings, id);
        EXPECT_NE(found, nullptr) << id;
        return found != nullptr ? *found : Finding{};
    }
};

TEST(MeshLanding, BoxIsClosedAndFacesOutward) {
    EXPECT_EQ(geometry::open_edge_count(box()), 0U);
    EXPECT_NEAR(geometry::volume_mm3(box()), 1500.0 * 40 * 3, 1e-6);
}

TEST(MeshLanding, MeetsTheFaceTurnedToTheCar) {
    const auto met = mesh_landing(world_mount(), box());
    ASSERT_TRUE(met);
    EXPECT_NEAR(met->down_axis_mm, 2.0, 1e-12);
    EXPECT_NEAR(met->normal.z(), 1.0, 1e-12);
}

TEST(MeshLanding, AxisThroughAnEdgeOfTwoTrianglesStillMeets) {
    Mount mount = world_mount();
    mount.at.along = mm(750);
    mount.at.out = mm(130);  // The middle of the diagonal of the upper face.
    EXPECT_TRUE(mesh_landing(mount, box()));
}

TEST(MeshLanding, PassesBesideIt) {
    Mount mount = world_mount();
    mount.at.out = mm(109.9);
    EXPECT_FALSE(mesh_landing(mount, box()));
    mount.at.out = mm(130);
    mount.at.up = mm(10 + 301);
    EXPECT_FALSE(mesh_landing(mount, box()));
}

TEST(MeshLanding, FindingsSayWhatAMeshCanSay) {
    MeshWorld world;
    EXPECT_EQ(world.finding("mounts/H1/reach").state, State::holds);
    EXPECT_FALSE(world.finding("mounts/H1/reach").margin);
    EXPECT_EQ(world.finding("mounts/H1/edge").state, State::not_measured);
    EXPECT_EQ(world.finding("mounts/H1/bend").state, State::not_measured);
    EXPECT_NEAR(*world.finding("mounts/H1/seat gap").margin, 0.5, 1e-9);
    EXPECT_NEAR(*world.finding("mounts/H1/seat angle").found, 0.0, 1e-9);
    EXPECT_EQ(world.finding("mounts/H1/grip").state, State::holds);
}

TEST(MeshLanding, AFaceThatDoesNotSeatIsNotTakenForTheFlange) {
    const std::vector<std::string> missing{"where the flange is (the part is a mesh)"};
    MeshWorld far;
    far.job.mounts[0].at.up = mm(40);  // 30 from the seat, 28 from the spacer.
    EXPECT_EQ(far.finding("mounts/H1/seat gap").state, State::falls_short);
    EXPECT_EQ(far.finding("mounts/H1/reach").state, State::not_measured);
    EXPECT_EQ(far.finding("mounts/H1/reach").missing, missing);
    MeshWorld tilted;
    tilted.job.mounts[0].axis = {std::sin(4.0 * k_deg), 0, -std::cos(4.0 * k_deg)};  // 3 degrees are the limit.
    EXPECT_EQ(tilted.finding("mounts/H1/seat gap").state, State::holds);
    EXPECT_EQ(tilted.finding("mounts/H1/seat angle").state, State::falls_short);
    EXPECT_EQ(tilted.finding("mounts/H1/reach").state, State::not_measured);
    EXPECT_EQ(tilted.finding("mounts/H1/reach").missing, missing);
}

TEST(MeshLanding, FindingsOfAMeshThatIsMissed) {
    MeshWorld world;
    world.job.mounts[0].at.out = mm(100);
    EXPECT_EQ(world.finding("mounts/H1/reach").state, State::falls_short);
}

}  // namespace
}  // namespace sillwright::core
