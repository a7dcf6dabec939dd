#include "core/forming/platen_mend.h"

#include <gmock/gmock.h>

#include "tests/core/forming/platen_world.h"

namespace sillwright::core {
namespace {

using geometry::degrees;
using geometry::in_deg;
using geometry::in_mm;
using namespace platen_world;
using testing::HasSubstr;

/// Need of the plain part: 2040 x 246.
Job in_machine(Machine machine, double leant_deg = 0.0) {
    Job job = job_of(leant_deg);
    job.forming.machine = machine.name;
    job.forming.machines = {std::move(machine)};
    return job;
}

// The section leans by 10 degrees: seen at 5 it is wider, at 10 it has 2 mm to spare.
TEST(PlatenMend, ATiltThatSeesThePartNarrower) {
    Job job = in_machine(machine_of_size("own", 2100, 246 + 50 + 2), 10.0);
    job.forming.tilt = degrees(5);
    const Job after = mended(job, "window", 4.0, 14.0);
    EXPECT_NEAR(in_deg(*after.forming.tilt), 10.0, 1e-9);
    // Not beyond the tilts that leave draft enough.
    const Finding narrow = finding_of(
        job, "window",
        [&] {
            DrawPlan plan = plan_of(job, 4.0, 6.0);
            return plan;
        }(),
        Mends::look_for);
    EXPECT_EQ(narrow.mend->words.find("Tilt"), std::string::npos) << narrow.mend->words;
}

TEST(PlatenMend, ASmallerTrimAllowance) {
    // 7 mm too long: 20 - 3.5 each side.
    const Job after = mended(in_machine(machine_of_size("own", 2083, 310)), "window");
    EXPECT_NEAR(in_mm(after.forming.trim_allowance.value), 16.5, 1e-9);
    EXPECT_EQ(in_mm(after.forming.clamp_distance->value), k_clamp_mm);
}

TEST(PlatenMend, ASmallerClampDistance) {
    // 15 mm too long. The clamp line is no nearer than half of the mould's height of 133.
    Job job = in_machine(machine_of_size("own", 2175, 400));
    job.forming.clamp_distance = mm(100);
    const Job after = mended(job, "window");
    EXPECT_NEAR(in_mm(after.forming.clamp_distance->value), 92.5, 1e-9);
    EXPECT_EQ(in_mm(after.forming.trim_allowance.value), k_trim_mm);
}

TEST(PlatenMend, BothAllowances) {
    // 20 less at either side by the clamp distance of 85 taken to 66.5 is 37; 5 mm more by the trim allowance.
    Job job = in_machine(machine_of_size("own", 2120, 400));
    job.forming.clamp_distance = mm(85);
    const Job after = mended(job, "window");
    EXPECT_EQ(in_mm(after.forming.trim_allowance.value), in_mm(k_trim_least));
    EXPECT_NEAR(in_mm(after.forming.clamp_distance->value), 70.0, 1e-9);
}

TEST(PlatenMend, TheSmallestMachineThatTakesIt) {
    const Job after = mended(job_of(), "window");
    EXPECT_EQ(after.forming.machine, "window 2500 × 800");
    // The shop's own goes before those of the table.
    Job job = job_of();
    job.forming.machines = {machine_of_size("too short", 2000, 800), machine_of_size("long one", 3000, 1500)};
    EXPECT_EQ(mended(job, "window").forming.machine, "long one");
    // Not one whose oven does not heat so thick a sheet.
    job.forming.machines[1].sheet_most = mm(2);
    EXPECT_EQ(mended(job, "window").forming.machine, "window 2500 × 800");
}

TEST(PlatenMend, DepthByTheTrimAllowanceOrAnotherMachine) {
    Machine machine = machine_of_size("own", 2200, 400);
    machine.draw_depth = mm(k_depth_mm + 17.2);
    const Job trimmed = mended(in_machine(machine), "depth");
    EXPECT_NEAR(in_mm(trimmed.forming.trim_allowance.value), 17.0, 1e-9);
    machine.draw_depth = mm(100);
    EXPECT_EQ(mended(in_machine(machine), "depth").forming.machine, "window 2500 × 800");
}

TEST(PlatenMend, OvenByTheAllowancesOrAnotherMachine) {
    Machine machine = machine_of_size("own", 2200, 400);
    machine.oven_length = mm(2034);
    const Job trimmed = mended(in_machine(machine), "oven");
    EXPECT_NEAR(in_mm(trimmed.forming.trim_allowance.value), 17.0, 1e-9);
    machine.oven_length = mm(1500);
    EXPECT_EQ(mended(in_machine(machine), "oven").forming.machine, "window 2500 × 800");
}

TEST(PlatenMend, GaugeByAnotherMachineElseAThinnerSheet) {
    Machine machine = machine_of_size("own", 2200, 400);
    machine.sheet_most = mm(2.5);
    EXPECT_EQ(mended(in_machine(machine), "gauge").forming.machine, "window 2500 × 800");
    Job thick = in_machine(machine_of_size("own", 2200, 400));
    thick.skirt.pieces.front().sheet = mm(12);
    EXPECT_EQ(in_mm(piece_of(mended(thick, "gauge")).sheet->value), 6.0);
}

TEST(PlatenMend, NoneWhereNothingFits) {
    Job job = job_of();
    job.stations.back().along = mm(6000);
    EXPECT_FALSE(platen_mend(PlatenCheck::window, job, piece_of(job), line_of(job), plan_of(job)));
    Machine machine = machine_of_size("own", 2200, 400);
    machine.draw_depth = mm(20);
    Job deep = in_machine(machine);
    for (Section& section : deep.skirt.pieces.front().drawn.sections) {
        section.nodes.back().out = mm(-700);
    }
    const Finding depth = finding_of(deep, "depth", Mends::look_for);
    EXPECT_EQ(depth.state, State::falls_short);
    EXPECT_FALSE(depth.mend->can_be_taken());
    EXPECT_THAT(depth.mend->words, HasSubstr("draws deeper"));
}

// A mend is no mend if something else falls short by it.
TEST(PlatenMend, NeverByWhatElseFallsShort) {
    Job job = in_machine(machine_of_size("own", 1500, 400));
    Machine shallow = machine_of_size("shallow", 3000, 900);
    shallow.draw_depth = mm(100);
    job.forming.machines.push_back(shallow);
    EXPECT_NE(mended(job, "window").forming.machine, "shallow");
}

}  // namespace
}  // namespace sillwright::core
