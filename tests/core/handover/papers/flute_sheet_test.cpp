#include "core/handover/papers/flute_sheet.h"

#include <gmock/gmock.h>

#include "core/forming/forming_plan.h"
#include "core/number_text.h"
#include "tests/core/handover/papers/paper_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using testing::HasSubstr;

TEST(FluteSheet, HasTheNumbersOfTheLanes) {
    const Evaluation& evaluation = paper_world::sample("estate_a_flutes");
    const auto paper = flute_sheet(evaluation);
    ASSERT_TRUE(paper);
    paper_world::expect_sound(*paper);
    for (const FluteLane& lane : evaluation.forming->pieces[0].lanes) {
        EXPECT_EQ(paper_world::cell_of(*paper, {lane.name}, "seen on the part, mm"),
                  fixed_text(in_mm(lane.part_width), 1));
        EXPECT_EQ(paper_world::cell_of(*paper, {lane.name}, "on the mould, mm"),
                  fixed_text(in_mm(lane.mould_width), 1));
        EXPECT_EQ(paper_world::cell_of(*paper, {lane.name}, "depth, mm"), fixed_text(in_mm(lane.depth), 1));
        EXPECT_EQ(paper_world::cell_of(*paper, {lane.name}, "bit"), lane.bit);
    }
    EXPECT_EQ(paper_world::figures(*paper, FigureKind::flutes).size(), 1U);
    EXPECT_EQ(paper_world::value_of(*paper, "base plate, radius"), "60.0 mm");
}

TEST(FluteSheet, CutsFromTheEdgeInward) {
    const Evaluation& evaluation = paper_world::sample("estate_a_flutes");
    std::vector<std::pair<double, std::string>> lanes;
    for (const Flute& flute : evaluation.job.skirt.pieces[0].flutes) {
        lanes.emplace_back(in_mm(flute.offset.value), flute.name);
    }
    std::sort(lanes.begin(), lanes.end());
    const auto paper = flute_sheet(evaluation);
    for (const Block& block : paper->blocks) {
        const auto* items = std::get_if<Items>(&block);
        if (items != nullptr && items->numbered) {
            for (std::size_t i = 0; i < lanes.size(); ++i) {
                EXPECT_TRUE(items->items.at(i).starts_with("Flute " + lanes[i].second + ",")) << items->items[i];
            }
            return;
        }
    }
    FAIL() << "no order of cuts";
}

TEST(FluteSheet, TellsWhatFouls) {
    Evaluation evaluation = paper_world::sample("estate_a_flutes");
    for (Finding& finding : evaluation.findings) {
        if (finding.id.starts_with("forming/skirt/flute/") || finding.id.starts_with("forming/skirt/recess/")) {
            finding.state = State::holds;
        }
    }
    EXPECT_THAT(paper_world::all_text(*flute_sheet(evaluation)), HasSubstr("Nothing: "));
    const auto flute = std::find_if(evaluation.findings.begin(), evaluation.findings.end(), [](const Finding& one) {
        return one.id.starts_with("forming/skirt/flute/") && one.id.ends_with("/base plate");
    });
    ASSERT_NE(flute, evaluation.findings.end());
    flute->state = State::falls_short;
    flute->why = "The base plate fouls the upstand.";
    EXPECT_THAT(paper_world::all_text(*flute_sheet(evaluation)),
                HasSubstr("(falls short): The base plate fouls the upstand."));
}

TEST(FluteSheet, IsNotThereForAPartWithoutFlutes) {
    EXPECT_FALSE(flute_sheet(paper_world::estate_a()));
    EXPECT_FALSE(flute_sheet(Evaluation{}));
}

}  // namespace
}  // namespace sillwright::core
