#include "app/link/handover_of_job.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/app/link/buck_by_hand.h"
#include "tests/app/link/estate.h"

namespace sillwright::app {
namespace {

const FolderItem* item_of(const std::vector<FolderItem>& items, const std::string& words) {
    const auto found = std::find_if(items.begin(), items.end(),
                                    [&](const FolderItem& item) { return item.what.find(words) != std::string::npos; });
    return found == items.end() ? nullptr : &*found;
}

TEST(HandoverOfJob, OfAnEmptyJobSaysWhatIsMissingAndWhy) {
    const core::Evaluation empty;
    const auto items = handover_of_job(empty);
    const FolderItem* buck = item_of(items, "Router sheets");
    ASSERT_NE(buck, nullptr);
    EXPECT_EQ(buck->state, InFolder::missing);
    ASSERT_EQ(buck->why.size(), 1U);
    EXPECT_NE(buck->why[0].find("No board"), std::string::npos);
    const FolderItem* part = item_of(items, "STEP");
    ASSERT_NE(part, nullptr);
    EXPECT_EQ(part->state, InFolder::missing);
    const FolderItem* mounts = item_of(items, "Mounts (CSV)");
    ASSERT_NE(mounts, nullptr);
    EXPECT_EQ(mounts->state, InFolder::there);
    for (const FolderItem& item : items) {
        EXPECT_FALSE(item.what.empty());
        EXPECT_TRUE(item.state == InFolder::there || !item.why.empty()) << item.what << " does not say why";
    }
}

TEST(HandoverOfJob, OfAWholeJobHasThePapersOfEachReader) {
    const auto job = estate();
    const auto items = handover_of_job(*job);
    const FolderItem* part = item_of(items, "STEP");
    ASSERT_NE(part, nullptr);
    EXPECT_EQ(part->state, InFolder::there);
    EXPECT_NE(item_of(items, "itting sheet"), nullptr);
    EXPECT_GE(items.size(), 8U);
}

TEST(OpenFindings, FallShortFirstThenNotMeasured) {
    core::Finding holds;
    holds.state = core::State::holds;
    core::Finding lacks;
    lacks.title = "Fit of the slots";
    lacks.state = core::State::not_measured;
    lacks.missing = {"thickness of mdf 12"};
    core::Finding shorter;
    shorter.title = "Front door, to skirt";
    shorter.state = core::State::falls_short;
    shorter.found = 1.9;
    shorter.required = 4.0;
    shorter.margin = -2.1;
    shorter.place.words = "at 3.9 · 700 mm";
    const auto open = open_findings({holds, lacks, shorter}, core::BareUnit::mm);
    ASSERT_EQ(open.size(), 2U);
    EXPECT_EQ(open[0].title, "Front door, to skirt");
    EXPECT_EQ(open[0].numbers, "found 1.90 mm, needs at least 4.00 mm, margin −2.10 mm");
    EXPECT_EQ(open[0].place, "at 3.9 · 700 mm");
    EXPECT_EQ(open[1].title, "Fit of the slots");
    EXPECT_EQ(open[1].missing, std::vector<std::string>{"thickness of mdf 12"});
    EXPECT_TRUE(open_findings({holds}, core::BareUnit::mm).empty());
}

}  // namespace
}  // namespace sillwright::app
