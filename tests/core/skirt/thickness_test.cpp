#include "core/skirt/thickness.h"

#include <gtest/gtest.h>

#include "core/car_model.h"
#include "core/drawn_loft.h"
#include "tests/core/forming/hand_formed.h"
#include "tests/core/mounts/flange_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;

TEST(Thickness, SheetIsAnUpperBoundWithTenPercent) {
    const auto found = flange_thickness(flat_piece(), millimetres(700));
    ASSERT_TRUE(found);
    EXPECT_TRUE(found->of_sheet);
    EXPECT_NEAR(in_mm(found->thickness), 3.0, 1e-12);
    EXPECT_NEAR(2 * in_mm(found->sd), 0.3, 1e-12);  // fiberpad.com: +-10 %
}

TEST(Thickness, OwnNumbersGoFirst) {
    Piece piece = flat_piece();
    piece.flange.thickness = mm(2.2);
    EXPECT_FALSE(flange_thickness(piece, millimetres(700))->of_sheet);
    EXPECT_NEAR(2 * in_mm(flange_thickness(piece, millimetres(700))->sd), 0.22, 1e-12);
    piece.flange.thickness_sd = mm(0.05);
    EXPECT_NEAR(in_mm(flange_thickness(piece, millimetres(700))->sd), 0.05, 1e-12);
    piece.sheet.reset();
    EXPECT_NEAR(in_mm(flange_thickness(piece, millimetres(700))->thickness), 2.2, 1e-12);
}

TEST(Thickness, NoneWithoutASheet) {
    Piece piece = flat_piece();
    piece.sheet.reset();
    EXPECT_FALSE(flange_thickness(piece, millimetres(700)));
}

// By hand: nodes bead, knee, flange root, flange end; six tenths of 3 from the root on.
TEST(Thickness, TheFormedFlangeGoesBeforeTheSheet) {
    Job job = flat_world();
    PieceModel model;
    model.line = loft_of(job, job.skirt.pieces[0].drawn, false, "skirt").value();
    model.formed = hand_formed(1.0, 2.0);
    const auto found = flange_thickness(job.skirt.pieces[0], millimetres(700), &model);
    ASSERT_TRUE(found);
    EXPECT_NEAR(in_mm(found->thickness), 1.8, 1e-12);
    EXPECT_NEAR(2 * in_mm(found->sd), 0.18, 1e-12);
    EXPECT_FALSE(found->of_sheet);
    EXPECT_TRUE(found->computed);
    job.skirt.pieces[0].flange.thickness = mm(2.2);
    EXPECT_NEAR(in_mm(flange_thickness(job.skirt.pieces[0], millimetres(700), &model)->thickness), 2.2, 1e-12);
    EXPECT_FALSE(flange_thickness(job.skirt.pieces[0], millimetres(700), &model)->computed);
}

}  // namespace
}  // namespace sillwright::core
