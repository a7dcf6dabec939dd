#include "core/skirt/flange_face.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/drawn_loft.h"
#include "tests/core/forming/hand_formed.h"
#include "tests/core/mounts/flange_world.h"

// Expected numbers: by hand in the world of flange_world.h.

namespace sillwright::core {
namespace {

using geometry::millimetres;

constexpr double k_rounding = 1e-9;

geometry::Loft line_of(const Job& job) {
    return loft_of(job, job.skirt.pieces[0].drawn, false, "skirt").value();
}

TEST(FlangeFace, InsideOfALineDrawnInsideIsTheLine) {
    const Job job = flat_world();
    const auto line = line_of(job);
    const auto section = FlangeFace::of(job.skirt.pieces[0], line)->at(millimetres(333));
    ASSERT_TRUE(section);
    EXPECT_NEAR((section->root_mm - Eigen::Vector2d(150, 10)).norm(), 0.0, k_rounding);
    EXPECT_NEAR((section->end_mm - Eigen::Vector2d(110, 10)).norm(), 0.0, k_rounding);
    EXPECT_NEAR((section->inward - Eigen::Vector2d(0, 1)).norm(), 0.0, k_rounding);
}

TEST(FlangeFace, InsideOfALineDrawnOutsideIsASheetNearerToTheCar) {
    Job job = flat_world();
    job.skirt.pieces[0].drawn_face = DrawnFace::outside;
    const auto line = line_of(job);
    const auto face = FlangeFace::of(job.skirt.pieces[0], line);
    EXPECT_NEAR(face->at(millimetres(333))->end_mm.y(), 13.0, k_rounding);
    EXPECT_NEAR(*face->height_mm({333, 130, 20}), 7.0, k_rounding);
    job.skirt.pieces[0].sheet.reset();
    EXPECT_FALSE(FlangeFace::of(job.skirt.pieces[0], line));
}

TEST(FlangeFace, GoesOnBeyondThePiecesEnds) {
    const Job job = flat_world();
    const auto line = line_of(job);
    const auto face = FlangeFace::of(job.skirt.pieces[0], line);
    EXPECT_NEAR(*face->height_mm({-40, 130, 12}), 2.0, k_rounding);
    EXPECT_NEAR(face->normal({-40, 130, 10})->z(), 1.0, k_rounding);
}

TEST(FlangeFace, OtherNamesAreNoFlange) {
    Job job = flat_world();
    for (Section& section : job.skirt.pieces[0].drawn.sections) {
        section.nodes.back().name = "lip";
    }
    const auto line = line_of(job);
    EXPECT_FALSE(FlangeFace::drawn_on(line));
    EXPECT_FALSE(FlangeFace::of(job.skirt.pieces[0], line));
}

TEST(FlangeFace, FlatBeginsBehindTheRounding) {
    // A corner of 90 degrees and radius 6: the tangent point is 6 from the corner.
    const Job job = flat_world();
    const auto line = line_of(job);
    EXPECT_NEAR(*FlangeFace::of(job.skirt.pieces[0], line)->flat_from_mm(millimetres(10)), 6.0, k_rounding);
}

TEST(FlangeFace, StraightRootHasNoBend) {
    const Job job =
        world(world_piece(std::vector<Spot>(4, {150, 10, 6}), std::vector<Spot>(4, {150, -30})), world_mount());
    const auto line = line_of(job);
    EXPECT_EQ(*FlangeFace::of(job.skirt.pieces[0], line)->flat_from_mm(millimetres(10)), 0.0);
}

TEST(FlangeFace, SaysWhatABendLacks) {
    Job job = flat_world();
    Piece& piece = job.skirt.pieces[0];
    const auto line = line_of(job);
    EXPECT_TRUE(FlangeFace::of(piece, line)->missing_for_bend().empty());
    piece.flange.making = FlangeMaking::bent_after;
    EXPECT_EQ(FlangeFace::of(piece, line)->missing_for_bend().size(), 1U);
    piece.sheet.reset();
    EXPECT_EQ(FlangeFace::of(piece, line)->missing_for_bend().size(), 2U);
}

// By hand: drawn outside; 3 thick up to the root, 1.8 at the end: the inside face falls from 13 to 11.8 over 40.
TEST(FlangeFace, InsideOfALineDrawnOutsideIsAsFarOffAsItIsFormed) {
    Job job = flat_world();
    job.skirt.pieces[0].drawn_face = DrawnFace::outside;
    const auto line = line_of(job);
    const auto formed = hand_formed(2.0, 3.0);
    const auto face = FlangeFace::of(job.skirt.pieces[0], line, formed.get());
    const auto section = face->at(millimetres(333));
    EXPECT_NEAR(section->root_mm.y(), 13.0, k_rounding);
    EXPECT_NEAR(section->end_mm.y(), 11.8, k_rounding);
    EXPECT_NEAR(section->length_mm, std::hypot(40.0, 1.2), k_rounding);
    EXPECT_NEAR(*face->height_mm({333, 130, 12.4}), 0.0, k_rounding);
    EXPECT_EQ(face->formed(), formed.get());
    // A line drawn inside is the inside, whatever the thickness.
    job.skirt.pieces[0].drawn_face = DrawnFace::inside;
    EXPECT_NEAR(FlangeFace::of(job.skirt.pieces[0], line, formed.get())->at(millimetres(333))->end_mm.y(), 10.0,
                k_rounding);
}

}  // namespace
}  // namespace sillwright::core
