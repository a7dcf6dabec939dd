#include "core/road/road_findings.h"

#include <gmock/gmock.h>

#include <set>

#include "core/job_file.h"
#include "tests/core/road/road_world.h"

namespace sillwright::core {
namespace {

TEST(RoadFindings, AreAllOfTheRoad) {
    const Job job = road_world::job_of();
    const auto findings = road_findings(job, road_world::model_of(job), MountPlan{});
    std::set<std::string> ids;
    for (const Finding& finding : findings) {
        EXPECT_TRUE(ids.insert(finding.id).second) << finding.id << " twice";
        EXPECT_TRUE(finding.id.starts_with("mounts/road/")) << finding.id;
        EXPECT_EQ(finding.stage, Stage::mounts);
        EXPECT_FALSE(finding.title.empty()) << finding.id;
        EXPECT_FALSE(finding.why.empty()) << finding.id;
        EXPECT_FALSE(finding.formula.empty()) << finding.id;
        EXPECT_FALSE(finding.source.empty()) << finding.id;
        if (finding.state == State::not_measured) {
            EXPECT_FALSE(finding.missing.empty()) << finding.id;
        }
    }
    for (const char* id :
         {"clearance", "bump clearance", "breakover", "approach", "edge shelf edge", "edge front end", "shelf fall"}) {
        EXPECT_TRUE(ids.contains(std::string("mounts/road/") + id)) << id;
    }
}

TEST(RoadFindings, AJobWithoutAPartHasThemNotMeasured) {
    Job job;
    for (const Finding& finding : road_findings(job, road_world::model_of(job), MountPlan{})) {
        EXPECT_EQ(finding.state, State::not_measured) << finding.id;
    }
}

TEST(RoadFindings, EstateAFallsShortNowhere) {
    const auto path = std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright";
    const auto job = read_job(path);
    ASSERT_TRUE(job) << job.error().message;
    const auto car = car_model(job.value(), path.parent_path());
    ASSERT_TRUE(car);
    for (const Finding& finding : road_findings(job.value(), car.value(), MountPlan{})) {
        EXPECT_NE(finding.state, State::falls_short) << finding.id << ": " << finding.why;
    }
}

}  // namespace
}  // namespace sillwright::core
