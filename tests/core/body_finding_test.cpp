#include "core/body_finding.h"

#include <gmock/gmock.h>

#include "core/evaluate.h"
#include "small_job.h"

namespace sillwright::core {
namespace {

std::vector<Finding> findings_of(const Job& job) {
    const auto car = car_model(job, ".");
    EXPECT_TRUE(car) << (car ? "" : car.error().message);
    return body_findings(job, car.value());
}

TEST(BodyFinding, OnlyWhileTheBodyIsDrawnInPart) {
    Job job = parse_job(small_job_text(), "x").value();
    EXPECT_TRUE(findings_of(job).empty()) << "all is drawn";
    job.body.sections.pop_back();
    const auto found = findings_of(job);
    ASSERT_EQ(found.size(), 1U);
    EXPECT_EQ(found[0].id, "measure/body");
    EXPECT_EQ(found[0].state, State::not_measured);
    EXPECT_THAT(found[0].missing, testing::ElementsAre("a second section of the body"));
    job.body = {};
    EXPECT_TRUE(findings_of(job).empty()) << "a job can do without";
}

}  // namespace
}  // namespace sillwright::core
