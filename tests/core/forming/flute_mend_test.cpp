#include "core/forming/flute_mend.h"

#include <gmock/gmock.h>

#include "tests/core/forming/flute_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using testing::HasSubstr;

const std::vector<FluteSection> k_plain{{0, 0, 0}, {1000, 0, 0}};

const Flute& first(const Job& job) {
    return job.skirt.pieces[0].flutes[0];
}

Flute flat_flute(double width, double depth, double radius) {
    return {"a", flute_mm(40), flute_mm(width), flute_mm(depth), flute_mm(radius), flute_mm(100), flute_mm(900), "",
            {}};
}

/// Words alone: nothing of the job would help.
void expect_words(const Job& job, const std::string& rest, const std::string& words) {
    const Finding finding = flute_finding(job, rest, Mends::look_for);
    EXPECT_EQ(finding.state, State::falls_short) << finding.why;
    ASSERT_TRUE(finding.mend) << rest;
    EXPECT_FALSE(finding.mend->can_be_taken());
    EXPECT_THAT(finding.mend->words, HasSubstr(words));
}

// The least move away from a wall is what it is short by.
TEST(FluteMend, MovesTheLaneAwayFromAWall) {
    const Job job = flute_world({{0, 140, 10}, {1000, 140, 10}}, {round_flute("a", 40)});
    EXPECT_NEAR(in_mm(first(mended(job, "flute/a/base plate")).offset.value), 23, 0.11);
}

// Held between wall and edge there is no other lane; the wall is in the way at the rear alone: it runs out before.
TEST(FluteMend, RunsOutBeforeWhatIsInTheWay) {
    Flute through = round_flute("a", 14);
    through.rear = flute_mm(970);
    Job job = flute_world({{0, 120, 10}, {300, 120, 10}, {600, 120, 10}, {900, 120, 10}, {1000, 180, 10}}, {through});
    const Job after = mended(job, "flute/a/base plate");
    EXPECT_EQ(first(after).offset, first(job).offset);
    EXPECT_LT(in_mm(first(after).rear->value), 970);
    EXPECT_GT(in_mm(first(after).rear->value), 800);
}

TEST(FluteMend, WhereNoLaneIsFreeItSaysWhatElse) {
    const Job job = flute_world({{0, 200, 10}, {1000, 200, 10}}, {round_flute("a", 15)});
    expect_words(job, "flute/a/base plate", "base plate of 23.0 mm");
}

TEST(FluteMend, DrawsTheFluteAsABitCutsIt) {
    Job job = flute_world(k_plain, {flat_flute(24, 6, 12)});
    const Job after = mended(job, "flute/a/bit");
    EXPECT_NEAR(in_mm(first(after).width.value), 20.78, 1e-9);
    EXPECT_NEAR(in_mm(first(after).bottom_radius.value), 12, 1e-9);
    EXPECT_EQ(first(after).bit, "") << "it is proposed again";
}

TEST(FluteMend, TakesAnotherBitThanTheNamedOne) {
    Job job = flute_world(k_plain, {round_flute("a", 40)});
    job.skirt.pieces[0].flutes[0].bit = "round nose 16";
    EXPECT_EQ(first(mended(job, "flute/a/bit")).bit, "round nose 24");
    job.skirt.pieces[0].flutes[0].bit = "one that is lost";
    EXPECT_EQ(first(mended(job, "flute/a/bit")).bit, "round nose 24");
}

TEST(FluteMend, DrawnOutsideItCountsTheSheet) {
    Job job = flute_world(k_plain, {flat_flute(24, 6, 9)});
    job.skirt.pieces[0].drawn_face = DrawnFace::outside;
    mended(job, "flute/a/bit");
}

TEST(FluteMend, LeavesWood) {
    Job job = flute_world(k_plain, {round_flute("a", 40)});
    job.forming.router.board = flute_mm(8);
    const Job after = mended(job, "flute/a/wood");
    EXPECT_NEAR(in_mm(first(after).depth.value), 5, 1e-9);
    EXPECT_NEAR(in_mm(first(after).width.value), 19.49, 5e-3) << "the same bit: 2 sqrt(5 · 19)";
    job.forming.router.board = flute_mm(3.5);
    expect_words(job, "flute/a/wood", "a board of 9.0 mm");
}

TEST(FluteMend, GivesTheBasePlateWood) {
    Job job = flute_world(k_plain, {round_flute("a", 11)});
    job.forming.router.bearing_least = 0.65;
    EXPECT_GT(in_mm(first(mended(job, "flute/a/bearing")).offset.value), 15);
    job = flute_world({{0, 215, 0}, {1000, 215, 0}}, {round_flute("a", 12)});
    job.forming.router.bearing_least = 0.9;
    expect_words(job, "flute/a/bearing", "Clamp a board");
}

TEST(FluteMend, RunsOutWithinTheShelf) {
    Flute flute = round_flute("a", 40);
    flute.front = flute_mm(25);
    flute.rear = flute_mm(985);
    const Job after = mended(flute_world(k_plain, {flute}), "flute/a/run-out");
    EXPECT_NEAR(in_mm(first(after).front->value), 30.4, 1e-9) << "20 and half of 20.78, rounded up";
    EXPECT_NEAR(in_mm(first(after).rear->value), 969.6, 1e-9);
}

