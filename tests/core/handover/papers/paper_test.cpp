#include "core/handover/papers/paper.h"

#include <gmock/gmock.h>

#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

Finding finding(const std::string& id, State state, double margin) {
    Finding one;
    one.id = id;
    one.state = state;
    one.margin = margin;
    return one;
}

const PaperHead k_head{"stem", "Title", "for a reader", {Caution::near_the_sill, Caution::road_rules}, {}};

TEST(Paper, SaysWhichSideInWords) {
    Evaluation evaluation;
    evaluation.job.side = Side::left;
    const std::string left = paper_world::all_text(begun(evaluation, k_head));
    EXPECT_THAT(left, HasSubstr("LEFT SIDE: for the left-hand sill"));
    EXPECT_THAT(left, Not(HasSubstr("right")));
    evaluation.job.side = Side::right;
    const std::string right = paper_world::all_text(begun(evaluation, k_head));
    EXPECT_THAT(right, HasSubstr("RIGHT SIDE: for the right-hand sill"));
    EXPECT_THAT(right, Not(HasSubstr("left")));
}

TEST(Paper, CarriesAllThatFallsShortWorstFirst) {
    Evaluation evaluation;
    evaluation.findings = {finding("a", State::falls_short, -1.0), finding("b", State::close, 0.5),
                           finding("c", State::falls_short, -3.0), finding("d", State::not_measured, 0.0)};
    const Document paper = begun(evaluation, k_head);
    ASSERT_EQ(paper.falls_short.size(), 2U);
    EXPECT_EQ(paper.falls_short[0].id, "c");
    EXPECT_EQ(paper.falls_short[1].id, "a");
}

TEST(Paper, CarriesTheCautionsThatApply) {
    const Document paper = begun(Evaluation{}, k_head);
    ASSERT_EQ(paper.cautions.size(), 2U);
    EXPECT_THAT(paper.cautions[0], HasSubstr("nothing is drilled or fixed there"));
    EXPECT_THAT(paper.cautions[1], HasSubstr("Road-approval rules differ"));
    EXPECT_THAT(words(Caution::lifted_vehicle), HasSubstr("lifted vehicle can fall"));
    EXPECT_THAT(words(Caution::workshop), HasSubstr("Router, hot sheet"));
    EXPECT_THAT(words(Caution::no_proof), HasSubstr("measure the car again"));
}

TEST(Paper, SaysTheTemperatureOfTheBookWhereItIsKnown) {
    Evaluation evaluation;
    EXPECT_THAT(paper_world::all_text(begun(evaluation, k_head)), Not(HasSubstr("measured at")));
    evaluation.job.book.readings.emplace_back();
    EXPECT_THAT(paper_world::all_text(begun(evaluation, k_head)), HasSubstr("is not written in the book"));
    evaluation.job.book.temperature = 17.0;
    EXPECT_THAT(paper_world::all_text(begun(evaluation, k_head)), HasSubstr("measured at 17 °C"));
}

TEST(Paper, TellsNumbersWithoutTheirWords) {
    Finding one = finding("a", State::falls_short, -2.1);
    one.found = 1.9;
    one.required = 4.0;
    EXPECT_EQ(cells_of(one).found, "1.90 mm");
    EXPECT_EQ(cells_of(one).needs, "at least 4.00 mm");
    EXPECT_EQ(cells_of(one).margin, "−2.10 mm");
    one.why = "It is narrow.";
    one.missing = {"the sag"};
    one.mend = Mend{"Lower it.", {}, 0.0, {}};
    EXPECT_EQ(told(one), "It is narrow. Not measured: the sag. Lower it. (computed again so: margin +0.00 mm)");
}

TEST(Paper, LeavesOutBlocksWithNothingInThem) {
    Document paper;
    add_words(paper, "");
    add_items(paper, {});
    add_values(paper, {});
    add_grid(paper, {{"a"}, {}, {}});
    add_boxes(paper, {});
    EXPECT_TRUE(paper.blocks.empty());
    add_boxes(paper, {"Date"});
    EXPECT_EQ(paper.blocks.size(), 1U);
}

TEST(Paper, SaysNotMeasuredInWords) {
    EXPECT_EQ(measured_text(std::nullopt), "not measured");
    EXPECT_EQ(measured_text(Entry{geometry::millimetres(0.126), ""}, 2), "0.13 mm");
    EXPECT_EQ(count_text(1, "part", "parts"), "1 part");
    EXPECT_EQ(count_text(0, "part", "parts"), "0 parts");
}

}  // namespace
}  // namespace sillwright::core
