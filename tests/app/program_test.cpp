// The real program, run as the shell runs it.
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <string>

namespace {

struct Ended {
    int code;
    std::string out;
};

/// Runs `line` after the program's name in a shell.
Ended shell(const std::string& line, const std::string& before = "") {
    const std::string command = before + " '" SILLWRIGHT_PROGRAM "' " + line;
    FILE* pipe = popen(command.c_str(), "r");
    if (pipe == nullptr) {
        ADD_FAILURE() << "no shell";
        return {-1, ""};
    }
    Ended ended{0, ""};
    std::array<char, 4096> buffer{};
    for (std::size_t n = 0; (n = fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) {
        ended.out.append(buffer.data(), n);
    }
    const int status = pclose(pipe);
    ended.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return ended;
}

/// A display that is not there must not be looked for.
const std::string k_no_display = "env -u DISPLAY -u WAYLAND_DISPLAY -u QT_QPA_PLATFORM";

TEST(Program, TellsItsVersionAndHelpWithoutADisplay) {
    EXPECT_EQ(shell("--version", k_no_display).out, "sillwright " SILLWRIGHT_VERSION "\n");
    const Ended help = shell("--help", k_no_display);
    EXPECT_EQ(help.code, 0);
    EXPECT_NE(help.out.find("Examples"), std::string::npos);
    EXPECT_NE(shell("check --help", k_no_display).out.find("--json"), std::string::npos);
}

TEST(Program, WrongWordsEndWithTwo) {
    const Ended ended = shell("chek a.sillwright 2>&1");
    EXPECT_EQ(ended.code, 2);
    EXPECT_EQ(ended.out, "sillwright: There is no command \"chek\". Did you mean \"check\"?\n");
    EXPECT_EQ(shell("chek a.sillwright 2>/dev/null").out, "") << "errors are not results";
}

TEST(Program, AnOutputThatCannotBeWrittenIsSaid) {
    const Ended full = shell("--help 2>&1 >/dev/full");
    EXPECT_EQ(full.code, 2);
    EXPECT_NE(full.out.find("No space left on device"), std::string::npos);
    EXPECT_EQ(shell("--help 2>/dev/null >&-").code, 2);
    EXPECT_EQ(shell("--version 2>&- <&-").code, 0);
}

TEST(Program, AReaderThatGoesAwayIsNoError) {
    // The reader, true, has gone long before the first letter.
    const Ended gone = shell("--help 2>&1; echo \"ended $?\" >&2; } | true; } 2>&1", "{ { sleep 0.3; ");
    EXPECT_EQ(gone.out, "ended 0\n");
}

TEST(Program, WithoutADisplayTheWindowSaysSo) {
    const Ended ended = shell("2>&1", k_no_display);
    EXPECT_EQ(ended.code, 2);
    EXPECT_NE(ended.out.find("There is no display"), std::string::npos);
    EXPECT_NE(ended.out.find("sillwright check JOB"), std::string::npos);
}

TEST(Program, WritesAPictureOfTheWindowWithoutADisplay) {
    const auto file = std::filesystem::path(testing::TempDir()) / "sillwright_window.png";
    std::filesystem::remove(file);
    const std::string words = "--picture '" + file.string() + "' 2>&1";
    EXPECT_EQ(shell(words, k_no_display).code, 0);
    EXPECT_GT(std::filesystem::file_size(file), 1000U);
    const Ended again = shell(words, k_no_display);
    EXPECT_EQ(again.code, 2);
    EXPECT_NE(again.out.find("exists already"), std::string::npos);
    std::filesystem::remove(file);
    EXPECT_EQ(shell("--picture /nowhere/at/all.png 2>&1", k_no_display).code, 2);
}

}  // namespace