TEST(FluteMend, MovesAllThatLieInwardForALand) {
    Job job = flute_world(k_plain, {round_flute("a", 30), round_flute("b", 52), round_flute("c", 79)});
    const Job after = mended(job, "flute/a/land");
    EXPECT_NEAR(in_mm(after.skirt.pieces[0].flutes[1].offset.value), 56.8, 1e-9) << "20.78 and 6, rounded up";
    EXPECT_NEAR(in_mm(after.skirt.pieces[0].flutes[2].offset.value), 83.8, 1e-9);
    // No room inward: outward then.
    job = flute_world({{0, 158, 0}, {1000, 158, 0}},
                      {round_flute("a", 30), round_flute("b", 52), round_flute("c", 71.5)});
    job.skirt.pieces[0].flutes.pop_back();
    job.skirt.pieces[0].flutes[1].offset = flute_mm(70);
    job.skirt.pieces[0].flutes[0].offset = flute_mm(48);
    EXPECT_NEAR(in_mm(first(mended(job, "flute/a/land")).offset.value), 43.2, 1e-9);
}

TEST(FluteMend, MovesOntoTheStraight) {
    const Job job = flute_world(k_plain, {round_flute("a", 9)});
    EXPECT_NEAR(in_mm(first(mended(job, "flute/a/shelf")).offset.value), 10.4, 1e-9);
    // No wider than the shelf: narrower.
    Job narrow = flute_world({{0, 222, 0}, {1000, 222, 0}}, {round_flute("a", 9)});
    narrow.forming.router.bearing_least = 0;
    EXPECT_LE(in_mm(first(mended(narrow, "flute/a/shelf")).width.value), 18);
}

TEST(FluteMend, MakesItFormable) {
    // A bottom sharper than the sheet.
    Job job = flute_world(k_plain, {flat_flute(24, 6, 1)});
    EXPECT_NEAR(in_mm(first(mended(job, "flute/a/form")).bottom_radius.value), 3, 1e-9);
    // Deeper than half its width.
    job = flute_world(k_plain, {flat_flute(24, 13, 3)});
    job.forming.router.board = flute_mm(20);
    EXPECT_LE(in_mm(first(mended(job, "flute/a/form")).depth.value), 12);
    // Closed by the sheet at its walls: wider.
    job = flute_world(k_plain, {flat_flute(9, 3, 3)});
    EXPECT_GE(in_mm(first(mended(job, "flute/a/form")).width.value), 15);
}

TEST(FluteMend, SaysHowFarThePartMustSpring) {
    Job job = flute_world(k_plain, {round_flute("a", 40)});
    job.forming.undercut_most = flute_mm(0);
    expect_words(job, "flute/a/undercut", "6.0 mm");
    job.forming.undercut_most = flute_mm(4);
    EXPECT_NEAR(in_mm(first(mended(job, "flute/a/undercut")).depth.value), 4, 0.11);
}

Job badge_job() {
    Job job = flute_world(k_plain);
    Recess badge{"badge",      RecessFace::face, flute_mm(500), flute_mm(30), flute_mm(120),
                 flute_mm(30), flute_mm(1.5),    flute_mm(5),   "",           {}};
    job.skirt.pieces[0].recesses = {badge};
    return job;
}

const Recess& badge(const Job& job) {
    return job.skirt.pieces[0].recesses[0];
}

TEST(FluteMend, ARecessIsMendedAlike) {
    Job job = badge_job();
    job.skirt.pieces[0].recesses[0].corner_radius = flute_mm(2);
    EXPECT_NEAR(in_mm(badge(mended(job, "recess/badge/bit")).corner_radius.value), 3, 1e-9) << "flat 6";
    EXPECT_NEAR(in_mm(badge(mended(job, "recess/badge/form")).corner_radius.value), 3, 1e-9) << "the sheet";
    job = badge_job();
    job.skirt.pieces[0].recesses[0].along = flute_mm(70);
    EXPECT_NEAR(in_mm(badge(mended(job, "recess/badge/run-out")).along.value), 80, 1e-9);
    job.skirt.pieces[0].recesses[0].along = flute_mm(980);
    EXPECT_NEAR(*flute_finding(job, "recess/badge/run-out").found, -40, 1e-9) << "it stands out at the rear";
    EXPECT_NEAR(in_mm(badge(mended(job, "recess/badge/run-out")).along.value), 920, 1e-9);
    job = badge_job();
    job.skirt.pieces[0].recesses[0].offset = flute_mm(12);
    EXPECT_NEAR(in_mm(badge(mended(job, "recess/badge/shelf")).offset.value), 15, 1e-9);
    job = badge_job();
    job.forming.router.board = flute_mm(4);
    EXPECT_NEAR(in_mm(badge(mended(job, "recess/badge/wood")).depth.value), 1, 1e-9);
    job = badge_job();
    job.skirt.pieces[0].recesses[0].depth = flute_mm(5);
    EXPECT_LE(in_mm(badge(mended(job, "recess/badge/form")).depth.value), 3);
}

TEST(FluteMend, BreaksNothingElse) {
    // Away from the wall, but the neighbour outward is in the way: no such move.
    const Job job = flute_world({{0, 140, 10}, {1000, 140, 10}}, {round_flute("a", 40), round_flute("b", 12)});
    const Finding finding = flute_finding(job, "flute/a/base plate", Mends::look_for);
    ASSERT_TRUE(finding.mend);
    EXPECT_FALSE(finding.mend->can_be_taken()) << finding.mend->words;
}

TEST(FluteMend, WhileDrawingNoneIsLookedFor) {
    const Job job = flute_world({{0, 140, 10}, {1000, 140, 10}}, {round_flute("a", 40)});
    EXPECT_FALSE(flute_finding(job, "flute/a/base plate", Mends::leave).mend);
}

}  // namespace
}  // namespace sillwright::core
