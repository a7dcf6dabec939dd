#include "core/keep_outs/keep_out_findings.h"

#include <gmock/gmock.h>

#include "tests/core/keep_outs/keep_out_world.h"

// Expected numbers: distances of boxes, straights and cylinders by hand in the world of keep_out_world.h.
// Clearances: common practice, no source.

namespace sillwright::core {
namespace {

using keep_out_world::box;
using keep_out_world::expect_mend_taken;
using keep_out_world::job_with;
using keep_out_world::keep_out_finding;
using keep_out_world::need_of_part;
using keep_out_world::place;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;

/// Of the meshes, taken off, and the tolerance of the distance.
constexpr double k_off_mm = in_mm(k_check_deviation) + 0.3;

/// Beside the flange's end, `gap` further in.
KeepOut beside_the_end(double gap, KeepOutKind kind = KeepOutKind::sensor) {
    return box("sensor", kind, place(600, 60, 0), place(700, 110 - gap, 40));
}

TEST(KeepOutFindings, DistanceToTheFlangesEndIsProven) {
    const Finding finding = keep_out_finding(job_with(beside_the_end(30)), "mounts/keep-out/sensor");
    ASSERT_TRUE(finding.found);
    EXPECT_LE(*finding.found, 30.0);
    EXPECT_GE(*finding.found, 30.0 - k_off_mm);
    EXPECT_NEAR(finding.required.value_or(0.0), need_of_part(10), 1e-9);
    EXPECT_EQ(finding.state, State::holds);
    EXPECT_EQ(finding.stage, Stage::mounts);
    EXPECT_EQ(finding.place.keep_out, "sensor");
    ASSERT_TRUE(finding.place.on_part_mm);
    ASSERT_TRUE(finding.place.on_other_mm);
    EXPECT_NEAR(finding.place.on_part_mm->y(), 110.0, 1e-6);
    EXPECT_NEAR(finding.place.on_other_mm->y(), 80.0, 1e-6);
    EXPECT_THAT(finding.why, HasSubstr("repair manual"));
}

TEST(KeepOutFindings, ItsOwnClearanceComesBeforeTheUsualOne) {
    KeepOut keep_out = beside_the_end(30);
    keep_out.clearance = mm(3);
    const Finding finding = keep_out_finding(job_with(keep_out), "mounts/keep-out/sensor");
    EXPECT_NEAR(finding.required.value_or(0.0), need_of_part(3), 1e-9);
}

TEST(KeepOutFindings, UsualClearances) {
    using enum KeepOutKind;
    EXPECT_EQ(in_mm(usual_clearance(jacking)), 20.0);
    EXPECT_EQ(in_mm(usual_clearance(drain)), 6.0);
    EXPECT_EQ(in_mm(usual_clearance(sensor)), 10.0);
    EXPECT_EQ(in_mm(usual_clearance(belt)), 10.0);
    EXPECT_EQ(in_mm(usual_clearance(high_voltage)), 10.0);
    EXPECT_EQ(in_mm(usual_clearance(line)), 10.0);
    EXPECT_EQ(in_mm(usual_clearance(exhaust)), 60.0);
    EXPECT_EQ(in_mm(usual_clearance(tyre)), 15.0);
    EXPECT_EQ(in_mm(usual_clearance(other)), 5.0);
}

TEST(KeepOutFindings, PartTooNearIsMendedByItsNodes) {
    for (const double gap : {10.0, 3.0}) {
        expect_mend_taken(job_with(beside_the_end(gap)), "mounts/keep-out/sensor");
    }
    const Finding finding = keep_out_finding(job_with(beside_the_end(10)), "mounts/keep-out/sensor");
    EXPECT_THAT(finding.mend->words, HasSubstr("flange end"));
    EXPECT_THAT(finding.mend->words, HasSubstr("further out"));
}

TEST(KeepOutFindings, PartThatReachesInIsSaidWithADepthAndMended) {
    const Job job = job_with(beside_the_end(-6));
    const Finding finding = keep_out_finding(job, "mounts/keep-out/sensor");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_THAT(finding.why, testing::AnyOf(HasSubstr("reaches into"), HasSubstr("touches")));
    EXPECT_LE(finding.found.value_or(-1.0), 0.0);
    expect_mend_taken(job, "mounts/keep-out/sensor");
}

TEST(KeepOutFindings, APartAllInsideIsOverlapToo) {
    const Job job = job_with(box("all", KeepOutKind::other, place(-1000, -1000, -1000), place(3000, 1000, 1000)));
    const Finding finding = keep_out_finding(job, "mounts/keep-out/all");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_LT(finding.found.value_or(0.0), -800.0);
    ASSERT_TRUE(finding.mend);
    EXPECT_FALSE(finding.mend->can_be_taken());
    EXPECT_THAT(finding.mend->words, HasSubstr("more room"));
}

/// Straight above the mount at along 750, out 130: seat at up 12, panel 0.8, tail 20, shank of 6.
KeepOut above_the_mount(double up) {
    return box("battery", KeepOutKind::high_voltage, place(700, 100, up), place(800, 131, up + 60));
}

TEST(KeepOutFindings, TipOfAFastener) {
    const Job job = job_with(above_the_mount(50));
    const Finding finding = keep_out_finding(job, "mounts/keep-out/battery");
    ASSERT_TRUE(finding.found);
    EXPECT_LE(*finding.found, 50.0 - 32.8 - 3.0 + 1e-9);
    EXPECT_GE(*finding.found, 50.0 - 32.8 - 3.0 - 0.3);
    EXPECT_NEAR(finding.required.value_or(0.0), 10.0 + 2.0 * std::hypot(0.5, 0.5), 1e-9);
    EXPECT_EQ(finding.place.mount, "H1");
    EXPECT_THAT(finding.why, HasSubstr("High voltage kills"));
    EXPECT_THAT(finding.why, HasSubstr("licensed"));
}

TEST(KeepOutFindings, TipTooNearIsMendedByAShorterTail) {
    const Job job = job_with(above_the_mount(40));
    expect_mend_taken(job, "mounts/keep-out/battery");
    const Finding finding = keep_out_finding(job, "mounts/keep-out/battery");
    ASSERT_EQ(finding.mend->changes.size(), 1U);
    EXPECT_EQ(finding.mend->changes[0].pointer, "/mounts/0/fastener/tail");
}

TEST(KeepOutFindings, WhereNoTailIsShortEnoughThereAreWords) {
    const Finding finding = keep_out_finding(job_with(above_the_mount(20)), "mounts/keep-out/battery");
    EXPECT_EQ(finding.state, State::falls_short);
    ASSERT_TRUE(finding.mend);
    EXPECT_FALSE(finding.mend->can_be_taken());
    EXPECT_THAT(finding.mend->words, HasSubstr("unused"));
}

TEST(KeepOutFindings, WhatIsNotKnownOfAFastenerIsListedWhereItMatters) {
    Job job = job_with(above_the_mount(60));
    job.mounts[0].fastener.tail.reset();
    job.mounts[0].free_depth.reset();
    const Finding near = keep_out_finding(job, "mounts/keep-out/battery");
    EXPECT_EQ(near.state, State::not_measured);
    EXPECT_THAT(near.missing, Contains(HasSubstr("tail of H1's fastener")));
    // With the room behind the panel known, the tip cannot come near.
    job.mounts[0].free_depth = mm(22);
    const Finding free = keep_out_finding(job, "mounts/keep-out/battery");
    EXPECT_THAT(free.missing, IsEmpty());
    EXPECT_EQ(free.state, State::holds);
    // And far off nothing need be known.
    job.mounts[0].free_depth.reset();
    job.keep_outs = {above_the_mount(200)};
    EXPECT_THAT(keep_out_finding(job, "mounts/keep-out/battery").missing, IsEmpty());
}

TEST(KeepOutFindings, AMountThatIsNotUsedHasNoFastener) {
    Job job = job_with(above_the_mount(40));
    job.mounts[0].use = MountUse::unused;
    const Finding finding = keep_out_finding(job, "mounts/keep-out/battery");
    EXPECT_EQ(finding.state, State::holds);
    EXPECT_TRUE(finding.place.mount.empty());
}

TEST(KeepOutFindings, WhatIsNotMeasuredIsListed) {
    Job job = job_with(beside_the_end(30));
    job.survey_sd.reset();
    job.skirt.paint.reset();
    const Finding finding = keep_out_finding(job, "mounts/keep-out/sensor");
    EXPECT_EQ(finding.state, State::not_measured);
    EXPECT_THAT(finding.missing, Contains("paint film on the part"));
    EXPECT_THAT(finding.missing, Contains("standard deviation of the survey"));
    KeepOut pipe = beside_the_end(30);
    pipe.shape = KeepOutShape::strip;
    EXPECT_THAT(keep_out_finding(job_with(pipe), "mounts/keep-out/sensor").missing, Contains("the radius of sensor"));
}

TEST(KeepOutFindings, PiecesOnADoorAreNotOnTheBody) {
    Job job = job_with(beside_the_end(3));
    job.skirt.pieces[0].carried_by = "front door";
    Door door;
    door.name = "front door";
    job.doors = {door};
    const Finding finding = keep_out_finding(job, "mounts/keep-out/sensor");
    EXPECT_EQ(finding.place.mount, "H1") << "only a fastener is left";
}

/// A jacking pad behind the flange whose lifting face is at `face`.
KeepOut pad(double face) {
    return box("pad", KeepOutKind::jacking, place(690, 20, face), place(810, 60, face + 40));
}

TEST(KeepOutFindings, ALiftsArmSlidesInBelowThePart) {
    // The part's underside is at up 7; the arm's way lies below the lifting face.
    const Finding holds = keep_out_finding(job_with(pad(-20)), "mounts/lift/pad");
    ASSERT_TRUE(holds.found);
    EXPECT_LE(*holds.found, 27.0);
    EXPECT_GE(*holds.found, 27.0 - k_off_mm);
    EXPECT_NEAR(holds.required.value_or(0.0), need_of_part(15), 1e-9);
    EXPECT_EQ(holds.state, State::holds);
    EXPECT_THAT(holds.why, HasSubstr("repair manual"));
    expect_mend_taken(job_with(pad(-5)), "mounts/lift/pad");
}

TEST(KeepOutFindings, AJackHasItsRoomBelowThePad) {
    // The room for a jack goes out to 40 + 45 = 85; the flange's end stands at out 110.
    Job job = job_with(pad(30));
    job.keep_outs[0].from.out = mm(70);
    job.keep_outs[0].to.out = mm(108);
    const Finding finding = keep_out_finding(job, "mounts/lift/pad");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_TRUE(finding.mend);
}

TEST(KeepOutFindings, AreTheSameFromBodiesMadeBefore) {
    const Job job = job_with(pad(-20));
    const auto car = car_model(job, ".");
    ASSERT_TRUE(car);
    EXPECT_EQ(keep_out_findings(job, car.value(), MountPlan{}, keep_out_bodies(job)),
              keep_out_findings(job, car.value(), MountPlan{}));
}

TEST(KeepOutFindings, MendsCanBeLeft) {
    const Job job = job_with(beside_the_end(3));
    const auto car = car_model(job, ".");
    ASSERT_TRUE(car);
    EXPECT_FALSE(keep_out_findings(job, car.value(), MountPlan{}, Mends::leave)[0].mend);
}

}  // namespace
}  // namespace sillwright::core
