#include "core/skirt/flange_bend.h"

#include <gtest/gtest.h>

#include <numbers>

#include "tests/core/mounts/flange_world.h"

namespace sillwright::core {
namespace {

using geometry::degrees;
using geometry::in_deg;
using geometry::in_mm;
using geometry::millimetres;

// Closed form: a quarter circle of radius R + K t, here 5 + 0.42 * 3 = 6.26 mm.
TEST(BendNumbers, SquareBend) {
    const BendNumbers bend = bend_numbers(degrees(90), millimetres(5), millimetres(3), 0.42, degrees(3));
    EXPECT_NEAR(in_mm(bend.allowance), 6.26 * std::numbers::pi / 2, 1e-12);
    EXPECT_NEAR(in_mm(bend.setback), 8.0, 1e-12);
    EXPECT_NEAR(in_deg(bend.bend_to), 93.0, 1e-12);
}

TEST(BendNumbers, NeutralLineInTheMiddleKeepsTheMiddleLinesLength) {
    // With K = 0.5 the allowance is the arc of the sheet's middle line.
    const BendNumbers bend = bend_numbers(degrees(60), millimetres(4), millimetres(2), 0.5, {});
    EXPECT_NEAR(in_mm(bend.allowance), 5.0 * std::numbers::pi / 3, 1e-12);
}

TEST(BendNumbers, NoBendTakesNoSheet) {
    const BendNumbers bend = bend_numbers({}, millimetres(4), millimetres(2), 0.42, degrees(3));
    EXPECT_EQ(in_mm(bend.allowance), 0.0);
    EXPECT_EQ(in_mm(bend.setback), 0.0);
}

// The hollow side has the inner radius; the line on the other face of the sheet has R + t.
TEST(DrawnRadius, DependsOnTheFaceThatIsDrawn) {
    Piece piece = flat_piece();
    EXPECT_NEAR(in_mm(*drawn_radius(piece, millimetres(5), false)), 5.0, 1e-12);
    EXPECT_NEAR(in_mm(*drawn_radius(piece, millimetres(5), true)), 8.0, 1e-12);
    piece.drawn_face = DrawnFace::outside;
    EXPECT_NEAR(in_mm(*drawn_radius(piece, millimetres(5), false)), 8.0, 1e-12);
    EXPECT_NEAR(in_mm(*drawn_radius(piece, millimetres(5), true)), 5.0, 1e-12);
    piece.sheet.reset();
    EXPECT_FALSE(drawn_radius(piece, millimetres(5), false));
}

}  // namespace
}  // namespace sillwright::core
