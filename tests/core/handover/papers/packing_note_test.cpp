#include "core/handover/papers/packing_note.h"

#include <gmock/gmock.h>

#include "core/handover/packing.h"
#include "core/number_text.h"
#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using paper_world::all_text;
using paper_world::value_of;
using testing::HasSubstr;

TEST(PackingNote, HasTheNumbersOfTheBox) {
    const Evaluation& evaluation = paper_world::estate_a();
    const auto paper = packing_note(evaluation);
    ASSERT_TRUE(paper);
    paper_world::expect_sound(*paper);
    const Packing packed = packing(evaluation.job, evaluation.car).at(0);
    EXPECT_EQ(value_of(*paper, "longest side"), mm_text(packed.longest, 0));
    EXPECT_EQ(value_of(*paper, "length and girth"), mm_text(packed.length_and_girth, 0));
    EXPECT_EQ(value_of(*paper, "mass that the box's size counts as"), fixed_text(packed.volumetric_kg, 1) + " kg");
    EXPECT_THAT(value_of(*paper, "mass of the part"), HasSubstr(fixed_text(*packed.part_kg, 2) + " kg"));
    EXPECT_THAT(value_of(*paper, "the carrier takes, length and girth"), HasSubstr("not entered"));
    EXPECT_EQ(paper_world::cell_of(*paper, {"push clip 6, 1 spare among them"}, "count"), "10");
    EXPECT_THAT(all_text(*paper), HasSubstr("Write on the box: RIGHT SIDE, skirt, revision C."));
}

TEST(PackingNote, TellsWhatTheCarrierDoesNotTake) {
    Evaluation evaluation = paper_world::estate_a();
    evaluation.job.papers.longest = Entry{geometry::millimetres(1750.0), ""};
    evaluation.findings = packing_findings(evaluation.job, evaluation.car, packing(evaluation.job, evaluation.car));
    EXPECT_THAT(all_text(*packing_note(evaluation)), HasSubstr("longest side, falls short: The box of skirt is "));
}

TEST(PackingNote, TurnsEitherHandTheRightWay) {
    // Drawn with out to the right: as a left-hand part is seen from the front.
    EXPECT_THAT(turn_words(Side::left, geometry::degrees(30.0)),
                HasSubstr("by 30°, anticlockwise as seen from its front"));
    EXPECT_THAT(turn_words(Side::left, geometry::degrees(-30.0)), HasSubstr("by 30°, clockwise"));
    EXPECT_THAT(turn_words(Side::right, geometry::degrees(30.0)), HasSubstr("by 30°, clockwise"));
    EXPECT_THAT(turn_words(Side::right, geometry::degrees(-30.0)), HasSubstr("by 30°, anticlockwise"));
    EXPECT_EQ(turn_words(Side::right, geometry::degrees(0.1)), "as it stands on the car");
}

TEST(PackingNote, IsNotThereWithoutABody) {
    EXPECT_FALSE(packing_note(Evaluation{}));
}

}  // namespace
}  // namespace sillwright::core
