#include "core/keep_outs/keep_out_body.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "geometry/body_distance.h"
#include "tests/core/swing/swing_world.h"

// Expected numbers: volumes and distances of boxes, cylinders and lines by hand.

namespace sillwright::core {
namespace {

using Eigen::Vector3d;
using swing_world::mm;

Position at(double along, double out, double up) {
    return {mm(along), mm(out), mm(up), {}};
}

KeepOut strip(const std::vector<Position>& line, double radius) {
    KeepOut keep_out;
    keep_out.name = "brake line";
    keep_out.shape = KeepOutShape::strip;
    keep_out.from = line.front();
    keep_out.to = line.back();
    keep_out.via.assign(line.begin() + 1, line.end() - 1);
    keep_out.radius = mm(radius);
    return keep_out;
}

double distance_of(const KeepOutBody& body, const Vector3d& p) {
    const auto point = geometry::DistanceTree::build({{p}, {{0, 0, 0}}, {}});
    return in_mm(geometry::body_distance(*body.tree, point.value()).least);
}

double from_straight(const Vector3d& p, const Vector3d& a, const Vector3d& b) {
    const double part = std::clamp((p - a).dot(b - a) / (b - a).squaredNorm(), 0.0, 1.0);
    return (p - a - part * (b - a)).norm();
}

TEST(KeepOutBody, ABoxIsItself) {
    KeepOut keep_out;
    keep_out.from = at(330, 0, -45);
    keep_out.to = at(450, 30, 14.5);
    const KeepOutBody body = keep_out_body(keep_out);
    EXPECT_NEAR(geometry::volume_mm3(body.mesh), 120.0 * 30.0 * 59.5, 1e-6);
    EXPECT_EQ(geometry::open_edge_count(body.mesh), 0U);
    EXPECT_EQ(body.mesh.deviation, geometry::Length{});
    ASSERT_TRUE(body.tree);
    EXPECT_TRUE(body.tree->closed());
    EXPECT_NEAR(distance_of(body, {460, 30, 14.5}), 10.0, 1e-9);
}

TEST(KeepOutBody, AStripIsClosedAndNoDistanceToItIsTooLarge) {
    for (const double radius : {2.5, 6.0, 30.0}) {
        const std::vector<Vector3d> line{{0, 0, 0}, {300, 0, 0}, {300, 80, 40}, {600, 90, 0}};
        std::vector<Position> places;
        for (const Vector3d& p : line) {
            places.push_back(at(p.x(), p.y(), p.z()));
        }
        const KeepOutBody body = keep_out_body(strip(places, radius));
        ASSERT_TRUE(body.tree);
        EXPECT_TRUE(body.tree->closed());
        EXPECT_EQ(geometry::open_edge_count(body.mesh), 0U);
        EXPECT_GT(geometry::volume_mm3(body.mesh), 0.0);
        EXPECT_LE(in_mm(body.mesh.deviation), k_round_deviation_mm);
        std::mt19937 random(3);
        std::uniform_real_distribution<double> uniform(-1.0, 1.0);
        int checked = 0;
        for (int i = 0; i < 300; ++i) {
            const Vector3d p(300 + 250 * uniform(random), 45 + 200 * uniform(random), 200 * uniform(random));
            double least = 1e9;
            for (std::size_t k = 0; k + 1 < line.size(); ++k) {
                least = std::min(least, from_straight(p, line[k], line[k + 1]));
            }
            const double by_hand = least - radius;
            if (by_hand < 1.0 || p.x() < 1.0 || p.x() > 555.0) {  // Its ends are flat, not round.
                continue;
            }
            ++checked;
            const double found = distance_of(body, p);
            EXPECT_LE(found, by_hand + 1e-9);
            EXPECT_GE(found, by_hand - k_round_deviation_mm);
        }
        EXPECT_GT(checked, 100);
    }
}

TEST(KeepOutBody, AWheelIsACylinderAcrossTheCar) {
    KeepOut keep_out;
    keep_out.kind = KeepOutKind::tyre;
    keep_out.shape = KeepOutShape::wheel;
    keep_out.from = at(-400, -100, 60);
    keep_out.to = at(-400, 120, 60);
    keep_out.radius = mm(330);
    const KeepOutBody body = keep_out_body(keep_out);
    ASSERT_TRUE(body.tree);
    EXPECT_TRUE(body.tree->closed());
    const double volume = std::numbers::pi * 330.0 * 330.0 * 220.0;
    EXPECT_GE(geometry::volume_mm3(body.mesh), volume);
    EXPECT_LE(geometry::volume_mm3(body.mesh), volume * std::pow(1.0 + k_round_deviation_mm / 330.0, 2));
    EXPECT_NEAR(distance_of(body, {-400, 140, 60}), 20.0, 1e-9);
    const double rear = distance_of(body, {0, 0, 60});
    EXPECT_LE(rear, 70.0 + 1e-9);
    EXPECT_GE(rear, 70.0 - k_round_deviation_mm);
}

TEST(KeepOutBody, WithoutARadiusThereIsNoneAndItSaysSo) {
    KeepOut keep_out = strip({at(0, 0, 0), at(100, 0, 0)}, 5);
    keep_out.radius.reset();
    const KeepOutBody body = keep_out_body(keep_out);
    EXPECT_FALSE(body.tree);
    EXPECT_EQ(body.missing, std::vector<std::string>{"the radius of brake line"});
}

TEST(KeepOutBodies, AreThoseOfTheJobInItsOrder) {
    Job job;
    job.keep_outs = {strip({at(0, 0, 0), at(100, 0, 0)}, 5), strip({at(0, 50, 0), at(100, 50, 0)}, 5)};
    const KeepOutBodies all = keep_out_bodies(job);
    EXPECT_EQ(all.made_of, job.keep_outs);
    ASSERT_EQ(all.bodies.size(), 2U);
    EXPECT_NEAR(all.bodies[1].low_mm.y(), 45.0, k_round_deviation_mm);
}

TEST(LiftRoom, LiesBelowTheLiftingFaceRoundThePadsMiddle) {
    KeepOut pad;
    pad.name = "front jacking pad";
    pad.kind = KeepOutKind::jacking;
    pad.from = at(330, 0, -45);
    pad.to = at(450, 30, 14.5);
    Job job;
    job.keep_outs = {pad, strip({at(0, 0, 0), at(100, 0, 0)}, 5)};
    const KeepOutBodies all = keep_out_bodies(job);
    ASSERT_TRUE(all.lifts[0]);
    EXPECT_FALSE(all.lifts[1]) << "only pads are lifted at";
    EXPECT_EQ(all.lifts[0]->jack.low_mm, Vector3d(330, -30, -195));
    EXPECT_EQ(all.lifts[0]->jack.high_mm, Vector3d(450, 60, -45));
    EXPECT_EQ(all.lifts[0]->arm.low_mm, Vector3d(315, -15, -195));
    EXPECT_EQ(all.lifts[0]->arm.high_mm.x(), 465.0);
    EXPECT_EQ(all.lifts[0]->arm.high_mm.z(), -45.0);
}

}  // namespace
}  // namespace sillwright::core
