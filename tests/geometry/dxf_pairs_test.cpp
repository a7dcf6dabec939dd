#include "geometry/dxf_pairs.h"

#include <gtest/gtest.h>

namespace sillwright::geometry {
namespace {

TEST(DxfPairs, ACodeAndAValueStandOnALineEach) {
    DxfPairs w;
    w.begin_section("ENTITIES");
    w.whole(70, -3);
    w.handle(5, 0xAB);
    w.point(10, {1.5, -2.0});
    w.end_section();
    EXPECT_EQ(w.take(), "0\nSECTION\n2\nENTITIES\n70\n-3\n5\nAB\n10\n1.5\n20\n-2.0\n30\n0.0\n0\nENDSEC\n");
}

// Shortest digits: 0.1 reads back from "0.1"; 2^70 is 1180591620717411303424 (by hand).
TEST(DxfPairs, NumbersAreShortAndWithoutExponent) {
    DxfPairs w;
    for (const double value : {0.1, -0.0, 1180591620717411303424.0, 1e-7}) {
        w.number(40, value);
    }
    EXPECT_EQ(w.take(), "40\n0.1\n40\n0.0\n40\n1180591620717411303424.0\n40\n0.0000001\n");
}

TEST(DxfPairs, WordsAreEscaped) {
    EXPECT_EQ(dxf_words("RIB 4"), "RIB 4");
    EXPECT_EQ(dxf_words("90\xC2\xB0"), "90\\U+00B0");
    EXPECT_EQ(dxf_words("%%c"), "\\U+0025%c");
}

TEST(DxfPairs, DegreesAreFromZeroToAFullTurn) {
    EXPECT_NEAR(degrees_from_0(-1.5707963267948966), 270.0, 1e-12);
    EXPECT_NEAR(degrees_from_0(7.853981633974483), 90.0, 1e-12);
    EXPECT_EQ(degrees_from_0(0.0), 0.0);
}

}  // namespace
}  // namespace sillwright::geometry
