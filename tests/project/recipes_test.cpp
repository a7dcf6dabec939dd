// What DEVELOPERS.md says of adding a finding, a stage, a command is so.
#include <gtest/gtest.h>

#include <regex>
#include <set>
#include <string>
#include <vector>

#include "tests/project/source_tree.h"

namespace sillwright::project {
namespace {

/// The row of the table "to change X, go to Y".
std::string recipe(const std::string& what) {
    const std::string map = text_of("DEVELOPERS.md");
    const std::size_t from = map.find("| " + what + " |");
    EXPECT_NE(from, std::string::npos) << "no recipe says how to " << what;
    return from == std::string::npos ? std::string() : map.substr(from, map.find('\n', from) - from);
}

std::string source_of(const std::string& stem) {
    return (exists(stem + ".h") ? text_of(stem + ".h") : "") + (exists(stem + ".cpp") ? text_of(stem + ".cpp") : "");
}

std::set<std::string> matches(const std::string& text, const std::string& pattern) {
    const std::regex wanted(pattern);
    std::set<std::string> found;
    for (auto it = std::sregex_iterator(text.begin(), text.end(), wanted); it != std::sregex_iterator(); ++it) {
        found.insert((*it)[1].str());
    }
    return found;
}

TEST(Recipes, AStageIsKnownToTheOneFileThatTheRecipeNames) {
    const std::string row = recipe("add a stage");
    for (const std::string stem : {"core/finding.h", "core/stage", "app/window/main_window"}) {
        EXPECT_NE(row.find("`" + stem + "`"), std::string::npos) << stem;
    }
    const std::string finding = text_of("core/finding.h");
    const std::size_t from = finding.find("enum class Stage {");
    ASSERT_NE(from, std::string::npos);
    const std::set<std::string> stages =
        matches(finding.substr(from, finding.find('}', from) - from), R"([ {](\w+)(?=[, }\n]|$))");
    const std::string words = source_of("core/stage");
    int known = 0;
    for (const std::string& stage : stages) {
        known += words.find("Stage::" + stage) != std::string::npos ? 1 : 0;
    }
    EXPECT_GE(known, 7) << "core/stage does not name every stage";
    // Rail, menu, filter and JSON take the list and the words, so that a new stage needs nothing there.
    for (const std::string stem : {"app/desk/stage_rail", "app/window/main_window", "app/desk/findings_desk"}) {
        EXPECT_NE(source_of(stem).find("k_stages"), std::string::npos) << stem;
    }
    EXPECT_EQ(source_of("app/terminal/findings_json").find("Stage::"), std::string::npos)
        << "the JSON takes a stage's word from core/stage";
}

TEST(Recipes, AFindingIsCalledWhereTheRecipeSays) {
    const std::string row = recipe("add a finding");
    for (const std::string stem : {"core/findings_of_job", "core/finding_state"}) {
        EXPECT_NE(row.find("`" + stem + "`"), std::string::npos) << stem;
    }
    const std::string all = source_of("core/findings_of_job");
    for (const std::string made : {"body_findings", "fair_findings"}) {
        EXPECT_NE(all.find(made + "("), std::string::npos) << made;
    }
}

TEST(Recipes, EveryEditIsWithinReachOfAHand) {
    EXPECT_NE(recipe("add a command of the window").find("`OpenJob::apply`"), std::string::npos);
    std::string app;
    int files = 0;
    for (const std::string folder : {"app/desk", "app/window"}) {
        for (const auto& entry : std::filesystem::directory_iterator(root() / folder)) {
            if (entry.path().extension() == ".cpp") {
                app += text_of(folder + "/" + entry.path().filename().string());
                ++files;
            }
        }
    }
    EXPECT_GT(files, 20) << "nothing was read";
    // Places are written in the tables, which have an edit of their own.
    const std::set<std::string> written{"move_station", "move_mount"};
    int edits = 0;
    for (const std::string stem : {"node_edit", "run_out_edit", "section_edit", "mount_edit", "mend_edit", "table"}) {
        const std::string header = text_of("core/edit/" + stem + ".h");
        for (const std::string& edit : matches(header, R"(Result<Edit> (\w+)\()")) {
            ++edits;
            if (written.contains(edit)) {
                continue;
            }
            EXPECT_NE(app.find(edit + "("), std::string::npos)
                << "no button, menu or key of the window does " << edit << " of core/edit/" << stem << ".h";
        }
    }
    EXPECT_GT(edits, 15) << "nothing was checked";
}

}  // namespace
}  // namespace sillwright::project
