#include "core/handover/papers/forming_parts.h"

#include <gmock/gmock.h>

#include <set>

#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using testing::HasSubstr;

TEST(FormingParts, DivideTheFormingSheetWithoutLoss) {
    const Evaluation& evaluation = paper_world::sample("estate_a_flutes");
    const FormingPlan& plan = *evaluation.forming;
    ASSERT_EQ(plan.pieces.size(), 1U);
    ASSERT_FALSE(plan.pieces[0].lanes.empty());
    std::multiset<std::string> titles;
    for (const auto& parts : {moulder_parts(evaluation.job, plan, plan.pieces[0]),
                              flute_parts(evaluation.job, plan, plan.pieces[0]), chain_parts(evaluation.job, plan)}) {
        for (const SheetPart& part : parts) {
            titles.insert(part.title);
        }
    }
    for (const SheetPart& part : forming_sheet(evaluation.job, plan)) {
        if (!part.title.starts_with("Ladder: ") && !part.title.starts_with("Ticks")) {
            EXPECT_EQ(titles.erase(part.title), 1U) << part.title;
        }
    }
    EXPECT_TRUE(titles.empty()) << *titles.begin();
}

TEST(FormingParts, OfFlutesAreOneOfEachLaneAtThePlugsSize) {
    const Evaluation& evaluation = paper_world::sample("estate_a_flutes");
    const PieceForming& piece = evaluation.forming->pieces[0];
    const auto parts = flute_parts(evaluation.job, *evaluation.forming, piece);
    ASSERT_EQ(parts.size(), piece.lanes.size());
    for (std::size_t i = 0; i < parts.size(); ++i) {
        EXPECT_THAT(parts[i].title, HasSubstr(piece.lanes[i].name));
        EXPECT_THAT(parts[i].notes.front(), HasSubstr("on the plug"));
    }
}

TEST(FormingParts, StandOnAPaperWithAllTheyHave) {
    Document paper;
    add_part(paper, {"Title", {{"a", "1 mm"}}, {"A note."}});
    EXPECT_EQ(paper.blocks.size(), 3U);
    add_part(paper, {"Title", {{"a", "1 mm"}}, {}});
    EXPECT_EQ(paper.blocks.size(), 5U);
}

}  // namespace
}  // namespace sillwright::core
