#include "core/survey/measuring_sheet.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <filesystem>

#include "core/job_file.h"

namespace sillwright::core::survey {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

std::vector<std::string> titles(const MeasuringSheet& sheet) {
    std::vector<std::string> titles;
    for (const SheetPart& part : sheet.parts) {
        titles.push_back(part.title);
    }
    return titles;
}

std::size_t ties_of(const SheetPart& part, const std::string& name) {
    return static_cast<std::size_t>(std::count_if(part.lines.begin(), part.lines.end(), [&](const SheetLine& line) {
        return line.kind.empty() && std::find(line.points.begin(), line.points.end(), name) != line.points.end();
    }));
}

TEST(BlankSheet, OfAJobWithoutAnythingIsTheUsualOneInTheOrderOfWork) {
    const MeasuringSheet sheet = blank_sheet(Job{});
    EXPECT_THAT(titles(sheet),
                ElementsAre("ON WHEELS · marks", "ON WHEELS · door gaps", "ON WHEELS · front door, hinge targets",
                            "ON WHEELS · rear door, hinge targets", "ON THE LIFT · marks again",
                            "ON THE LIFT · holes, front to rear", "ON THE LIFT · stations"));
    // Counted by hand: five marks give 10 pairs and 4 heights; two doors of 3 gaps; 3 targets at 5 openings, each with
    // 3 ties and a height; 7 stations with 2 lines and 6 points.
    EXPECT_EQ(sheet.parts[0].lines.size(), 14U);
    EXPECT_EQ(sheet.parts[1].lines.size(), 6U);
    EXPECT_EQ(sheet.parts[2].lines.size(), 60U);
    EXPECT_EQ(sheet.parts[6].lines.size(), 56U);
    for (const SheetPart& part : sheet.parts) {
        for (const SheetLine& line : part.lines) {
            EXPECT_TRUE(line.reading.empty());
        }
    }
}

TEST(BlankSheet, TiesEachHoleToThreeMarksItsNeighbourAndTheNextButOne) {
    const SheetPart holes = blank_sheet(Job{}).parts[5];
    EXPECT_EQ(ties_of(holes, "H1"), 5U);
    EXPECT_EQ(ties_of(holes, "H2"), 6U);
    for (const char* inner : {"H3", "H4", "H5", "H6"}) {
        EXPECT_EQ(ties_of(holes, inner), 7U);
    }
    EXPECT_EQ(holes.lines.front().points.back(), "H1");
    EXPECT_EQ(holes.lines.back().points.back(), "H8");
}

TEST(BlankSheet, TakesTheJobsOwnNames) {
    const auto job = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a_measured.sillwright");
    ASSERT_TRUE(job);
    const MeasuringSheet sheet = blank_sheet(job.value());
    EXPECT_EQ(sheet.parts[0].lines.front().points, (std::vector<std::string>{"A", "B"}));
    EXPECT_EQ(sheet.parts[0].lines.size(), 20U);  // 15 pairs of six marks, 5 heights
    EXPECT_EQ(sheet.parts[2].lines.front().points.back(), "T1/1");
    EXPECT_EQ(ties_of(sheet.parts[5], "H9"), 5U);
    EXPECT_EQ(sheet.parts[6].lines.size(), 80U);  // ten stations
    EXPECT_EQ(sheet.side, Side::right);
    EXPECT_EQ(sheet.unit, "mm");
    EXPECT_EQ(sheet.who, "");
}

TEST(FilledSheet, KeepsEveryReadingWithWhatBecameOfIt) {
    const auto job = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/measuring_book.sillwright");
    ASSERT_TRUE(job);
    Job copied = job.value();
    Book& book = copied.book;
    book.readings[0].dropped = "tape had a twist";
    const MeasuringSheet sheet = filled_sheet(copied, solve(book));
    EXPECT_THAT(titles(sheet), ElementsAre("READINGS · set-up lift", "POINTS · along, out, up, each ± 95 %"));
    ASSERT_EQ(sheet.parts[0].lines.size(), book.readings.size());
    EXPECT_TRUE(sheet.parts[0].lines[0].dropped);
    EXPECT_THAT(sheet.parts[0].lines[0].note, HasSubstr("tape had a twist"));
    EXPECT_EQ(sheet.parts[0].lines[1].reading, book.readings[1].value->typed);
    EXPECT_FALSE(sheet.parts[0].lines[1].adjusted.empty());
    EXPECT_EQ(sheet.parts[1].lines.size(), 9U);
    EXPECT_EQ(sheet.temperature, "19 °C");
}

}  // namespace
}  // namespace sillwright::core::survey
