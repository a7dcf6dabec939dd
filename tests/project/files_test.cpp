// Where files stand and what they are called.
#include <gtest/gtest.h>

#include <set>
#include <string>
#include <vector>

#include "tests/project/source_tree.h"

namespace sillwright::project {
namespace {

TEST(Files, TheTopLevelHoldsNothingElse) {
    std::set<std::string> allowed{"CMakeLists.txt", "README.md", "DEVELOPERS.md", "app",  "core",
                                  "geometry",       "resources", "samples",       "tests"};
    // What git ignores is made, not kept; a line of the file is "/build/".
    for (std::string line : lines_of(".gitignore")) {
        std::erase(line, '/');
        allowed.insert(line);
    }
    std::set<std::string> there;
    for (const auto& entry : std::filesystem::directory_iterator(root())) {
        there.insert(entry.path().filename().string());
    }
    for (const std::string& name : there) {
        EXPECT_TRUE(name.starts_with('.') || allowed.contains(name)) << name << " does not belong at the top level";
    }
    for (const std::string& name : {"CMakeLists.txt", "README.md", "DEVELOPERS.md", ".clang-format", ".clang-tidy"}) {
        EXPECT_TRUE(there.contains(name)) << name << " is missing";
    }
}

TEST(Files, EverySourceOfCoreAndGeometryHasItsTest) {
    for (const std::string& layer : {"core", "geometry"}) {
        const std::vector<std::string> sources = files_below(layer, {".cpp"});
        EXPECT_FALSE(sources.empty());
        for (const std::string& source : sources) {
            const std::string test = "tests/" + stem_of(source) + "_test.cpp";
            EXPECT_TRUE(exists(test)) << source << " has no " << test;
        }
    }
}

TEST(Files, EverySourceOfCoreAndGeometryHasItsHeader) {
    for (const std::string& layer : {"core", "geometry"}) {
        for (const std::string& source : files_below(layer, {".cpp"})) {
            EXPECT_TRUE(exists(stem_of(source) + ".h")) << source << " has no header of its stem";
        }
    }
}

// So the compiler sees that each header stands alone. Headers without a source
// of their stem are compiled by the target headers_alone.
TEST(Files, ASourceIncludesItsOwnHeaderFirst) {
    int checked = 0;
    for (const std::string& layer : {"app", "core", "geometry"}) {
        for (const std::string& source : files_below(layer, {".cpp"})) {
            const std::string header = stem_of(source) + ".h";
            if (!exists(header)) {
                continue;
            }
            ++checked;
            const std::vector<std::string> lines = lines_of(source);
            const auto first =
                std::find_if(lines.begin(), lines.end(), [](const std::string& line) { return line.starts_with("#"); });
            ASSERT_NE(first, lines.end()) << source;
            EXPECT_EQ(*first, "#include \"" + header + "\"") << source;
        }
    }
    EXPECT_GT(checked, 50);
}

TEST(Files, EveryHeaderGuardsItself) {
    for (const std::string& folder : {"app", "core", "geometry", "tests"}) {
        for (const std::string& header : files_below(folder, {".h"})) {
            const std::vector<std::string> lines = lines_of(header);
            EXPECT_NE(std::find(lines.begin(), lines.end(), "#pragma once"), lines.end()) << header;
        }
    }
}

}  // namespace
}  // namespace sillwright::project
