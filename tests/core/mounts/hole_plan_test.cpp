#include "core/mounts/hole_plan.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <ostream>

#include "core/job_file.h"
#include "tests/core/mounts/fitting_world.h"

namespace sillwright::core {
namespace {

using geometry::celsius;
using testing::Contains;
using testing::HasSubstr;

// Slot rule by hand (reference: 90e-6 and 12e-6/K, +60 and -50 K, 900 mm): e from -3.510 to +4.212; from a locator
// hole of 6.6, 0.3 play either side, 14.322 over all, its middle 0.351 from that of the screw.
TEST(HolePlan, SlotNineHundredFromTheLocator) {
    Job job = fitting_world({100, 1000});
    job.fitting.locator = "H1";
    job.fitting.cutter_step = mm(0.6);  // Of which the close hole 6.4 is cut as 6.6.
    job.limits = {};
    Job three = job;
    three.mounts.push_back(job.mounts[1]);
    three.mounts[2].name = "H3";
    three.mounts[2].at.along = mm(400);
    three.fitting.guide = "H3";
    const HolePlan hole = hole_of(three, "H2");
    EXPECT_EQ(hole.role, HoleRole::clearance);
    EXPECT_NEAR(hole.from_locator_mm, 900, k_rounding);
    EXPECT_NEAR(hole.worst.length_mm, 14.322, k_rounding);
    EXPECT_NEAR(hole.shift_mm, -0.351, k_rounding);
    EXPECT_NEAR(hole.worst.width_mm, 6.6, k_rounding);
    EXPECT_NEAR(hole.cut.length_mm, 14.4, k_rounding);
    const HolePlan locator = hole_of(three, "H1");
    EXPECT_EQ(locator.role, HoleRole::locator);
    EXPECT_NEAR(locator.worst.length_mm, 6.4, k_rounding);
    EXPECT_NEAR(locator.cut.length_mm, 6.6, k_rounding);
    EXPECT_EQ(locator.shift_mm, 0.0);
    EXPECT_TRUE(plan_of(three).missing.empty());
}

/// Where the locator is, where the hole, which states there are; and which way its middle has to go.
struct SignCase {
    const char* name;
    double locator, hole;
    bool hot, cold;
    double growth_least, growth_greatest, shift;
};

void PrintTo(const SignCase& one, std::ostream* out) {
    *out << one.name;
}

class PlanSigns : public testing::TestWithParam<SignCase> {};

TEST_P(PlanSigns, MiddleGoesAgainstTheGrowth) {
    const SignCase& one = GetParam();
    Job job = fitting_world({one.locator, one.hole});
    job.fitting.locator = "H1";
    if (!one.hot) {
        job.fitting.hot = job.fitting.fitted;
    }
    if (!one.cold) {
        job.fitting.cold = job.fitting.fitted;
    }
    for (const Side side : {Side::right, Side::left}) {
        job.side = side;
        const HolePlan hole = hole_of(job, "H2");
        EXPECT_NEAR(hole.from_locator_mm, one.hole - one.locator, k_rounding);
        EXPECT_NEAR(hole.growth.least_mm, one.growth_least, k_rounding);
        EXPECT_NEAR(hole.growth.greatest_mm, one.growth_greatest, k_rounding);
        EXPECT_NEAR(hole.shift_mm, one.shift, k_rounding);
        // As it is used: the hole of a part that has grown lies further from the locator, its screw stays.
        const double rearward = hole.from_locator_mm < 0 ? -1.0 : 1.0;
        const double half = 0.5 * (hole.worst.length_mm - hole.screw_mm);
        for (const Growth::At& at : hole.growth.states) {
            EXPECT_LE(std::abs(hole.shift_mm + rearward * at.mm), half - 0.2 + k_rounding) << at.state;
        }
    }
}

// 500 mm: 78e-6 · 500 · 60 = 2.34 hot, 78e-6 · 500 · 50 = 1.95 cold, by hand.
INSTANTIATE_TEST_SUITE_P(
    Table, PlanSigns,
    testing::Values(SignCase{"locator in front, hot and cold", 200, 700, true, true, -1.95, 2.34, -0.195},
                    SignCase{"locator in front, hot", 200, 700, true, false, 0, 2.34, -1.17},
                    SignCase{"locator in front, cold", 200, 700, false, true, -1.95, 0, 0.975},
                    SignCase{"locator at the rear, hot and cold", 1300, 800, true, true, -1.95, 2.34, 0.195},
                    SignCase{"locator at the rear, hot", 1300, 800, true, false, 0, 2.34, 1.17},
                    SignCase{"locator at the rear, cold", 1300, 800, false, true, -1.95, 0, -0.975},
                    SignCase{"locator in the middle, hole behind, hot", 750, 1250, true, false, 0, 2.34, -1.17},
                    SignCase{"locator in the middle, hole before, hot", 750, 250, true, false, 0, 2.34, 1.17},
                    SignCase{"locator in the middle, hole before, cold", 750, 250, false, true, -1.95, 0, -0.975}));

TEST(HolePlan, MiddleHoleIsTheLocatorItsFurtherNeighbourTheGuide) {
    const MountPlan plan = plan_of(fitting_world({100, 400, 700, 1050, 1300}));
    EXPECT_EQ(plan.locator, "H3");
    EXPECT_TRUE(plan.locator_proposed);
    EXPECT_EQ(plan.guide, "H4");
    ASSERT_EQ(plan.choices.size(), 5U);
    EXPECT_EQ(plan.choices.front().mount, "H3");
    EXPECT_LT(plan.choices[0].longest_slot_mm, plan.choices[1].longest_slot_mm);
    // Longest: 600 mm, 110 K: 6 + 78e-6 · 600 · 110 + 2 · 0.2
    EXPECT_NEAR(plan.choices[0].longest_slot_mm, 6 + 5.148 + 0.4, k_rounding);
}

TEST(HolePlan, SlotsAndSquareHolesOfTheBodyAreNotProposed) {
    Job job = fitting_world({100, 400, 700, 1050, 1300});
    job.mounts[2].shape = HoleShape::slot;
    job.mounts[1].shape = HoleShape::square;
    const MountPlan plan = plan_of(job);
    EXPECT_EQ(plan.locator, "H4");
    EXPECT_EQ(plan.choices.back().why_not.empty(), false);
    for (Mount& mount : job.mounts) {
        mount.shape = HoleShape::slot;
    }
    const MountPlan none = plan_of(job);
    EXPECT_EQ(none.locator, "");
    EXPECT_EQ(none.guide, "");
    for (const HolePlan& hole : none.holes) {
        EXPECT_EQ(hole.role, HoleRole::clearance);
    }
}

TEST(HolePlan, LocatorAndGuideMayBeChosen) {
    Job job = fitting_world({100, 400, 700, 1050, 1300});
    job.fitting.locator = "H1";
    job.fitting.guide = "H5";
    const MountPlan plan = plan_of(job);
    EXPECT_EQ(plan.locator, "H1");
    EXPECT_EQ(plan.guide, "H5");
    EXPECT_FALSE(plan.locator_proposed);
    EXPECT_FALSE(plan.guide_proposed);
    EXPECT_EQ(plan.find("H1")->role, HoleRole::locator);
    EXPECT_EQ(plan.find("H5")->role, HoleRole::guide);
    EXPECT_NEAR(plan.find("H5")->worst.width_mm, 6.4, k_rounding) << "exactly known: the play of the locator alone";
}

// Half-widths by hand: part 0.5; body 2 · sqrt(0.4² + 0.3²) = 1.0 along; locator as cut, 6.4: 0.2.
TEST(HolePlan, WorstCaseAndRootOfSquares) {
    Job job = fitting_world({400, 700, 1300});
    job.fitting.locator = "H1";
    job.fitting.part_half = mm(0.5);
    job.mounts[0].sd = {mm(0.4), mm(0.3), mm(0)};
    job.mounts[2].sd = {mm(0.3), mm(0.4), mm(0)};
    const HolePlan hole = hole_of(job, "H3");
    const double range = 78e-6 * 900 * 110;
    EXPECT_NEAR(hole.worst.length_mm, 6 + range + 2 * (0.5 + 1.0 + 0.2), k_rounding);
    EXPECT_NEAR(hole.rss.length_mm, 6 + range + 2 * std::sqrt(0.25 + 1.0 + 0.04), k_rounding);
    EXPECT_NEAR(hole.worst.width_mm, 6 + 2 * (0.5 + 1.0 + 0.2), k_rounding);
    job.fitting.fits_other_cars = true;  // And 1.5 mm from car to car.
    EXPECT_NEAR(hole_of(job, "H3").worst.length_mm, 6 + range + 2 * (0.5 + 1.0 + 1.5 + 0.2), k_rounding);
}

// Floating fastener: the screw's play in the body's hole, (7.5 - 6)/2, is taken off what the body asks of the part.
TEST(HolePlan, LooseScrewHasPlayInTheBody) {
    Job job = fitting_world({400, 700, 1300});
    job.fitting.locator = "H1";
    job.mounts[0].sd = job.mounts[2].sd = {mm(0.5), mm(0.5), mm(0)};
    job.mounts[2].size = mm(7.5);
    const double clip = hole_of(job, "H3").body.along_mm;
    EXPECT_NEAR(clip, 2 * std::sqrt(0.5), k_rounding);
    job.mounts[2].fastener.kind = FastenerKind::screw;
    EXPECT_NEAR(hole_of(job, "H3").body.along_mm, clip - 0.75, k_rounding);
    EXPECT_NEAR(hole_of(job, "H3").body_play.along_mm, 0.75, k_rounding);
    job.mounts[2].fastener.kind = FastenerKind::fixed_screw;
    EXPECT_NEAR(hole_of(job, "H3").body.along_mm, clip, k_rounding);
    // As the locator it lets the part move by as much.
    job.mounts[0].fastener.kind = FastenerKind::screw;
    job.mounts[0].size = mm(9);
    EXPECT_NEAR(hole_of(job, "H3").locator.along_mm, 0.2 + 1.5, k_rounding);
}

// H = F + T1 + T2 (1 + 2 P / D): T1 = 0.6, T2 = 2 · 1.0, P = 2 + 3 + 0.12, D = 0.8 + 9.2, and the locator's 0.4.
TEST(HolePlan, FixedScrewsTilt) {
    Job job = fitting_world({400, 700, 1300});
    job.fitting.locator = "H1";
    job.fitting.part_half = mm(0.3);
    job.mounts[2].sd = {mm(0.5), mm(0.5), mm(0)};
    job.mounts[2].fastener.kind = FastenerKind::fixed_screw;
    EXPECT_THAT(hole_of(job, "H3").missing, Contains("how far H3's screw goes in behind the panel"));
    job.mounts[2].fastener.tail = mm(9.2);
    const HolePlan hole = hole_of(job, "H3");
    EXPECT_TRUE(hole.missing.empty());
    EXPECT_NEAR(hole.worst.width_mm, 6 + 0.6 + 2.0 * (1 + 2 * 5.12 / 10) + 0.4, k_rounding);
}

// A stud that leans by 2° through 3.12 mm of flange and paint stands off by 3.12 tan 2° at the outer face.
TEST(HolePlan, StudsLeanAsMeasured) {
    Job job = fitting_world({400, 700, 1300});
    job.fitting.locator = "H1";
    job.mounts[2].kind = MountKind::stud;
    job.mounts[2].axis = {0.0, std::sin(2 * k_deg), -std::cos(2 * k_deg)};
    EXPECT_NEAR(hole_of(job, "H3").tilt.along_mm, 3.12 * std::tan(2 * k_deg), 1e-6);
    EXPECT_TRUE(hole_of(job, "H3").missing.empty());
}

TEST(HolePlan, BookKnowsTwoPlacesTogether) {
    const Job job = [] {
        Job all = fitting_world({400, 700, 1300});
        all.fitting.locator = "H1";
        all.mounts[0].sd = all.mounts[2].sd = {mm(0.5), mm(0.5), mm(0)};
        return all;
    }();
    CarModel car = car_of(job);
    EXPECT_NEAR(mount_plan(job, car).find("H3")->body.along_mm, 2 * 0.5 * std::sqrt(2.0), k_rounding);
    // Both places hang on one mark, which is the less sure: sd 0.4 in common of 0.5 leaves 0.3 for each.
    car.mounts_together.names = {"H1", "H3"};
    car.mounts_together.covariance_mm2 = Eigen::MatrixXd::Identity(6, 6) * 0.25;
    for (Eigen::Index i = 0; i < 3; ++i) {
        car.mounts_together.covariance_mm2(i, i + 3) = car.mounts_together.covariance_mm2(i + 3, i) = 0.16;
    }
    EXPECT_NEAR(mount_plan(job, car).find("H3")->body.along_mm, 2 * 0.3 * std::sqrt(2.0), k_rounding);
}

/// Distance of a screw's centre from the room that a hole with round ends leaves it; below zero within.
double outside_mm(const HoleSize& size, double screw, double along, double across) {
    const double half = 0.5 * (size.length_mm - size.width_mm);
    return std::hypot(along - std::clamp(along, -half, half), across) - 0.5 * (size.width_mm - screw);
}

// The slots have round ends: errors on the ellipse of the half-widths, at each growth, must be within.
TEST(HolePlan, EveryErrorWithinTheHalfWidthsFits) {
    for (const double along_sd : {0.0, 0.2, 0.9}) {
        for (const double across_sd : {0.0, 0.2, 0.9}) {
            Job job = fitting_world({80, 400, 700, 1050, 1400});
            job.fitting.part_half = mm(0.3);
            job.mounts[4].at.out = mm(135);
            for (Mount& mount : job.mounts) {
                mount.sd = {mm(along_sd), mm(across_sd), mm(0.1)};
            }
            for (const HolePlan& hole : plan_of(job).holes) {
                const HalfWidths room = hole.room();
                const double circle = std::min(room.along_mm, room.across_mm);
                for (std::size_t k = 0; k < hole.growth.states.size(); ++k) {
                    const double outward = hole.from_locator_mm < 0 ? -1.0 : 1.0;
                    const double sideways =
                        k < hole.growth_across.states.size()
                            ? (hole.across_from_locator_mm < 0 ? -1.0 : 1.0) * hole.growth_across.states[k].mm
                            : 0.0;
                    const double at = hole.shift_mm + outward * hole.growth.states[k].mm;
                    for (int i = 0; i < 360; ++i) {
                        const double a = i * k_deg;
                        EXPECT_LE(outside_mm(hole.worst, hole.screw_mm, at + circle * std::cos(a),
                                             sideways + circle * std::sin(a)),
                                  1e-9)
                            << hole.mount << " " << i;
                        if (room.along_mm >= room.across_mm) {
                            EXPECT_LE(outside_mm(hole.worst, hole.screw_mm, at + room.along_mm * std::cos(a),
                                                 sideways + room.across_mm * std::sin(a)),
                                      1e-9)
                                << hole.mount << " " << i;
                        }
                    }
                }
            }
        }
    }
}

TEST(HolePlan, CutIsTheNextWholeStep) {
    Job job = fitting_world({400, 700, 1300});
    job.fitting.cutter_step = mm(0.5);
    for (const HolePlan& hole : plan_of(job).holes) {
        for (const auto& [cut, worst] :
             {std::pair(hole.cut.length_mm, hole.worst.length_mm), std::pair(hole.cut.width_mm, hole.worst.width_mm)}) {
            EXPECT_GE(cut, worst - 1e-8);
            EXPECT_LT(cut, worst + 0.5);
            EXPECT_NEAR(std::remainder(cut, 0.5), 0.0, 1e-9);
        }
    }
}

TEST(HolePlan, WhatIsMissingIsNamed) {
    Job job = fitting_world({400, 700, 1300});
    job.fitting = {};
    job.mounts[2].sd = {};
    job.mounts[1].fastener.diameter.reset();
    const MountPlan plan = plan_of(job);
    for (const char* const one :
         {"what the body is made of", "the part's temperature when hot",
          "how near a hole of the part comes to its place when it is made", "the diameter of H2's fastener",
          "the standard deviation of H3's along, out and up"}) {
        EXPECT_THAT(plan.missing, Contains(one));
    }
}

TEST(HolePlan, OnlyWhatLandsOnADrawnFlange) {
    Job job = fitting_world({400, 700, 1300});
    job.mounts[1].axis = {0, 1, 0};
    job.mounts[2].use = MountUse::unused;
    const MountPlan plan = plan_of(job);
    ASSERT_EQ(plan.holes.size(), 1U);
    EXPECT_EQ(plan.locator, "H1");
    EXPECT_EQ(plan.guide, "");
    job.mounts.clear();
    EXPECT_TRUE(plan_of(job).holes.empty());
}

TEST(HolePlan, EachPieceHasALocator) {
    Job job = fitting_world({100, 400, 700});
    Piece rear = job.skirt.pieces[0];
    rear.name = "rear";
    for (Section& section : rear.drawn.sections) {
        for (Node& node : section.nodes) {
            node.id += " rear";
        }
    }
    job.skirt.pieces.push_back(rear);
    for (int i = 4; i < 8; ++i) {
        job.stations.push_back(Station{std::to_string(i + 1), mm(500.0 * i), {}});
    }
    for (std::size_t i = 0; i < 4; ++i) {
        job.skirt.pieces[1].drawn.sections[i].station = std::to_string(i + 5);
    }
    for (const double along : {2100.0, 2500.0, 2900.0, 3300.0}) {
        Mount mount = job.mounts[0];
        mount.name = "R" + std::to_string(static_cast<int>(along));
        mount.at.along = mm(along);
        job.mounts.push_back(mount);
    }
    const MountPlan plan = plan_of(job);
    ASSERT_EQ(plan.holes.size(), 7U);
    EXPECT_EQ(plan.find("H2")->role, HoleRole::locator);
    EXPECT_NEAR(plan.find("H1")->from_locator_mm, -300, k_rounding);
    EXPECT_EQ(plan.locator, "R2500");  // The piece with more mounts is the one that is told.
    EXPECT_EQ(plan.find("R2500")->role, HoleRole::locator);
}

TEST(HolePlan, EstateAHotAndCold) {
    auto job = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright");
    ASSERT_TRUE(job) << job.error().message;
    Job estate = std::move(job).value();
    estate.skirt.material.name = "ABS";
    estate.fitting.body_material = "steel";
    estate.fitting.hot = Warmth{celsius(80), celsius(40), {}};
    estate.fitting.cold = Warmth{celsius(-30), celsius(-30), {}};
    estate.fitting.fitted = Warmth{celsius(20), celsius(20), {}};
    estate.fitting.part_half = mm(0.5);
    const MountPlan plan = plan_of(estate);
    ASSERT_EQ(plan.holes.size(), 9U);
    EXPECT_EQ(plan.locator, "H5");
    EXPECT_TRUE(plan.missing.empty());
    for (const HolePlan& hole : plan.holes) {
        RecordProperty(hole.mount, std::to_string(hole.cut.length_mm) + " x " + std::to_string(hole.cut.width_mm));
        // 9e-5 · 60 - 1.2e-5 · 20 and 7.8e-5 · 50 a millimetre, by hand.
        const double x = std::abs(hole.from_locator_mm);
        EXPECT_NEAR(hole.growth.greatest_mm, x * 5.16e-3, 1e-6) << hole.mount;
        EXPECT_NEAR(hole.growth.least_mm, -x * 3.9e-3, 1e-6) << hole.mount;
    }
}

}  // namespace
}  // namespace sillwright::core
