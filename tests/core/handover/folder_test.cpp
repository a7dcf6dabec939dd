#include "core/handover/folder.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <filesystem>
#include <map>

#include "core/handover/manifest.h"
#include "tests/core/small_job.h"

namespace sillwright::core {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

const std::vector<HandoverFile> k_first{{"read.txt", "one\n"}, {"buck/rib.dxf", "rib 1"}, {"buck/gone.dxf", "old"}};
const std::vector<HandoverFile> k_second{{"read.txt", "two\n"}, {"buck/rib.dxf", "rib 2"}};

/// Every file below a folder by its path, with its bytes.
std::map<std::string, std::string> all_files(const fs::path& folder) {
    std::map<std::string, std::string> found;
    for (const auto& entry : fs::recursive_directory_iterator(folder)) {
        if (entry.is_regular_file()) {
            found[entry.path().lexically_relative(folder).generic_string()] = file_bytes(entry.path());
        }
    }
    return found;
}

std::map<std::string, std::string> as_written(const std::vector<HandoverFile>& files) {
    std::map<std::string, std::string> wanted{{"manifest.txt", manifest_text(files)}};
    for (const HandoverFile& file : files) {
        wanted[file.path] = file.bytes;
    }
    return wanted;
}

class Folder : public testing::Test {
protected:
    [[nodiscard]] fs::path target() const { return home_.path() / "out"; }

    void expect_written(const std::vector<HandoverFile>& files) {
        const auto written = write_folder(files, target());
        ASSERT_TRUE(written) << written.error().message;
        EXPECT_THAT(written.value(), testing::IsEmpty());
    }
    [[nodiscard]] std::string error_of(const std::vector<HandoverFile>& files) const {
        const auto written = write_folder(files, target());
        return written ? "no error" : written.error().message;
    }
    /// Nothing but `out` stands in the folder above.
    void expect_no_leavings() const {
        for (const auto& entry : fs::directory_iterator(home_.path())) {
            EXPECT_EQ(entry.path().filename(), "out");
        }
    }

