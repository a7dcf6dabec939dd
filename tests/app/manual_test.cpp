// The help and the manual page name the same options and exit codes.
#include <gtest/gtest.h>

#include <QRegularExpression>
#include <fstream>
#include <set>
#include <sstream>

#include "app/terminal/help.h"

namespace sillwright::app::terminal {
namespace {

std::string manual() {
    std::ifstream in(std::string(SILLWRIGHT_SOURCE_DIR) + "/resources/sillwright.1");
    std::stringstream all;
    all << in.rdbuf();
    return all.str();
}

std::string all_help() {
    return help(Topic::all) + help(Topic::check) + help(Topic::handover) + help(Topic::survey) +
           help(Topic::other_hand) + help(Topic::forming);
}

std::set<std::string> matches(const std::string& text, const char* pattern) {
    const QRegularExpression expression(pattern, QRegularExpression::MultilineOption);
    std::set<std::string> found;
    for (auto it = expression.globalMatch(QString::fromStdString(text)); it.hasNext();) {
        found.insert(it.next().captured(1).toStdString());
    }
    return found;
}

TEST(Manual, NamesTheOptionsOfTheHelp) {
    // In the page "--json" is written ".Fl -json"; "-h" is ".Fl h".
    const auto in_manual = matches(manual(), "Fl -([a-z-]+)");
    EXPECT_EQ(in_manual, matches(all_help(), "--([a-z-]+)"));
    EXPECT_EQ(in_manual, (std::set<std::string>{"json", "to", "csv", "sheet", "copy", "take", "drop", "why", "picture",
                                                "measure-frames", "version", "help"}));
    EXPECT_NE(manual().find(".It Fl h , Fl -help"), std::string::npos);
    EXPECT_NE(all_help().find("-h, --help"), std::string::npos);
}

TEST(Manual, NamesTheExitCodesOfTheHelp) {
    const auto in_manual = matches(manual(), "^\\.It ([0-9]+)$");
    EXPECT_EQ(in_manual, matches(help(Topic::all), "^  ([0-9]+) +[a-z]"));
    EXPECT_EQ(in_manual, (std::set<std::string>{"0", "1", "2", "3", "4", "130"}));
}

TEST(Manual, NamesTheCommandsOfTheHelp) {
    EXPECT_EQ(matches(manual(), "^\\.Cm (check|handover|survey|other-hand|forming)$"),
              (std::set<std::string>{"check", "handover", "survey", "other-hand", "forming"}));
    for (const Topic topic :
         {Topic::all, Topic::check, Topic::handover, Topic::survey, Topic::other_hand, Topic::forming}) {
        EXPECT_NE(help(topic).find("Examples\n"), std::string::npos);
    }
}

TEST(Help, IsAtMostEightyColumnsOfAscii) {
    std::istringstream in(all_help());
    for (std::string line; std::getline(in, line);) {
        EXPECT_LE(line.size(), 80U) << line;
        for (const char c : line) {
            EXPECT_TRUE(c >= ' ' && c <= '~') << line;
        }
    }
}

}  // namespace
}  // namespace sillwright::app::terminal
