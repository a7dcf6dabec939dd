#include "app/drawings/differences_drawing.h"

#include <gtest/gtest.h>

namespace sillwright::app {
namespace {

DifferencesPicture picture(std::size_t rows) {
    DifferencesPicture made;
    made.heading = "Left against right";
    made.verdict = "mirror the part";
    made.state = core::State::holds;
    for (std::size_t i = 0; i < rows; ++i) {
        made.rows.push_back({"H" + std::to_string(i + 1), {0.4, -0.2, 0.1}, 0.46, 1.2, core::State::holds, "within"});
    }
    return made;
}

TEST(DifferencesDrawing, SaysItsVerdictAndEachPoint) {
    DifferencesDrawing drawing;
    drawing.set_picture(picture(2));
    const QString said = drawing.accessibleDescription();
    EXPECT_TRUE(said.contains("mirror the part")) << said.toStdString();
    EXPECT_TRUE(said.contains("H2: 0.5 mm apart, at most 1.2")) << said.toStdString();
    EXPECT_EQ(drawing.title(), "Left against right");
}

TEST(DifferencesDrawing, IsAsHighAsItsRowsNeed) {
    DifferencesDrawing drawing;
    drawing.set_picture(picture(0));
    const int none = drawing.heightForWidth(700);
    drawing.set_picture(picture(3));
    const int three = drawing.heightForWidth(700);
    drawing.set_picture(picture(5));
    const int five = drawing.heightForWidth(700);
    EXPECT_GT(three, none);
    EXPECT_EQ((five - three) % 2, 0);
    EXPECT_GE((five - three) / 2, looks::k_text) << "a row holds its words";
}

TEST(DifferencesDrawing, DrawsTheBoundBeyondWhatWasFound) {
    DifferencesDrawing drawing;
    DifferencesPicture wide = picture(1);
    drawing.set_picture(wide);
    drawing.resize(700, drawing.heightForWidth(700));
    const QImage before = drawing.grab().toImage();
    wide.rows[0].bound_mm = 2.6;
    drawing.set_picture(wide);
    EXPECT_NE(drawing.grab().toImage(), before);
}

}  // namespace
}  // namespace sillwright::app