    TestFolder home_;
};

TEST_F(Folder, IsMadeNew) {
    expect_written(k_first);
    EXPECT_EQ(all_files(target()), as_written(k_first));
    expect_no_leavings();
    EXPECT_NE(fs::status(target()).permissions() & fs::perms::owner_all, fs::perms::none);
}

TEST_F(Folder, TakesAnEmptyFolder) {
    fs::create_directory(target());
    expect_written(k_first);
    EXPECT_EQ(all_files(target()), as_written(k_first));
}

TEST_F(Folder, TakesANameAloneFromWhereItStands) {
    const fs::path before = fs::current_path();
    fs::current_path(home_.path());
    const auto written = write_folder(k_first, "out");
    fs::current_path(before);
    ASSERT_TRUE(written) << written.error().message;
    EXPECT_EQ(all_files(target()), as_written(k_first));
}

TEST_F(Folder, TakesASlashAtItsEnd) {
    ASSERT_TRUE(write_folder(k_first, target() / ""));
    EXPECT_EQ(all_files(target()), as_written(k_first));
}

TEST_F(Folder, ReplacesOneWrittenBefore) {
    expect_written(k_first);
    expect_written(k_second);
    EXPECT_EQ(all_files(target()), as_written(k_second));
    expect_no_leavings();
}

TEST_F(Folder, CarriesOverWhatIsNotInTheManifest) {
    expect_written(k_first);
    put_file(target() / "my notes.txt", "call the fitter");
    put_file(target() / "buck/toolpath.nc", "G1");
    fs::create_directories(target() / "photos/day 1");
    put_file(target() / "photos/day 1/sill.jpg", "jpg");
    fs::create_directory(target() / "empty");
    fs::create_symlink("nowhere", target() / "link");
    fs::permissions(target() / "my notes.txt", fs::perms::owner_read);
    struct stat before = {};
    ASSERT_EQ(::stat((target() / "my notes.txt").c_str(), &before), 0);
    expect_written(k_second);
    auto wanted = as_written(k_second);
    wanted["my notes.txt"] = "call the fitter";
    wanted["buck/toolpath.nc"] = "G1";
    wanted["photos/day 1/sill.jpg"] = "jpg";
    EXPECT_EQ(all_files(target()), wanted);
    EXPECT_TRUE(fs::is_directory(target() / "empty"));
    EXPECT_EQ(fs::read_symlink(target() / "link"), "nowhere");
    struct stat after = {};
    ASSERT_EQ(::stat((target() / "my notes.txt").c_str(), &after), 0);
    EXPECT_EQ(after.st_mode, before.st_mode);
    EXPECT_EQ(after.st_mtim.tv_sec, before.st_mtim.tv_sec);
    EXPECT_EQ(after.st_mtim.tv_nsec, before.st_mtim.tv_nsec);
    expect_no_leavings();
}

TEST_F(Folder, RefusesAFolderThatIsNotOurs) {
    fs::create_directory(target());
    put_file(target() / "thesis.txt", "years of work");
    EXPECT_THAT(error_of(k_first), HasSubstr("is no handover folder of this program. Give a new or empty folder."));
    put_file(target() / "manifest.txt", "thesis.txt\n");
    EXPECT_THAT(error_of(k_first), HasSubstr("is no handover folder"));
    EXPECT_EQ(all_files(target()),
              (std::map<std::string, std::string>{{"thesis.txt", "years of work"}, {"manifest.txt", "thesis.txt\n"}}));
    expect_no_leavings();
}

TEST_F(Folder, RefusesAFile) {
    put_file(target(), "a file");
    EXPECT_THAT(error_of(k_first), HasSubstr("is not a folder"));
    EXPECT_EQ(file_bytes(target()), "a file");
}

TEST_F(Folder, RefusesToLoseWhatWasChangedByHand) {
    expect_written(k_first);
    put_file(target() / "buck/rib.dxf", "rib 1, with my own lines");
    const auto before = all_files(target());
    EXPECT_THAT(error_of(k_second), HasSubstr("rib.dxf\" was changed after it was written"));
    EXPECT_EQ(all_files(target()), before);
}

TEST_F(Folder, TakesOneOfItsFilesBeingGone) {
    expect_written(k_first);
    fs::remove(target() / "read.txt");
    expect_written(k_second);
    EXPECT_EQ(all_files(target()), as_written(k_second));
}

TEST_F(Folder, RefusesAForeignFileOnANeededName) {
    expect_written(k_second);
    put_file(target() / "part.step", "not ours");
    std::vector<HandoverFile> more = k_second;
    more.push_back({"part.step", "ours"});
    EXPECT_THAT(error_of(more), HasSubstr("part.step\" is not from this program"));
    EXPECT_EQ(file_bytes(target() / "part.step"), "not ours");
    fs::remove(target() / "part.step");
    fs::create_directory(target() / "part.step");
    EXPECT_THAT(error_of(more), HasSubstr("part.step\" is not from this program"));
    EXPECT_EQ(file_bytes(target() / "read.txt"), "two\n");
    expect_no_leavings();
}

TEST_F(Folder, SaysWhereTheFolderAboveIsMissing) {
    const auto written = write_folder(k_first, home_.path() / "missing" / "out");
    ASSERT_FALSE(written);
    EXPECT_THAT(written.error().message, HasSubstr("missing\" is no folder"));
}

TEST_F(Folder, FollowsALinkAndLeavesIt) {
    fs::create_directory(home_.path() / "real");
    fs::create_directory_symlink("real", target());
    ASSERT_TRUE(write_folder(k_first, target()));
    ASSERT_TRUE(write_folder(k_second, target()));
    EXPECT_TRUE(fs::is_symlink(target()));
    EXPECT_EQ(all_files(home_.path() / "real"), as_written(k_second));
}

TEST_F(Folder, SaysThatItMayNotWrite) {
    if (::geteuid() == 0) {
        GTEST_SKIP() << "nothing is unwritable to the superuser";
    }
    fs::permissions(home_.path(), fs::perms::owner_read | fs::perms::owner_exec);
    EXPECT_THAT(error_of(k_first), HasSubstr("cannot be written: Permission denied"));
}

/// The same where even the superuser cannot write.
TEST_F(Folder, SaysThatASystemFolderCannotBeWritten) {
    const auto written = write_folder(k_first, "/proc/sillwright-handover");
    ASSERT_FALSE(written);
    EXPECT_THAT(written.error().message, HasSubstr("cannot be written"));
}

/// Writes `files` in a process of its own in which no file may grow beyond 1 kB; how it ended.
int write_with_a_full_disk(const std::vector<HandoverFile>& files, const fs::path& target, bool killed) {
    const pid_t child = ::fork();
    if (child == 0) {
        const rlimit limit{1024, 1024};
        ::setrlimit(RLIMIT_FSIZE, &limit);
        const rlimit no_core{0, 0};
        ::setrlimit(RLIMIT_CORE, &no_core);
        std::signal(SIGXFSZ, killed ? SIG_DFL : SIG_IGN);
        ::_exit(write_folder(files, target) ? 0 : 1);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    return status;
}

TEST_F(Folder, StaysAsItWasWhenWritingFailsMidway) {
    expect_written(k_first);
    put_file(target() / "my notes.txt", "call the fitter");
    const auto before = all_files(target());
    std::vector<HandoverFile> large = k_second;
    large.push_back({"part.stl", std::string(100'000, 'x')});
    const int status = write_with_a_full_disk(large, target(), false);
    ASSERT_TRUE(WIFEXITED(status));
    EXPECT_EQ(WEXITSTATUS(status), 1);
    EXPECT_EQ(all_files(target()), before);
    expect_no_leavings();
}

TEST_F(Folder, StaysAsItWasWhenTheProgramIsKilledMidway) {
    expect_written(k_first);
    put_file(target() / "my notes.txt", "call the fitter");
    const auto before = all_files(target());
    std::vector<HandoverFile> large = k_second;
    large.push_back({"part.stl", std::string(100'000, 'x')});
    const int status = write_with_a_full_disk(large, target(), true);
    ASSERT_TRUE(WIFSIGNALED(status));
    EXPECT_EQ(all_files(target()), before);
    // And the next one goes through.
    expect_written(k_second);
    EXPECT_EQ(file_bytes(target() / "my notes.txt"), "call the fitter");
}

/// Writes one and the other in turn until it is killed.
pid_t start_writing_in_turn(const std::vector<HandoverFile>& one, const std::vector<HandoverFile>& other,
                            const fs::path& target) {
    const pid_t child = ::fork();
    if (child == 0) {
        while (write_folder(one, target) && write_folder(other, target)) {
        }
        ::_exit(1);
    }
    return child;
}

TEST_F(Folder, IsOneOrTheOtherHoweverItIsKilled) {
    std::vector<HandoverFile> one = k_first;
    std::vector<HandoverFile> other = k_second;
    for (int i = 0; i < 20; ++i) {
        one.push_back({"papers/" + std::to_string(i) + ".pdf", std::string(2'000, 'a')});
        other.push_back({"papers/" + std::to_string(i) + ".pdf", std::string(3'000, 'b')});
    }
    expect_written(one);
    put_file(target() / "my notes.txt", "call the fitter");
    auto first = as_written(one);
    auto second = as_written(other);
    first["my notes.txt"] = second["my notes.txt"] = "call the fitter";
    const auto start = std::chrono::steady_clock::now();
    expect_written(other);
    expect_written(one);
    const std::chrono::duration<double, std::micro> both = std::chrono::steady_clock::now() - start;
    std::size_t seconds = 0;
    constexpr unsigned int k_rounds = 60;
    for (unsigned int round = 0; round < k_rounds; ++round) {
        const pid_t child = start_writing_in_turn(one, other, target());
        ASSERT_GT(child, 0);
        // Other moments each time, over both folders and somewhat more.
        ::usleep(static_cast<useconds_t>(1.5 * both.count() * (round * 31 % k_rounds) / k_rounds));
        ::kill(child, SIGKILL);
        int status = 0;
        ::waitpid(child, &status, 0);
        ASSERT_TRUE(WIFSIGNALED(status)) << "a folder was not written";
        const auto standing = all_files(target());
        ASSERT_TRUE(standing == first || standing == second) << "in round " << round;
        seconds += standing == second ? 1 : 0;
    }
    EXPECT_GT(seconds, 0U);
    EXPECT_LT(seconds, k_rounds);
    expect_written(k_second);
}

}  // namespace
}  // namespace sillwright::core
