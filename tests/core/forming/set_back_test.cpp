#include "core/forming/set_back.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/core/forming/platen_world.h"

namespace sillwright::core {
namespace {

using geometry::degrees;
using geometry::in_mm;
using namespace platen_world;

constexpr double k_promised_mm = 0.01;

Silhouette seen(const Job& job) {
    return silhouette(piece_of(job), line_of(job), degrees(0));
}

Room room(double length, double width) {
    return {{length, width}, k_trim_mm};
}

std::optional<SetBack> found(const Job& job, const Room& in) {
    const auto by = set_back(job, piece_of(job), seen(job), in);
    if (by) {
        // Computed again with the part pulled back.
        const auto rest = pulled_back(seen(job), *by);
        EXPECT_TRUE(rest);
        const double excess = in_mm(laid(*rest, in).excess);
        EXPECT_LE(excess, 0.0);
        if (in_mm(by->front + by->rear + by->shelf + by->flange) > 0.0) {
            EXPECT_GE(excess, -k_promised_mm);
        }
    }
    return by;
}

TEST(SetBack, NothingWhereItGoesIn) {
    const auto by = found(job_of(), room(2000, 200));
    ASSERT_TRUE(by);
    EXPECT_EQ(in_mm(by->front + by->rear + by->shelf + by->flange), 0.0);
}

// A narrow room allows no turn: what is too long comes off the ends, half each.
TEST(SetBack, StraightByHand) {
    const auto by = found(job_of(), room(1840, k_width_mm + 2 * k_trim_mm));
    ASSERT_TRUE(by);
    EXPECT_NEAR(in_mm(by->front), 50, k_promised_mm);
    EXPECT_NEAR(in_mm(by->rear), 50, k_promised_mm);
    EXPECT_EQ(in_mm(by->shelf), 0.0);
    EXPECT_EQ(in_mm(by->flange), 0.0);
}

// Told at the part's size: the mould of 1900 / 0.99 and a trim of 40 must come into 1840, and so what is left of the
// part is 1800 · 0.99 = 1782: 59 off each end. Across likewise: 96 · 0.98 = 94.08 of 106 stay.
TEST(SetBack, OfTheMouldsSizeByHand) {
    MouldSize mould;
    mould.along = 1 / 0.99;
    mould.across = 1 / 0.98;
    const auto ends = found(job_of(), {{1840, k_width_mm / 0.98 + 2 * k_trim_mm + 0.1}, k_trim_mm, mould});
    ASSERT_TRUE(ends);
    EXPECT_NEAR(in_mm(ends->front), 59, k_promised_mm);
    EXPECT_NEAR(in_mm(ends->rear), 59, k_promised_mm);
    EXPECT_EQ(in_mm(ends->shelf + ends->flange), 0.0);
    const auto edges = found(job_of(), {{3000, 96 + 2 * k_trim_mm}, k_trim_mm, mould});
    ASSERT_TRUE(edges);
    EXPECT_NEAR(in_mm(edges->shelf + edges->flange), k_width_mm - 94.08, k_promised_mm);
    EXPECT_EQ(in_mm(edges->front + edges->rear), 0.0);
}

TEST(SetBack, AcrossByHand) {
    const auto by = found(job_of(), room(k_width_mm + 2 * k_trim_mm, 1840));
    ASSERT_TRUE(by);
    EXPECT_NEAR(in_mm(by->front + by->rear), 100, k_promised_mm);
}

// Turned, the length that goes in is p of the closed form of a rectangle in a rectangle (Carver 1957, from memory):
// b (p^2 + q^2) = 2 p q a + (p^2 - q^2) sqrt(p^2 + q^2 - a^2).
TEST(SetBack, TurnedByTheClosedForm) {
    const double q = k_width_mm + 2 * k_trim_mm;
    const double a = 1680;
    const double b = 600;
    double low = a;
    double high = k_length_mm + 2 * k_trim_mm;
    for (int i = 0; i < 60; ++i) {
        const double p = 0.5 * (low + high);
        const double needed = (2 * p * q * a + (p * p - q * q) * std::sqrt(p * p + q * q - a * a)) / (p * p + q * q);
        (needed <= b ? low : high) = p;
    }
    const auto by = found(job_of(), room(a, b));
    ASSERT_TRUE(by);
    EXPECT_NEAR(in_mm(by->front + by->rear), k_length_mm + 2 * k_trim_mm - low, k_promised_mm);
    EXPECT_LT(in_mm(by->front + by->rear), k_length_mm + 2 * k_trim_mm - a - in_mm(k_turn_worth));
    EXPECT_GT(std::abs(geometry::in_deg(by->yaw)), 5.0);
}

// In a window 460 wide a turn would save about 1 mm of 260.
TEST(SetBack, NoTurnForAMillimetre) {
    const auto by = found(job_of(), room(1680, 460));
    ASSERT_TRUE(by);
    EXPECT_NEAR(in_mm(by->front + by->rear), k_length_mm + 2 * k_trim_mm - 1680, k_promised_mm);
    EXPECT_EQ(in_mm(by->front), in_mm(by->rear));
    EXPECT_EQ(geometry::in_deg(by->yaw), 0.0);
}

TEST(SetBack, AFlangeThatLiesOnTheCarStays) {
    Job job = job_of();
    const double width = k_width_mm + 2 * k_trim_mm;
    const auto both = found(job, room(2100, width - 12));
    ASSERT_TRUE(both);
    EXPECT_NEAR(in_mm(both->shelf), 6, k_promised_mm);
    EXPECT_NEAR(in_mm(both->flange), 6, k_promised_mm);
    add_mount(job, "H1", 950);
    const auto upper = found(job, room(2100, width - 12));
    ASSERT_TRUE(upper);
    EXPECT_NEAR(in_mm(upper->shelf), 12, k_promised_mm);
    EXPECT_EQ(in_mm(upper->flange), 0.0);
}

TEST(SetBack, EndsKeepAwayFromMounts) {
    Job job = job_of();
    add_mount(job, "H1", 60);  // Room for 30.
    add_mount(job, "H2", 1700);
    const Room in = room(1840, k_width_mm + 2 * k_trim_mm);
    auto by = found(job, in);
    ASSERT_TRUE(by);
    EXPECT_NEAR(in_mm(by->front), 30, k_promised_mm);
    EXPECT_NEAR(in_mm(by->rear), 70, k_promised_mm);
    job.mounts[1].at.along = mm(1860);  // Room for 10: less than is needed at both.
    by = found(job, in);
    ASSERT_TRUE(by);
    EXPECT_NEAR(in_mm(by->front), 50, k_promised_mm);
    job.mounts[0].at.along = mm(200);
    by = found(job, in);
    ASSERT_TRUE(by);
    EXPECT_NEAR(in_mm(by->front), 90, k_promised_mm);
    EXPECT_NEAR(in_mm(by->rear), 10, k_promised_mm);
}

TEST(SetBack, NoneWhereNothingWouldBeLeft) {
    EXPECT_FALSE(found(job_of(), room(30, 30)));
    EXPECT_FALSE(found(job_of(), room(-10, 300)));
}

/// Two doors with their shut line at the pillar.
Job with_doors() {
    Job job = job_of();
    add_door(job, "front door", 170, 1080);
    add_door(job, "rear door", 1086, 1740);
    add_mount(job, "H1", 60);
    add_mount(job, "H2", 600);
    add_mount(job, "H3", 1840);
    return job;
}

std::vector<std::pair<double, double>> joints_of(const Job& job, const Room& in) {
    std::vector<std::pair<double, double>> all;
    double from = 0.0;
    const auto made = joints(job, piece_of(job), seen(job), in);
    for (const Joint& one : made) {
        all.emplace_back(in_mm(one.seen), in_mm(one.lap_to));
    }
    // Every part goes in with its lap.
    for (std::size_t i = 0; i <= all.size() && !all.empty(); ++i) {
        const double to = i < all.size() ? std::max(all[i].first, all[i].second) : k_length_mm;
        EXPECT_LE(in_mm(laid(stretch_of(seen(job), from, to), in).excess), 0.0);
        from = i < all.size() ? std::min(all[i].first, all[i].second) : to;
    }
    return all;
}

using Places = std::vector<std::pair<double, double>>;

// At 1080 the parts are 1080 and 850 long, at 1086 they are 1086 and 844.
TEST(Joints, OneBehindTheShutLineAtThePillar) {
    EXPECT_EQ(joints_of(with_doors(), room(1680, 460)), (Places{{1080, 1050}}));
}

TEST(Joints, TheLapGoesToTheOtherSideOfTheLineIfAMountIsNear) {
    Job job = with_doors();
    add_mount(job, "H4", 1030);  // 20 from the lap 1050 to 1080, and 26 from 1056 to 1086.
    EXPECT_EQ(joints_of(job, room(1680, 460)), (Places{{1080, 1110}}));
    job.mounts.back().at.along = mm(1020);  // Exactly 30 is enough.
    EXPECT_EQ(joints_of(job, room(1680, 460)), (Places{{1080, 1050}}));
}

TEST(Joints, MoreWhereMountsAreInTheWay) {
    Job job = with_doors();
    add_mount(job, "H4", 1075);
    EXPECT_EQ(joints_of(job, room(1680, 460)), (Places{{170, 140}, {1740, 1710}}));
}

TEST(Joints, NoneWhereNoPlaceIsFree) {
    Job job = with_doors();
    for (const double along : {165.0, 1075.0, 1735.0}) {
        add_mount(job, "N" + std::to_string(along), along);
    }
    EXPECT_TRUE(joints_of(job, room(1680, 460)).empty());
    EXPECT_TRUE(joints_of(job_of(), room(1680, 460)).empty());
}

// The hatch's lines are in the middle of the long door's opening; without that door they serve. Ahead of 960 the lap
// would lie in the middle of the hatch.
TEST(Joints, NeverWhereFeetStand) {
    Job job = job_of();
    add_door(job, "hatch", 900, 960);
    EXPECT_EQ(joints_of(job, room(1800, 180)), (Places{{960, 990}}));
    add_door(job, "long door", 100, 1800);
    EXPECT_EQ(joints_of(job, room(1800, 180)), (Places{{100, 70}, {1800, 1770}}));
}

TEST(Joints, NoneNeeded) {
    EXPECT_TRUE(joints_of(with_doors(), room(2000, 460)).empty());
}

}  // namespace
}  // namespace sillwright::core
