#include "core/edit/snap.h"

#include <gmock/gmock.h>

#include <cmath>
#include <random>

#include "core/sill_frame.h"
#include "loft_compare.h"

namespace sillwright::core {
namespace {

using bench::estate;
using bench::k_body;
using bench::k_piece;
using bench::mm;
using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::millimetres;
using testing::ElementsAre;

CarModel car_of(const Job& job) {
    CarModel car;
    car.body = bench::loft(job, k_body);
    return car;
}

/// A sill from (0, 100) out to (60, 100), down to (60, 14), in to (10, 15): its underside rises inwards by 1 in 50.
Job sill() {
    Job job;
    job.stations = {{"1", mm(0), {}}, {"2", mm(1000), {}}};
    for (const std::string station : {"1", "2"}) {
        job.body.sections.push_back({station,
                                     {{station + "a", "top", mm(0), mm(100), mm(0), {}},
                                      {station + "b", "outer", mm(60), mm(100), mm(20), {}},
                                      {station + "c", "lower", mm(60), mm(14), mm(0), {}},
                                      {station + "d", "floor", mm(10), mm(15), mm(0), {}}},
                                     {}});
    }
    return job;
}

TEST(SnapMount, ToTheLineWithAWholeNumberAlongIt) {
    const Job job = sill();
    const auto snapped = snap_mount(job, car_of(job), millimetres(432.5), {35.3, 12}, millimetres(5));
    ASSERT_TRUE(snapped);
    EXPECT_EQ(snapped->at_mm.x(), 432.5) << "along stays where the section is";
    EXPECT_NEAR(snapped->at_mm.y(), 35.0, 1e-12);
    EXPECT_NEAR(snapped->at_mm.z(), 14.5, 1e-12) << "half-way of the rise of 1";
    EXPECT_NEAR((snapped->axis - Vector3d(0, -1, -50).normalized()).norm(), 0.0, 1e-12);
    EXPECT_THAT(snapped->to, ElementsAre("the body's line", "whole millimetres"));
}

TEST(SnapMount, OnAnUprightLineUpIsTheWholeNumber) {
    const Job job = sill();
    const auto snapped = snap_mount(job, car_of(job), millimetres(432.5), {58, 40.4}, millimetres(5));
    ASSERT_TRUE(snapped);
    EXPECT_NEAR((snapped->at_mm - Vector3d(432.5, 60, 40)).norm(), 0.0, 1e-12);
    EXPECT_NEAR((snapped->axis - Vector3d(0, 1, 0)).norm(), 0.0, 1e-12);
}

TEST(SnapMount, OnARoundingTooAndSquareToIt) {
    // The rounding has its centre at (40, 80); from out 52 it stands at up 80 + sqrt(400 - 144) = 96.
    const Job job = sill();
    const auto snapped = snap_mount(job, car_of(job), millimetres(0), {52.2, 96.3}, millimetres(5));
    ASSERT_TRUE(snapped);
    EXPECT_NEAR((snapped->at_mm - Vector3d(0, 52, 96)).norm(), 0.0, 1e-9);
    EXPECT_NEAR((snapped->axis - Vector3d(0, 0.6, 0.8)).norm(), 0.0, 1e-9);
}

TEST(SnapMount, InInchesToSixteenths) {
    Job job = sill();
    job.unit = BareUnit::in;
    const auto snapped = snap_mount(job, car_of(job), millimetres(0), {35.2, 14}, millimetres(5));
    ASSERT_TRUE(snapped);
    EXPECT_NEAR(snapped->at_mm.y(), 34.925, 1e-12) << "22/16 in";
    EXPECT_EQ(snapped->to.back(), "sixteenths of an inch");
}

TEST(SnapMount, NearTheEndOfTheLineTheWholeNumberGivesWay) {
    Job job = sill();
    job.body.sections[0].nodes[3].out = mm(10.4);
    job.body.sections[1].nodes[3].out = mm(10.4);
    const auto snapped = snap_mount(job, car_of(job), millimetres(0), {10, 15}, millimetres(5));
    ASSERT_TRUE(snapped);
    EXPECT_NEAR((snapped->at_mm - Vector3d(0, 10.4, 15)).norm(), 0.0, 1e-12) << "10 is beyond the end";
    EXPECT_THAT(snapped->to, ElementsAre("the body's line"));
}

TEST(SnapMount, ALineDrawnTheOtherWayRoundHasItsOutsideWhereItWas) {
    Job job = sill();
    for (Section& section : job.body.sections) {
        std::reverse(section.nodes.begin(), section.nodes.end());
    }
    const auto snapped = snap_mount(job, car_of(job), millimetres(0), {35.3, 12}, millimetres(5));
    ASSERT_TRUE(snapped);
    EXPECT_LT(snapped->axis.z(), -0.99);
}

TEST(SnapMount, AMereUndersideIsLeftDownwards) {
    for (const bool about : {false, true}) {
        Job job = sill();
        for (Section& section : job.body.sections) {
            section.nodes.erase(section.nodes.begin(), section.nodes.begin() + 2);
            if (about) {
                std::reverse(section.nodes.begin(), section.nodes.end());
            }
        }
        const auto snapped = snap_mount(job, car_of(job), millimetres(0), {35.3, 12}, millimetres(5));
        ASSERT_TRUE(snapped);
        EXPECT_LT(snapped->axis.z(), -0.99);
    }
}

TEST(SnapMount, ToAHoleThatIsThere) {
    Job job = sill();
    job.mounts.emplace_back().name = "H4";
    job.mounts[0].at = {mm(500), mm(30.25), mm(14.6), {}};
    job.mounts[0].axis = Direction(0, 0.1, -1).normalized();
    job.mounts.emplace_back().name = "S1";
    job.mounts[1].kind = MountKind::stud;
    job.mounts[1].at = {mm(500), mm(50), mm(14.2), {}};
    const auto hole = snap_mount(job, car_of(job), millimetres(502), {31, 15}, millimetres(3));
    ASSERT_TRUE(hole);
    EXPECT_EQ(hole->at_mm, Vector3d(500, 30.25, 14.6)) << "2 mm away along, 0.85 in the section";
    EXPECT_EQ(hole->axis, job.mounts[0].axis);
    EXPECT_THAT(hole->to, ElementsAre("hole H4"));
    const auto stud = snap_mount(job, car_of(job), millimetres(500), {49, 15}, millimetres(3));
    ASSERT_TRUE(stud);
    EXPECT_THAT(stud->to, ElementsAre("stud S1"));
    const auto beside = snap_mount(job, car_of(job), millimetres(503.1), {30.25, 14.6}, millimetres(3));
    ASSERT_TRUE(beside);
    EXPECT_EQ(beside->to.front(), "the body's line") << "3.1 mm along is out of reach";
}

TEST(SnapMount, NothingWithinReachIsNothing) {
    const Job job = sill();
    const CarModel car = car_of(job);
    EXPECT_FALSE(snap_mount(job, car, millimetres(0), {35, 8}, millimetres(5)));
    EXPECT_FALSE(snap_mount(job, car, millimetres(-1), {35, 14}, millimetres(5))) << "ahead of the first section";
    EXPECT_FALSE(snap_mount(job, car, millimetres(1001), {35, 14}, millimetres(5)));
    EXPECT_FALSE(snap_mount(job, CarModel{}, millimetres(0), {35, 14}, millimetres(5))) << "no body is drawn";
}

TEST(SnapMount, AnywhereOnEstateAOnItsLine) {
    Job job = estate();
    const CarModel car = car_of(job);
    job.mounts.clear();
    std::mt19937 random(7);
    const auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
    for (int press = 0; press < 500; ++press) {
        const double along = between(0, 1900);
        const auto snapped =
            snap_mount(job, car, millimetres(along), {between(-30, 75), between(-15, 155)}, millimetres(1000));
        ASSERT_TRUE(snapped);
        const auto profile = car.body->section_at(millimetres(along)).value();
        EXPECT_LE(in_mm(geometry::nearest_point(profile, snapped->at_mm.tail<2>()).distance), 1e-6);
        EXPECT_NEAR(snapped->axis.norm(), 1.0, 1e-12);
        if (snapped->to.size() == 2) {
            const double off_out = std::abs(snapped->at_mm.y() - std::round(snapped->at_mm.y()));
            const double off_up = std::abs(snapped->at_mm.z() - std::round(snapped->at_mm.z()));
            EXPECT_LE(std::min(off_out, off_up), 1e-12);
        }
    }
}

TEST(SnapMount, TheHolesOfEstateALieOnItsUndersideAsTheyWereMeasured) {
    Job job = estate();
    const CarModel car = car_of(job);
    const std::vector<Mount> holes = job.mounts;
    job.mounts.clear();
    for (const Mount& hole : holes) {
        const auto snapped = snap_mount(job, car, hole.at.along.value, in_mm(hole.at).tail<2>(), millimetres(2));
        ASSERT_TRUE(snapped) << hole.name;
        // Measured to 0.5 mm, to whole units half a millimetre more; axes within 3 degrees.
        EXPECT_LE((snapped->at_mm - in_mm(hole.at)).norm(), 1.5) << hole.name;
        EXPECT_GE(snapped->axis.dot(hole.axis), std::cos(3.0 * std::acos(-1.0) / 180.0)) << hole.name;
    }
}

TEST(SnapNode, ToTheSameNodeOfANeighbour) {
    const Job job = bench::channel();
    const auto snapped = snap_node(job, "2b", {101.5, 98.5}, millimetres(3));
    EXPECT_EQ(snapped.at_mm, Vector3d(100, 100, 100));
    ASSERT_EQ(snapped.to.size(), 1U);
    EXPECT_THAT(snapped.to[0], testing::StartsWith("shelf edge at station "));
}

TEST(SnapNode, ElseToWholeUnitsWithinReach) {
    const Job job = bench::channel();
    const auto both = snap_node(job, "2b", {120.2, 80.4}, millimetres(0.5));
    EXPECT_EQ(both.at_mm, Vector3d(100, 120, 80));
    EXPECT_THAT(both.to, ElementsAre("whole millimetres"));
    const auto one = snap_node(job, "2b", {120.2, 80.4}, millimetres(0.3));
    EXPECT_EQ(one.at_mm, Vector3d(100, 120, 80.4));
    const auto none = snap_node(job, "2b", {120.2, 80.4}, millimetres(0.1));
    EXPECT_EQ(none.at_mm, Vector3d(100, 120.2, 80.4));
    EXPECT_TRUE(none.to.empty());
    EXPECT_EQ(snap_node(job, "x", {1.5, 2.5}, millimetres(3)).at_mm, Vector3d(0, 1.5, 2.5));
}

}  // namespace
}  // namespace sillwright::core
