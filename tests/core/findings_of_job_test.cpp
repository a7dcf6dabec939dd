#include "core/findings_of_job.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace sillwright::core {
namespace {

Finding finding(const char* id, State state, std::optional<double> margin) {
    Finding one;
    one.id = id;
    one.state = state;
    one.margin = margin;
    return one;
}

TEST(FindingsOfJob, StandWorstFirstWhereverTheyComeFrom) {
    CarModel car;
    car.findings = {finding("shape", State::close, 0.5)};
    const auto all =
        findings_of_job(Job{}, car,
                        {{finding("reach", State::holds, 2.0)},
                         {finding("swing", State::falls_short, -1.0), finding("swing 2", State::holds, 2.0)},
                         {finding("buck", State::not_measured, {})}});
    std::vector<std::string> ids;
    for (const Finding& one : all) {
        ids.push_back(one.id);
    }
    // Of equal margin: in the order in which the parts are given.
    EXPECT_THAT(ids, testing::ElementsAre("swing", "shape", "reach", "swing 2", "buck"));
}

}  // namespace
}  // namespace sillwright::core
