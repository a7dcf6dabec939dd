#include "core/handover/papers/fitting_sheet.h"

#include <gmock/gmock.h>

#include "core/number_text.h"
#include "core/road/end_gap.h"
#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using geometry::celsius;
using geometry::in_mm;
using paper_world::all_text;
using paper_world::cell_of;
using testing::HasSubstr;
using testing::Not;

TEST(FittingSheet, IsOnePageWithItsPictures) {
    const auto paper = fitting_sheet(paper_world::estate_a());
    ASSERT_TRUE(paper);
    paper_world::expect_sound(*paper);
    EXPECT_TRUE(paper->one_page);
    EXPECT_EQ(paper_world::figures(*paper, FigureKind::drawing).size(), 1U);
    const auto sections = paper_world::figures(*paper, FigureKind::section);
    ASSERT_EQ(sections.size(), 1U);
    const Finding* tightest = nullptr;
    for (const Finding& finding : paper_world::estate_a().findings) {
        if (finding.stage == Stage::swing && (tightest == nullptr || *finding.margin < *tightest->margin)) {
            tightest = &finding;
        }
    }
    EXPECT_EQ(sections[0]->along, *tightest->place.along);
}

TEST(FittingSheet, HasOrderContentsAndLocator) {
    const Evaluation& evaluation = paper_world::estate_a();
    const auto paper = fitting_sheet(evaluation);
    const std::string text = all_text(*paper);
    EXPECT_THAT(text, HasSubstr("In the box: 1 part; 10 push clip 6 (1 spare among them). Tools: plastic trim lever"));
    EXPECT_THAT(text, Not(HasSubstr("screwdriver")));
    EXPECT_THAT(text, HasSubstr("hang it on " + evaluation.plan.locator + ", the locator"));
    EXPECT_EQ(cell_of(*paper, {"1"}, "hole"), evaluation.plan.locator);
    EXPECT_THAT(cell_of(*paper, {"1"}, "part's hole, mm"), HasSubstr("LOCATOR, round"));
    EXPECT_EQ(cell_of(*paper, {"9"}, "fastener"), "push clip 6");
    EXPECT_THAT(text, HasSubstr("between 10 and 30 °C"));
    EXPECT_THAT(text, HasSubstr("200 km"));
    EXPECT_THAT(text, HasSubstr("label NO STEP"));
}

TEST(FittingSheet, HasTheEndGapsByTemperature) {
    const Evaluation& evaluation = paper_world::estate_a();
    const auto paper = fitting_sheet(evaluation);
    for (const double c : {10.0, 15.0, 20.0, 25.0, 30.0}) {
        const auto gap = end_gap_table(evaluation.job, evaluation.car, evaluation.plan, PartEnd::rear, {celsius(c)});
        EXPECT_EQ(cell_of(*paper, {"rear end"}, fixed_text(c, 0) + " °C"), fixed_text(gap.at(0).mm, 1));
    }
    EXPECT_EQ(cell_of(*paper, {"front end"}, "20 °C"), "8.0");  // as drawn
    Evaluation without = evaluation;
    without.job.fitting.front_gap.reset();
    without.job.fitting.rear_gap.reset();
    EXPECT_THAT(all_text(*fitting_sheet(without)), HasSubstr("End gaps by temperature: not known"));
}

TEST(FittingSheet, TestsDoorsByACard) {
    const Evaluation& evaluation = paper_world::estate_a();
    const auto tests = card_tests(evaluation);
    ASSERT_EQ(tests.size(), 2U);
    const Finding* const moving = find_finding(evaluation.findings, "swing/front door/moving");
    EXPECT_EQ(tests[0].door, "front door");
    EXPECT_EQ(tests[0].card, geometry::millimetres(5.0));  // the gap asked for
    EXPECT_EQ(tests[0].opening, *moving->place.door_angle);
    // A gap that is there but less than asked for: a card no thicker than that, in halves of a millimetre.
    Evaluation tight = evaluation;
    for (Finding& finding : tight.findings) {
        if (finding.id == "swing/front door/moving") {
            finding.found = 3.8;
        }
    }
    EXPECT_NEAR(in_mm(card_tests(tight).at(0).card), 3.5, 1e-12);
    for (Finding& finding : tight.findings) {
        if (finding.id == "swing/front door/moving") {
            finding.found = -1.0;
        }
    }
    EXPECT_EQ(card_tests(tight).size(), 1U);
}

TEST(FittingSheet, NamesWhereNothingIsDrilled) {
    Evaluation evaluation = paper_world::estate_a();
    const std::string text = all_text(*fitting_sheet(evaluation));
    EXPECT_THAT(text, HasSubstr("DO NOT DRILL, and keep free: front jacking pad (330 mm to 450 mm along)"));
    EXPECT_THAT(text, HasSubstr("side sensor, pillar foot"));
    evaluation.job.keep_outs.clear();
    EXPECT_THAT(all_text(*fitting_sheet(evaluation)), HasSubstr("DO NOT DRILL anywhere."));
}

TEST(FittingSheet, SaysWhomToCallOrLeavesRoomForIt) {
    Evaluation evaluation = paper_world::estate_a();
    const auto asked = [](const Document& paper) {
        return std::get<Boxes>(paper.blocks.back()).questions.front() == "Whom to call";
    };
    evaluation.job.papers.call.clear();
    EXPECT_TRUE(asked(*fitting_sheet(evaluation)));
    evaluation.job.papers.call = "the shop, 555-0100";
    const auto paper = fitting_sheet(evaluation);
    EXPECT_FALSE(asked(*paper));
    EXPECT_THAT(all_text(*paper), HasSubstr("Questions: call the shop, 555-0100."));
}

TEST(FittingSheet, LeavesTheRulesToThePlace) {
    Evaluation evaluation = paper_world::estate_a();
    EXPECT_THAT(all_text(*fitting_sheet(evaluation)), HasSubstr("local rules and inspection decide"));
    for (Finding& finding : evaluation.findings) {
        if (finding.id == "mounts/road/edge bead") {
            finding.state = State::falls_short;
        }
    }
    EXPECT_THAT(all_text(*fitting_sheet(evaluation)), HasSubstr("1 edge falls short of it."));
    EXPECT_FALSE(fitting_sheet(Evaluation{}));
}

}  // namespace
}  // namespace sillwright::core
