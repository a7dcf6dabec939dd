#include "app/link/nest_of_job.h"

#include <gtest/gtest.h>

#include "core/buck/buck_work.h"
#include "tests/app/link/buck_by_hand.h"

namespace sillwright::app {
namespace {

TEST(NestOfJob, PutsPartsWhereTheyLie) {
    const auto job = bucked_by_hand();
    const SharedWork work = work_by_hand(2);
    EXPECT_EQ(sheet_count(*work), 2U);
    EXPECT_EQ(part_count(*work), 4U);
    const NestPicture picture = nest_of_job(*job, *work, 0);
    ASSERT_TRUE(picture.words.empty()) << picture.words;
    EXPECT_EQ(picture.board, "mdf 12");
    EXPECT_EQ(picture.number, 1U);
    EXPECT_EQ(picture.count, 2U);
    EXPECT_EQ(picture.verdict, "2 sheets · 1 at least by area");
    EXPECT_EQ(picture.state, core::State::holds);
    EXPECT_EQ(picture.size_mm, Eigen::Vector2d(2440.0, 1220.0));
    EXPECT_DOUBLE_EQ(picture.margin_mm, 10.0) << "as usual";
    ASSERT_EQ(picture.parts.size(), 2U);
    EXPECT_EQ(picture.parts[0].label, "R1");
    EXPECT_TRUE(picture.parts[0].outline_mm[2].isApprox(Eigen::Vector2d(200.0, 240.0))) << "(100, 140) moved";
    EXPECT_EQ(picture.parts[0].inside_mm.size(), 1U);
    EXPECT_TRUE(picture.parts[1].outline_mm[2].isApprox(Eigen::Vector2d(260.0, 200.0)))
        << "(100, 140) turned by a quarter is (-140, 100)";
    // 2 x 100 x 140 of 2440 x 1220 is 0.94 %.
    EXPECT_EQ(picture.about, "mdf 12, number 1 · 2440 × 1220 mm · 2 parts on 1 % of it · gap 8");
    EXPECT_EQ(nest_of_job(*job, *work, 1).parts[0].label, "R3");
    EXPECT_EQ(nest_of_job(*job, *work, 7).number, 2U) << "the last one, if there are fewer by now";
}

TEST(NestOfJob, MarksDefectsAndWhatIsLeft) {
    const NestPicture picture = nest_of_job(*bucked_by_hand(), *work_by_hand(2), 0);
    ASSERT_EQ(picture.defects.size(), 1U) << "one that is not measured is not drawn";
    EXPECT_EQ(picture.defects[0].words, "corner");
    EXPECT_EQ(picture.defects[0].high_mm, Eigen::Vector2d(80.0, 60.0));
    ASSERT_EQ(picture.off_cuts.size(), 1U);
    EXPECT_EQ(picture.off_cuts[0].words, "off-cut to keep, 2022 × 1200");
    EXPECT_EQ(picture.off_cuts[0].low_mm, Eigen::Vector2d(418.0, 20.0));
    EXPECT_EQ(picture.off_cuts[0].high_mm, picture.size_mm);
}

TEST(NestOfJob, SaysWhatWasLeftOut) {
    const auto job = bucked_by_hand();
    const SharedWork work = work_by_hand(1);
    const NestPicture picture = nest_of_job(*job, *work, 0);
    EXPECT_EQ(picture.verdict, "1 sheet · 2 left out");
    EXPECT_EQ(picture.state, core::State::falls_short);
    EXPECT_EQ(nest_words(*work), "best of 3 tries. Left out: R3, R4");
    EXPECT_EQ(nest_of_job(*job, *work_by_hand(0), 0).words,
              "No board takes a part: best of 3 tries. Left out: R1, R2, R3, R4");
    EXPECT_EQ(nest_words(*work_by_hand(2)), "best of 3 tries");
}

TEST(NestOfJob, WithoutPartsSaysWhatMustBeDecidedFirst) {
    EXPECT_NE(nest_of_job(*lacking_by_hand(), core::BuckWork{}, 0).words.find("the plug's skin"), std::string::npos);
    EXPECT_EQ(nest_of_job(*bucked_by_hand(), core::BuckWork{}, 0).words, "There is nothing to cut.");
    const auto nothing = work_of_job(core::Evaluation{}, {}, [](const SharedWork&) {});
    ASSERT_TRUE(nothing) << nothing.error().message;
    EXPECT_EQ(part_count(*nothing.value()), 0U);
}

}  // namespace
}  // namespace sillwright::app
