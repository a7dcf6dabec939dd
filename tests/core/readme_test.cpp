// The job that README.md shows is one.
#include <gtest/gtest.h>

#include <string>

#include "core/job_check.h"
#include "tests/core/small_job.h"

namespace sillwright::core {
namespace {

std::string readme() {
    return file_bytes(std::string(SILLWRIGHT_SOURCE_DIR) + "/README.md");
}

/// What stands between ```json and ``` in the page.
std::string shown_job() {
    const std::string page = readme();
    const std::string start = "```json\n";
    const std::size_t from = page.find(start);
    const std::size_t to = page.find("```", from + start.size());
    EXPECT_NE(to, std::string::npos) << "README.md shows no job";
    return to == std::string::npos ? "" : page.substr(from + start.size(), to - from - start.size());
}

TEST(Readme, ShowsAJobThatCanBeRead) {
    const auto job = parse_job(shown_job(), "README.md");
    ASSERT_TRUE(job) << job.error().message;
    EXPECT_FALSE(first_fault(job.value()));
    // Counted by hand in the page: lengths typed in feet and inches, one mount, two sections.
    ASSERT_EQ(job.value().stations.size(), 2U);
    EXPECT_DOUBLE_EQ(in_mm(job.value().stations[1].along.value), 27 * 25.4);
    ASSERT_EQ(job.value().mounts.size(), 1U);
    EXPECT_DOUBLE_EQ(in_mm(job.value().mounts[0].at.along.value), 13.25 * 25.4);
    ASSERT_EQ(job.value().skirt.pieces.size(), 1U);
    EXPECT_EQ(job.value().skirt.pieces[0].drawn.sections.size(), 2U);
}

TEST(Readme, NamesTheStatesAsTheProgramDoes) {
    const std::string page = readme();
    for (const char* row : {"| ● | holds |", "| ▲ | close |", "| ◆ | falls short |", "| □ | not measured |"}) {
        EXPECT_NE(page.find(row), std::string::npos) << row;
    }
}

}  // namespace
}  // namespace sillwright::core
