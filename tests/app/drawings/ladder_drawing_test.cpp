#include "app/drawings/ladder_drawing.h"

#include "tests/app/drawings/formed_skirt.h"
#include "tests/app/drawings/readable.h"

namespace sillwright::app {
namespace {

TEST(LadderDrawing, CanBeReadOnSmallAndLargeSheets) {
    LadderDrawing drawing;
    drawing.set_picture(length_ladder());
    for (const QSizeF& size : {QSizeF(drawing.minimumSizeHint()), QSizeF(1300.0, 640.0)}) {
        SCOPED_TRACE(std::to_string(size.width()));
        expect_readable(drawing.compose(size));
    }
    EXPECT_LE(drawing.minimumSizeHint().width(), 800) << "beside the findings of the smallest screen";
}

TEST(LadderDrawing, HasARungForEverySizeFromPartToBuck) {
    LadderDrawing drawing;
    drawing.set_picture(length_ladder());
    const Composition made = drawing.compose({830.0, 420.0});
    double above = 0.0;
    for (const LadderRung& rung : drawing.picture().rungs) {
        const auto found = std::find_if(made.writings().begin(), made.writings().end(), [&](const auto& one) {
            return one.text == QString::fromStdString(rung.generation);
        });
        ASSERT_NE(found, made.writings().end()) << rung.generation;
        EXPECT_GT(found->box.top(), above);
        above = found->box.top();
    }
    for (const char* end : {"1900.24 ± 2.84", "1911.03 ± 0.60"}) {
        const auto* number = writing_of(made, end);
        ASSERT_NE(number, nullptr) << end;
        EXPECT_GE(number->look.pixels, looks::k_number) << "what is drawn, and what is cut, matter most";
    }
    EXPECT_EQ(times_written(made, "measured 1908.90 (−0.47)"), 1);
    EXPECT_EQ(times_written(made, "measured 1913.10 (−0.29)"), 1);
}

TEST(LadderDrawing, WhatIsAssumedIsSlantedAndWhatWasMeasuredIsNot) {
    LadderDrawing drawing;
    drawing.set_picture(length_ladder());
    const Composition made = drawing.compose({830.0, 420.0});
    const auto* assumed = writing_of(made, "shrank 0.60 % along, assumed");
    ASSERT_NE(assumed, nullptr);
    EXPECT_TRUE(assumed->look.italic);
    const auto* measured = writing_of(made, "shrank 0.21 % along");
    ASSERT_NE(measured, nullptr);
    EXPECT_FALSE(measured->look.italic);
    EXPECT_FALSE(measured->text.contains("assumed"));
}

TEST(LadderDrawing, DrawsWhatIsSeen) {
    LadderDrawing drawing;
    drawing.set_picture(length_ladder());
    expect_drawn_as_seen(drawing, {830, 420});
}

}  // namespace
}  // namespace sillwright::app
