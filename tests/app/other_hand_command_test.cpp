// The command in this process, on copies of the samples.
#include "app/terminal/other_hand_command.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>

#include "core/job_file.h"
#include "core/typed.h"
#include "tests/core/small_job.h"

namespace sillwright::app::terminal {
namespace {

using core::file_bytes;
using core::put_file;
using core::TestFolder;
using testing::HasSubstr;

const std::string k_samples = SILLWRIGHT_SOURCE_DIR "/samples/";

struct Ran {
    ExitCode code;
    std::string out, err;
};

Ran ran(const OtherHand& command) {
    testing::internal::CaptureStdout();
    testing::internal::CaptureStderr();
    const ExitCode code = run(command);
    std::string out = testing::internal::GetCapturedStdout();
    return {code, std::move(out), testing::internal::GetCapturedStderr()};
}

/// Estate A, which names a copy of its left side.
class OtherHandCommand : public testing::Test {
protected:
    OtherHandCommand() {
        put_file(left, file_bytes(k_samples + "estate_a_left.sillwright"));
        core::Job job = core::read_job(k_samples + "estate_a.sillwright").value();
        job.other_hand = "left.sillwright";
        job.skirt.paint = core::entry(geometry::millimetres(0.2));
        EXPECT_TRUE(core::save_job(job, right));
    }

    TestFolder folder;
    std::filesystem::path right = std::filesystem::path(folder.path()) / "right.sillwright";
    std::filesystem::path left = std::filesystem::path(folder.path()) / "left.sillwright";
    std::filesystem::path made = std::filesystem::path(folder.path()) / "made.sillwright";
};

TEST_F(OtherHandCommand, WritesTheDesignOnTheOtherSidesHoles) {
    const auto bytes = file_bytes(left);
    const Ran first = ran({right, made});
    ASSERT_EQ(first.code, ExitCode::all_hold) << first.err;
    EXPECT_THAT(first.out, HasSubstr("made.sillwright"));
    const core::Job job = core::read_job(made).value();
    const core::Job other = core::read_job(left).value();
    EXPECT_EQ(job.side, core::Side::left);
    EXPECT_EQ(job.mounts, other.mounts);
    EXPECT_EQ(job.doors, other.doors);
    EXPECT_EQ(job.skirt.paint->value, geometry::millimetres(0.2));
    EXPECT_EQ(file_bytes(left), bytes) << "the other side's file stays as it is";
}

TEST_F(OtherHandCommand, OverwritesNothing) {
    put_file(made, "mine");
    const Ran second = ran({right, made});
    EXPECT_EQ(second.code, ExitCode::bad_input);
    EXPECT_THAT(second.err, HasSubstr("nothing of yours is overwritten"));
    EXPECT_EQ(file_bytes(made), "mine");
}

TEST_F(OtherHandCommand, RefusesSidesThatDiffer) {
    core::Job other = core::read_job(left).value();
    other.mounts[3].at.out = core::entry(other.mounts[3].at.out.value + geometry::millimetres(15.0));
    ASSERT_TRUE(core::save_job(other, left));
    const Ran refused = ran({right, made});
    EXPECT_EQ(refused.code, ExitCode::bad_input);
    EXPECT_THAT(refused.err, HasSubstr("H4"));
    EXPECT_FALSE(std::filesystem::exists(made));
}

TEST_F(OtherHandCommand, NeedsAnotherSide) {
    const Ran alone = ran({k_samples + "estate_a.sillwright", made});
    EXPECT_EQ(alone.code, ExitCode::bad_input);
    EXPECT_THAT(alone.err, HasSubstr("other_hand"));
}

}  // namespace
}  // namespace sillwright::app::terminal
