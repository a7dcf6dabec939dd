#include "geometry/svg_file.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <limits>
#include <string>

namespace sillwright::geometry {
namespace {

using testing::HasSubstr;

std::string svg_of(DrawnShape shape) {
    return svg_text({{{"CUT_OUTSIDE", 1}}, {{"CUT_OUTSIDE", std::move(shape)}}}).value();
}

TEST(SvgFile, IsInMillimetresWithUpAsUp) {
    const std::string text = svg_of(DrawnLine{{10, 20}, {110, 70}});
    EXPECT_THAT(text, HasSubstr("width=\"102mm\" height=\"52mm\" viewBox=\"9 -71 102 52\""));
    EXPECT_THAT(text, HasSubstr("<path d=\"M10 -20L110 -70\"/>"));
    EXPECT_THAT(text, HasSubstr("<g id=\"CUT_OUTSIDE\" fill=\"none\" stroke=\"#c00000\" stroke-width=\"0.2\">"));
}

// By the standard, 8.3.8: the sweep flag is 1 where the angle grows, which is clockwise with y downward.
TEST(SvgFile, ArcsAreTrue) {
    EXPECT_THAT(svg_of(DrawnChain{{{{0, 0}, 1.0}, {{10, 0}, -0.5}, {{20, 0}, 0.0}}, false}),
                HasSubstr("d=\"M0 0A5 5 0 0 0 10 0A6.25 6.25 0 0 1 20 0\""));
    EXPECT_THAT(svg_of(DrawnArc{{0, 0}, millimetres(8), {}, radians(4.0)}), HasSubstr("A8 8 0 1 0 "));
    EXPECT_THAT(svg_of(DrawnCircle{{3, 4}, millimetres(2.5)}), HasSubstr("<circle cx=\"3\" cy=\"-4\" r=\"2.5\"/>"));
}

TEST(SvgFile, AClosedChainComesBack) {
    EXPECT_THAT(svg_of(DrawnChain{{{{0, 0}}, {{10, 0}}, {{10, 5}, 1.0}}, true}), HasSubstr("M0 0L10 0L10 -5A"));
    EXPECT_THAT(svg_of(DrawnChain{{{{0, 0}}, {{10, 0}}, {{10, 5}}}, true}), HasSubstr("d=\"M0 0L10 0L10 -5Z\""));
}

TEST(SvgFile, WritingIsEscapedAndTurned) {
    const std::string text = svg_of(DrawnText{{10, 20}, millimetres(7.2), radians(0.0), "R&D <\xC2\xB0>"});
    EXPECT_THAT(text, HasSubstr("<text x=\"10\" y=\"-20\" font-size=\"10\">R&amp;D &lt;\xC2\xB0&gt;</text>"));
    EXPECT_THAT(svg_of(DrawnText{{10, 20}, millimetres(5), radians(3.141592653589793 / 2.0), "A"}),
                HasSubstr("transform=\"rotate(-90 10 -20)\""));
    EXPECT_THAT(svg_of(DrawnText{{10, 20}, millimetres(5), {}, "A", TextPlace::middle}), HasSubstr("y=\"-17.5\""));
}

TEST(SvgFile, LayersAreGroupsInTheirOrder) {
    const std::string text =
        svg_text({{{"DRILL", 4}, {"NOTE", 7}}, {{"NOTE", DrawnPoint{{0, 0}}}, {"DRILL", DrawnPoint{{5, 5}}}}}).value();
    const auto drill = text.find("<g id=\"DRILL\"");
    const auto note = text.find("<g id=\"NOTE\"");
    ASSERT_NE(drill, std::string::npos);
    EXPECT_LT(drill, text.find("M4 -5L6 -5"));
    EXPECT_LT(text.find("M4 -5L6 -5"), note);
    EXPECT_LT(note, text.find("M-1 0L1 0"));
}

TEST(SvgFile, RefusesWhatCannotBeDrawn) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto text = svg_text({{{"NOTE", 7}}, {{"NOTE", DrawnPoint{{nan, 0}}}}});
    ASSERT_FALSE(text);
    EXPECT_EQ(text.error().code, ErrorCode::invalid_argument);
    EXPECT_THAT(text.error().message, HasSubstr("Entity 1 on layer \"NOTE\""));
}

TEST(SvgFile, AnEmptyDrawingIsAFile) {
    EXPECT_THAT(svg_text({}).value(), HasSubstr("</svg>"));
}

}  // namespace
}  // namespace sillwright::geometry
