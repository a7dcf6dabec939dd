// What README.md and DEVELOPERS.md name is there.
#include <gtest/gtest.h>

#include <regex>
#include <set>
#include <string>
#include <vector>

#include "tests/project/source_tree.h"

namespace sillwright::project {
namespace {

const std::vector<std::string> k_pages{"README.md", "DEVELOPERS.md"};

std::set<std::string> all_matches(const std::string& text, const std::regex& pattern) {
    std::set<std::string> found;
    for (auto it = std::sregex_iterator(text.begin(), text.end(), pattern); it != std::sregex_iterator(); ++it) {
        found.insert((*it)[1].str());
    }
    return found;
}

/// Everything in a page that begins with one of our folders and goes on as a path.
std::set<std::string> paths_in(const std::string& text) {
    static const std::regex pattern(
        R"((?:^|[^A-Za-z0-9_/.-])((?:app|core|geometry|resources|samples|tests|\.ci)/[A-Za-z0-9_./-]*))");
    std::set<std::string> paths;
    for (std::string path : all_matches(text, pattern)) {
        while (path.ends_with('.')) {
            path.pop_back();
        }
        paths.insert(path);
    }
    return paths;
}

TEST(DevelopersMap, EveryPathExists) {
    for (const std::string& page : k_pages) {
        const std::set<std::string> paths = paths_in(text_of(page));
        EXPECT_GT(paths.size(), 3U) << page << ": nothing was checked";
        for (const std::string& path : paths) {
            EXPECT_TRUE(exists(path) || exists(path + ".h")) << page << " names " << path << ", which is not there";
        }
    }
}

TEST(DevelopersMap, FindsAPathThatIsNotThere) {
    EXPECT_EQ(paths_in("See `core/nowhere/at_all.h`. Or (tests/none)."),
              (std::set<std::string>{"core/nowhere/at_all.h", "tests/none"}));
    EXPECT_EQ(paths_in("build/tests/sillwright_bench"), std::set<std::string>{}) << "what is built is no source";
}

TEST(DevelopersMap, HasEveryFolder) {
    const std::string map = text_of("DEVELOPERS.md");
    std::vector<std::string> folders{"app/", "core/", "geometry/", "resources/", "samples/", "tests/"};
    for (const std::string& layer : {"app", "core", "geometry"}) {
        const std::vector<std::string> below = folders_below(layer);
        folders.insert(folders.end(), below.begin(), below.end());
    }
    for (const auto& entry : std::filesystem::directory_iterator(root() / "tests")) {
        if (entry.is_directory()) {
            folders.push_back("tests/" + entry.path().filename().string() + "/");
        }
    }
    EXPECT_GT(folders.size(), 15U);
    for (const std::string& folder : folders) {
        EXPECT_NE(map.find("`" + folder + "`"), std::string::npos) << folder << " is not in the folder map";
    }
}

/// The program's words in a text: "check" and "--json" of "sillwright check JOB --json".
struct Words {
    std::set<std::string> commands, options;
};
Words words_in(const std::string& text) {
    static const std::regex line(R"(\bsillwright ([^\n`]*))");
    static const std::regex command(R"(^([a-z]+)(?![a-z/._-]))");
    static const std::regex option(R"((--[a-z]+))");
    Words words;
    for (const std::string& rest : all_matches(text, line)) {
        words.commands.merge(all_matches(rest, command));
        words.options.merge(all_matches(rest, option));
    }
    return words;
}

TEST(DevelopersMap, CommandsOfTheReadmeAreInTheHelp) {
    const std::string help = text_of("app/terminal/help.cpp");
    const Words words = words_in(text_of("README.md"));
    EXPECT_TRUE(words.commands.contains("check"));
    EXPECT_TRUE(words.commands.contains("handover"));
    for (const std::string& command : words.commands) {
        EXPECT_NE(help.find("\n  sillwright " + command + " "), std::string::npos) << "no command " << command;
    }
    for (const std::string& option : words.options) {
        EXPECT_NE(help.find(option), std::string::npos) << "no option " << option;
    }
}

TEST(DevelopersMap, TellsCommandsFromFiles) {
    const Words words = words_in("`build/sillwright samples/a.sillwright --picture x.png` or `sillwright chek JOB`");
    EXPECT_EQ(words.commands, std::set<std::string>{"chek"});
    EXPECT_EQ(words.options, std::set<std::string>{"--picture"});
}

}  // namespace
}  // namespace sillwright::project
