#include "core/skirt/surface.h"

#include <gtest/gtest.h>

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

}  // namespace
}  // namespace sillwright::core
