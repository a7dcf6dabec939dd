#include "core/handover/papers/paint_note.h"

#include <gmock/gmock.h>

#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using paper_world::all_text;
using testing::HasSubstr;
using testing::Not;

TEST(PaintNote, HasFilmMasksOvenAndHooks) {
    const Evaluation& evaluation = paper_world::estate_a();
    const auto paper = paint_note(evaluation);
    ASSERT_TRUE(paper);
    paper_world::expect_sound(*paper);
    EXPECT_EQ(paper_world::value_of(*paper, "film on the outside"), "0.12 mm");
    const std::string text = all_text(*paper);
    EXPECT_THAT(text, HasSubstr("no hotter than 70 °C"));
    // 1900 mm by 90e-6/K from 20 to 70 °C.
    EXPECT_THAT(text, HasSubstr("8.6 mm longer"));
    EXPECT_THAT(text, HasSubstr("hang it by its flange from H1 (19.5 × 11.0 mm) and H9"));
    EXPECT_THAT(text, HasSubstr("where the tape goes"));
}

TEST(PaintNote, LeavesTheOvenToTheMakerOfAnotherSheet) {
    Evaluation evaluation = paper_world::estate_a();
    evaluation.job.skirt.material.name = "PP";
    const std::string text = all_text(*paint_note(evaluation));
    EXPECT_THAT(text, HasSubstr("How hot PP may be baked is not in the table"));
    EXPECT_THAT(text, Not(HasSubstr("70 °C")));
}

TEST(PaintNote, IsNotThereForABarePart) {
    Evaluation evaluation = paper_world::estate_a();
    evaluation.job.skirt.paint = Entry{};
    EXPECT_FALSE(paint_note(evaluation));
    evaluation.job.skirt.paint.reset();
    ASSERT_TRUE(paint_note(evaluation));
    EXPECT_EQ(paper_world::value_of(*paint_note(evaluation), "film on the outside"), "not measured");
    EXPECT_FALSE(paint_note(Evaluation{}));
}

}  // namespace
}  // namespace sillwright::core
