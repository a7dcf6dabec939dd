#include "geometry/nest_check.h"

#include <gtest/gtest.h>

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;

Polygon box(double x, double y, double length, double width) {
    return {{x, y}, {x + length, y}, {x + length, y + width}, {x, y + width}};
}

SheetToCheck sheet_of(std::vector<Polygon> outlines) {
    return {{100, 50}, millimetres(5), millimetres(4), {}, std::move(outlines)};
}

TEST(NestCheck, PassesWhatKeepsExactlyWhatItMust) {
    EXPECT_FALSE(sheet_fault(sheet_of({box(5, 5, 40, 40), box(49, 5, 46, 40)})));
}

TEST(NestCheck, NamesTheFault) {
    EXPECT_NE(sheet_fault(sheet_of({box(5, 5, 40, 40), box(48.9, 5, 40, 40)})).value().find("0 and 1"),
              std::string::npos);
    EXPECT_NE(sheet_fault(sheet_of({box(4.9, 5, 40, 40)})).value().find("edge"), std::string::npos);
    EXPECT_TRUE(sheet_fault(sheet_of({box(5, 5, 40, 40.1)})));
    EXPECT_TRUE(sheet_fault(sheet_of({box(5, 5, 90, 40), box(30, 20, 5, 5)}))) << "one inside the other";
    EXPECT_TRUE(sheet_fault(sheet_of({box(30, 20, 5, 5), box(5, 5, 90, 40)})));
    EXPECT_TRUE(sheet_fault(sheet_of({box(5, 20, 90, 5), box(40, 5, 5, 40)}))) << "a cross";
    EXPECT_TRUE(sheet_fault(sheet_of({box(5, 5, 40, 40), box(5, 5, 40, 40)}))) << "one on the other";
}

TEST(NestCheck, KeepsTheMarginOfADefect) {
    SheetToCheck sheet = sheet_of({box(5, 5, 40, 40)});
    sheet.defects = {{Vector2d(50, 10), Vector2d(60, 20)}};
    EXPECT_FALSE(sheet_fault(sheet));
    sheet.defects = {{Vector2d(49.9, 10), Vector2d(60, 20)}};
    EXPECT_NE(sheet_fault(sheet).value().find("defect 0"), std::string::npos);
    sheet.defects = {{Vector2d(20, 20), Vector2d(21, 21)}};
    EXPECT_TRUE(sheet_fault(sheet)) << "within the part";
    sheet.margin = {};
    EXPECT_TRUE(sheet_fault(sheet)) << "even without a margin";
}

TEST(NestCheck, MeasuresDistances) {
    // Closed forms.
    EXPECT_DOUBLE_EQ(ring_distance_mm(box(0, 0, 10, 10), box(13, 14, 5, 5), 100), 5.0);
    EXPECT_DOUBLE_EQ(ring_distance_mm(box(0, 0, 10, 10), box(5, 5, 10, 10), 100), 0.0);
    EXPECT_DOUBLE_EQ(ring_distance_mm(box(0, 0, 10, 10), box(4, 4, 2, 2), 100), 4.0);
    EXPECT_TRUE(inside_ring(box(0, 0, 10, 10), {5, 5}));
    EXPECT_FALSE(inside_ring(box(0, 0, 10, 10), {15, 5}));
}

}  // namespace
}  // namespace sillwright::geometry
