#include "tests/bench/line_up_measure.h"

#include <cmath>
#include <string>

#include "core/mounts/line_up.h"
#include "tests/bench/measure.h"

namespace sillwright::bench {
namespace {

struct Scene {
    core::Job job;
    core::MountPlan plan;
};

core::Entry mm(double value) {
    return {geometry::millimetres(value), ""};
}

/// `play`: of the clearance slots, each way beyond the growth.
Scene scene(double sd, double play) {
    constexpr double k_screw = 5.0;
    Scene made;
    made.job.fitting.part_half = mm(0.2);
    for (int i = -4; i <= 4; ++i) {
        core::Mount mount;
        mount.name = "H" + std::to_string(i + 5);
        made.job.mounts.push_back(mount);
        core::HolePlan hole;
        hole.mount = mount.name;
        hole.role = i == 0 ? core::HoleRole::locator : i == 1 ? core::HoleRole::guide : core::HoleRole::clearance;
        hole.screw_mm = k_screw;
        hole.landing.p_mm = {210.0 * i, 3.0 * std::sin(i), 0.0};
        hole.landing.normal = Eigen::Vector3d::UnitZ();
        hole.landing.covariance_mm2 = sd * sd * Eigen::Matrix3d::Identity();
        hole.from_locator_mm = 210.0 * i;
        hole.across_from_locator_mm = hole.landing.p_mm.y();
        const double grows = 0.8 * std::abs(i);
        hole.growth.least_mm = -grows;
        hole.growth.greatest_mm = grows;
        hole.growth_across.greatest_mm = 0.004 * std::abs(hole.across_from_locator_mm);
        hole.growth_across.least_mm = -hole.growth_across.greatest_mm;
        hole.part = {0.2, 0.2};
        hole.cut = i == 0 ? core::HoleSize{k_screw + 0.3, k_screw + 0.3}
                          : core::HoleSize{k_screw + 2.0 * play + 2.0 * grows, k_screw + (i == 1 ? 0.4 : 2.0 * play)};
        hole.drawn = hole.cut;
        made.plan.holes.push_back(hole);
    }
    made.plan.locator = "H5";
    made.plan.guide = "H6";
    return made;
}

double measured(double sd, double play, double& share) {
    const Scene made = scene(sd, play);
    return least_ms(3, [&] { share = line_up(made.job, made.plan).probability; });
}

}  // namespace

LineUpTimes measure_line_up() {
    LineUpTimes times;
    times.nearly_all_ms = measured(0.1, 1.5, times.nearly_all);
    times.most_ms = measured(0.3, 1.5, times.most);
    times.few_ms = measured(0.6, 0.9, times.few);
    return times;
}

}  // namespace sillwright::bench
