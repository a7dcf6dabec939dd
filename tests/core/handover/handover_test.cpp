#include "core/handover/handover.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/core/small_job.h"

namespace sillwright::core {
namespace {

namespace fs = std::filesystem;
using testing::Contains;
using testing::HasSubstr;

class Handover : public testing::Test {
protected:
    void SetUp() override {
        file_ = folder_.path() / "small.sillwright";
        put_file(file_, small_job_text());
        auto job = read_job(file_);
        ASSERT_TRUE(job) << job.error().message;
        job_ = std::move(job).value();
        auto car = car_model(job_, folder_.path());
        ASSERT_TRUE(car) << car.error().message;
        car_ = std::move(car).value();
    }
    TestFolder folder_;
    fs::path file_;
    Job job_;
    CarModel car_;
};

TEST_F(Handover, ListsTheFilesThatStand) {
    const auto report = write_handover(job_, car_, {}, file_, folder_.path() / "out", {{"findings.json", "{}\n"}});
    ASSERT_TRUE(report) << report.error().message;
    std::size_t found = 0;
    for (const auto& entry : fs::recursive_directory_iterator(folder_.path() / "out")) {
        if (entry.is_regular_file()) {
            ++found;
            EXPECT_THAT(report.value().files, Contains(entry.path().lexically_relative(folder_.path() / "out")));
        }
    }
    EXPECT_EQ(report.value().files.size(), found);
    EXPECT_EQ(file_bytes(folder_.path() / "out/findings.json"), "{}\n");
    EXPECT_THAT(report.value().notes, testing::Not(Contains(HasSubstr("has changed"))));
}

TEST_F(Handover, SaysThatTheJobFileHasChanged) {
    job_.revision += "2";
    const auto report = write_handover(job_, car_, {}, file_, folder_.path() / "out");
    ASSERT_TRUE(report) << report.error().message;
    EXPECT_THAT(report.value().notes, Contains(HasSubstr("job file has changed")));
}

TEST_F(Handover, WritesNothingWithoutItsJobFile) {
    const auto report = write_handover(job_, car_, {}, folder_.path() / "none", folder_.path() / "out");
    ASSERT_FALSE(report);
    EXPECT_THAT(report.error().message, HasSubstr("none"));
    EXPECT_FALSE(fs::exists(folder_.path() / "out"));
}

}  // namespace
}  // namespace sillwright::core
