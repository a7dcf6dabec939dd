#include "geometry/dxf_older.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

namespace sillwright::geometry {
namespace {

using testing::HasSubstr;
using testing::Not;

Drawing one(DrawnShape shape) {
    return {{{"CUT_OUTSIDE", 1}}, {{"CUT_OUTSIDE", std::move(shape)}}};
}

TEST(DxfOlder, AChainIsAPolylineOfVertices) {
    const std::string text = older_dxf_text(one(DrawnChain{{{{0, 0}, 0.25}, {{10, 0}, 0.0}, {{10, 5}, -1.0}}, true}));
    EXPECT_THAT(text, HasSubstr("0\nPOLYLINE\n8\nCUT_OUTSIDE\n66\n1\n10\n0.0\n20\n0.0\n30\n0.0\n70\n1\n"
                                "0\nVERTEX\n8\nCUT_OUTSIDE\n10\n0.0\n20\n0.0\n30\n0.0\n42\n0.25\n"
                                "0\nVERTEX\n8\nCUT_OUTSIDE\n10\n10.0\n20\n0.0\n30\n0.0\n"
                                "0\nVERTEX\n8\nCUT_OUTSIDE\n10\n10.0\n20\n5.0\n30\n0.0\n42\n-1.0\n"
                                "0\nSEQEND\n8\nCUT_OUTSIDE\n"));
    EXPECT_THAT(text, Not(HasSubstr("LWPOLYLINE")));
    EXPECT_THAT(older_dxf_text(one(DrawnChain{{{{0, 0}}, {{10, 0}}}, false})), HasSubstr("\n70\n0\n0\nVERTEX"));
}

TEST(DxfOlder, NothingOfLaterReleasesIsInIt) {
    const std::string text = older_dxf_text(one(DrawnCircle{{3, 4}, millimetres(5)}));
    EXPECT_THAT(text, HasSubstr("9\n$ACADVER\n1\nAC1009\n"));
    EXPECT_THAT(text, HasSubstr("9\n$HANDLING\n70\n0\n"));
    EXPECT_THAT(text, HasSubstr("9\n$EXTMAX\n10\n8.0\n20\n9.0\n"));
    for (const char* later : {"AcDb", "$INSUNITS", "CLASSES", "OBJECTS", "BLOCK_RECORD", "\n330\n", "$HANDSEED"}) {
        EXPECT_THAT(text, Not(HasSubstr(later))) << later;
    }
}

TEST(DxfOlder, WritingInTheMiddleHasItsPlaceTwice) {
    const std::string text =
        older_dxf_text(one(DrawnText{{1, 2}, millimetres(5), degrees(90), "R3", TextPlace::middle}));
    EXPECT_THAT(text, HasSubstr("\n1\nR3\n50\n90.0\n72\n1\n73\n2\n11\n1.0\n21\n2.0\n"));
}

TEST(DxfOlder, ArcsRunAnticlockwise) {
    const std::string text = older_dxf_text(one(DrawnArc{{0, 0}, millimetres(3), degrees(90), degrees(-90)}));
    EXPECT_THAT(text, HasSubstr("\n40\n3.0\n50\n0.0\n51\n90.0\n"));
}

}  // namespace
}  // namespace sillwright::geometry
