#include "core/forming/draw.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <ctime>
#include <random>

#include "tests/core/forming/draw_world.h"

namespace sillwright::core {
namespace {

using draw_world::c_section;
using draw_world::job_of;
using draw_world::k_deg;
using draw_world::least_deg;
using draw_world::line_of;
using draw_world::mm;
using draw_world::plan_of;
using draw_world::Spots;
using draw_world::strip;
using draw_world::turned;
using geometry::degrees;
using geometry::in_deg;
using geometry::in_mm;
using geometry::in_rad;
using geometry::millimetres;

// READ thermopro.com, Design guidelines: 2 degrees female, 3 male; texture from memory.
TEST(Draw, DraftNeededByMouldAndTexture) {
    Forming forming;
    EXPECT_FALSE(draft_needed(forming));
    forming.mould = MouldKind::male;
    EXPECT_NEAR(in_deg(*draft_needed(forming)), 3.0, 1e-12);
    forming.texture = mm(0.05);
    EXPECT_NEAR(in_deg(*draft_needed(forming)), 5.0, 1e-12);
    forming.mould = MouldKind::female;
    EXPECT_NEAR(in_deg(*draft_needed(forming)), 4.0, 1e-12);
    forming.draft_least = degrees(1.5);
    EXPECT_NEAR(in_deg(*draft_needed(forming)), 1.5, 1e-12);
}

TEST(Draw, PrismHasTheAnglesThatItIsDrawnWith) {
    Job job = job_of({c_section(4, 7, 6), c_section(4, 7, 6)});
    const DrawPlan plan = plan_of(job);
    EXPECT_NEAR(in_deg(plan.best), 1.5, 1e-9);  // 4 + t = 7 - t
    EXPECT_NEAR(in_deg(plan.best_draft), 5.5, 1e-9);
    EXPECT_EQ(plan.tilt, plan.best);
    ASSERT_TRUE(plan.from && plan.to);
    EXPECT_NEAR(in_deg(*plan.from), -1.0, 1e-9);
    EXPECT_NEAR(in_deg(*plan.to), 4.0, 1e-9);
    EXPECT_NEAR(in_deg(strip(plan, "shelf inner", "shelf edge").least), 5.5, 1e-9);
    EXPECT_NEAR(in_deg(strip(plan, "lower edge", "flange root").least), 5.5, 1e-9);
    EXPECT_NEAR(in_deg(strip(plan, "shelf edge", "lower edge").least), 88.5, 1e-6);
    // A rounding has normals between its neighbours'.
    EXPECT_NEAR(in_deg(strip(plan, "shelf edge", "shelf edge").least), 5.5, 1e-9);
    EXPECT_TRUE(plan.undercuts.empty());
    EXPECT_TRUE(plan.missing.empty());
    job.forming.tilt = degrees(-2);
    const DrawPlan decided = plan_of(job);
    EXPECT_NEAR(in_deg(decided.tilt), -2.0, 1e-12);
    EXPECT_NEAR(in_deg(decided.best), 1.5, 1e-9);
    EXPECT_NEAR(in_deg(strip(decided, "shelf inner", "shelf edge").least), 2.0, 1e-9);
    EXPECT_NEAR(in_deg(strip(decided, "lower edge", "flange root").least), 9.0, 1e-9);
    EXPECT_EQ(in_rad(draw_tilt(job, job.skirt.pieces[0], line_of(job))), in_rad(decided.tilt));
    // Names stand in the line's order, roundings between their strips.
    ASSERT_EQ(plan.strips.size(), 5U);
    EXPECT_EQ(plan.strips[1].from, "shelf edge");
    EXPECT_EQ(plan.strips[1].to, "shelf edge");
    EXPECT_EQ(plan.strips[2].to, "lower edge");
}

TEST(Draw, SymmetricSectionIsDrawnLevel) {
    const DrawPlan plan = plan_of(job_of({c_section(6, 6), c_section(6, 6), c_section(6, 6)}));
    EXPECT_NEAR(in_deg(plan.best), 0.0, 1e-9);
    EXPECT_NEAR(in_deg(plan.best_draft), 6.0, 1e-9);
    EXPECT_NEAR(in_deg(*plan.from), -3.0, 1e-9);
    EXPECT_NEAR(in_deg(*plan.to), 3.0, 1e-9);
}

TEST(Draw, OnlyTiltsThatCanBeSetUp) {
    Job job = job_of({c_section(4, 16), c_section(4, 16)});
    job.forming.tilt_to = degrees(2.5);
    const DrawPlan plan = plan_of(job);
    EXPECT_NEAR(in_deg(plan.best), 2.5, 1e-12);
    EXPECT_NEAR(in_deg(plan.best_draft), 6.5, 1e-9);
    EXPECT_NEAR(in_deg(*plan.to), 2.5, 1e-12);
    job.forming.tilt_to = degrees(-5);
    EXPECT_FALSE(plan_of(job).from);
}

// A wall in a plane that is not square to the sections: its normal by the cross product of two of its edges.
TEST(Draw, WallThatGrowsAlongTheCarHasLessThanItsSectionShows) {
    Spots rear = c_section(4, 7);
    rear[0].up += 40;
    rear[1].up += 40;
    Job job = job_of({c_section(4, 7), rear}, 200.0);
    job.forming.tilt = degrees(0);
    const Eigen::Vector3d normal =
        Eigen::Vector3d(200, 0, 40).cross(Eigen::Vector3d(0, -60, 60 * std::tan(4 * k_deg))).normalized();
    const double expected = std::asin(std::abs(normal.y())) / k_deg;
    EXPECT_LT(expected, 3.95);
    EXPECT_NEAR(in_deg(strip(plan_of(job), "shelf inner", "shelf edge").least), expected, 1e-9);
    EXPECT_NEAR(in_deg(strip(plan_of(job), "lower edge", "flange root").least), 7.0, 1e-9);
}

// A ruled surface between two stations: at its four corners the normal by the cross product of ruling and edge.
TEST(Draw, TwistedWallIsLeastAtACorner) {
    Spots rear = c_section(9, 7);
    rear[0].up += 20;
    Job job = job_of({c_section(4, 7), rear}, 200.0);
    job.forming.tilt = degrees(1);
    const Eigen::Vector3d p(0, std::cos(k_deg), std::sin(k_deg));
    const auto at = [&](std::size_t station, std::size_t node) {
        const Node& one = job.skirt.pieces[0].drawn.sections[station].nodes[node];
        return Eigen::Vector3d(200.0 * static_cast<double>(station), in_mm(one.out.value), in_mm(one.up.value));
    };
    double expected = 90.0;
    for (const std::size_t station : {0U, 1U}) {
        for (const std::size_t node : {0U, 1U}) {
            const Eigen::Vector3d n = (at(1, node) - at(0, node)).cross(at(station, 1) - at(station, 0)).normalized();
            expected = std::min(expected, std::asin(n.dot(p)) / k_deg);
        }
    }
    const StripDraft& shelf = strip(plan_of(job), "shelf inner", "shelf edge");
    EXPECT_NEAR(in_deg(shelf.least), expected, 1e-9);
    EXPECT_NEAR(in_mm(shelf.along), 0.0, 1e-9);
    EXPECT_NEAR(shelf.at_mm.x(), 40.0, 1e-9);
    EXPECT_LT(expected, 4.99);
}

/// An upright face with steps: each wall drawn at its own angle.
TEST(Draw, SteppedWalls) {
    const auto step = [](double deg, double depth) { return depth * std::tan(deg * k_deg); };
    const Spots spots{
        {"a", 0, 60 + step(5, 40)}, {"b", 40, 60}, {"c", 42, 30 + step(8, 30)}, {"d", 72, 30}, {"e", 74, -10},
        {"f", 0, -10 - step(6, 74)}};
    Job job = job_of({spots, spots});
    job.forming.tilt = degrees(0);
    const DrawPlan plan = plan_of(job);
    EXPECT_NEAR(in_deg(strip(plan, "a", "b").least), 5.0, 1e-9);
    EXPECT_NEAR(in_deg(strip(plan, "c", "d").least), 8.0, 1e-9);
    EXPECT_NEAR(in_deg(strip(plan, "e", "f").least), 6.0, 1e-9);
    EXPECT_TRUE(plan.undercuts.empty());
}

// By hand: a shelf of 60 mm that leans back by 2 degrees comes back by 60 sin 2 degrees.
TEST(Draw, UndercutIsAsDeepAsTheShelfLeansBack) {
    Spots spots = c_section(0, 5);
    spots[0] = {"shelf inner", 100 - 60 * std::cos(2 * k_deg), 80 - 60 * std::sin(2 * k_deg)};
    Job job = job_of({spots, spots});
    job.skirt.pieces[0].sheet = mm(0.0);
    job.forming.tilt = degrees(0);
    const DrawPlan plan = plan_of(job);
    ASSERT_EQ(plan.undercuts.size(), 1U);
    EXPECT_EQ(plan.undercuts[0].strip, "shelf inner to shelf edge");
    EXPECT_NEAR(in_mm(plan.undercuts[0].depth), 60 * std::sin(2 * k_deg), 1e-9);
    EXPECT_NEAR(in_mm(plan.undercuts[0].from), 0.0, 1e-9);
    EXPECT_NEAR(in_mm(plan.undercuts[0].to), 200.0, 1e-9);
    EXPECT_NEAR(in_deg(strip(plan, "shelf inner", "shelf edge").least), -2.0, 1e-9);
    job.forming.mould = MouldKind::female;
    EXPECT_NEAR(in_mm(plan_of(job).undercuts.at(0).depth), 60 * std::sin(2 * k_deg), 1e-9);
    job.forming.tilt = degrees(2.5);
    EXPECT_TRUE(plan_of(job).undercuts.empty());
}

// The shelf's inner end rises evenly, from 3 mm below its edge to 5 mm above: level at 3/8 of the way.
TEST(Draw, UndercutEndsWhereTheWallIsLevel) {
    Spots front = c_section(0, 5);
    Spots rear = front;
    front[0].up = 77;
    rear[0].up = 85;
    Job job = job_of({front, rear}, 800.0);
    job.forming.tilt = degrees(0);
    const DrawPlan plan = plan_of(job);
    ASSERT_EQ(plan.undercuts.size(), 1U);
    EXPECT_NEAR(in_mm(plan.undercuts[0].from), 0.0, 1e-9);
    EXPECT_NEAR(in_mm(plan.undercuts[0].to), 300.0, k_end_mm);
    EXPECT_NEAR(in_mm(plan.undercuts[0].along), 0.0, 1e-9);
}

/// Open sections by chance, with roundings, that change along the car.
Job by_chance(unsigned seed, int stations = 4) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> by(-2.5, 2.5);
    std::vector<Spots> sections;
    for (int i = 0; i < stations; ++i) {
        Spots spots{{"top return end", 61, 124}, {"shelf inner", 82, 120, 6}, {"shelf edge", 142, 112, 5},
                    {"bead", 154, 103, 5},       {"knee", 147, 29, 6},        {"lower edge", 138, 18, 4},
                    {"flange root", 70, 13, 6},  {"flange end", 34, 9}};
        for (auto& spot : spots) {
            spot.out += by(random);
            spot.up += by(random);
            spot.radius += spot.radius > 0.0 ? 0.4 * by(random) : 0.0;
        }
        sections.push_back(spots);
    }
    return job_of(sections);
}

TEST(Draw, BestTiltIsNeverWorseThanADenseScan) {
    int opened = 0;
    for (unsigned seed = 1; seed <= 6; ++seed) {
        Job job = by_chance(seed);
        const auto line = line_of(job);
        const DrawPlan best = draw_plan(job, job.skirt.pieces[0], line);
        EXPECT_NEAR(least_deg(best), in_deg(best.best_draft), 1e-9) << seed;
        EXPECT_EQ(in_rad(draw_tilt(job, job.skirt.pieces[0], line)), in_rad(best.tilt));
        for (double tilt = -20.0; tilt <= 20.0; tilt += 0.8) {
            job.forming.tilt = degrees(tilt);
            const DrawPlan there = draw_plan(job, job.skirt.pieces[0], line);
            EXPECT_LE(least_deg(there), in_deg(best.best_draft) + 1e-9) << seed << " at " << tilt;
            const bool said = best.from && degrees(tilt) >= *best.from && degrees(tilt) <= *best.to;
            EXPECT_EQ(least_deg(there) >= 3.0, said) << seed << " at " << tilt;
            // Somewhere held and a negative draft somewhere are the same: the draw direction lies in the sections.
            EXPECT_EQ(there.undercuts.empty(), least_deg(there) >= 0.0) << seed << " at " << tilt;
        }
        opened += in_deg(best.best_draft) > 0.0 ? 1 : 0;
    }
    EXPECT_GT(opened, 1);
}

Spots spots_of(const Section& section) {
    Spots spots;
    for (const Node& node : section.nodes) {
        spots.push_back({node.name, in_mm(node.out.value), in_mm(node.up.value), in_mm(node.radius.value)});
    }
    return spots;
}

// Two stations: guide lines through more weigh out and up each by itself, so that a turned skirt is another one.
TEST(Draw, TurnsWithTheSection) {
    for (unsigned seed = 1; seed <= 8; ++seed) {
        const Job job = by_chance(seed, 2);
        const double by = -60.0 + 17.0 * seed;
        std::vector<Spots> sections;
        for (const Section& section : job.skirt.pieces[0].drawn.sections) {
            sections.push_back(turned(spots_of(section), by));
        }
        Job other = job_of(sections);
        other.forming.tilt_from = job.forming.tilt_from + degrees(by);
        other.forming.tilt_to = job.forming.tilt_to + degrees(by);
        const DrawPlan here = plan_of(job);
        const DrawPlan there = plan_of(other);
        EXPECT_NEAR(in_rad(there.best), in_rad(here.best + degrees(by)), 1e-9) << seed;
        EXPECT_NEAR(in_rad(there.best_draft), in_rad(here.best_draft), 1e-9) << seed;
        ASSERT_EQ(there.strips.size(), here.strips.size());
        for (std::size_t i = 0; i < here.strips.size(); ++i) {
            EXPECT_NEAR(in_rad(there.strips[i].least), in_rad(here.strips[i].least), 1e-9);
        }
        ASSERT_EQ(there.undercuts.size(), here.undercuts.size());
        for (std::size_t i = 0; i < here.undercuts.size(); ++i) {
            EXPECT_NEAR(in_mm(there.undercuts[i].depth), in_mm(here.undercuts[i].depth), 1e-9);
        }
    }
}

TEST(Draw, MirroredUpsideDown) {
    for (unsigned seed = 1; seed <= 6; ++seed) {
        const Job job = by_chance(seed);
        const DrawPlan plan = plan_of(job);
        std::vector<Spots> sections;
        for (const Section& section : job.skirt.pieces[0].drawn.sections) {
            Spots spots = spots_of(section);
            std::reverse(spots.begin(), spots.end());
            for (auto& spot : spots) {
                spot.name = "m " + spot.name;
                spot.up = -spot.up;
            }
            sections.push_back(spots);
        }
        const DrawPlan mirror = plan_of(job_of(sections));
        EXPECT_NEAR(in_rad(mirror.best), -in_rad(plan.best), 1e-9) << seed;
        EXPECT_NEAR(in_rad(mirror.best_draft), in_rad(plan.best_draft), 1e-9) << seed;
        ASSERT_EQ(mirror.undercuts.size(), plan.undercuts.size());
        double depth = 0.0, mirrored = 0.0;
        for (std::size_t i = 0; i < plan.undercuts.size(); ++i) {
            depth += in_mm(plan.undercuts[i].depth);
            mirrored += in_mm(mirror.undercuts[i].depth);
        }
        EXPECT_NEAR(mirrored, depth, 1e-9);
    }
}

// A return that turns under the shelf: in its rounding there is a place that faces straight against the draw direction.
TEST(Draw, RoundingThatTurnsBackIsWorseThanItsStrips) {
    Spots spots = c_section(4, 7);
    spots.insert(spots.begin(), {"return end", 58, 70});
    spots[1].radius = 5;
    Job job = job_of({spots, spots});
    job.forming.tilt = degrees(0);
    const DrawPlan plan = plan_of(job);
    EXPECT_NEAR(in_deg(strip(plan, "shelf inner", "shelf inner").least), -90.0, 1e-6);
    EXPECT_GT(in_deg(strip(plan, "return end", "shelf inner").least), -80.0);
    EXPECT_FALSE(plan.undercuts.empty());
    EXPECT_NEAR(in_deg(plan.best_draft), -90.0, 1e-6);  // At every tilt that can be set up.
}

TEST(Draw, FlangeBentAfterLiesOnWithTheUnderside) {
    Spots spots = c_section(4, 7, 4);
    spots[3].radius = 6;
    spots.push_back({"flange end", 38, 20});
    Job job = job_of({spots, spots});
    job.forming.tilt = degrees(0);
    EXPECT_LT(in_deg(strip(plan_of(job), "flange root", "flange end").least), -80.0);
    job.skirt.pieces[0].flange.making = FlangeMaking::bent_after;
    const DrawPlan plan = plan_of(job);
    EXPECT_NEAR(in_deg(strip(plan, "flange root", "flange end").least), 7.0, 1e-9);
    EXPECT_NEAR(in_deg(strip(plan, "lower edge", "flange root").least), 7.0, 1e-9);
    EXPECT_TRUE(plan.undercuts.empty());
}

TEST(Draw, WithoutAMouldItIsNotKnownHowMuchIsNeeded) {
    Job job = job_of({c_section(4, 7), c_section(4, 7)});
    job.forming.mould.reset();
    const DrawPlan plan = plan_of(job);
    EXPECT_FALSE(plan.needed);
    EXPECT_FALSE(plan.from);
    ASSERT_EQ(plan.missing.size(), 1U);
    EXPECT_EQ(plan.missing[0], "the mould: male or female");
    EXPECT_NEAR(in_deg(plan.best), 1.5, 1e-9);
}

TEST(Draw, PointsRoundASection) {
    const Job job = by_chance(3);
    const auto line = line_of(job);
    const DrawPlan plan = draw_plan(job, job.skirt.pieces[0], line);
    const StripDraft& shelf = strip(plan, "shelf inner", "shelf edge");
    const auto points = draft_points(job, job.skirt.pieces[0], line, shelf.along, plan.tilt);
    ASSERT_GT(points.size(), 20U);
    double least = 90.0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (i > 0) {
            EXPECT_GE(points[i].mark, points[i - 1].mark - 1e-12);
        }
        if (points[i].mark > 1.1 && points[i].mark < 1.9) {
            least = std::min(least, in_deg(points[i].draft));
        }
    }
    EXPECT_NEAR(points.front().mark, 0.0, 1e-12);
    EXPECT_NEAR(points.back().mark, 7.0, 1e-12);
    EXPECT_NEAR(in_deg(draft_at(points, 0.0)), in_deg(points.front().draft), 1e-12);
    EXPECT_NEAR(in_deg(draft_at(points, 9.0)), in_deg(points.back().draft), 1e-12);
    // The strip is least at one of its ends, or nearly: it hardly turns.
    double ends = 90.0;
    for (const auto& point : points) {
        if (point.mark > 1.0 && point.mark < 2.0) {
            ends = std::min(ends, in_deg(point.draft));
        }
    }
    EXPECT_NEAR(ends, in_deg(shelf.least), 0.05);
    EXPECT_GE(least, ends);
    // Half-way along the face, it faces the draw direction.
    EXPECT_GT(in_deg(draft_at(points, 3.5)), 70.0);
}

TEST(Draw, EstateIsQuick) {
    const Job job = draw_world::estate_of_parallel_walls();
    const auto line = line_of(job);
    double best_ms = 1e9;
    for (int i = 0; i < 20; ++i) {
        const std::clock_t start = std::clock();
        const DrawPlan plan = draw_plan(job, job.skirt.pieces[0], line);
        best_ms = std::min(best_ms, 1000.0 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
        ASSERT_FALSE(plan.strips.empty());
    }
    RecordProperty("draw_plan_ms", std::to_string(best_ms));
#ifdef NDEBUG
    EXPECT_LE(best_ms, 5.0);
#else
    EXPECT_LE(best_ms, 50.0);  // Built for looking for faults.
#endif
}

}  // namespace
}  // namespace sillwright::core
