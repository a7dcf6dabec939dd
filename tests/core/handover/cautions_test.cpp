#include "core/handover/cautions.h"

#include <gtest/gtest.h>

#include <cctype>

#include "tests/core/small_job.h"

namespace sillwright::core {
namespace {

/// The text with every run of blanks and line ends as one blank.
std::string in_one_line(const std::string& text) {
    std::string line;
    for (const char c : text) {
        const bool blank = std::isspace(static_cast<unsigned char>(c)) != 0;
        if (!blank) {
            line += c;
        } else if (!line.empty() && line.back() != ' ') {
            line += ' ';
        }
    }
    return line;
}

TEST(Cautions, SpeakOfWhatInjures) {
    // The list that was asked for; common practice, no source.
    std::string all;
    for (const std::string& caution : cautions()) {
        EXPECT_TRUE(caution.ends_with('.')) << caution;
        all += caution + "\n";
    }
    for (const char* word :
         {"lifted vehicle", "acking points", "Side-impact sensors", "airbag", "high-voltage", "fuel", "brake lines",
          "drilled", "Router", "hot sheet", "resin", "catalyst", "dust", "Road-approval"}) {
        EXPECT_NE(all.find(word), std::string::npos) << word;
    }
}

TEST(Cautions, StandInTheReadmeWordForWord) {
    const std::string readme = in_one_line(file_bytes(std::string(SILLWRIGHT_SOURCE_DIR) + "/README.md"));
    for (const std::string& caution : cautions()) {
        EXPECT_NE(readme.find(caution), std::string::npos) << caution;
    }
}

}  // namespace
}  // namespace sillwright::core
