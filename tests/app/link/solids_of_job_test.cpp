#include "app/link/solids_of_job.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "geometry/mesh.h"
#include "tests/app/link/estate.h"

// Expected values: mirror images; a turn keeps distances from its axis.
namespace sillwright::app {
namespace {

using Eigen::Vector3d;
using geometry::degrees;

Vector3d mirrored(const Vector3d& p) {
    return {p.x(), -p.y(), p.z()};
}

Vector3d moved(const DoorPose& pose, const Vector3d& p) {
    return pose.leftCols<3>() * p + pose.col(3);
}

TEST(SolidsOfJob, ALeftHandSillIsTheMirrorImageOnTheLeft) {
    const SolidScene right = solids_of_job(*estate()).value();
    const SolidScene left = solids_of_job(*estate(core::Side::left)).value();
    ASSERT_EQ(right.bodies.size(), 4U) << "body, two doors, skirt";
    ASSERT_EQ(left.bodies.size(), 4U);
    ASSERT_EQ(right.doors.size(), 2U);
    for (std::size_t i = 0; i < right.bodies.size(); ++i) {
        const geometry::Mesh& there = *right.bodies[i].mesh;
        const geometry::Mesh& here = *left.bodies[i].mesh;
        ASSERT_EQ(there.points.size(), here.points.size());
        for (std::size_t k = 0; k < there.points.size(); k += 97) {
            EXPECT_GT(there.points[k].y(), 0.0);
            EXPECT_NEAR((mirrored(there.points[k]) - here.points[k]).norm(), 0.0, 1e-9);
        }
        EXPECT_GT(geometry::volume_mm3(here), 0.0) << "faces outward";
    }
}

TEST(SolidsOfJob, DoorsOpenOutwardOnEitherSide) {
    for (const core::Side side : {core::Side::right, core::Side::left}) {
        const double sign = side == core::Side::right ? 1.0 : -1.0;
        const SolidScene scene = solids_of_job(*estate(side)).value();
        for (const SolidBody& body : scene.bodies) {
            if (body.role != SolidRole::door) {
                EXPECT_FALSE(body.door.has_value());
                continue;
            }
            const auto& points = body.mesh->points;
            const Vector3d rear = *std::max_element(points.begin(), points.end(),
                                                    [](const auto& a, const auto& b) { return a.x() < b.x(); });
            const DoorTurn& turn = scene.doors.at(*body.door);
            EXPECT_NEAR((moved(turn.pose(degrees(0)), rear) - rear).norm(), 0.0, 1e-9) << "shut, on its striker";
            // Some 900 or 650 mm from its hinge: half open it stands far out.
            EXPECT_GT(sign * (moved(turn.pose(degrees(45)), rear).y() - rear.y()), 300.0);
            EXPECT_LT(moved(turn.pose(degrees(45)), rear).x(), rear.x());
        }
    }
}

TEST(SolidsOfJob, APoseIsARigidMotionWithoutAMirror) {
    for (const core::Side side : {core::Side::right, core::Side::left}) {
        const SolidScene scene = solids_of_job(*estate(side)).value();
        const Eigen::Matrix3d turn = scene.doors[0].pose(degrees(30)).leftCols<3>();
        EXPECT_NEAR((turn * turn.transpose() - Eigen::Matrix3d::Identity()).norm(), 0.0, 1e-12);
        EXPECT_NEAR(turn.determinant(), 1.0, 1e-12);
    }
}

TEST(SolidsOfJob, ADoorWithoutAHingeStandsStill) {
    core::Job job = estate()->job;
    job.doors[0].hinge.reset();
    const SolidScene scene = solids_of_job(*core::evaluate(job, ".").value()).value();
    ASSERT_EQ(scene.doors.size(), 1U);
    EXPECT_EQ(scene.doors[0].name, "rear door");
    for (const SolidBody& body : scene.bodies) {
        EXPECT_TRUE(!body.door || *body.door == 0U);
    }
}

}  // namespace
}  // namespace sillwright::app
