#include "core/mounts/clearance_rules.h"

#include <gtest/gtest.h>

#include <ostream>

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

constexpr double k_rounding = 1e-12;

// ISO 273 as tabled at engineeringhardware.com.
struct ClearanceCase {
    double screw, fine, medium, coarse;
};

void PrintTo(const ClearanceCase& one, std::ostream* out) {
    *out << "M" << one.screw;
}

class ClearanceHole : public testing::TestWithParam<ClearanceCase> {};

TEST_P(ClearanceHole, AsInTheStandard) {
    const auto [screw, fine, medium, coarse] = GetParam();
    EXPECT_NEAR(in_mm(*clearance_hole(millimetres(screw), HoleFit::fine)), fine, k_rounding);
    EXPECT_NEAR(in_mm(*clearance_hole(millimetres(screw), HoleFit::medium)), medium, k_rounding);
    EXPECT_NEAR(in_mm(*clearance_hole(millimetres(screw), HoleFit::coarse)), coarse, k_rounding);
    EXPECT_NEAR(in_mm(close_hole(millimetres(screw))), fine, k_rounding);
}

INSTANTIATE_TEST_SUITE_P(Iso273, ClearanceHole,
                         testing::Values(ClearanceCase{4, 4.3, 4.5, 4.8}, ClearanceCase{5, 5.3, 5.5, 5.8},
                                         ClearanceCase{6, 6.4, 6.6, 7.0}, ClearanceCase{7, 7.4, 7.6, 8.0},
                                         ClearanceCase{8, 8.4, 9.0, 10.0}, ClearanceCase{10, 10.5, 11.0, 12.0},
                                         ClearanceCase{12, 13.0, 13.5, 14.5}));

TEST(ClearanceRules, NoHoleForAScrewThatIsNotInTheTable) {
    EXPECT_FALSE(clearance_hole(millimetres(4.8), HoleFit::fine));
    EXPECT_FALSE(clearance_hole(millimetres(14), HoleFit::coarse));
}

TEST(ClearanceRules, CloseHoleIsWiderThanAnyShankAndGrowsWithIt) {
    double before = 0.0;
    for (double shank = 2.0; shank < 16.0; shank += 0.1) {
        const double hole = in_mm(close_hole(millimetres(shank)));
        EXPECT_GE(hole - shank, 0.3 - k_rounding) << shank;
        EXPECT_GT(hole, before) << shank;
        before = hole;
    }
}

// The formulas of ASME Y14.5-2009 Appendix B with M6 in ISO 273's medium hole, 6.6: T = H - F floating, T = (H - F)/2
// fixed, and T1 = 0.20 where the body hole has T2 = 0.40.
TEST(ClearanceRules, FloatingAndFixedFasteners) {
    const Length screw = millimetres(6.0);
    EXPECT_NEAR(in_mm(floating_hole(screw, millimetres(0.60))), 6.6, k_rounding);
    EXPECT_NEAR(in_mm(fixed_hole(screw, millimetres(0.30), millimetres(0.30))), 6.6, k_rounding);
    EXPECT_NEAR(in_mm(fixed_hole(screw, millimetres(0.20), millimetres(0.40))), 6.6, k_rounding);
}

// Shop use of the same: body holes known within +-1.0, drilling within +-0.5, a fixed nut M6.
TEST(ClearanceRules, FixedNutOfAShop) {
    EXPECT_NEAR(in_mm(fixed_hole(millimetres(6), millimetres(1.0), millimetres(2.0))), 9.0, k_rounding);
}

// F = 6, T1 = T2 = 0.3, P = 3, D = 6: H = 6 + 0.3 + 0.3 (1 + 1) = 6.9 (formula from memory of ASME Y14.5, B.5).
TEST(ClearanceRules, TiltThroughTheStack) {
    const Length tolerance = millimetres(0.3);
    EXPECT_NEAR(in_mm(fixed_hole(millimetres(6), tolerance, tolerance, millimetres(3), millimetres(6))), 6.9,
                k_rounding);
    EXPECT_NEAR(in_mm(fixed_hole(millimetres(6), tolerance, tolerance, Length{}, millimetres(6))),
                in_mm(fixed_hole(millimetres(6), tolerance, tolerance)), k_rounding);
}

}  // namespace
}  // namespace sillwright::core
