#include "core/mounts/fitting_findings.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <set>

#include "core/job_file.h"
#include "tests/core/mounts/fitting_world.h"

namespace sillwright::core {
namespace {

std::vector<Finding> fitting_of(const Job& job) {
    const CarModel car = car_of(job);
    return fitting_findings(job, car, mount_plan(job, car));
}

TEST(FittingFindings, EachOnceWithWordsAndASource) {
    const auto findings = fitting_of(fitting_world({100, 400, 700, 1050, 1300}));
    std::set<std::string> ids;
    for (const Finding& finding : findings) {
        EXPECT_TRUE(ids.insert(finding.id).second) << finding.id;
        EXPECT_TRUE(finding.id.starts_with("mounts/")) << finding.id;
        EXPECT_FALSE(finding.title.empty() || finding.why.empty() || finding.formula.empty() || finding.source.empty())
            << finding.id;
        EXPECT_EQ(finding.stage, Stage::mounts);
        EXPECT_TRUE(finding.state != State::falls_short || finding.mend) << finding.id;
    }
    for (const char* const id :
         {"mounts/H1/slot", "mounts/H1/slot width", "mounts/locator", "mounts/H1/hole fit", "mounts/H1/free depth",
          "mounts/fasteners", "mounts/H1/next hole", "mounts/H1/pitch", "mounts/skirt/front overhang",
          "mounts/skirt/rear overhang", "mounts/H1/bearing", "mounts/H1/tear-out"}) {
        EXPECT_TRUE(ids.contains(id)) << id;
    }
    for (const Finding& finding : reach_of(fitting_world({100, 400}))) {
        EXPECT_FALSE(ids.contains(finding.id)) << finding.id;
    }
}

TEST(FittingFindings, NothingToSayWithoutMounts) {
    Job job = fitting_world({});
    EXPECT_TRUE(fitting_of(job).empty());
}

TEST(FittingFindings, EstateAIsMendedByItsOwnMends) {
    auto read = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright");
    ASSERT_TRUE(read) << read.error().message;
    Job job = std::move(read).value();
    job.skirt.material.name = "ABS";
    job.fitting.body_material = "steel";
    job.fitting.hot = Warmth{geometry::celsius(80), geometry::celsius(40), {}};
    job.fitting.cold = Warmth{geometry::celsius(-30), geometry::celsius(-30), {}};
    job.fitting.fitted = Warmth{geometry::celsius(20), geometry::celsius(20), {}};
    job.fitting.part_half = mm(0.5);
    for (Mount& mount : job.mounts) {
        mount.part_hole = mm(6.5);
        mount.part_slot = mm(7);  // All of them far too short.
        mount.part_shift.reset();
    }
    const CarModel car = car_of(job);  // Holes are no part of it.
    const MountPlan plan = mount_plan(job, car);
    const auto said_of = [&car](const Job& now) { return fitting_findings(now, car, mount_plan(now, car)); };
    for (const HolePlan& hole : plan.holes) {
        for (const char* const name : {"slot", "slot width"}) {
            const std::string id = "mounts/" + hole.mount + "/" + name;
            if (named(said_of(job), id).state == State::falls_short) {
                job = expect_taken(job, id, said_of);
            }
        }
    }
    if (named(said_of(job), "mounts/locator").state == State::falls_short) {
        job = expect_taken(job, "mounts/locator", said_of);
    }
    for (const HolePlan& hole : plan.holes) {
        EXPECT_EQ(named(said_of(job), "mounts/" + hole.mount + "/slot").state, State::holds);
        EXPECT_EQ(named(said_of(job), "mounts/" + hole.mount + "/slot width").state, State::holds);
    }
    EXPECT_EQ(named(said_of(job), "mounts/locator").state, State::holds);
}

}  // namespace
}  // namespace sillwright::core
