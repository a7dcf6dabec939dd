#include "core/holding/buckling.h"

#include <gtest/gtest.h>

#include "tests/core/holding/holding_world.h"

namespace sillwright::core {
namespace {

using geometry::celsius;
using geometry::millimetres;

Finding buckling(const Job& job, Mends mends = Mends::leave) {
    const CarModel car = held_car(job);
    return buckling_finding(job, held_plan(job, car), 0, mends);
}

Job hot_job() {
    Job job = held_job();
    job.fitting.body_material = "steel";
    job.fitting.hot = Warmth{celsius(80), celsius(80), {}};
    job.fitting.fitted = Warmth{celsius(20), celsius(20), {}};
    return job;
}

// The job's walk-through: 3 thick and a strain of 0.0031 buckles from a pitch of 98 on. From Euler's column, clamped:
// 4 pi² E I / p² over E A.
TEST(Buckling, OfAStripBetweenTwoFasteners) {
    EXPECT_LT(buckling_strain(millimetres(3), millimetres(98)), 0.0031);
    EXPECT_GT(buckling_strain(millimetres(3), millimetres(97)), 0.0031);
    const double e = 2200;
    const double column = 4 * 9.869604401089358 * e * (20 * 27.0 / 12) / (250 * 250.0) / (e * 60);
    EXPECT_NEAR(buckling_strain(millimetres(3), millimetres(250)), column, 1e-15);
    EXPECT_NEAR(buckling_strain(millimetres(3), millimetres(250), 2.0), 2 * column, 1e-15);
}

// Net 78e-6 of ABS on steel, 60 K hotter: 4.680 mm on a metre.
TEST(Buckling, SqueezeIsTheGrowthThatIsHeldBack) {
    EXPECT_NEAR(squeeze_strain(90e-6, 60, 12e-6, 60) * 1000, 4.680, 1e-12);
    EXPECT_NEAR(squeeze_strain(90e-6, -50, 12e-6, -50) * 1000, -3.900, 1e-12);
}

TEST(Buckling, SlotsSlideIfTheyAreLongEnoughAndTheFastenerLetsThem) {
    HolePlan hole;
    hole.screw_mm = 6;
    hole.from_locator_mm = 800;
    hole.growth.least_mm = -1.0;
    hole.growth.greatest_mm = 3.0;
    Mount mount;
    EXPECT_FALSE(slides(hole, mount));
    mount.fastener.slides = true;
    EXPECT_FALSE(slides(hole, mount));
    hole.drawn = HoleSize{12.0, 6.5};
    EXPECT_TRUE(slides(hole, mount));
    hole.drawn->length_mm = 11.9;
    EXPECT_FALSE(slides(hole, mount));
    // Moved inward by half the growth it needs no more than the growth itself: 6 + 4.
    hole.drawn = HoleSize{10.0, 6.5};
    hole.drawn_shift_mm = -1.0;
    EXPECT_TRUE(slides(hole, mount));
    // In front of the locator rearward is inward.
    hole.from_locator_mm = -800;
    EXPECT_FALSE(slides(hole, mount));
    hole.drawn_shift_mm = 1.0;
    EXPECT_TRUE(slides(hole, mount));
}

TEST(Buckling, OneThatSticksSqueezesNothingTwoDo) {
    Job job = hot_job();
    EXPECT_EQ(buckling(job).state, State::falls_short);
    EXPECT_NEAR(*buckling(job).found, 0.468, 1e-9);
    for (Mount& mount : job.mounts) {
        mount.fastener.slides = true;
        mount.part_slot = held_mm(14);
    }
    EXPECT_EQ(*buckling(job).found, 0.0);
    EXPECT_EQ(buckling(job).state, State::holds);
    job.mounts[2].fastener.slides = false;
    EXPECT_EQ(buckling(job).state, State::holds);
    job.mounts[3].fastener.slides = false;
    EXPECT_EQ(buckling(job).state, State::falls_short);
    // Only what lies between the two is squeezed.
    job.mounts[3].at.along = held_mm(960);
    EXPECT_EQ(buckling(job).state, State::holds);
}

TEST(Buckling, UsesTheFormedFlange) {
    Job job = hot_job();
    const double thick = *buckling(job).required;
    job.skirt.pieces[0].flange.thickness = held_mm(2);
    EXPECT_NEAR(*buckling(job).required, thick * 4 / 9, 1e-12);
}

TEST(Buckling, ListsWhatItLacks) {
    Job job = held_job();
    job.skirt.material = {};
    job.skirt.pieces[0].sheet.reset();
    const Finding finding = buckling(job, Mends::look_for);
    EXPECT_EQ(finding.state, State::not_measured);
    EXPECT_EQ(finding.missing.size(), 5U);
    EXPECT_FALSE(finding.mend);
}

TEST(Buckling, ACoolerPartIsNotSqueezed) {
    Job job = hot_job();
    job.fitting.hot = Warmth{celsius(20), celsius(40), {}};
    EXPECT_EQ(*buckling(job).found, 0.0);
    EXPECT_EQ(buckling(job).state, State::holds);
}

}  // namespace
}  // namespace sillwright::core
