// What README.md shows is what the program prints.
#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "tests/core/small_job.h"

namespace {

using sillwright::core::file_bytes;
using sillwright::core::put_file;
using sillwright::core::TestFolder;

/// A block of README.md: the language after its fence, and its lines.
struct Block {
    std::string language;
    std::vector<std::string> lines;
};

std::vector<Block> blocks() {
    std::vector<Block> all;
    std::istringstream page(file_bytes(SILLWRIGHT_SOURCE_DIR "/README.md"));
    bool inside = false;
    for (std::string line; std::getline(page, line);) {
        if (line.starts_with("```")) {
            inside = !inside;
            if (inside) {
                all.push_back({line.substr(3), {}});
            }
        } else if (inside) {
            all.back().lines.push_back(line);
        }
    }
    return all;
}

std::set<std::string> lines_of_command(const std::string& command) {
    FILE* pipe = popen(command.c_str(), "r");
    if (pipe == nullptr) {
        ADD_FAILURE() << "no shell";
        return {};
    }
    std::string out;
    std::array<char, 4096> buffer{};
    for (std::size_t n = 0; (n = fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) {
        out.append(buffer.data(), n);
    }
    pclose(pipe);
    std::set<std::string> lines;
    std::istringstream in(out);
    for (std::string line; std::getline(in, line);) {
        lines.insert(line);
    }
    return lines;
}

/// Checks that every line but the command and those that say that some were left out is printed.
void expect_lines(const Block& block, const std::set<std::string>& printed) {
    for (std::size_t i = 1; i < block.lines.size(); ++i) {
        const std::string& line = block.lines[i];
        if (line.find_first_not_of(" .") != std::string::npos) {
            EXPECT_TRUE(printed.contains(line))
                << "README.md shows below `" << block.lines.front() << "` what is not printed:\n"
                << line;
        }
    }
}

/// Checks every line of a block under "$ build/sillwright check ..." or "survey ..." but those that only say that
/// some were left out.
void expect_printed(const Block& block, const std::string& folder) {
    const std::string program = "$ build/sillwright ";
    ASSERT_TRUE(block.lines.front().starts_with(program + "check ") ||
                block.lines.front().starts_with(program + "survey "));
    const std::string words = block.lines.front().substr(program.size());
    expect_lines(block, lines_of_command("cd '" + folder + "' && LC_ALL=C.UTF-8 '" SILLWRIGHT_PROGRAM "' " + words));
}

TEST(ReadmeOutput, OfTheSamples) {
    int checked = 0;
    for (const Block& block : blocks()) {
        if (!block.lines.empty() && block.lines.front().starts_with("$ build/sillwright check samples/")) {
            ++checked;
            expect_printed(block, SILLWRIGHT_SOURCE_DIR);
        }
    }
    EXPECT_EQ(checked, 4) << "two samples, one of them again for its mounts, the other as JSON";
}

TEST(ReadmeOutput, OfTheHandoverFolder) {
    const TestFolder folder;
    int checked = 0;
    for (const Block& block : blocks()) {
        if (!block.lines.empty() && block.lines.front() ==
                                        "$ build/sillwright handover samples/estate_a.sillwright "
                                        "--to estate-a-handover") {
            ++checked;
            expect_lines(block,
                         lines_of_command("cd '" + folder.path().string() + "' && LC_ALL=C.UTF-8 '" +
                                          SILLWRIGHT_PROGRAM "' handover '" SILLWRIGHT_SOURCE_DIR
                                                             "/samples/estate_a.sillwright' --to estate-a-handover"));
        }
    }
    EXPECT_EQ(checked, 1);
}

TEST(ReadmeOutput, OfTheMeasuringBook) {
    const TestFolder folder;
    put_file(folder.path() / "book.sillwright", file_bytes(SILLWRIGHT_SOURCE_DIR "/samples/measuring_book.sillwright"));
    int checked = 0;
    for (const Block& block : blocks()) {
        if (!block.lines.empty() && block.lines.front().starts_with("$ build/sillwright survey ")) {
            ++checked;
            const bool sample = block.lines.front().find(" samples/") != std::string::npos;
            expect_printed(block, sample ? SILLWRIGHT_SOURCE_DIR : folder.path().string());
        }
    }
    EXPECT_EQ(checked, 2) << "the sample, and a copy with the misread tie dropped";
}

TEST(ReadmeOutput, OfTheJobThatItShows) {
    const TestFolder folder;
    int checked = 0;
    for (const Block& block : blocks()) {
        if (block.language == "json") {
            std::string job;
            for (const std::string& line : block.lines) {
                job += line + "\n";
            }
            put_file(folder.path() / "van_c.sillwright", job);
        } else if (!block.lines.empty() && block.lines.front() == "$ build/sillwright check van_c.sillwright" &&
                   !block.lines.at(1).starts_with("sillwright: ")) {
            ++checked;
            expect_printed(block, folder.path().string());
        }
    }
    EXPECT_EQ(checked, 1);
}

}  // namespace
