#include "core/handover/contents.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/buck/buck_plan.h"
#include "core/buck/buck_work.h"
#include "core/buck/rib_sheet.h"
#include "core/evaluate.h"
#include "tests/core/small_job.h"

namespace sillwright::core {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

std::vector<std::string> paths(const HandoverContents& contents) {
    std::vector<std::string> all;
    for (const HandoverFile& file : contents.files) {
        all.push_back(file.path);
    }
    return all;
}

/// What an empty job comes to.
Evaluation nothing() {
    Evaluation evaluation;
    evaluation.buck = std::make_shared<const BuckPlan>();
    return evaluation;
}

TEST(Contents, AnEmptyJobStillSaysWhatItIs) {
    const auto contents = handover_contents(nothing(), {}, {"a.sillwright", ""}, {{"findings.json", "{}"}});
    ASSERT_TRUE(contents) << contents.error().message;
    EXPECT_THAT(paths(contents.value()),
                ElementsAre("READ ME FIRST.txt", "mounts.csv", "findings.txt", "cautions.txt", "findings.json"));
    EXPECT_THAT(contents.value().notes, Not(Contains(k_part_size_warning)));
}

TEST(Contents, CarryTheCautions) {
    const auto contents = handover_contents(nothing(), {}, {"a.sillwright", ""});
    std::string all = contents.value().files.at(3).bytes;
    std::replace(all.begin(), all.end(), '\n', ' ');
    for (const char* words : {"lifted vehicle", "jacking", "sensors", "airbag", "high-voltage", "brake lines", "Router",
                              "catalyst", "dust", "differ by country"}) {
        EXPECT_THAT(all, HasSubstr(words));
    }
}

TEST(Contents, NameWhatCouldNotBeMade) {
    Evaluation evaluation = nothing();
    evaluation.job = parse_job(small_job_text(), "small").value();
    for (Piece& piece : evaluation.job.skirt.pieces) {
        piece.drawn = {};
        piece.file.reset();
        evaluation.car.pieces.push_back({piece.name, {}, {}, {}});
    }
    ASSERT_FALSE(evaluation.job.skirt.pieces.empty());
    const auto contents = handover_contents(evaluation, {}, {"a.sillwright", ""});
    ASSERT_TRUE(contents) << contents.error().message;
    EXPECT_THAT(contents.value().notes, Contains(HasSubstr("No rib outline. Piece")));
    EXPECT_THAT(contents.value().notes, Contains(HasSubstr("part.step lacks piece")));
    EXPECT_THAT(contents.value().notes, Contains(HasSubstr("part.stl lacks piece")));
}

TEST(Contents, RefuseTwoFilesOfOneName) {
    const auto contents = handover_contents(nothing(), {}, {"a", ""}, {{"mounts.csv", "x"}});
    ASSERT_FALSE(contents);
    EXPECT_THAT(contents.error().message, HasSubstr("would be called mounts.csv"));
}

std::shared_ptr<const Evaluation> evaluated(const std::string& sample) {
    const std::filesystem::path folder = std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples";
    return evaluate(read_job(folder / sample).value(), folder, {}, Mends::leave).value();
}

TEST(Contents, HaveSheetsForTheRouterAtTheBucksOwnSize) {
    const auto evaluation = evaluated("estate_a.sillwright");
    const BuckWork work = buck_work(evaluation->job, *evaluation->buck).value();
    const auto contents = handover_contents(*evaluation, work, {"estate_a.sillwright", ""});
    ASSERT_TRUE(contents) << contents.error().message;
    EXPECT_THAT(paths(contents.value()),
                testing::IsSupersetOf({"buck/cut_list.csv", "buck/buck.step", "buck/plug.stl", "part.step", "part.stl",
                                       "sections/section_1.dxf", "sections/flange_skirt.dxf"}));
    for (const std::string end : {".dxf", ".svg"}) {
        EXPECT_THAT(paths(contents.value()),
                    Contains(testing::AllOf(testing::StartsWith("buck/sheet_1_"), testing::EndsWith(end))));
    }
    EXPECT_THAT(paths(contents.value()), Not(Contains(testing::StartsWith("outlines/"))));
    EXPECT_THAT(contents.value().files.front().bytes, Not(HasSubstr("DO NOT CUT A BUCK")));
}

TEST(Contents, WarnOfOutlinesThatHaveThePartsSize) {
    const auto evaluation = evaluated("coupe_b.sillwright");
    const auto contents = handover_contents(*evaluation, {}, {"coupe_b.sillwright", ""});
    ASSERT_TRUE(contents) << contents.error().message;
    EXPECT_EQ(contents.value().notes.at(0), k_part_size_warning);
    EXPECT_THAT(paths(contents.value()), Contains("outlines/all_stations.dxf"));
    EXPECT_THAT(contents.value().files.front().bytes, HasSubstr("DO NOT CUT A BUCK"));
}

}  // namespace
}  // namespace sillwright::core
