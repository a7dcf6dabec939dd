#include "core/skirt/sheet_body.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "core/drawn_loft.h"
#include "core/skirt/piece_solid.h"
#include "core/skirt/surface.h"
#include "geometry/distance_tree.h"
#include "geometry/kernel/shape.h"
#include "tests/core/forming/hand_formed.h"
#include "tests/core/mounts/flange_world.h"

// Expected numbers: by hand in the world of flange_world.h: upright at out 150 from up 120 to 10, then a flange to out
// 110; its inside is drawn; six tenths of the sheet of 3 from the root on.

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;

struct World {
    Job job = flat_world();
    geometry::Loft line = loft_of(job, job.skirt.pieces[0].drawn, false, "skirt").value();
    std::shared_ptr<const FormedSheet> formed = hand_formed(1.0, 2.0);

    [[nodiscard]] geometry::RingMesh mesh(const FormedSheet* sheet, double deviation_mm = 0.02) const {
        const auto body = sheet_body(job.skirt.pieces[0], line, sheet, millimetres(0.4 * deviation_mm));
        EXPECT_TRUE(body) << (body ? "" : body.error().message);
        return geometry::mesh_of(body.value(), millimetres(deviation_mm)).value();
    }
};

/// Whether each of the places lies on the mesh, within its deviation.
void expect_on(const geometry::RingMesh& ring, const std::vector<Eigen::Vector3d>& places) {
    const auto tree = geometry::DistanceTree::build(ring.mesh).value();
    for (const Eigen::Vector3d& p : places) {
        EXPECT_LE(geometry::nearest_on_surface(tree, p).distance_mm, in_mm(ring.mesh.deviation) + 1e-9)
            << p.transpose();
    }
}

TEST(SheetBody, OutsideLiesTheFormedThicknessOff) {
    const World world;
    const geometry::RingMesh ring = world.mesh(world.formed.get());
    EXPECT_EQ(geometry::open_edge_count(ring.mesh), 0U);
    // Half-way down the face 3; half-way from the knee (up 60) to the root 2.4; under the flange 1.8; the inside.
    expect_on(ring, {{700, 153, 90}, {700, 152.4, 35}, {700, 130, 8.2}, {700, 150, 90}, {700, 130, 10}});
}

TEST(SheetBody, WithoutAFormedSheetItIsTheSheet) {
    const World world;
    const geometry::RingMesh ring = world.mesh(nullptr);
    expect_on(ring, {{700, 153, 90}, {700, 153, 35}, {700, 130, 7}});
}

TEST(SheetBody, OneFormedThicknessIsTheBodyOfAThinnerSheet) {
    World world;
    FormedSheet even = *world.formed;
    even.shares = {{0.8, 0.8, 0.8, 0.8}, {0.8, 0.8, 0.8, 0.8}};
    const geometry::RingMesh formed = world.mesh(&even);
    world.job.skirt.pieces[0].sheet = mm(2.4);
    const geometry::RingMesh thin = world.mesh(nullptr);
    const double bound = in_mm(formed.mesh.deviation + thin.mesh.deviation) * geometry::area_mm2(thin.mesh);
    EXPECT_NEAR(geometry::volume_mm3(formed.mesh), geometry::volume_mm3(thin.mesh), bound);
}

TEST(SheetBody, LayoutsForTwoLinesServeBoth) {
    const World world;
    const Piece& piece = world.job.skirt.pieces[0];
    const auto moved = world.line.moved("knee", 1, {160, 60}).value().loft;
    SheetLayout both;
    for (const FormedSheet* const formed : {static_cast<const FormedSheet*>(nullptr), world.formed.get()}) {
        both = {};
        widen(both, layout_of_piece(piece, world.line, formed, millimetres(0.01)).value());
        widen(both, layout_of_piece(piece, moved, formed, millimetres(0.01)).value());
        const auto here = sheet_body(piece, world.line, formed, both).value();
        const auto there = sheet_body(piece, moved, formed, both).value();
        EXPECT_EQ(here.point_count, there.point_count);
    }
}

TEST(SheetBody, TheSolidIsFormedToo) {
    const World world;
    PieceModel model;
    model.name = "skirt";
    model.line = world.line;
    model.formed = world.formed;
    const geometry::RingMesh ring = world.mesh(world.formed.get());
    model.body = BodyModel{"skirt", ring.mesh, ring, {}};
    const auto solid = piece_solid(world.job.skirt.pieces[0], model, millimetres(0.01));
    ASSERT_TRUE(solid) << solid.error().message;
    EXPECT_NEAR(geometry::kernel_volume_mm3(solid.value()).value(), geometry::volume_mm3(ring.mesh),
                0.03 * geometry::area_mm2(ring.mesh));
}

}  // namespace
}  // namespace sillwright::core
