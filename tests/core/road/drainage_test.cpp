#include "core/road/drainage.h"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>

#include "tests/core/forming/hand_formed.h"
#include "tests/core/road/road_world.h"

namespace sillwright::core {
namespace {

using road_world::Corner;
using road_world::expect_mend_taken;
using road_world::job_of;
using road_world::mm;
using testing::HasSubstr;

std::vector<Finding> all(const Job& job, const CarModel& car) {
    return drainage_findings(job, car);
}

Finding finding_of(const Job& job, const std::string& what) {
    return road_world::finding_of(job, all, "mounts/road/" + what);
}

constexpr double k_deg = std::numbers::pi / 180.0;

TEST(ShelfFall, IsTheLeastOutwards) {
    // 4 over 100.
    const Finding plain = finding_of(job_of(), "shelf fall");
    EXPECT_NEAR(plain.found.value_or(0.0), std::atan(0.04) / k_deg, 1e-9);
    EXPECT_NEAR(plain.required.value_or(0.0), 1.5, 1e-12);
    EXPECT_EQ(plain.state, State::holds);
    // At one station 1 over 100.
    const Job flat =
        job_of([](std::size_t i, std::vector<Corner>& corners) { corners[1].up = i == 2 ? 281.0 : 284.0; });
    const Finding finding = finding_of(flat, "shelf fall");
    // The smooth line through the stations goes a little lower just behind that one.
    EXPECT_LE(finding.found.value_or(9.0), std::atan(0.01) / k_deg + 1e-9);
    EXPECT_GE(finding.found.value_or(0.0), 0.9 * std::atan(0.01) / k_deg);
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_NEAR(in_mm(finding.place.along.value_or(geometry::Length{})), 1000.0, 100.0);
}

TEST(ShelfFall, IsMendedByRaisingTheInnerEdge) {
    const Job flat =
        job_of([](std::size_t i, std::vector<Corner>& corners) { corners[1].up = i == 2 ? 279.0 : 284.0; });
    EXPECT_THAT(finding_of(flat, "shelf fall").why, HasSubstr("does not fall outwards"));
    expect_mend_taken(flat, all, "mounts/road/shelf fall", 0.01);
    EXPECT_THAT(finding_of(flat, "shelf fall").mend->words, HasSubstr("shelf inner"));
}

/// The lower edge hangs down by so much at the second station.
Job hanging(double by, bool closed = false) {
    Job job =
        job_of([by](std::size_t i, std::vector<Corner>& corners) { corners[3].up = i == 1 ? 150.0 - by : 150.0; });
    job.skirt.pieces[0].front_closed = job.skirt.pieces[0].rear_closed = closed;
    return job;
}

TEST(Drain, WaterRunsToAnOpenEndWhereTheLowerEdgeFalls) {
    const Job falling = job_of(
        [](std::size_t i, std::vector<Corner>& corners) { corners[3].up = 150.0 - 2.0 * static_cast<double>(i); });
    const Finding finding = finding_of(falling, "drain");
    EXPECT_EQ(finding.state, State::holds);
    EXPECT_THAT(finding.why, HasSubstr("open end"));
}

TEST(Drain, WaterStandsInAHollowToTheLevelOfTheEnds) {
    // The ends are 10 higher than the second station: that deep it stands. The roundings there differ by what the
    // steeper turn makes of them, below a tenth.
    const Finding finding = finding_of(hanging(10), "drain 1");
    EXPECT_NEAR(finding.found.value_or(0.0), 10.0, 1.5);
    EXPECT_FALSE(finding.at_least);
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_NEAR(in_mm(finding.place.along.value_or(geometry::Length{})), 500.0, 100.0);
}

TEST(Drain, WithClosedEndsItStandsToTheLipOfTheFlange) {
    const Finding level = finding_of(hanging(0, true), "drain 1");
    // The corner of the flange root, 20 above the lower edge's; its inside foot is lower by the rounding there.
    const double half = 0.5 * (std::numbers::pi / 2.0 + std::atan2(20.0, 60.0));
    const double foot = 150.0 + 6.0 * std::tan(half) - 6.0;
    EXPECT_NEAR(level.found.value_or(0.0), 170.0 - foot, 0.1);
    EXPECT_EQ(level.state, State::falls_short);
}

TEST(Drain, IsMendedByAHoleAtTheLowestPlace) {
    for (const bool closed : {false, true}) {
        const Job job = hanging(10, closed);
        const Job after = expect_mend_taken(job, all, "mounts/road/drain 1", 1.0);
        ASSERT_EQ(after.skirt.pieces[0].drains.size(), 1U);
        EXPECT_EQ(after.skirt.pieces[0].drains[0].size.value, job.road.drain_least.value);
    }
}

TEST(Drain, AHoleBesideThoseThatAreThereIsAdded) {
    Job job = hanging(10, true);
    job.skirt.pieces[0].drains.push_back({mm(1400), mm(8), {}});
    const Job after = expect_mend_taken(job, all, "mounts/road/drain 1", 1.0);
    EXPECT_EQ(after.skirt.pieces[0].drains.size(), 2U);
    EXPECT_EQ(after.skirt.pieces[0].drains[0], job.skirt.pieces[0].drains[0]);
}

TEST(Drain, AHoleTooSmallOrTooHighDoesNotCount) {
    const Job job = hanging(10);
    const double found = finding_of(job, "drain 1").found.value_or(0.0);
    Job small = job;
    small.skirt.pieces[0].drains = {{mm(500), mm(5.9), {}}};
    EXPECT_NEAR(finding_of(small, "drain 1").found.value_or(0.0), found, 0.1);
    Job beside = job;
    beside.skirt.pieces[0].drains = {{mm(900), mm(6), {}}};
    EXPECT_GT(finding_of(beside, "drain 1").found.value_or(0.0), 2.0);
    Job right = job;
    right.skirt.pieces[0].drains = {{mm(500), mm(6), {}}};
    EXPECT_LT(finding_of(right, "drain 1").found.value_or(9.0), 0.2);
}

TEST(Drain, AFlangeThatFallsInwardsHoldsNothing) {
    const Job job = job_of([](std::size_t, std::vector<Corner>& corners) {
        corners[4].up = 140.0;
        corners[5].up = 136.0;
    });
    Job closed = job;
    closed.skirt.pieces[0].front_closed = closed.skirt.pieces[0].rear_closed = true;
    EXPECT_EQ(finding_of(closed, "drain").state, State::holds);
}

// Drawn outside, so that water stands on the sheet: 1.2 lower where it is six tenths as thick. The lip stays.
TEST(Drain, StandsOnTheInsideAsItIsFormed) {
    Job job = hanging(0, true);
    job.skirt.pieces[0].drawn_face = DrawnFace::outside;
    CarModel car = road_world::model_of(job);
    const auto deep = [&] {
        for (const Finding& finding : drainage_findings(job, car)) {
            if (finding.id == "mounts/road/drain 1") {
                return finding.found.value_or(0.0);
            }
        }
        return 0.0;
    };
    const double full = deep();
    car.pieces[0].formed = hand_formed(2.0, 2.9);
    EXPECT_NEAR(deep() - full, 1.2, 0.05);
}

}  // namespace
}  // namespace sillwright::core
