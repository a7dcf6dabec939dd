#include "geometry/varying_sheet_ring.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "geometry/kernel/make_solid.h"
#include "geometry/sheet_ring.h"
#include "tests/support/example_lofts.h"

namespace sillwright::geometry {
namespace {

using examples::node;

RingMesh varying_mesh(const Loft& loft, const VaryingFaces& faces, double tolerance_mm) {
    const auto layout = layout_of_varying_sheet(loft, faces, millimetres(0.4 * tolerance_mm)).value();
    return mesh_of(varying_sheet_ring(loft, faces, layout).value(), millimetres(tolerance_mm)).value();
}

std::vector<LoftSection> prism(const std::vector<LoftNode>& nodes, double length_mm) {
    return {{millimetres(0.0), nodes}, {millimetres(length_mm), nodes}};
}

/// Thick at the shelf, thin at the flange, thinner to the rear; it bends at the nodes and between them.
VaryingFaces skirt_faces() {
    return {{{millimetres(0.0), millimetres(700.0), millimetres(1600.0)},
             {0.0, 1.5, 2.0, 3.0, 3.5, 5.0},
             {4.0, 3.8, 3.5, 3.1, 2.6, 2.4, 3.9, 3.5, 3.3, 2.8, 2.5, 2.2, 4.0, 3.6, 3.2, 2.7, 2.3, 2.0}},
            OffsetLaw::same(Length{}),
            RingFace::outside};
}

TEST(VaryingSheetRing, OneThicknessIsTheBodyOfSheetRing) {
    for (const Loft& loft : {examples::skirt(), examples::fluted_skirt(), examples::awkward()}) {
        for (const bool outside : {true, false}) {
            const SheetFaces same =
                outside ? SheetFaces{millimetres(3.0), Length{}} : SheetFaces{Length{}, -millimetres(3.0)};
            const VaryingFaces faces{OffsetLaw::same(same.left), OffsetLaw::same(same.right), RingFace::outside};
            const auto layout = layout_of_sheet(loft, same, millimetres(0.008)).value();
            const RingMesh truth = mesh_of(sheet_ring(loft, same, layout).value(), millimetres(0.02)).value();
            const RingMesh found = varying_mesh(loft, faces, 0.02);
            EXPECT_EQ(open_edge_count(found.mesh), 0U);
            EXPECT_LE(in_mm(found.mesh.deviation), 0.02);
            const double bound = in_mm(found.mesh.deviation + truth.mesh.deviation) * area_mm2(truth.mesh);
            EXPECT_NEAR(volume_mm3(found.mesh), volume_mm3(truth.mesh), bound);
            // Straights that do not bend are not divided.
            EXPECT_LE(found.mesh.triangles.size(), 13 * truth.mesh.triangles.size() / 10);
        }
    }
}

// Closed form: a flat sheet 100 wide and 500 long, thick 4 at one edge and 2 at the other in front, 3 and 1 behind.
// Volume = 100 * 500 * mean of the four = 125 000.
TEST(VaryingSheetRing, AWedgeHasTheVolumeOfItsMeanThickness) {
    const Loft loft = Loft::make(prism({node("a", 0, 0), node("b", 0, 100)}, 500.0), {}, false).value();
    const VaryingFaces faces{{{millimetres(0.0), millimetres(500.0)}, {0.0, 1.0}, {4.0, 2.0, 3.0, 1.0}},
                             OffsetLaw::same(Length{}),
                             RingFace::outside};
    EXPECT_NEAR(volume_mm3(varying_mesh(loft, faces, 0.02).mesh), 125000.0, 1e-6);
    const VaryingFaces right{OffsetLaw::same(Length{}),
                             {{millimetres(0.0), millimetres(500.0)}, {0.0, 1.0}, {-4.0, -2.0, -3.0, -1.0}},
                             RingFace::outside};
    EXPECT_NEAR(volume_mm3(varying_mesh(loft, right, 0.02).mesh), 125000.0, 1e-6);
}

// By hand: at 350 mm the law is half-way between its first two rows; at mark 1.5 the outside is 3.75 off the middle of
// the shelf's straight, square to it.
TEST(VaryingSheetRing, APointStandsOffItsPlaceByTheLaw) {
    const Loft loft = examples::skirt();
    const VaryingFaces faces = skirt_faces();
    const auto layout = layout_of_varying_sheet(loft, faces, millimetres(0.002)).value();
    Ring ring;
    ASSERT_TRUE(varying_sheet_ring(loft, faces, layout).value().outline(millimetres(350.0), ring));
    const auto nodes = loft.nodes_at(millimetres(350.0));
    const Eigen::Vector2d way = (nodes[2].p_mm - nodes[1].p_mm).normalized();
    const Eigen::Vector2d expected = 0.5 * (nodes[1].p_mm + nodes[2].p_mm) + 3.65 * Eigen::Vector2d(-way.y(), way.x());
    double least = 1e9;
    for (std::size_t i = 0; i < ring.points_mm.size(); ++i) {
        const Eigen::Vector2d& a = ring.points_mm[i];
        const Eigen::Vector2d side = ring.points_mm[(i + 1) % ring.points_mm.size()] - a;
        const double at =
            side.squaredNorm() > 0.0 ? std::clamp((expected - a).dot(side) / side.squaredNorm(), 0.0, 1.0) : 0.0;
        least = std::min(least, (a + at * side - expected).norm());
    }
    EXPECT_LT(least, in_mm(ring.sagitta) + 1e-9);
}

TEST(VaryingSheetRing, TheMeshHoldsItsTolerance) {
    const VaryingFaces faces = skirt_faces();
    const Loft loft = examples::skirt();
    const RingMesh coarse = varying_mesh(loft, faces, 0.05);
    const RingMesh fine = varying_mesh(loft, faces, 0.01);
    EXPECT_EQ(open_edge_count(coarse.mesh), 0U);
    EXPECT_LE(in_mm(coarse.mesh.deviation), 0.05);
    EXPECT_NEAR(volume_mm3(coarse.mesh), volume_mm3(fine.mesh), in_mm(coarse.mesh.deviation) * area_mm2(fine.mesh));
    EXPECT_LT(coarse.mesh.triangles.size(), fine.mesh.triangles.size());
}

TEST(VaryingSheetRing, StripsNameTheirNodesOnBothFaces) {
    const Loft loft = examples::skirt();
    const auto layout = layout_of_varying_sheet(loft, skirt_faces(), millimetres(0.008)).value();
    const RingBody body = varying_sheet_ring(loft, skirt_faces(), layout).value();
    std::size_t segments = 0;
    for (const RingStrip& strip : body.strips) {
        EXPECT_EQ(strip.first_segment, segments);
        segments += strip.segment_count;
        EXPECT_LE(std::max(strip.from_node, strip.to_node) - std::min(strip.from_node, strip.to_node), 1U);
    }
    EXPECT_EQ(segments, body.point_count);
    std::vector<StripCurve> curves;
    ASSERT_TRUE(body.curves(millimetres(350.0), curves));
    EXPECT_EQ(curves.size(), body.strips.size());
}

TEST(VaryingSheetRing, TheKernelsSolidHasTheMeshsVolume) {
    const Loft loft = examples::skirt();
    const VaryingFaces faces = skirt_faces();
    const auto layout = layout_of_varying_sheet(loft, faces, millimetres(0.01)).value();
    const auto solid =
        make_solid(varying_sheet_ring(loft, faces, layout).value(), varying_mesh(loft, faces, 0.02), millimetres(0.01));
    EXPECT_TRUE(solid) << (solid ? "" : solid.error().message);  // it checks its volume itself
}

TEST(VaryingSheetRing, RefusesFacesOutOfOrderAndClosedLines) {
    VaryingFaces faces = skirt_faces();
    faces.left.mm.back() = 0.0;
    EXPECT_EQ(layout_of_varying_sheet(examples::skirt(), faces, millimetres(0.01)).error().code,
              ErrorCode::invalid_argument);
    EXPECT_EQ(layout_of_varying_sheet(examples::panel(), skirt_faces(), millimetres(0.01)).error().code,
              ErrorCode::invalid_argument);
    const auto layout = layout_of_varying_sheet(examples::skirt(), skirt_faces(), millimetres(0.01)).value();
    EXPECT_EQ(varying_sheet_ring(examples::fluted_skirt(), skirt_faces(), layout).error().code,
              ErrorCode::invalid_argument);
}

TEST(VaryingSheetRing, SaysWhereThereIsNoRoom) {
    const Loft loft =
        Loft::make(prism({node("a", 100, 100), node("b", 0, 100), node("c", 0, 95), node("d", 100, 0)}, 500.0), {},
                   false)
            .value();
    const auto layout = layout_of_varying_sheet(
        loft, {{{Length{}}, {0.0, 3.0}, {3.0, 9.0}}, OffsetLaw::same(Length{}), RingFace::outside}, millimetres(0.01));
    ASSERT_FALSE(layout);
    EXPECT_EQ(layout.error().code, ErrorCode::does_not_fit);
    EXPECT_NE(layout.error().message.find("'b'"), std::string::npos);
}

}  // namespace
}  // namespace sillwright::geometry
