#include "core/hole_drag.h"

#include <gmock/gmock.h>

#include <map>

#include "core/edit/mount_edit.h"
#include "core/mounts/fitting_findings.h"
#include "tests/core/mounts/flange_world.h"

namespace sillwright::core {
namespace {

using geometry::celsius;
using geometry::millimetres;
using testing::HasSubstr;

Job warm_world() {
    Job job = flat_world();
    job.mounts[0].part_slot = mm(12.0);
    Mount far = job.mounts[0];
    far.name = "H2";
    far.at.along = mm(1200.0);
    job.mounts.push_back(far);
    job.skirt.material.name = "ABS";
    job.fitting.body_material = "steel";
    job.fitting.part_half = mm(0.3);
    job.fitting.hot = Warmth{celsius(80.0), celsius(40.0)};
    job.fitting.cold = Warmth{celsius(-30.0), celsius(-30.0)};
    job.fitting.fitted = Warmth{celsius(20.0), celsius(20.0)};
    return job;
}

std::shared_ptr<const Evaluation> evaluated(const Job& job) {
    const auto evaluation = evaluate(job, ".", {}, Mends::leave);
    EXPECT_TRUE(evaluation) << (evaluation ? "" : evaluation.error().message);
    return evaluation.value();
}

HoleDrag begun(const std::shared_ptr<const Evaluation>& from) {
    auto drag = HoleDrag::begin(from, "H2");
    EXPECT_TRUE(drag) << (drag ? "" : drag.error().message);
    return std::move(drag).value();
}

std::map<std::string, Finding> by_id(const std::vector<Finding>& findings) {
    std::map<std::string, Finding> all;
    for (const Finding& finding : findings) {
        EXPECT_TRUE(all.emplace(finding.id, finding).second) << finding.id << " stands twice";
    }
    return all;
}

TEST(HoleDrag, WhatFollowsIsThatOfTheWholeComputation) {
    const auto before = evaluated(warm_world());
    HoleDrag drag = begun(before);
    for (const double shift : {7.3, -4.0, 1.2}) {
        drag.to(millimetres(shift));
        const Evaluation& now = drag.evaluation();
        const auto full = evaluated(shift_part_hole(warm_world(), "H2", millimetres(shift)).value().job);
        EXPECT_EQ(now.job, full->job);
        const auto followed = by_id(now.findings);
        auto all = by_id(full->findings);
        EXPECT_EQ(followed.size(), all.size());
        for (const Finding& finding : fitting_findings(full->job, full->car, full->plan)) {
            EXPECT_EQ(followed.at(finding.id), finding) << finding.id;
            all.erase(finding.id);
        }
        EXPECT_EQ(followed.at("mounts/H2/edge"), all.at("mounts/H2/edge"));
    }
}

TEST(HoleDrag, TheSamePlaceGivesTheSameNumbersWhateverWasBetween) {
    HoleDrag drag = begun(evaluated(warm_world()));
    drag.to(millimetres(2.0));
    const auto first = drag.evaluation().findings;
    drag.to(millimetres(-9.0));
    EXPECT_NE(drag.evaluation().findings, first);
    drag.to(millimetres(2.0));
    EXPECT_EQ(drag.evaluation().findings, first);
}

TEST(HoleDrag, NeedsAMountWithAHole) {
    Job job = warm_world();
    job.mounts[1].part_hole.reset();
    job.mounts[1].part_slot.reset();
    const auto before = evaluated(job);
    EXPECT_THAT(HoleDrag::begin(before, "H2").error().message, HasSubstr("no hole for \"H2\""));
    EXPECT_THAT(HoleDrag::begin(before, "H9").error().message, HasSubstr("H9"));
}

}  // namespace
}  // namespace sillwright::core
