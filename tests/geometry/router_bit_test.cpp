#include "geometry/router_bit.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <ostream>
#include <string>

namespace sillwright::geometry {
namespace {

RouterBit round_nose(double diameter) {
    return {BitShape::round_nose, millimetres(diameter), {}, {}, {}};
}
RouterBit flat(double diameter, double corner = 0.0) {
    return {BitShape::flat, millimetres(diameter), {}, millimetres(corner), {}};
}
RouterBit vee(double diameter, double angle_deg, double point = 0.0, double cut_off = 0.0) {
    return {BitShape::vee, millimetres(diameter), degrees(angle_deg), millimetres(point), millimetres(cut_off)};
}

struct Cut {
    std::string name;
    RouterBit bit;
    double depth, width, mouth_deg;
};
void PrintTo(const Cut& cut, std::ostream* out) {
    *out << cut.name;
}

class BitCut : public testing::TestWithParam<Cut> {};

TEST_P(BitCut, IsAsWideAsByHand) {
    const Cut& cut = GetParam();
    EXPECT_NEAR(in_mm(cut_width(cut.bit, millimetres(cut.depth))), cut.width, 5e-4);
    EXPECT_NEAR(in_deg(mouth_angle(cut.bit, millimetres(cut.depth))), cut.mouth_deg, 5e-4);
}

// The job as shops do it (a 24 round nose reaches 24 at a depth of 12; at 6 just 20.8); the rest by hand from right
// triangles: half chord sqrt(r² - (r - d)²), flanks tan 30° = 0.57735, 60° V with a point of radius 2: tangent at a
// height of 2 (1 - sin 30°) = 1, half width 2 cos 30° = 1.73205.
INSTANTIATE_TEST_SUITE_P(
    ByHand, BitCut,
    testing::Values(Cut{"round nose 24, full at 12", round_nose(24), 12, 24, 90},
                    Cut{"round nose 24, 20.8 at 6", round_nose(24), 6, 20.7846, 60},
                    Cut{"round nose 24, no more below", round_nose(24), 15, 24, 90},
                    Cut{"round nose 10, 3-4-5", round_nose(10), 2, 8, 53.1301}, Cut{"flat 16", flat(16), 0.5, 16, 90},
                    Cut{"flat 16 corners 5, 3-4-5", flat(16, 5), 2, 6 + 8, 53.1301},
                    Cut{"flat 16 corners 5, full", flat(16, 5), 5, 16, 90}, Cut{"V 60", vee(20, 60), 10, 11.5470, 60},
                    Cut{"V 90", vee(20, 90), 5, 10, 45}, Cut{"V 90, full", vee(20, 90), 12, 20, 90},
                    Cut{"V 60, round point, in it", vee(20, 60, 2), 0.5, 2.6458, 41.4096},
                    Cut{"V 60, round point, beyond", vee(20, 60, 2), 4, 2 * (1.7320508 + 3 * 0.5773503), 60},
                    Cut{"V 90, point cut off", vee(20, 90, 0, 3), 4, 11, 45}, Cut{"no cut", round_nose(24), 0, 0, 0}));

class BitDepth : public testing::TestWithParam<RouterBit> {};

TEST_P(BitDepth, GivesTheWidthBack) {
    const RouterBit bit = GetParam();
    for (const double depth : {0.2, 0.9, 1.7, 3.0}) {
        const Length width = cut_width(bit, millimetres(depth));
        const auto back = depth_for_width(bit, width);
        ASSERT_TRUE(back) << depth;
        EXPECT_LE(in_mm(*back), depth + 1e-9) << "the least depth that gives it";
        EXPECT_NEAR(in_mm(cut_width(bit, *back + millimetres(1e-9))), in_mm(width), 1e-3);
    }
}
INSTANTIATE_TEST_SUITE_P(All, BitDepth,
                         testing::Values(round_nose(8), flat(8, 2), vee(20, 60), vee(20, 90, 1.5), vee(12, 90, 0, 2)));

TEST(RouterBitTest, SaysWhatItCannotCut) {
    EXPECT_FALSE(depth_for_width(round_nose(12), millimetres(12.1)));
    EXPECT_FALSE(depth_for_width(flat(12, 2), millimetres(7.9))) << "8 wide at once";
    EXPECT_FALSE(depth_for_width(vee(12, 60), millimetres(0)));
    EXPECT_NEAR(in_mm(*depth_for_width(flat(12), millimetres(12))), 0.0, 1e-12);
    EXPECT_NEAR(in_mm(*depth_for_width(round_nose(24), millimetres(24))), 12.0, 1e-9);
}

TEST(RouterBitTest, WidthGrowsWithDepthAndNeverPassesTheDiameter) {
    for (const RouterBit& bit : {round_nose(12), flat(12, 3), vee(12, 60, 1), vee(12, 90, 0, 2)}) {
        Length before;
        for (double depth = 0.05; depth < 15; depth += 0.05) {
            const Length width = cut_width(bit, millimetres(depth));
            EXPECT_GE(width, before);
            EXPECT_LE(in_mm(width), 12.0 + 1e-12);
            before = width;
        }
    }
}

TEST(RouterBitTest, LeavesItsRadiusAtTheBottom) {
    EXPECT_EQ(in_mm(bottom_radius(round_nose(24))), 12.0);
    EXPECT_EQ(in_mm(bottom_radius(flat(24))), 0.0);
    EXPECT_EQ(in_mm(bottom_radius(flat(24, 3))), 3.0);
    EXPECT_EQ(in_mm(bottom_radius(vee(24, 60, 1))), 1.0);
    EXPECT_EQ(in_mm(bottom_radius(vee(24, 60, 1, 2))), 0.0) << "its point is cut off";
}

// Published for a core-box bit: R = 6, step 2: 0.0839; bush 24 with a bit of 6: (24 - 6) / 2 = 9.
TEST(RouterBitTest, ScallopsAndBushes) {
    EXPECT_NEAR(in_mm(scallop_height(millimetres(6), millimetres(2))), 0.0839, 5e-5);
    EXPECT_NEAR(in_mm(scallop_height(millimetres(6), millimetres(14))), 6.0, 1e-12);
    EXPECT_NEAR(in_mm(bush_offset(millimetres(24), millimetres(6))), 9.0, 1e-12);
}

// No pass deeper than half the radius: 12 in radius takes 6 at once.
TEST(RouterBitTest, CountsPasses) {
    const auto count = [](double depth, double radius, double share) {
        return passes(millimetres(depth), millimetres(radius), share);
    };
    EXPECT_EQ(count(6, 12, 0.5), 1);
    EXPECT_EQ(count(6.1, 12, 0.5), 2);
    EXPECT_EQ(count(12, 12, 0.5), 2);
    EXPECT_EQ(count(0.3 * 3, 1, 0.3), 3) << "not one more for rounding";
    EXPECT_EQ(count(0, 12, 0.5), 0);
}

}  // namespace
}  // namespace sillwright::geometry
