#include "app/link/differences_of_job.h"

#include <gtest/gtest.h>

namespace sillwright::app {
namespace {

using core::survey::Comparison;
using core::survey::Verdict;

Comparison comparison(Verdict verdict) {
    Comparison made;
    made.points = {{"H1", {0.4, -0.2, 0.1}, 0.458, 0.3, 1.05, 1.5, Verdict::same},
                   {"H2", {3.4, -2.2, 0.1}, 4.05, 0.3, 4.64, 13.5, Verdict::different}};
    made.verdict = verdict;
    made.words = "H2 is 4.1 mm elsewhere.";
    return made;
}

TEST(DifferencesOfJob, TheVerdictIsSaidInLarge) {
    core::survey::Results results;
    results.other_hand = comparison(Verdict::different);
    const DifferencesPicture picture = side_differences(results);
    EXPECT_EQ(picture.verdict, "do not mirror the part");
    EXPECT_EQ(picture.state, core::State::falls_short);
    ASSERT_EQ(picture.rows.size(), 2U);
    EXPECT_EQ(picture.rows[0].state, core::State::holds);
    EXPECT_EQ(picture.rows[1].state, core::State::falls_short);
    EXPECT_EQ(picture.words, "H2 is 4.1 mm elsewhere.");
    results.other_hand = comparison(Verdict::same);
    EXPECT_EQ(side_differences(results).verdict, "mirror the part");
    results.other_hand = comparison(Verdict::measure_better);
    EXPECT_EQ(side_differences(results).verdict, "measure better");
}

TEST(DifferencesOfJob, WhereNothingIsComparedItSaysWhatIsMissing) {
    core::survey::Results results;
    EXPECT_NE(side_differences(results).words.find("other side"), std::string::npos);
    EXPECT_NE(set_up_differences(results).words.find("second set-up"), std::string::npos);
    results.other_hand_lacks = "left.sillwright is not there.";
    EXPECT_EQ(side_differences(results).words, "left.sillwright is not there.");
    results.set_ups.emplace();
    results.set_ups->lacks = "Two marks are common: tie a third.";
    EXPECT_EQ(set_up_differences(results).words, "Two marks are common: tie a third.");
    EXPECT_EQ(set_up_differences(results).state, core::State::not_measured);
}

}  // namespace
}  // namespace sillwright::app
