#include "geometry/kernel/strip_surfaces.h"

#include <gtest/gtest.h>

#include <cmath>

#include "geometry/sheet_ring.h"
#include "tests/support/example_lofts.h"

namespace sillwright::geometry {
namespace {

RingBody sheet(const Loft& loft) {
    const SheetFaces faces{millimetres(1.5), millimetres(-2.5)};
    return sheet_ring(loft, faces, layout_of_sheet(loft, faces, millimetres(0.02)).value()).value();
}

/// A strip's control points from the cubics between two rows.
StripControl on_cubic(const ControlRow& a, const ControlRow& b, std::size_t strip, double t) {
    const double h = b.along_mm - a.along_mm;
    const double s = 1.0 - t;
    return s * s * (1.0 + 2.0 * t) * a.value[strip] + t * t * (3.0 - 2.0 * t) * b.value[strip] +
           h * s * s * t * a.slope[strip] - h * t * t * s * b.slope[strip];
}

TEST(StripPieces, FollowTheLoftWithinTheirFit) {
    constexpr double k_fit_mm = 0.005;
    for (const Loft& loft : {examples::skirt(), examples::fluted_skirt(), examples::awkward()}) {
        const RingBody body = sheet(loft);
        const auto pieces = strip_pieces(body, millimetres(k_fit_mm)).value();
        EXPECT_EQ(pieces.front().rows.front().along_mm, in_mm(loft.front()));
        EXPECT_EQ(pieces.back().rows.back().along_mm, in_mm(loft.rear()));
        std::vector<StripCurve> curves;
        double worst = 0.0;
        for (const StripPiece& piece : pieces) {
            for (std::size_t row = 0; row + 1 < piece.rows.size(); ++row) {
                const ControlRow& a = piece.rows[row];
                const ControlRow& b = piece.rows[row + 1];
                for (int k = 0; k <= 20; ++k) {
                    const double t = k / 20.0;
                    ASSERT_TRUE(body.curves(millimetres(std::lerp(a.along_mm, b.along_mm, t)), curves).has_value());
                    for (std::size_t i = 0; i < curves.size(); ++i) {
                        const StripControl c = on_cubic(a, b, i, t);
                        worst = std::max(worst, (c.col(0).segment<2>(1) - curves[i].from_mm).norm());
                        worst = std::max(worst, (c.col(2).segment<2>(1) - curves[i].to_mm).norm());
                        EXPECT_NEAR(c(0, 0), std::lerp(a.along_mm, b.along_mm, t), 1e-6);
                    }
                }
            }
        }
        // Between the probes a kink may stand off by a quarter more (ring_mesh.h).
        EXPECT_LE(worst, 1.25 * k_fit_mm);
    }
}

TEST(StripPieces, AreCutWhereAWidthBeginsOrEnds) {
    const RingBody body = sheet(examples::fluted_skirt());
    const auto pieces = strip_pieces(body, millimetres(0.005)).value();
    EXPECT_GE(pieces.size(), 4U);  // three run-out places
    std::vector<StripCurve> curves;
    for (const StripPiece& piece : pieces) {
        const double from = piece.rows.front().along_mm;
        const double to = piece.rows.back().along_mm;
        for (int k = 1; k < 50; ++k) {
            ASSERT_TRUE(body.curves(millimetres(std::lerp(from, to, k / 50.0)), curves).has_value());
            for (std::size_t i = 0; i < curves.size(); ++i) {
                EXPECT_EQ((curves[i].to_mm - curves[i].from_mm).norm() > 1e-7, piece.has_width[i])
                    << "strip " << i << " between " << from << " and " << to;
            }
        }
    }
}

TEST(StripPieces, PlainBodyHasOnePieceAndFewRows) {
    const auto pieces = strip_pieces(sheet(examples::skirt()), millimetres(0.01)).value();
    ASSERT_EQ(pieces.size(), 1U);
    EXPECT_LE(pieces.front().rows.size(), 17U);  // nine stations, at most one row between two
}

}  // namespace
}  // namespace sillwright::geometry
