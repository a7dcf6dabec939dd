#include "core/handover/papers/hole_sheet.h"

#include <gmock/gmock.h>

#include "core/handover/papers/hole_words.h"
#include "core/number_text.h"
#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using paper_world::all_text;
using paper_world::cell_of;
using testing::HasSubstr;

TEST(HoleSheet, HasTheNumbersOfThePlanAndTheFindings) {
    const Evaluation& evaluation = paper_world::estate_a();
    const auto paper = hole_sheet(evaluation);
    ASSERT_TRUE(paper);
    paper_world::expect_sound(*paper);
    for (const HolePlan& hole : evaluation.plan.holes) {
        EXPECT_EQ(cell_of(*paper, {hole.mount}, "along, mm"), fixed_text(hole.landing.p_mm.x(), 1));
        EXPECT_EQ(cell_of(*paper, {hole.mount}, "out, mm"), fixed_text(hole.landing.p_mm.y(), 1));
        EXPECT_EQ(cell_of(*paper, {hole.mount}, "from the locator, mm"), fixed_text(hole.from_locator_mm, 1));
        EXPECT_EQ(cell_of(*paper, {hole.mount}, "to the edge, mm"),
                  fixed_text(*find_finding(evaluation.findings, "mounts/" + hole.mount + "/edge")->found, 1));
        EXPECT_EQ(cell_of(*paper, {hole.mount}, "to the bend, mm"),
                  fixed_text(*find_finding(evaluation.findings, "mounts/" + hole.mount + "/bend")->found, 1));
    }
    EXPECT_EQ(cell_of(*paper, {"H1"}, "cut, length × width, mm"), "19.5 × 11.0");  // of the job
    EXPECT_EQ(cell_of(*paper, {"H1"}, "centre moved rearward, mm"), "0.5");
    EXPECT_EQ(cell_of(*paper, {"H1"}, "grip, mm"), "3.0 to 4.5");
    EXPECT_EQ(cell_of(*paper, {"H1"}, "stack, mm"), "3.69 ± 0.29");  // as its finding has it
    EXPECT_EQ(cell_of(*paper, {evaluation.plan.locator}, "what it is"), "LOCATOR");
    EXPECT_THAT(all_text(*paper), HasSubstr("Set out everything from " + evaluation.plan.locator + ", the locator"));
    EXPECT_EQ(paper_world::figures(*paper, FigureKind::flange).size(), 1U);
}

TEST(HoleSheet, HasTheBendWhereItIsMadeAfter) {
    Job job = paper_world::sample_job("estate_a");
    job.skirt.pieces[0].flange.making = FlangeMaking::bent_after;
    const auto evaluation = paper_world::evaluated(job);
    const auto paper = hole_sheet(*evaluation);
    ASSERT_TRUE(paper);
    const Finding* const bend = find_finding(evaluation->findings, "sections/skirt/flange");
    ASSERT_NE(bend, nullptr);
    for (const Input& input : bend->inputs) {
        EXPECT_EQ(paper_world::value_of(*paper, input.name), input.value);
    }
    EXPECT_NE(paper_world::value_of(*paper, "bend allowance"), "");
    EXPECT_NE(paper_world::value_of(*paper, "bend to"), "");
}

TEST(HoleSheet, SaysThatNothingIsDrilledWithoutALocator) {
    Evaluation evaluation = paper_world::estate_a();
    for (HolePlan& hole : evaluation.plan.holes) {
        hole.role = HoleRole::clearance;
    }
    const auto paper = hole_sheet(evaluation);
    EXPECT_THAT(all_text(*paper), HasSubstr("No locator is chosen"));
    EXPECT_EQ(cell_of(*paper, {"H1"}, "from the locator, mm"), "");
}

TEST(HoleSheet, IsNotThereWithoutAHole) {
    EXPECT_FALSE(hole_sheet(Evaluation{}));
}

}  // namespace
}  // namespace sillwright::core
