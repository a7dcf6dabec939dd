#include "core/buck/buck_work.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <memory>
#include <set>

#include "core/evaluate.h"
#include "core/job_file.h"

namespace sillwright::core {
namespace {

class BuckWorkOfEstate : public testing::Test {
protected:
    void SetUp() override {
        const std::filesystem::path folder = std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples";
        evaluation_ = evaluate(read_job(folder / "estate_a.sillwright").value(), folder, {}, Mends::leave).value();
    }
    std::shared_ptr<const Evaluation> evaluation_;
};

TEST(BuckWork, IsNothingWithoutABuck) {
    const auto work = buck_work(Job{}, BuckPlan{});
    ASSERT_TRUE(work) << work.error().message;
    EXPECT_TRUE(work.value().parts.empty());
    EXPECT_TRUE(work.value().nesting.sheets.empty());
    EXPECT_TRUE(work_findings(Job{}, work.value()).empty());
    EXPECT_TRUE(parts_findings(Job{}, BuckPlan{}, Mends::leave).empty());
}

TEST_F(BuckWorkOfEstate, LaysEveryPartOnce) {
    std::size_t better = 0;
    const auto work = buck_work(evaluation_->job, *evaluation_->buck, {}, [&](const Nesting& /*nest*/) { ++better; });
    ASSERT_TRUE(work) << work.error().message;
    ASSERT_EQ(work.value().parts.size(), 13U) << "ten ribs, two spines, a base";
    EXPECT_TRUE(work.value().nesting.left_out.empty());
    std::set<std::size_t> laid;
    for (const NestedSheet& sheet : work.value().nesting.sheets) {
        for (const PlacedPart& part : sheet.parts) {
            EXPECT_TRUE(laid.insert(part.part).second) << work.value().parts[part.part].label;
        }
    }
    EXPECT_EQ(laid.size(), work.value().parts.size());
    EXPECT_GT(better, 0U);
    for (const Finding& finding : work_findings(evaluation_->job, work.value())) {
        EXPECT_NE(finding.state, State::falls_short) << finding.id;
        EXPECT_TRUE(finding.id.starts_with("buck/boards/")) << finding.id;
    }
}

TEST_F(BuckWorkOfEstate, StopsWhenAsked) {
    std::stop_source stop;
    stop.request_stop();
    const auto work = buck_work(evaluation_->job, *evaluation_->buck, {stop.get_token(), {}});
    ASSERT_FALSE(work);
    EXPECT_EQ(work.error().code, geometry::ErrorCode::stopped);
}

// What is found of the parts is among all findings, whenever a job is computed.
TEST_F(BuckWorkOfEstate, IsLookedAtWithTheJob) {
    std::set<std::string> all;
    for (const Finding& finding : evaluation_->findings) {
        all.insert(finding.id);
    }
    const auto found = parts_findings(evaluation_->job, *evaluation_->buck, Mends::leave);
    EXPECT_FALSE(found.empty());
    for (const Finding& finding : found) {
        EXPECT_TRUE(all.contains(finding.id)) << finding.id;
    }
}

}  // namespace
}  // namespace sillwright::core
