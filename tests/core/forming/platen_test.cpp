#include "core/forming/platen.h"

#include <gmock/gmock.h>

#include <filesystem>

#include "core/job_file.h"
#include "geometry/window_fit.h"
#include "tests/core/forming/platen_world.h"

namespace sillwright::core {
namespace {

using geometry::degrees;
using geometry::in_deg;
using geometry::in_mm;
using namespace platen_world;
using testing::HasSubstr;

Job in_machine(double length, double width) {
    Job job = job_of();
    job.forming.machines = {machine_of_size("own", length, width)};
    job.forming.machine = "own";
    return job;
}

const std::string* input(const Finding& finding, const std::string& name) {
    for (const Input& one : finding.inputs) {
        if (one.name == name) {
            return &one.value;
        }
    }
    return nullptr;
}

// By hand: 1900 + 2 (20 + 50) = 2040 long and 106 + 140 = 246 wide; a window of 2100 x 310 less 2 x 25 leaves
// 2050 x 260.
TEST(Platen, GoesInWithWhatIsToSpareByHand) {
    const Finding window = finding_of(in_machine(2100, 310), "window");
    EXPECT_EQ(window.state, State::holds);
    EXPECT_NEAR(*window.found, -10.0, 1e-9);
    EXPECT_EQ(*window.required, 0.0);
    EXPECT_NEAR(*window.margin, 10.0, 1e-9);
    EXPECT_FALSE(window.at_least);
    EXPECT_EQ(*input(window, "room needed between the clamps"), "2040.0 × 246.0 mm");
    EXPECT_EQ(*input(window, "free of the clamps"), "2050.0 × 260.0 mm");
    EXPECT_EQ(finding_of(in_machine(2100, 310), "depth").state, State::holds);
    EXPECT_EQ(finding_of(in_machine(2090.5, 310), "window").state, State::close);
}

TEST(Platen, DoesNotGoInAndSaysByHowMuchToPullItBack) {
    const Job job = in_machine(2000, 298);
    const Platen there = platen_of(job);
    ASSERT_TRUE(there.set_back);
    // Straight 90 at the ends; a room 2 mm wider than the part hardly lets it turn.
    const double ends = in_mm(there.set_back->front + there.set_back->rear);
    EXPECT_LE(ends, 90.01);
    EXPECT_GT(ends, 89.0);
    const Finding window = finding_of(job, "window");
    EXPECT_EQ(window.state, State::falls_short);
    EXPECT_NE(input(window, "set back, front end"), nullptr);
    EXPECT_FALSE(window.mend);
    // Drawn anew so much shorter, it goes in.
    Job shorter = job;
    shorter.stations.back().along = mm(k_length_mm - ends);
    EXPECT_LE(in_mm(platen_of(shorter).excess), 0.0);
    EXPECT_GE(in_mm(platen_of(shorter).excess), -0.01);
}

TEST(Platen, WithoutAnotherMachineWordsSayAllWays) {
    Job job = in_machine(2000, 298);
    // None of the table is as long: a part of 3 m.
    job.stations.back().along = mm(3000);
    add_door(job, "front door", 170, 1505);
    const Finding window = finding_of(job, "window", Mends::look_for);
    ASSERT_TRUE(window.mend);
    EXPECT_FALSE(window.mend->can_be_taken());
    EXPECT_FALSE(window.mend->proven_margin);
    EXPECT_THAT(window.mend->words, HasSubstr("Pull the part back by "));
    EXPECT_THAT(window.mend->words, HasSubstr("1505 mm, lapped by 30 mm ahead of it"));
    EXPECT_EQ(*input(window, "split"), "1505.00 mm, lapped to 1475.00 mm");
    job.doors.clear();
    const Finding without = finding_of(job, "window", Mends::look_for);
    EXPECT_THAT(without.mend->words, HasSubstr("No split at a shut line does"));
}

TEST(Platen, EveryFindingSaysHowAndWhereItIsFrom) {
    const Job job = job_of();
    const auto all = platen_findings(job, piece_of(job), line_of(job), plan_of(job), platen_of(job), Mends::leave);
    ASSERT_EQ(all.size(), 4U);
    for (const Finding& one : all) {
        SCOPED_TRACE(one.id);
        EXPECT_EQ(one.stage, Stage::forming);
        EXPECT_EQ(one.unit, Unit::mm);
        EXPECT_FALSE(one.at_least);
        for (const std::string& text : {one.title, one.why, one.formula, one.source, one.place.words}) {
            EXPECT_FALSE(text.empty());
        }
        EXPECT_FALSE(one.inputs.empty());
    }
}

TEST(Platen, NotMeasuredIsNeverZero) {
    Job job = in_machine(3000, 900);
    job.forming.clamp_distance.reset();
    const Finding window = finding_of(job, "window");
    EXPECT_EQ(window.state, State::not_measured);
    EXPECT_FALSE(window.found);
    EXPECT_FALSE(window.margin);
    ASSERT_EQ(window.missing.size(), 1U);
    EXPECT_EQ(finding_of(job, "depth").state, State::holds);
    // Too long even without a clamp distance.
    job = in_machine(1900, 900);
    job.forming.clamp_distance.reset();
    const Finding too_long = finding_of(job, "window", Mends::look_for);
    EXPECT_EQ(too_long.state, State::falls_short);
    EXPECT_EQ(too_long.missing.size(), 1U);
    EXPECT_FALSE(too_long.mend->can_be_taken());
    job.forming.machine.clear();
    for (const std::string check : {"window", "depth", "oven", "gauge"}) {
        const Finding none = finding_of(job, check, Mends::look_for);
        EXPECT_EQ(none.state, State::not_measured) << check;
        EXPECT_FALSE(none.found);
        EXPECT_FALSE(none.missing.empty());
        EXPECT_FALSE(none.mend);
    }
}

TEST(Platen, SaysAtWhichSizeItIsLaid) {
    const char* const unsized = "shrinkage not known: laid at the part's size";
    Job job = in_machine(2100, 310);
    for (const std::string check : {"window", "depth", "oven"}) {
        ASSERT_NE(input(finding_of(job, check), "mould of the part"), nullptr) << check;
        EXPECT_EQ(*input(finding_of(job, check), "mould of the part"), unsized);
    }
    // By hand: 10 to spare, less 1900 (1.001125 / 0.994 - 1) = 13.62.
    job.forming.generations = chain_to_sheet(0.006, 0.006, 45.0);
    const Finding window = finding_of(job, "window");
    EXPECT_EQ(window.state, State::falls_short);
    EXPECT_NEAR(*window.margin, 10.0 - 13.62, 0.005);
    EXPECT_EQ(input(window, "mould of the part"), nullptr);
    EXPECT_EQ(*input(window, "mould as it runs, of the cold part, along"), "1.00717, sd 0.00030");
    job.forming.generations.back().shrink_across.reset();
    EXPECT_EQ(*input(finding_of(job, "depth"), "mould as it runs, of the cold part, across and in height"), unsized);
}

// A mend is proven with the mould at its size: what is taken holds when the part is laid anew.
TEST(Platen, AMendIsOfTheMouldsSize) {
    Job job = in_machine(2100, 310);
    job.forming.generations = chain_to_sheet(0.006, 0.006, 45.0);
    const Job after = mended(job, "window");
    // 3.62 too long: 1.81 off the trim allowance at each end, and down to a half.
    EXPECT_NEAR(in_mm(after.forming.trim_allowance.value), 18.0, 1e-9);
}

TEST(Platen, OfEstateAIsLessToSpareByTheMouldsSize) {
    Job job = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright").value();
    job.forming.machine = "window 2500 × 800";
    const Platen with = platen_of(job);
    job.forming.generations.clear();
    const Platen without = platen_of(job);
    // Its length decides: 1900 (1.001125 / 0.994 - 1).
    EXPECT_NEAR(in_mm(with.excess - without.excess), 13.62, 0.005);
    EXPECT_NEAR(with.size_mm.x() - without.size_mm.x(), 13.62, 0.005);
    EXPECT_GT(in_mm(with.height), in_mm(without.height));
}

// Without the chain its 1900 long have 20 to spare: 2440 less 1900, 2 · 20 and 2 · 240. With it 13.62 of these are
// gone.
TEST(Platen, OfEstateAWithFlutesHas6Point4ToSpare) {
    Job job = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a_flutes.sillwright").value();
    EXPECT_NEAR(in_mm(platen_of(job).excess), -6.38, 0.005);
    job.forming.generations.clear();
    EXPECT_NEAR(in_mm(platen_of(job).excess), -20.0, 1e-6);
}

TEST(Platen, OfEstateAInTheNarrowMachine) {
    const auto path = std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright";
    Job job = read_job(path).value();
    job.forming.machine = "window 1830 × 610";
    job.forming.clamp_distance = mm(50);
    const Platen there = platen_of(job);
    // 1900 long, with 140 around it, in 1780: the turn gives back a little of 260, not all.
    EXPECT_GT(in_mm(there.excess), 200);
    EXPECT_LT(in_mm(there.excess), 260);
    ASSERT_TRUE(there.set_back);
    ASSERT_EQ(there.split_stations.size(), 1U);
    // At the pillar, between the doors.
    EXPECT_GE(in_mm(there.split_stations.front()), 1080);
    EXPECT_LE(in_mm(there.split_stations.front()), 1086);
    for (const Eigen::Vector2d& p : there.part_mm) {
        EXPECT_LE(std::abs(p.x()), 0.5 * (there.free_mm.x() + in_mm(there.excess)));
    }
    const Job after = mended(job, "window");
    EXPECT_NE(after.forming.machine, job.forming.machine);
}

}  // namespace
}  // namespace sillwright::core
