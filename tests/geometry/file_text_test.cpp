#include "geometry/file_text.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>

namespace sillwright::geometry {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

constexpr std::uintmax_t k_plenty = 1000000;

class FileText : public testing::Test {
protected:
    void SetUp() override {
        std::string name = (fs::temp_directory_path() / "sillwright_file_text_XXXXXX").string();
        ASSERT_NE(::mkdtemp(name.data()), nullptr);
        folder_ = name;
    }
    void TearDown() override { fs::remove_all(folder_); }

    [[nodiscard]] std::size_t files_in_folder() const {
        return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder_), {}));
    }

    fs::path folder_;
};

TEST_F(FileText, GivesBackEveryByte) {
    std::string all;
    for (int i = 0; i < 256; ++i) {
        all.push_back(static_cast<char>(i));
    }
    ASSERT_TRUE(write_file(folder_ / "bytes", all));
    EXPECT_EQ(read_file(folder_ / "bytes", k_plenty).value(), all);
    ASSERT_TRUE(write_file(folder_ / "bytes", ""));
    EXPECT_EQ(read_file(folder_ / "bytes", k_plenty).value(), "");
    EXPECT_EQ(files_in_folder(), 1U) << "a temporary file was left behind";
}

TEST_F(FileText, ReadsAFileThatIsJustSmallEnough) {
    ASSERT_TRUE(write_file(folder_ / "f", "12345"));
    EXPECT_TRUE(read_file(folder_ / "f", 5));
    const auto refused = read_file(folder_ / "f", 4);
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().message, HasSubstr("5 bytes, more than the 4"));
}

TEST_F(FileText, SaysWhatIsWrongWithTheName) {
    const auto missing = read_file(folder_ / "none.txt", k_plenty);
    ASSERT_FALSE(missing);
    EXPECT_EQ(missing.error().code, ErrorCode::unreadable_file);
    EXPECT_THAT(missing.error().message, HasSubstr("none.txt\" is not there"));
    EXPECT_THAT(read_file(folder_, k_plenty).error().message, HasSubstr("not a file"));
    EXPECT_THAT(write_file(folder_, "x").error().message, HasSubstr("not a file"));
    EXPECT_THAT(write_file(folder_ / "no_folder" / "f", "x").error().message, HasSubstr("no_folder\" is not there"));
}

TEST_F(FileText, DoesNotWaitForAPipe) {
    ASSERT_EQ(::mkfifo((folder_ / "pipe").c_str(), 0600), 0);
    EXPECT_THAT(read_file(folder_ / "pipe", k_plenty).error().message, HasSubstr("not a file"));
    EXPECT_FALSE(write_file(folder_ / "pipe", "x"));
}

TEST_F(FileText, KeepsPermissionsAndLinks) {
    ASSERT_TRUE(write_file(folder_ / "real", "old"));
    fs::permissions(folder_ / "real", fs::perms::owner_read | fs::perms::owner_write);
    fs::create_symlink("real", folder_ / "link");
    ASSERT_TRUE(write_file(folder_ / "link", "new"));
    EXPECT_TRUE(fs::is_symlink(folder_ / "link"));
    EXPECT_EQ(read_file(folder_ / "real", k_plenty).value(), "new");
    EXPECT_EQ(fs::status(folder_ / "real").permissions(), fs::perms::owner_read | fs::perms::owner_write);
}

// A limit on the size of files stands in for a full disk: the write fails half way.
TEST_F(FileText, AFailedWriteLeavesTheOldFile) {
    ASSERT_TRUE(write_file(folder_ / "f", "old"));
    struct rlimit before = {};
    ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &before), 0);
    const auto handler = std::signal(SIGXFSZ, SIG_IGN);
    struct rlimit small = before;
    small.rlim_cur = 1000;
    ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &small), 0);
    const Status status = write_file(folder_ / "f", std::string(5000, 'x'));
    ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &before), 0);
    std::signal(SIGXFSZ, handler);
    ASSERT_FALSE(status);
    EXPECT_THAT(status.error().message, HasSubstr("cannot be written"));
    EXPECT_EQ(read_file(folder_ / "f", k_plenty).value(), "old");
    EXPECT_EQ(files_in_folder(), 1U) << "a temporary file was left behind";
}

}  // namespace
}  // namespace sillwright::geometry
