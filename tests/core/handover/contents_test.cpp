#include "core/handover/contents.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/core/small_job.h"

namespace sillwright::core {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;

std::vector<std::string> paths(const HandoverContents& contents) {
    std::vector<std::string> all;
    for (const HandoverFile& file : contents.files) {
        all.push_back(file.path);
    }
    return all;
}

TEST(Contents, AnEmptyJobStillSaysWhatItIs) {
    const auto contents = handover_contents(Job{}, CarModel{}, {}, {"a.sillwright", ""}, {{"findings.json", "{}"}});
    ASSERT_TRUE(contents) << contents.error().message;
    EXPECT_THAT(paths(contents.value()),
                ElementsAre("READ ME FIRST.txt", "mounts.csv", "findings.txt", "cautions.txt", "findings.json"));
    EXPECT_EQ(contents.value().notes.at(0), "PART SIZE - NO SHRINKAGE, NO SKIN - DO NOT CUT A BUCK FROM THIS");
}

TEST(Contents, CarryTheCautions) {
    const auto contents = handover_contents(Job{}, CarModel{}, {}, {"a.sillwright", ""});
    std::string all = contents.value().files.at(3).bytes;
    std::replace(all.begin(), all.end(), '\n', ' ');
    for (const char* words : {"lifted vehicle", "jacking", "sensors", "airbag", "high-voltage", "brake lines", "Router",
                              "catalyst", "dust", "differ by country"}) {
        EXPECT_THAT(all, HasSubstr(words));
    }
}

TEST(Contents, NameWhatCouldNotBeMade) {
    auto job = parse_job(small_job_text(), "small").value();
    CarModel car;
    for (Piece& piece : job.skirt.pieces) {
        piece.drawn = {};
        piece.file.reset();
        car.pieces.push_back({piece.name, {}, {}, {}});
    }
    ASSERT_FALSE(job.skirt.pieces.empty());
    const auto contents = handover_contents(job, car, {}, {"a.sillwright", ""});
    ASSERT_TRUE(contents) << contents.error().message;
    EXPECT_THAT(contents.value().notes, Contains(HasSubstr("No rib outline. Piece")));
    EXPECT_THAT(contents.value().notes, Contains(HasSubstr("part.step lacks piece")));
    EXPECT_THAT(contents.value().notes, Contains(HasSubstr("part.stl lacks piece")));
}

TEST(Contents, RefuseTwoFilesOfOneName) {
    const auto contents = handover_contents(Job{}, CarModel{}, {}, {"a", ""}, {{"mounts.csv", "x"}});
    ASSERT_FALSE(contents);
    EXPECT_THAT(contents.error().message, HasSubstr("would be called mounts.csv"));
}

}  // namespace
}  // namespace sillwright::core
