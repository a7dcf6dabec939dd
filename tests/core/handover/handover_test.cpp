#include "core/handover/handover.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/buck/buck_work.h"
#include "core/evaluate.h"
#include "geometry/sha256.h"
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
        const auto job = read_job(file_);
        ASSERT_TRUE(job) << job.error().message;
        const auto evaluated = evaluate(job.value(), folder_.path(), {}, Mends::leave);
        ASSERT_TRUE(evaluated) << evaluated.error().message;
        evaluation_ = evaluated.value();
        checked_ = {"small.sillwright", geometry::sha256(file_bytes(file_))};
    }
    TestFolder folder_;
    fs::path file_;
    std::shared_ptr<const Evaluation> evaluation_;
    JobFileMark checked_;
};

TEST_F(Handover, ListsTheFilesThatStand) {
    const auto report =
        write_handover(*evaluation_, {}, checked_, file_, folder_.path() / "out", {{"findings.json", "{}\n"}});
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
    put_file(file_, small_job_text() + "\n");
    const auto report = write_handover(*evaluation_, {}, checked_, file_, folder_.path() / "out");
    ASSERT_TRUE(report) << report.error().message;
    EXPECT_THAT(report.value().notes, Contains(HasSubstr("job file has changed")));
}

TEST_F(Handover, WritesNothingWithoutItsJobFile) {
    const auto report = write_handover(*evaluation_, {}, checked_, folder_.path() / "none", folder_.path() / "out");
    ASSERT_FALSE(report);
    EXPECT_THAT(report.error().message, HasSubstr("none"));
    EXPECT_FALSE(fs::exists(folder_.path() / "out"));
}

}  // namespace
}  // namespace sillwright::core
