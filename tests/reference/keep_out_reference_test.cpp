#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <filesystem>

#include "core/car_model.h"
#include "core/job_file.h"
#include "core/keep_outs/keep_out_findings.h"
#include "geometry/body_distance.h"
#include "tests/support/fcl/fcl_distance.h"

// The Flexible Collision Library (Debian's libfcl 0.7) on the very meshes of a sample's part and keep-outs.

namespace sillwright::core {
namespace {

constexpr double k_agree_mm = 1e-7;

TEST(KeepOutReference, DistancesOfASampleAgreeWithFcl) {
    const auto path = std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright";
    Job job = std::move(read_job(path)).value();
    KeepOut pipe;  // Round ones too: a line with two joints, and a wheel.
    pipe.name = "line";
    pipe.kind = KeepOutKind::line;
    pipe.shape = KeepOutShape::strip;
    const auto mm = [](double value) { return Entry{geometry::millimetres(value), ""}; };
    pipe.from = {mm(100), mm(0), mm(30), {}};
    pipe.via = {{mm(500), mm(10), mm(28), {}}, {mm(900), mm(-20), mm(35), {}}};
    pipe.to = {mm(1700), mm(5), mm(28), {}};
    pipe.radius = mm(5);
    KeepOut wheel;
    wheel.name = "front wheel";
    wheel.kind = KeepOutKind::tyre;
    wheel.shape = KeepOutShape::wheel;
    wheel.from = {mm(-380), mm(-80), mm(60), {}};
    wheel.to = {mm(-380), mm(130), mm(60), {}};
    wheel.radius = mm(320);
    job.keep_outs.push_back(pipe);
    job.keep_outs.push_back(wheel);
    const CarModel car = std::move(car_model(job, path.parent_path())).value();
    const KeepOutBodies bodies = keep_out_bodies(job);
    const BodyModel& part = *car.pieces[0].body;
    const tests::FclBody judged(part.mesh);
    for (std::size_t i = 0; i < job.keep_outs.size(); ++i) {
        const auto judge =
            tests::fcl_distance(judged, tests::FclBody(bodies.bodies[i].mesh), Eigen::Isometry3d::Identity());
        const auto ours = geometry::body_distance(*part.tree, *bodies.bodies[i].tree);
        EXPECT_GT(judge.distance_mm, 1.0) << job.keep_outs[i].name;
        EXPECT_NEAR(in_mm(ours.least), judge.distance_mm, k_agree_mm) << job.keep_outs[i].name;
        // What the finding says is below it, by the mesh's deviation and the tolerance.
        const auto findings = keep_out_findings(job, car, MountPlan{}, bodies, Mends::leave);
        for (const Finding& finding : findings) {
            if (finding.id == "mounts/keep-out/" + job.keep_outs[i].name && finding.place.mount.empty()) {
                ASSERT_TRUE(finding.found);
                EXPECT_LE(*finding.found, judge.distance_mm - in_mm(part.mesh.deviation) + k_agree_mm);
                EXPECT_GE(*finding.found, 0.99 * judge.distance_mm - in_mm(part.mesh.deviation) - 0.01);
            }
        }
    }
}

}  // namespace
}  // namespace sillwright::core
