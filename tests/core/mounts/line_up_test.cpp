#include "core/mounts/line_up.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <stop_token>

#include "core/edit/mend_edit.h"
#include "geometry/slot_fit.h"

// Plans are made by hand: a row of mounts along a flat flange whose normal is straight up, the fasteners' axes down.

namespace sillwright::core {
namespace {

Entry mm(double value) {
    return {geometry::millimetres(value), ""};
}

struct Made {
    Job job;
    MountPlan plan;
};

struct HoleOf {
    double along = 0.0, across = 0.0, length = 0.0, width = 0.0;
    HoleRole role = HoleRole::clearance;
    double sd = 0.0, part = 0.0, grows_least = 0.0, grows_greatest = 0.0, shift = 0.0;
};

constexpr double k_screw_mm = 5.0;

/// The first hole is the locator.
Made made(const std::vector<HoleOf>& holes) {
    Made m;
    m.job.fitting.part_half = mm(holes.front().part);
    for (const HoleOf& hole : holes) {
        Mount mount;
        mount.name = "H" + std::to_string(m.job.mounts.size() + 1);
        mount.at = {mm(hole.along), mm(hole.across), mm(0)};
        mount.fastener.diameter = mm(k_screw_mm);
        mount.part_hole = mm(hole.width);
        if (hole.length > hole.width) {
            mount.part_slot = mm(hole.length);
        }
        m.job.mounts.push_back(mount);
        HolePlan planned;
        planned.mount = mount.name;
        planned.landing.p_mm = {hole.along, hole.across, 0.0};
        planned.landing.normal = Eigen::Vector3d::UnitZ();
        planned.landing.covariance_mm2 = hole.sd * hole.sd * Eigen::Matrix3d::Identity();
        planned.role = hole.role;
        planned.screw_mm = k_screw_mm;
        planned.from_locator_mm = hole.along - holes.front().along;
        planned.growth.least_mm = hole.grows_least;
        planned.growth.greatest_mm = hole.grows_greatest;
        planned.across_from_locator_mm = hole.across - holes.front().across;
        if (planned.from_locator_mm != 0.0) {
            const double share = std::abs(planned.across_from_locator_mm / planned.from_locator_mm);
            planned.growth_across.least_mm = share * hole.grows_least;
            planned.growth_across.greatest_mm = share * hole.grows_greatest;
        }
        planned.part = {hole.part, hole.part};
        planned.cut = {hole.length, hole.width};
        planned.drawn = planned.cut;
        planned.drawn_shift_mm = planned.shift_mm = hole.shift;
        m.plan.holes.push_back(planned);
    }
    m.plan.locator = "H1";
    m.plan.holes.front().role = HoleRole::locator;
    return m;
}

/// Nine mounts over 1.7 m as a shop has them: the middle one the locator, the next the guide.
Made usual(double sd, double play) {
    std::vector<HoleOf> holes{{0, 0, 5.2, 5.2, HoleRole::locator, sd, 0.2}};
    for (int i = -4; i <= 4; ++i) {
        if (i != 0) {
            const double e = 0.8 * std::abs(i);
            holes.push_back({210.0 * i, 3.0 * std::sin(i), k_screw_mm + 2.0 * play + 2.0 * e,
                             k_screw_mm + (i == 1 ? 0.4 : 2.0 * play), i == 1 ? HoleRole::guide : HoleRole::clearance,
                             sd, 0.2, -e, e});
        }
    }
    return made(holes);
}

double half_interval(const LineUp& line_up) {
    return 0.5 * (line_up.high - line_up.low);
}

// Two round holes, closed form: only the difference of their errors along the line cannot be moved away. It is normal
// with sd √2 s, so the share that fits is erf(2 r / (√2 s √2)), r the radius of each hole's room.
TEST(LineUp, TwoRoundHolesByTheErrorFunction) {
    for (const double room : {0.2, 0.5, 0.9}) {
        const double wide = k_screw_mm + 2.0 * room;
        const Made m =
            made({{0, 0, wide, wide, HoleRole::locator, 0.5}, {600, 0, wide, wide, HoleRole::clearance, 0.5}});
        const LineUp line = line_up(m.job, m.plan);
        const double sure = std::erf(2.0 * room / (0.5 * std::sqrt(2.0) * std::sqrt(2.0)));
        ASSERT_EQ(line.draws, 100'000U);
        // 4 sd of the count: missed in one case of 16 000.
        EXPECT_NEAR(line.probability, sure, 4.0 * std::sqrt(sure * (1.0 - sure) / 1e5)) << room;
    }
}

// How often the interval covers, by the binomial law itself: about 95 % at every probability, on the average 95 %.
TEST(LineUp, IntervalCoversAKnownProbability) {
    constexpr std::size_t k_draws = 400;
    double mean = 0.0;
    int cases = 0;
    for (double p = 0.03; p < 0.98; p += 0.01) {
        double covered = 0.0;
        for (std::size_t fit = 0; fit <= k_draws; ++fit) {
            const Interval interval = wilson_interval(fit, k_draws);
            if (interval.low <= p && p <= interval.high) {
                const double n = static_cast<double>(k_draws);
                const double k = static_cast<double>(fit);
                covered += std::exp(std::lgamma(n + 1.0) - std::lgamma(k + 1.0) - std::lgamma(n - k + 1.0) +
                                    k * std::log(p) + (n - k) * std::log(1.0 - p));
            }
        }
        EXPECT_GT(covered, 0.925) << p;
        mean += covered;
        ++cases;
    }
    EXPECT_NEAR(mean / cases, 0.95, 0.005);
}

// E. B. Wilson's interval, worked by hand: 0 of 10 gives 0 to z²/(10 + z²) = 0.2775; 5 of 10 gives 0.2366 to 0.7634.
TEST(LineUp, WilsonsInterval) {
    EXPECT_EQ(wilson_interval(0, 10).low, 0.0);
    EXPECT_NEAR(wilson_interval(0, 10).high, 0.2775, 5e-5);
    EXPECT_NEAR(wilson_interval(5, 10).low, 0.2366, 5e-5);
    EXPECT_NEAR(wilson_interval(5, 10).high, 0.7634, 5e-5);
    EXPECT_LT(wilson_interval(100'000, 100'000).low, 1.0);
}

// A hole of the part even within a disc against one that stands still: both tight holes' room is a disc, closed form as
// the share of a disc's width: two discs of errors would convolve, so one hole alone is off (part 0 at the locator).
TEST(LineUp, PartsErrorsAreEvenInADisc) {
    Made m = made({{0, 0, k_screw_mm, k_screw_mm, HoleRole::locator, 0.0},
                   {600, 0, k_screw_mm + 1.0, k_screw_mm + 1.0, HoleRole::clearance, 0.0}});
    m.plan.holes[1].part = {1.0, 1.0};
    // |x| <= h = 0.5 of a disc of radius 1: (2/π)(h √(1-h²) + asin h).
    const double sure = 2.0 / std::numbers::pi * (0.5 * std::sqrt(0.75) + std::asin(0.5));
    const LineUp line = line_up(m.job, m.plan);
    EXPECT_NEAR(line.probability, sure, 4.0 * std::sqrt(sure * (1.0 - sure) / 1e5));
}

// Worst-case slots, by hand: length = screw + growth's range + 2 (part + body + play), width = screw + 2 of the same.
// Every error inside the circle of the half-widths fits, and with it every draw.
TEST(LineUp, EveryDrawWithinTheCircleFitsWorstCaseSlots) {
    constexpr double k_sure = 0.6;
    std::vector<HoleOf> holes{{0, 0, 5.2, 5.2, HoleRole::locator}};
    for (int i = -4; i <= 4; ++i) {
        if (i != 0) {
            const double least = -0.9 * std::abs(i);
            const double greatest = 0.5 * std::abs(i);
            holes.push_back({200.0 * i, 0, k_screw_mm + (greatest - least) + 2.0 * k_sure, k_screw_mm + 2.0 * k_sure,
                             HoleRole::clearance, 0.0, k_sure, least, greatest,
                             // The middle of the growth away from the locator is taken back.
                             -0.5 * (least + greatest) * (i < 0 ? -1.0 : 1.0)});
        }
    }
    Made m = made(holes);
    m.job.fitting.part_half = mm(k_sure);
    const LineUp line = line_up(m.job, m.plan);
    EXPECT_EQ(line.fit, line.draws);
    EXPECT_EQ(line.growth_length_mm, 0.0);
    EXPECT_TRUE(line.blame.empty());
    // The centres not moved, what was moved away is missing at one end.
    for (HolePlan& hole : m.plan.holes) {
        hole.drawn_shift_mm = 0.0;
    }
    EXPECT_LT(line_up(m.job, m.plan).fit, line.draws);
}

// A box of errors does not fit slots sized by the same half-widths, along and across each alone: their ends are round.
// The third hole is held by two tight ones. A box's share inside such a slot, by hand: all but four corners of the end.
TEST(LineUp, ARectangleFlattersASlot) {
    constexpr double k_half = 0.6;
    int by_slot = 0;
    int by_box = 0;
    constexpr int k_grid = 60;
    for (int i = 0; i < k_grid; ++i) {
        for (int j = 0; j < k_grid; ++j) {
            const Eigen::Vector2d error(k_half * (2.0 * (i + 0.5) / k_grid - 1.0),
                                        k_half * (2.0 * (j + 0.5) / k_grid - 1.0));
            const std::vector<geometry::SlotTask> tasks{{{-400, 0}, {-400, 0}, {-400, 0}, 1e-6},
                                                        {{400, 0}, {400, 0}, {400, 0}, 1e-6},
                                                        {error, {0, 0}, {0, 0}, k_half}};
            by_slot += geometry::slot_fit(tasks) ? 1 : 0;
            by_box += std::abs(error.x()) <= k_half && std::abs(error.y()) <= k_half ? 1 : 0;
        }
    }
    EXPECT_EQ(by_box, k_grid * k_grid);
    // π/4 of a square is its circle.
    EXPECT_NEAR(static_cast<double>(by_slot) / (k_grid * k_grid), std::numbers::pi / 4.0, 0.01);
}

/// Brute force: shift and turn on a fine grid about the best of a coarse one; the share of draws that it can bring in,
/// with its own random numbers.
double by_brute_force(const Made& m, double sd, int draws) {
    std::uint64_t state = 12345;
    const auto uniform = [&] {
        state = state * 6364136223846793005U + 1442695040888963407U;
        return static_cast<double>(state >> 11U) * 0x1p-53;
    };
    const auto normal = [&] {
        return std::sqrt(-2.0 * std::log(1.0 - uniform())) * std::cos(2.0 * std::numbers::pi * uniform());
    };
    int fit = 0;
    for (int k = 0; k < draws; ++k) {
        std::vector<Eigen::Vector2d> off;
        for (std::size_t i = 0; i < m.plan.holes.size(); ++i) {
            off.emplace_back(sd * normal(), sd * normal());
        }
        const auto worst = [&](double x, double y, double turn) {
            double most = -1e9;
            for (std::size_t i = 0; i < off.size(); ++i) {
                const HolePlan& hole = m.plan.holes[i];
                const Eigen::Vector2d p = hole.landing.p_mm.head<2>();
                const Eigen::Vector2d d = off[i] + Eigen::Vector2d(x - turn * p.y(), y + turn * p.x());
                const double half = 0.5 * (hole.drawn->length_mm - hole.drawn->width_mm);
                const double beyond = std::max(std::abs(d.x()) - half, 0.0);
                most = std::max(most, std::hypot(beyond, d.y()) - 0.5 * (hole.drawn->width_mm - k_screw_mm));
            }
            return most;
        };
        double x = 0.0;
        double y = 0.0;
        double turn = 0.0;
        double best = worst(0, 0, 0);
        for (double step = 1.0; step > 1e-4; step *= 0.7) {
            // A grid of 7 x 7 x 7 about the best so far.
            double to_x = x;
            double to_y = y;
            double to_turn = turn;
            for (int a = -3; a <= 3; ++a) {
                for (int b = -3; b <= 3; ++b) {
                    for (int c = -3; c <= 3; ++c) {
                        const double here = worst(x + a * step / 3, y + b * step / 3, turn + c * step / 900);
                        if (here < best) {
                            best = here;
                            to_x = x + a * step / 3;
                            to_y = y + b * step / 3;
                            to_turn = turn + c * step / 900;
                        }
                    }
                }
            }
            x = to_x;
            y = to_y;
            turn = to_turn;
        }
        fit += best <= 0.0 ? 1 : 0;
    }
    return static_cast<double>(fit) / draws;
}

TEST(LineUp, AgreesWithBruteForce) {
    for (const double sd : {0.25, 0.4}) {
        const Made m = made({{0, 0, 5.6, 5.6, HoleRole::locator, sd},
                             {-300, 10, 6.8, 5.8, HoleRole::guide, sd},
                             {250, 0, 7.0, 6.0, HoleRole::clearance, sd},
                             {500, -10, 7.0, 6.0, HoleRole::clearance, sd}});
        const LineUp line = line_up(m.job, m.plan);
        constexpr int k_draws = 700;
        const double brute = by_brute_force(m, sd, k_draws);
        EXPECT_GT(brute, 0.05);
        EXPECT_LT(brute, 0.98);
        EXPECT_NEAR(line.probability, brute, 4.0 * std::sqrt(brute * (1.0 - brute) / k_draws) + half_interval(line));
    }
}

TEST(LineUp, SameJobSameNumbers) {
    const Made m = usual(0.5, 0.9);
    const LineUp one = line_up(m.job, m.plan, 20'000);
    const LineUp two = line_up(m.job, m.plan, 20'000);
    EXPECT_EQ(one.fit, two.fit);
    EXPECT_EQ(one.growth_length_mm, two.growth_length_mm);
    // A draw is told by its number: the first of more are those of fewer.
    const std::size_t half = line_up(m.job, m.plan, 10'000).fit;
    EXPECT_LE(half, one.fit);
    EXPECT_LE(one.fit, half + 10'000);
}

TEST(LineUp, MoreSpreadFewerFitLargerHolesMore) {
    constexpr std::size_t k_draws_here = 10'000;
    EXPECT_GT(line_up(usual(0.3, 0.9).job, usual(0.3, 0.9).plan, k_draws_here).fit,
              line_up(usual(0.5, 0.9).job, usual(0.5, 0.9).plan, k_draws_here).fit);
    std::size_t before = 0;
    for (const double play : {0.6, 0.9, 1.2, 1.5}) {
        const Made m = usual(0.5, play);
        const std::size_t fit = line_up(m.job, m.plan, k_draws_here).fit;
        EXPECT_GT(fit, before);
        before = fit;
    }
}

TEST(LineUp, GrowthInEverySeasonIsHeldAtOnce) {
    // Hand sum: the slot is as long as its growth of 2 and no more; the ends of it are met exactly.
    const auto with_slot = [](double length) {
        return made(
            {{0, 0, 5.0, 5.0, HoleRole::locator}, {700, 0, length, 6.0, HoleRole::clearance, 0, 0, -1.5, 0.5, 0.5}});
    };
    const Made enough = with_slot(7.0);
    EXPECT_EQ(line_up(enough.job, enough.plan, 10).fit, 10U);
    const Made short_of = with_slot(6.99);
    EXPECT_EQ(line_up(short_of.job, short_of.plan, 10).fit, 0U);
}

TEST(LineUp, GrowthAcrossIsInProportion) {
    // 40 mm off the line of growth at 1 in 1000: 0.04 mm, which a slot 0.05 wider allows and one 0.03 wider does not.
    const auto with_width = [](double play) {
        return made({{0, 0, 5.0, 5.0, HoleRole::locator},
                     {800, 0, 9.0, 5.0, HoleRole::guide, 0, 0, 0.0, 0.8},
                     {500, 40, 9.0, 5.0 + 2.0 * play, HoleRole::clearance, 0, 0, 0.0, 0.5}});
    };
    const Made enough = with_width(0.05);
    EXPECT_EQ(line_up(enough.job, enough.plan, 10).fit, 10U);
    const Made narrow = with_width(0.03);
    EXPECT_EQ(line_up(narrow.job, narrow.plan, 10).fit, 0U);
}

TEST(LineUp, ALooseScrewHasTheRoomOfTheBodysHole) {
    Made m = made({{0, 0, 5.2, 5.2, HoleRole::locator, 0.4}, {600, 0, 5.2, 5.2, HoleRole::clearance, 0.4}});
    const std::size_t tight = line_up(m.job, m.plan).fit;
    m.job.mounts[1].fastener.kind = FastenerKind::screw;
    m.job.mounts[1].size = mm(k_screw_mm + 1.0);
    const LineUp loose = line_up(m.job, m.plan);
    EXPECT_GT(loose.fit, tight);
    // Closed form, as above: the rooms are 0.1 and 0.1 + 0.5.
    const double sure = std::erf(0.7 / (0.4 * 2.0));
    EXPECT_NEAR(loose.probability, sure, 4.0 * std::sqrt(sure * (1.0 - sure) / 1e5));
    m.job.mounts[1].fastener.kind = FastenerKind::fixed_screw;
    EXPECT_EQ(line_up(m.job, m.plan).fit, tight);
}

TEST(LineUp, OtherCarsAddTheirDisc) {
    Made m = usual(0.3, 0.9);
    const LineUp this_car = line_up(m.job, m.plan);
    m.job.fitting.fits_other_cars = true;
    EXPECT_LT(line_up(m.job, m.plan).fit, this_car.fit);
}

TEST(LineUp, PiecesStandEachForItself) {
    const std::vector<HoleOf> two{{0, 0, 5.4, 5.4, HoleRole::locator, 0.3},
                                  {600, 0, 5.4, 5.4, HoleRole::clearance, 0.3}};
    const Made one = made(two);
    const double alone = line_up(one.job, one.plan).probability;
    Made both = made({two[0], two[1], two[0], two[1]});
    both.plan.holes[2].piece = both.plan.holes[3].piece = 1;
    const LineUp line = line_up(both.job, both.plan);
    // Independent: both go on by the square.
    EXPECT_NEAR(line.probability, alone * alone, 4.0 * std::sqrt(2.0 * alone * (1.0 - alone) / 1e5));
}

TEST(LineUp, TheUnsureOneIsToBlame) {
    Made m = usual(0.2, 1.0);
    m.plan.holes[3].landing.covariance_mm2 = 2.0 * Eigen::Matrix3d::Identity();
    const LineUp line = line_up(m.job, m.plan);
    ASSERT_FALSE(line.blame.empty());
    EXPECT_EQ(line.blame.front().mount, m.plan.holes[3].mount);
    EXPECT_LE(line.blame.front().share, 1.0 - line.probability);
    EXPECT_GT(line.blame.front().share, 0.5 * (1.0 - line.probability));
}

// Two round holes again: a growth g of the second's room by half of it each side: erf((2 r + g/2) / (2 s)) = asked.
TEST(LineUp, GrowthBringsWhatIsAsked) {
    Made m = made({{0, 0, 5.2, 5.2, HoleRole::locator, 0.5}, {600, 0, 5.8, 5.8, HoleRole::clearance, 0.5}});
    m.job.limits.line_up_least = 0.99;
    const LineUp line = line_up(m.job, m.plan);
    ASSERT_TRUE(line.growth_length_mm && line.growth_width_mm && line.growth_both_mm);
    // The 99 % point of |normal| is 2.5758; sd √2 · 0.5; rooms 0.1 and 0.4 are there.
    const double needed = 2.0 * (2.5758 * std::sqrt(2.0) * 0.5 - 0.5);
    EXPECT_NEAR(*line.growth_length_mm, needed, 0.12);
    EXPECT_NEAR(*line.growth_width_mm, needed, 0.12);  // A round hole grows all round.
}

TEST(LineUp, LengthCannotMendWhatIsTooNarrow) {
    // Three in a row, the middle one off the line: only width helps.
    const Made m = made({{0, 0, 5.2, 5.2, HoleRole::locator, 0.4},
                         {-400, 0, 12.0, 5.6, HoleRole::guide, 0.4},
                         {400, 0, 12.0, 5.6, HoleRole::clearance, 0.4}});
    const LineUp line = line_up(m.job, m.plan);
    EXPECT_FALSE(line.growth_length_mm);
    ASSERT_TRUE(line.growth_width_mm);
    EXPECT_GT(*line.growth_width_mm, 0.5);
}

TEST(LineUp, WhatIsMissingIsNamed) {
    Made m = usual(0.3, 0.9);
    m.job.fitting.part_half.reset();
    m.plan.holes[2].landing.covariance_mm2.reset();
    const LineUp line = line_up(m.job, m.plan);
    EXPECT_EQ(line.draws, 0U);
    EXPECT_EQ(line.missing.size(), 2U);
    const Finding finding = line_up_finding(m.job, m.plan, line);
    EXPECT_EQ(finding.state, State::not_measured);
    EXPECT_FALSE(finding.found);
    m = usual(0.3, 0.9);
    m.plan.missing = {"the hot temperature"};
    EXPECT_EQ(line_up(m.job, m.plan).missing, m.plan.missing);
    EXPECT_FALSE(line_up(Job{}, MountPlan{}).missing.empty());
}

TEST(LineUp, StopsWhenAsked) {
    std::stop_source source;
    source.request_stop();
    const Made m = usual(0.3, 0.9);
    EXPECT_EQ(line_up(m.job, m.plan, 100'000, source.get_token()).draws, 0U);
}

TEST(LineUpFinding, HoldsWhereAllGoOn) {
    const Made m = usual(0.05, 1.2);
    const Finding finding = line_up_finding(m.job, m.plan, line_up(m.job, m.plan));
    EXPECT_EQ(finding.id, "mounts/line-up");
    EXPECT_EQ(finding.state, State::holds);
    EXPECT_FALSE(finding.mend);
}

/// The plan as it would be made of a job: sizes and shifts that it has.
MountPlan drawn_as(const Job& job, MountPlan plan) {
    for (std::size_t i = 0; i < plan.holes.size(); ++i) {
        const Mount& mount = job.mounts[i];
        const double width = in_mm(mount.part_hole->value);
        plan.holes[i].drawn = HoleSize{mount.part_slot ? in_mm(mount.part_slot->value) : width, width};
        plan.holes[i].drawn_shift_mm = mount.part_shift ? in_mm(mount.part_shift->value) : 0.0;
    }
    return plan;
}

TEST(LineUpFinding, ItsMendIsTakenAndHolds) {
    for (Made m : {made({{0, 0, 5.2, 5.2, HoleRole::locator, 0.4}, {600, 0, 6.0, 6.0, HoleRole::clearance, 0.4}}),
                   made({{0, 0, 5.2, 5.2, HoleRole::locator, 0.4},
                         {-400, 0, 12.0, 5.6, HoleRole::guide, 0.4},
                         {400, 0, 12.0, 5.6, HoleRole::clearance, 0.4}}),
                   usual(0.5, 0.9)}) {
        m.plan.holes[1].drawn.reset();  // Not drilled yet: planned as it is.
        m.job.mounts[1].part_hole.reset();
        const Finding finding = line_up_finding(m.job, m.plan, line_up(m.job, m.plan));
        ASSERT_EQ(finding.state, State::falls_short);
        ASSERT_TRUE(finding.mend && finding.mend->can_be_taken()) << finding.why;
        const auto mended = take_mend(m.job, finding);
        ASSERT_TRUE(mended.has_value()) << mended.error().message;
        const Job& job = mended.value().job;
        EXPECT_EQ(job.mounts[0].part_hole->value, m.job.mounts[0].part_hole->value);
        const MountPlan plan = drawn_as(job, m.plan);
        const Finding after = line_up_finding(job, plan, line_up(job, plan));
        EXPECT_GE(*after.margin, 0.0);
        EXPECT_NEAR(*after.margin, *finding.mend->proven_margin, 1e-12);
        for (std::size_t i = 1; i < plan.holes.size(); ++i) {
            const double steps = (plan.holes[i].drawn->length_mm) / 0.5;
            if (plan.holes[i].drawn != m.plan.holes[i].drawn) {
                EXPECT_NEAR(steps, std::round(steps), 1e-9);
            }
        }
    }
}

TEST(LineUpFinding, WhereSlotsCannotHelpItSaysSo) {
    // The locator's hole is smaller than its screw.
    const Made m = made({{0, 0, 4.9, 4.9, HoleRole::locator, 0.2}, {600, 0, 8, 7, HoleRole::guide, 0.2}});
    const Finding finding = line_up_finding(m.job, m.plan, line_up(m.job, m.plan, 1000));
    EXPECT_EQ(finding.state, State::falls_short);
    ASSERT_TRUE(finding.mend);
    EXPECT_FALSE(finding.mend->can_be_taken());
}

}  // namespace
}  // namespace sillwright::core
