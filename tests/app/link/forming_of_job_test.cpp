#include "app/link/forming_of_job.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "app/link/flutes_of_job.h"
#include "app/link/ladder_of_job.h"
#include "app/link/platen_of_job.h"
#include "app/link/section_forming.h"
#include "app/link/thickness_of_job.h"
#include "tests/app/link/formed_by_hand.h"

namespace sillwright::app {
namespace {

using geometry::millimetres;

TEST(FormingOfJob, WithoutAPlanEveryPictureSaysWhatIsMissing) {
    core::Evaluation empty;
    EXPECT_TRUE(formed_pieces(empty).empty());
    for (const std::string& words : {platen_of_job(empty, 0).words, thickness_of_job(empty, 0, {}).words,
                                     flutes_of_job(empty, 0).words, ladder_of_job(empty, 0, 0).words}) {
        EXPECT_EQ(words, nothing_formed_words());
    }
    SectionPicture section;
    add_forming(section, empty, millimetres(500.0), SectionForming::thickness);
    EXPECT_TRUE(section.bands.empty());
}

TEST(FormingOfJob, WhatMustBeDecidedIsListedInWords) {
    core::FormingPlan plan = hand_plan();
    plan.pieces[0].platen = {};
    plan.pieces[0].platen.missing = {"the machine"};
    plan.pieces[0].thinning.missing = {"whether the mould is male or female"};
    plan.pieces[0].lanes.clear();
    plan.pieces[0].ladders[0].rungs.clear();
    plan.pieces[0].ladders[0].missing = {"the paint's film"};
    const auto job = formed_by_hand(plan);
    EXPECT_NE(platen_of_job(*job, 0).words.find("the machine"), std::string::npos);
    EXPECT_NE(thickness_of_job(*job, 0, {}).limits.find("male or female"), std::string::npos) << "beside what is known";
    EXPECT_NE(flutes_of_job(*job, 0).words.find("No flute"), std::string::npos);
    EXPECT_NE(ladder_of_job(*job, 0, 0).words.find("the paint's film"), std::string::npos);
}

TEST(PlatenOfJob, SaysWhichSideStandsOutAndWhereTheEndsWouldGo) {
    const auto job = formed_by_hand();
    const PlatenPicture picture = platen_of_job(*job, 0);
    EXPECT_TRUE(picture.words.empty());
    EXPECT_EQ(picture.verdict, "90 mm too long");
    EXPECT_EQ(picture.state, core::State::falls_short);
    EXPECT_EQ(picture.set_up, "not turned · draw tilted 4.0° down · mould 112 mm high");
    ASSERT_EQ(picture.excess.size(), 2U) << "520 mm of 475 at either end";
    EXPECT_DOUBLE_EQ(picture.excess[0].mm, 45.0);
    EXPECT_EQ(picture.excess[0].words, "45 past the left clamp");
    ASSERT_EQ(picture.set_backs.size(), 2U);
    EXPECT_EQ(picture.set_backs[0].words, "set back 45");
    EXPECT_DOUBLE_EQ(picture.set_backs[0].from_mm.x(), -455.0);
    EXPECT_DOUBLE_EQ(picture.set_backs[1].from_mm.x(), 455.0);
    ASSERT_EQ(picture.splits.size(), 1U);
    EXPECT_DOUBLE_EQ(picture.splits[0].from_mm.x(), 0.0) << "600 mm is half-way from 100 to 1100";
    EXPECT_EQ(picture.splits[0].words, "split at 1.5 · 600 mm");
}

TEST(PlatenOfJob, SaysWhatThereIsToSpare) {
    core::FormingPlan plan = hand_plan();
    plan.pieces[0].platen.window_mm = {1200.0, 500.0};
    plan.pieces[0].platen.free_mm = {1100.0, 400.0};
    plan.pieces[0].platen.excess = millimetres(-60.0);
    plan.pieces[0].platen.set_back.reset();
    const PlatenPicture picture = platen_of_job(*formed_by_hand(plan), 0);
    EXPECT_EQ(picture.verdict, "60 mm to spare");
    EXPECT_TRUE(picture.excess.empty());
    EXPECT_TRUE(picture.set_backs.empty());
}

TEST(ThicknessOfJob, GoesRoundTheSectionFromCornerToCorner) {
    const auto job = formed_by_hand();
    const ThicknessPicture picture = thickness_of_job(*job, 0, millimetres(100.0));
    ASSERT_TRUE(picture.words.empty());
    ASSERT_EQ(picture.nodes.size(), 5U);
    EXPECT_EQ(picture.nodes[1].name, "shelf edge");
    EXPECT_DOUBLE_EQ(picture.nodes[1].round_mm, 60.0);
    EXPECT_DOUBLE_EQ(picture.nodes[4].round_mm, 250.0) << "60 + 80 + 70 + 40";
    ASSERT_EQ(picture.round.size(), 5U);
    EXPECT_NEAR(picture.round[1].thickness_mm, 3.6, 1e-12) << "0.9 of 4";
    ASSERT_EQ(picture.needs.size(), 3U);
    EXPECT_DOUBLE_EQ(picture.needs[0].needed_mm, 2.2) << "the shelf";
    EXPECT_DOUBLE_EQ(picture.needs[1].needed_mm, 1.5) << "the rest";
    EXPECT_DOUBLE_EQ(picture.needs[2].needed_mm, 2.0) << "the flange";
    ASSERT_TRUE(picture.least);
    EXPECT_NEAR(picture.least->thickness_mm, 1.8, 1e-12);
    EXPECT_EQ(picture.least_state, core::State::falls_short);
    EXPECT_EQ(picture.limits, "Predicted: friction is not in it");
}

TEST(ThicknessOfJob, FollowsEachPartAlongTheCar) {
    const ThicknessPicture picture = thickness_of_job(*formed_by_hand(), 0, {});
    EXPECT_DOUBLE_EQ(picture.along_mm, 600.0) << "the middle, if no place is looked at";
    ASSERT_EQ(picture.parts.size(), 2U);
    EXPECT_EQ(picture.parts[0].name, "flange");
    EXPECT_EQ(picture.parts[0].state, core::State::falls_short);
    ASSERT_EQ(picture.parts[0].course.size(), 2U);
    EXPECT_NEAR(picture.parts[0].course[0].thickness_mm, 1.8, 1e-12);
    EXPECT_NEAR(picture.parts[0].course[1].thickness_mm, 2.2, 1e-12) << "0.55 of 4 at the rear";
    EXPECT_EQ(picture.parts[1].state, core::State::holds);
}

TEST(FlutesOfJob, ListsTheFluteAndFindsTheWorstPlaceOfTheBasePlate) {
    const FlutePicture picture = flutes_of_job(*formed_by_hand(), 0);
    ASSERT_EQ(picture.rows.size(), 1U);
    const FluteRow& row = picture.rows[0];
    EXPECT_EQ(row.state, core::State::falls_short) << "the worst of its findings";
    EXPECT_EQ(row.mould_width, "20.8");
    EXPECT_EQ(row.seen, "17.7");
    EXPECT_EQ(row.fence, "55 to 57");
    EXPECT_EQ(row.passes, "2");
    EXPECT_DOUBLE_EQ(row.middle.front().along_mm, 140.4) << "a run-out is a half circle as wide as the flute";
    EXPECT_DOUBLE_EQ(row.middle.back().along_mm, 1059.6);
    EXPECT_DOUBLE_EQ(picture.inner.front().inward_mm, 60.0);
    ASSERT_TRUE(picture.plate);
    EXPECT_DOUBLE_EQ(*picture.plate->room_mm, 70.0);
    EXPECT_DOUBLE_EQ(picture.plate->along_mm, 1070.0);
    EXPECT_DOUBLE_EQ(picture.plate->needed_mm, 77.0);
    EXPECT_TRUE(picture.plate->words.starts_with("base plate 7 mm short of room on flute 1")) << picture.plate->words;
    EXPECT_EQ(picture.plate->state, core::State::falls_short);
}

TEST(LadderOfJob, SaysWhatLeadsFromRungToRungAndWhatIsAssumed) {
    const auto job = formed_by_hand();
    EXPECT_EQ(ladder_names(*job, 0), std::vector<std::string>{"length over all"});
    const LadderPicture picture = ladder_of_job(*job, 0, 0);
    ASSERT_EQ(picture.rungs.size(), 6U);
    EXPECT_EQ(picture.rungs[0].step, "paint: 0.24 less");
    EXPECT_EQ(picture.rungs[1].step, "sheet: 6.40 less");
    EXPECT_EQ(picture.rungs[2].step, "shrank 0.60 % along");
    EXPECT_TRUE(picture.rungs[2].assumed);
    EXPECT_EQ(picture.rungs[3].step, "shrank 0.20 % along");
    EXPECT_FALSE(picture.rungs[3].assumed);
    EXPECT_EQ(picture.rungs[4].step, "skin: 6.00 less");
    EXPECT_TRUE(picture.rungs[5].step.empty());
    EXPECT_DOUBLE_EQ(picture.rungs[3].measured_mm.value(), 999.1);
    EXPECT_FALSE(ladder_of_job(*job, 0, 1).words.empty()) << "there is one dimension alone";
}

TEST(LadderOfJob, AHotMouldIsARungOfItsOwn) {
    core::FormingPlan plan = hand_plan();
    plan.chain[2].hot_growth = 1.001;
    auto& rungs = plan.pieces[0].ladders[0].rungs;
    rungs.insert(rungs.begin() + 3, {"female mould, hot", millimetres(999.6 * 1.001), millimetres(0.3), {}});
    const LadderPicture picture = ladder_of_job(*formed_by_hand(plan), 0, 0);
    EXPECT_EQ(picture.rungs[2].step, "shrank 0.70 % along") << "0.994 / 1.001 = 0.99301";
    EXPECT_EQ(picture.rungs[3].step, "grew 0.10 % by its heat");
}

TEST(SectionForming, LaysTheBandOutsideInTheTintOfItsThickness) {
    SectionPicture picture;
    add_forming(picture, *formed_by_hand(), millimetres(100.0), SectionForming::thickness);
    ASSERT_EQ(picture.bands.size(), 4U);
    ASSERT_EQ(picture.tints.size(), 7U);
    EXPECT_EQ(picture.tints.front(), "1.80");
    EXPECT_EQ(picture.tints.back(), "4.00");
    for (const Eigen::Vector2d& p_mm : picture.bands[0].points_mm) {
        EXPECT_GE(p_mm.y(), 120.0) << "above the shelf";
    }
    for (const Eigen::Vector2d& p_mm : picture.bands[1].points_mm) {
        EXPECT_GE(p_mm.x(), 150.0) << "outside of the face";
    }
    EXPECT_EQ(picture.bands[3].step, 0) << "the flange is the thinnest of all";
    EXPECT_GT(picture.bands[0].step, picture.bands[2].step);
    SectionPicture beside;
    add_forming(beside, *formed_by_hand(), millimetres(1200.0), SectionForming::thickness);
    EXPECT_TRUE(beside.bands.empty()) << "the piece ends before";
}

TEST(SectionForming, WritesTheDraftThatAStripHasThere) {
    core::FormingPlan plan = hand_plan();
    plan.pieces[0].draw.tilt = geometry::degrees(-4.0);
    plan.pieces[0].draw.needed = geometry::degrees(5.0);
    SectionPicture picture;
    add_forming(picture, *formed_by_hand(plan), millimetres(500.0), SectionForming::draft);
    std::vector<std::string> words;
    for (const SectionPoint& point : picture.points) {
        words.push_back(point.name);
    }
    // A level shelf against a direction 4 degrees down, an upright face, a level underside and flange.
    EXPECT_EQ(words, (std::vector<std::string>{"◆ -4.0° undercut", "86.0°", "◆ 4.0° of 5.0°", "◆ 4.0° of 5.0°"}));
    EXPECT_EQ(picture.points[0].at_mm, Eigen::Vector2d(120.0, 120.0));
}

TEST(SectionForming, DrawsToWhereAnEdgeIsSetBack) {
    core::FormingPlan plan = hand_plan();
    plan.pieces[0].platen.tilt = geometry::Angle{};
    plan.pieces[0].platen.set_back = core::SetBack{{}, {}, millimetres(12.0), {}, {}};
    SectionPicture picture;
    add_forming(picture, *formed_by_hand(plan), millimetres(500.0), SectionForming::draft);
    ASSERT_EQ(picture.lines.size(), 1U) << "the flange stays";
    EXPECT_EQ(picture.lines[0].role, SectionRole::set_back);
    EXPECT_EQ(picture.lines[0].name, "set back 12");
    for (const Eigen::Vector2d& p_mm : picture.lines[0].points_mm) {
        EXPECT_NEAR(p_mm.y(), 120.0 - 12.0, 1e-9);
    }
}

TEST(SectionForming, DrawsThePrototypeAndWhatIsToBeCutAndAdded) {
    core::FormingPlan plan = hand_plan();
    core::SculptedStation station{"1", millimetres(100.0), {}};
    station.points = {{{100.0, 121.5}, {100.0, 120.0}, millimetres(1.5), "shelf inner to shelf edge"},
                      {{149.2, 80.0}, {150.0, 80.0}, millimetres(-0.8), "shelf edge to lower edge"}};
    plan.pieces[0].sculpted.stations = {station};
    SectionPicture at;
    add_forming(at, *formed_by_hand(plan), millimetres(100.0), SectionForming::thickness);
    ASSERT_FALSE(at.lines.empty());
    EXPECT_EQ(at.lines.back().name, "prototype");
    ASSERT_EQ(at.points.size(), 2U);
    EXPECT_EQ(at.points[0].name, "cut 1.50");
    EXPECT_EQ(at.points[1].name, "add 0.80");
    SectionPicture beside;
    add_forming(beside, *formed_by_hand(plan), millimetres(110.0), SectionForming::thickness);
    EXPECT_TRUE(beside.points.empty()) << "nothing was measured there";
}

}  // namespace
}  // namespace sillwright::app
