#include "app/terminal/findings_text.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <clocale>
#include <sstream>

#include "app/terminal/plain_text.h"
#include "tests/app/invented_job.h"

namespace sillwright::app::terminal {
namespace {

std::vector<std::string> lines_of(const std::string& text) {
    std::istringstream in(text);
    std::vector<std::string> lines;
    for (std::string line; std::getline(in, line);) {
        lines.push_back(line);
    }
    return lines;
}

TEST(FindingsText, SaysEverythingAboutAFinding) {
    const std::string text = findings_text(invented_job(), {100, true});
    for (const char* part :
         {"Estate A · revision C · RIGHT SIDE · Estate A.sillwright", "◆ falls short", "▲ close", "● holds",
          "□ not measured", "found 1.90 mm · needs at least 4.00 mm", "at 3.9 · 700 mm, door at 6.2°", "−2.10 mm",
          "+0.60 mm", "+2.25°", "why      The hem of the cladding", "measure  the two hinge pins of the rear door",
          "mend     Lower the shelf edge by 2.1 mm", "margin +0.0000001 mm",
          "4 findings: 1 falls short, 1 close, 1 holds, 1 not measured. Worst margin: −2.10 mm"}) {
        EXPECT_NE(text.find(part), std::string::npos) << part << "\n" << text;
    }
}

TEST(FindingsText, WorstComesFirstAndTheSummaryLast) {
    const std::string text = findings_text(invented_job(), {80, true});
    EXPECT_LT(text.find("falls short"), text.find("▲ close"));
    EXPECT_LT(text.find("▲ close"), text.find("● holds"));
    EXPECT_LT(text.find("● holds"), text.find("□ not measured"));
    EXPECT_LT(text.find("□ not measured"), text.find("4 findings:"));
}

TEST(FindingsText, NoLineIsLongerThanTheWidth) {
    CheckedJob job = invented_job();
    job.findings.front().title = "A title of so many words that it cannot stand beside its margin on a single line";
    job.findings.front().why = std::string(250, 'w');
    job.job.vehicle = std::string(120, 'V');
    for (const std::size_t width : {60U, 80U, 100U}) {
        for (const bool utf8 : {true, false}) {
            for (const std::string& line : lines_of(findings_text(job, {width, utf8}))) {
                EXPECT_LE(columns(line), width) << line;
                EXPECT_FALSE(line.ends_with(' ')) << line;
            }
        }
    }
}

TEST(FindingsText, MarginsStandInOneColumn) {
    for (const std::string& line : lines_of(findings_text(invented_job(), {80, true}))) {
        if (line.starts_with("◆") || line.starts_with("▲") || line.starts_with("●")) {
            EXPECT_EQ(columns(line), 80U) << line;
        }
    }
}

TEST(FindingsText, FallsBackToAscii) {
    const std::string text = findings_text(invented_job(), {80, false});
    EXPECT_TRUE(std::all_of(text.begin(), text.end(), [](char c) { return c == '\n' || (c >= ' ' && c <= '~'); }));
    for (const char* part :
         {"<!> falls short", "/^\\ close", "(o) holds", "[ ] not measured", "-2.10 mm", "+2.25 deg"}) {
        EXPECT_NE(text.find(part), std::string::npos) << part << "\n" << text;
    }
}

TEST(FindingsText, NothingInAFileCommandsTheTerminal) {
    CheckedJob job = invented_job();
    job.job.vehicle = "\x1b]0;x\x07";
    EXPECT_EQ(findings_text(job, {80, true}).find('\x1b'), std::string::npos);
}

TEST(FindingsText, AJobWithoutFindingsSaysSo) {
    CheckedJob job = invented_job();
    job.findings.clear();
    EXPECT_NE(findings_text(job, {80, true}).find("0 findings."), std::string::npos);
}

}  // namespace
}  // namespace sillwright::app::terminal
