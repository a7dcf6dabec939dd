#include "core/finding_words.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

namespace sillwright::core {
namespace {

Finding with(State state, std::optional<double> margin, const std::string& id = "") {
    Finding finding;
    finding.id = id;
    finding.state = state;
    finding.margin = margin;
    return finding;
}

TEST(FindingWords, EveryStateHasItsOwnWordAndShapes) {
    std::set<std::string> words, shapes, ascii;
    for (const State state : {State::holds, State::close, State::falls_short, State::not_measured}) {
        words.insert(look(state).word);
        shapes.insert(look(state).shape);
        ascii.insert(look(state).ascii);
        EXPECT_TRUE(std::all_of(look(state).ascii.begin(), look(state).ascii.end(),
                                [](char c) { return c >= ' ' && c <= '~'; }));
    }
    EXPECT_EQ(words.size(), 4U);
    EXPECT_EQ(shapes.size(), 4U);
    EXPECT_EQ(ascii.size(), 4U);
    EXPECT_EQ(look(State::falls_short).word, "falls short");
    EXPECT_EQ(look(State::not_measured).shape, "□");
}

TEST(FindingWords, WorstMarginComesFirst) {
    const auto sorted = worst_first({with(State::not_measured, {}, "h"), with(State::holds, {}, "g"),
                                     with(State::holds, 3.0, "f"), with(State::falls_short, -1.0, "c"),
                                     with(State::close, 0.5, "d"), with(State::falls_short, -2.0, "b"),
                                     with(State::falls_short, {}, "a"), with(State::holds, 2.0, "e")});
    std::string order;
    for (const Finding& finding : sorted) {
        order += finding.id;
    }
    EXPECT_EQ(order, "abcdefgh");
}

TEST(FindingWords, NumbersHaveSignAndUnit) {
    Finding angle = with(State::holds, 2.25);
    angle.unit = Unit::deg;
    angle.at_least = false;
    angle.found = 0.75;
    angle.required = 3.0;
    const FindingNumbers degrees = numbers_of(angle);
    EXPECT_EQ(degrees.found, "found 0.75°");
    EXPECT_EQ(degrees.needs, "needs at most 3.00°");
    EXPECT_EQ(degrees.margin, "+2.25°");
    Finding gap = with(State::falls_short, -2.1045678901234577);
    gap.found = 1.8954321098765432;
    gap.required = 4.0000000000000009;
    const FindingNumbers short_of = numbers_of(gap);
    EXPECT_EQ(short_of.found, "found 1.90 mm");
    EXPECT_EQ(short_of.needs, "needs at least 4.00 mm");
    EXPECT_EQ(short_of.margin, "−2.10 mm");
}

TEST(FindingWords, WhatIsNotMeasuredHasNoNumber) {
    const FindingNumbers numbers = numbers_of(with(State::not_measured, {}));
    EXPECT_EQ(numbers.found + numbers.needs + numbers.margin, "");
}

TEST(FindingWords, AMarginIsNeverRoundedToZero) {
    Finding finding = with(State::falls_short, -0.0004);
    finding.found = 4.9996;
    finding.required = 5.0;
    EXPECT_EQ(numbers_of(finding).margin, "−0.0004 mm");
    EXPECT_EQ(numbers_of(finding).found, "found 4.9996 mm");
    EXPECT_EQ(numbers_of(with(State::holds, 0.0)).margin, "+0.00 mm");
    // Smaller than any print: no sign that says more than is known.
    Finding probability = with(State::not_measured, {});
    probability.unit = Unit::none;
    probability.required = 0.999;
    EXPECT_EQ(numbers_of(probability).needs, "needs at least 0.999") << "never 1.00, which nothing can be";
    EXPECT_EQ(numbers_of(with(State::holds, -1e-13)).margin, "+0.000000000 mm");
}

TEST(FindingWords, CountsInASentence) {
    EXPECT_EQ(count_sentence({with(State::holds, 2.25), with(State::not_measured, {}), with(State::falls_short, -2.1),
                              with(State::close, 0.6)}),
              "4 findings: 1 falls short, 1 close, 1 holds, 1 not measured.");
    EXPECT_EQ(count_sentence({with(State::holds, 1.0)}), "1 finding: 1 holds.");
    EXPECT_EQ(count_sentence({with(State::holds, 1.0), with(State::holds, 1.0)}), "2 findings: 2 hold.");
    EXPECT_EQ(count_sentence({}), "0 findings.");
}

TEST(FindingWords, AMendSaysWhatMarginWasComputedWithIt) {
    Finding finding;
    finding.unit = Unit::mm;
    EXPECT_EQ(mend_words(finding), "");
    finding.mend = Mend{"shelf edge 2.1 mm lower, stations 3 to 5", {}, {}};
    EXPECT_EQ(mend_words(finding), "shelf edge 2.1 mm lower, stations 3 to 5");
    finding.mend->proven_margin = 0.01;
    EXPECT_EQ(mend_words(finding), "shelf edge 2.1 mm lower, stations 3 to 5 (computed again so: margin +0.01 mm)");
}

TEST(FindingWords, JoinsWhatIsThere) {
    EXPECT_EQ(joined({"a", "", "b"}, " · "), "a · b");
    EXPECT_EQ(joined({}, ", "), "");
}

TEST(FindingWords, AnInchJobReadsInInches) {
    Finding gap = with(State::falls_short, -2.54);
    gap.found = 2.54;  // a tenth of an inch: 25.4 mm to the inch, International Yard and Pound Agreement, 1959
    gap.required = 5.08;
    const FindingNumbers inches = numbers_of(gap, BareUnit::in);
    EXPECT_EQ(inches.found, "found 0.100 in");
    EXPECT_EQ(inches.needs, "needs at least 0.200 in");
    EXPECT_EQ(inches.margin, "−0.100 in");
    EXPECT_EQ(numbers_of(gap, BareUnit::cm).margin, "−2.54 mm");
    EXPECT_EQ(numbers_of(gap, BareUnit::mm).margin, numbers_of(gap).margin);
    gap.margin = -0.000254;
    EXPECT_EQ(numbers_of(gap, BareUnit::in).margin, "−0.00001 in") << "never a zero that is none";
    gap.unit = Unit::deg;
    gap.margin = 2.25;
    EXPECT_EQ(numbers_of(gap, BareUnit::in).margin, "+2.25°") << "an angle has no inches";
}

TEST(FindingWords, CountsByStage) {
    std::vector<Finding> findings{with(State::falls_short, -1.0), with(State::close, 0.1), with(State::holds, 2.0),
                                  with(State::not_measured, {}), with(State::holds, 3.0)};
    findings[0].stage = findings[2].stage = Stage::swing;
    EXPECT_EQ(count_states(findings), (StateCounts{1, 1, 2, 1}));
    EXPECT_EQ(count_states(findings, Stage::swing), (StateCounts{1, 0, 1, 0}));
    EXPECT_EQ(count_states(findings, Stage::buck).all(), 0U);
    EXPECT_EQ(count_states(findings).all(), 5U);
}

TEST(FindingWords, NeighbouringAnglesOfContactAreOne) {
    using geometry::degrees;
    Finding finding;
    finding.touching = {{degrees(2.8), degrees(2.85)},
                        {degrees(2.85), degrees(5.4)},
                        {degrees(30), degrees(31)},
                        {degrees(5.4), degrees(5.41)}};
    const auto ranges = touching_ranges(finding);
    ASSERT_EQ(ranges.size(), 2U);
    EXPECT_EQ(ranges[0], (AngleRange{degrees(2.8), degrees(5.41)}));
    EXPECT_EQ(ranges[1], (AngleRange{degrees(30), degrees(31)}));
    EXPECT_TRUE(touching_ranges(Finding{}).empty());
}

TEST(FindingWords, WorstStateOfThoseThatCount) {
    const std::vector<Finding> all{with(State::holds, 1.0, "a"), with(State::not_measured, {}, "b"),
                                   with(State::close, 0.1, "b"), with(State::falls_short, -1.0, "c")};
    const auto worst = [&](const std::string& ids) {
        return worst_state(all, [&](const Finding& one) { return ids.find(one.id) != std::string::npos; });
    };
    EXPECT_EQ(worst("a"), State::holds);
    EXPECT_EQ(worst("ab"), State::not_measured);
    EXPECT_EQ(worst("abc"), State::falls_short);
    EXPECT_EQ(worst(""), State::not_measured);
}

}  // namespace
}  // namespace sillwright::core
