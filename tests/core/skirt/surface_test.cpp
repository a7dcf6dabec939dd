#include "core/skirt/surface.h"

#include <gtest/gtest.h>

#include "core/drawn_loft.h"
#include "tests/core/forming/hand_formed.h"
#include "tests/core/mounts/flange_world.h"

// Offsets by hand: the outside is on the drawn line's left, positive; the sheet is 3, the film 0.1.

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;

const std::optional<Entry> k_paint = Entry{millimetres(0.1), ""};

Piece drawn_at(DrawnFace face) {
    Piece piece;
    piece.drawn_face = face;
    piece.sheet = Entry{millimetres(3), ""};
    return piece;
}

double offset(DrawnFace face, Surface surface) {
    const auto found = outward_offset(drawn_at(face), k_paint, surface);
    EXPECT_TRUE(found);
    return found ? in_mm(*found) : -99.0;
}

TEST(Surface, InsideDrawn) {
    EXPECT_EQ(offset(DrawnFace::inside, Surface::drawn), 0.0);
    EXPECT_EQ(offset(DrawnFace::inside, Surface::inside), 0.0);
    EXPECT_EQ(offset(DrawnFace::inside, Surface::mould_face), 0.0);
    EXPECT_EQ(offset(DrawnFace::inside, Surface::outside), 3.0);
    EXPECT_DOUBLE_EQ(offset(DrawnFace::inside, Surface::painted_outside), 3.1);
}

TEST(Surface, OutsideDrawn) {
    EXPECT_EQ(offset(DrawnFace::outside, Surface::drawn), 0.0);
    EXPECT_EQ(offset(DrawnFace::outside, Surface::inside), -3.0);
    EXPECT_EQ(offset(DrawnFace::outside, Surface::mould_face), -3.0);
    EXPECT_EQ(offset(DrawnFace::outside, Surface::outside), 0.0);
    EXPECT_DOUBLE_EQ(offset(DrawnFace::outside, Surface::painted_outside), 0.1);
}

TEST(Surface, WithoutASheetOnlyTheDrawnFaceIsKnown) {
    Piece piece = drawn_at(DrawnFace::inside);
    piece.sheet.reset();
    EXPECT_TRUE(outward_offset(piece, k_paint, Surface::drawn));
    EXPECT_TRUE(outward_offset(piece, k_paint, Surface::inside));
    EXPECT_FALSE(outward_offset(piece, k_paint, Surface::outside));
    EXPECT_FALSE(outward_offset(piece, k_paint, Surface::painted_outside));
    EXPECT_FALSE(sheet_faces(piece));
    piece.drawn_face = DrawnFace::outside;
    EXPECT_TRUE(outward_offset(piece, k_paint, Surface::outside));
    EXPECT_FALSE(outward_offset(piece, k_paint, Surface::mould_face));
}

TEST(Surface, WithoutAFilmThePaintedOutsideIsNotKnown) {
    const std::optional<Entry> none;
    EXPECT_FALSE(outward_offset(drawn_at(DrawnFace::inside), none, Surface::painted_outside));
    EXPECT_TRUE(outward_offset(drawn_at(DrawnFace::inside), none, Surface::outside));
}

TEST(Surface, TheSheetStandsBetweenItsFaces) {
    const auto inside = sheet_faces(drawn_at(DrawnFace::inside));
    ASSERT_TRUE(inside);
    EXPECT_EQ(in_mm(inside->left), 3.0);
    EXPECT_EQ(in_mm(inside->right), 0.0);
    EXPECT_EQ(inside->left_is, geometry::RingFace::outside);
    const auto outside = sheet_faces(drawn_at(DrawnFace::outside));
    ASSERT_TRUE(outside);
    EXPECT_EQ(in_mm(outside->left), 0.0);
    EXPECT_EQ(in_mm(outside->right), -3.0);
}

/// Nodes bead, knee, flange root, flange end; six tenths of the sheet of 3 from the root on.
struct FormedWorld {
    Job job = flat_world();
    std::shared_ptr<const FormedSheet> formed = hand_formed(1.0, 2.0);

    [[nodiscard]] double at(Surface surface, double mark, MouldKind mould = MouldKind::male) const {
        const Piece& piece = job.skirt.pieces[0];
        const auto line = loft_of(job, piece.drawn, false, "skirt").value();
        return outward_law(piece, line, formed.get(), job.skirt.paint, surface, mould)->at(millimetres(700), mark);
    }
};

TEST(SurfaceByPlace, FollowsTheFormedThickness) {
    FormedWorld world;
    EXPECT_NEAR(world.at(Surface::outside, 0.5), 3.0, 1e-12);
    EXPECT_NEAR(world.at(Surface::outside, 1.5), 2.4, 1e-12);
    EXPECT_NEAR(world.at(Surface::outside, 2.5), 1.8, 1e-12);
    EXPECT_NEAR(world.at(Surface::painted_outside, 2.5), 1.92, 1e-12);
    EXPECT_EQ(world.at(Surface::inside, 2.5), 0.0);
    EXPECT_EQ(world.at(Surface::mould_face, 2.5), 0.0);
    EXPECT_NEAR(world.at(Surface::mould_face, 2.5, MouldKind::female), 1.8, 1e-12);
    world.job.skirt.pieces[0].drawn_face = DrawnFace::outside;
    EXPECT_NEAR(world.at(Surface::inside, 1.5), -2.4, 1e-12);
    EXPECT_NEAR(world.at(Surface::mould_face, 1.5), -2.4, 1e-12);
    EXPECT_EQ(world.at(Surface::mould_face, 1.5, MouldKind::female), 0.0);
    EXPECT_NEAR(world.at(Surface::painted_outside, 1.5), 0.12, 1e-12);
    // Another sheet: the same part of it.
    world.job.skirt.pieces[0].sheet = mm(4);
    EXPECT_NEAR(world.at(Surface::inside, 2.5), -2.4, 1e-12);
}

// By hand: the flange measured 2.2; a twentieth before the root the computed one is 3 (1 - 0.4 * 0.95) = 1.86.
TEST(SurfaceByPlace, AMeasuredFlangeGoesFirstWithoutAStep) {
    FormedWorld world;
    world.job.skirt.pieces[0].flange.thickness = mm(2.2);
    EXPECT_NEAR(world.at(Surface::outside, 1.5), 2.4, 1e-12);
    EXPECT_NEAR(world.at(Surface::outside, 1.95), 1.86, 1e-12);
    EXPECT_NEAR(world.at(Surface::outside, 1.975), 2.03, 1e-12);
    EXPECT_NEAR(world.at(Surface::outside, 2.0), 2.2, 1e-12);
    EXPECT_NEAR(world.at(Surface::outside, 3.0), 2.2, 1e-12);
}

TEST(SurfaceByPlace, WithoutAFormedSheetItIsTheSameEverywhere) {
    FormedWorld world;
    world.formed = nullptr;
    world.job.skirt.pieces[0].flange.thickness = mm(2.2);
    EXPECT_EQ(world.at(Surface::outside, 2.5), 3.0);
    const auto line = loft_of(world.job, world.job.skirt.pieces[0].drawn, false, "skirt").value();
    EXPECT_TRUE(thickness_law(world.job.skirt.pieces[0], line, nullptr)->is_same());
    world.job.skirt.pieces[0].sheet.reset();
    EXPECT_FALSE(varying_faces(world.job.skirt.pieces[0], line, nullptr));
    EXPECT_FALSE(thickness_law(world.job.skirt.pieces[0], line, hand_formed(1, 2).get()));
}

}  // namespace
}  // namespace sillwright::core
