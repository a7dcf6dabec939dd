// The parts of a sample's buck, as it is planned, not by hand.
#include <gtest/gtest.h>

#include <algorithm>

#include "core/buck/cut_findings.h"
#include "core/buck/cut_part.h"
#include "core/buck/part_tabs.h"
#include "geometry/tool_path.h"
#include "tests/core/buck/buck_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;

class CutSample : public testing::TestWithParam<Side> {};

TEST_P(CutSample, CanBeCutWithABitOfSix) {
    Job job = buck_job("estate_a");
    const BuckWorld world = buck_world(job);
    ASSERT_FALSE(world.plan.pieces.empty());
    job.side = GetParam();
    const PieceBuck& buck = world.buck();
    const auto parts = cut_parts(job, world.plan).value();
    ASSERT_EQ(parts.size(), buck.ribs.size() + buck.spines.size() + (buck.base ? 1U : 0U));
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const CutPart& part = parts[i];
        SCOPED_TRACE(part.label);
        EXPECT_TRUE(part.unrelieved.empty()) << part.unrelieved;
        EXPECT_TRUE(std::ranges::any_of(part.words, [&](const EngravedWords& one) { return one.words == part.label; }));
        EXPECT_GE(part.tabs.size(), k_least_tabs);
        double slots = 0.0;
        const double relief = enclosed_area_mm2(part.finished) - enclosed_area_mm2(part.outline);
        EXPECT_GE(relief, 0.0);
        if (i < buck.ribs.size()) {
            for (const Slot& slot : buck.ribs[i].laps) {
                slots += slot.width_mm * slot.depth_mm;
            }
            EXPECT_NEAR(enclosed_area_mm2(part.finished), enclosed_area_mm2(buck.ribs[i].outline) - slots, 1e-6);
            EXPECT_EQ(part.holes.size(), buck.ribs[i].pins_mm.size());
        }
        const auto path = geometry::tool_path(part.outline, geometry::millimetres(3), geometry::CutSide::outside,
                                              geometry::millimetres(0.01));
        ASSERT_TRUE(path.has_value()) << path.error().message;
        EXPECT_GE(path.value().chains.size(), 1U);
    }
    for (const Finding& finding : cut_findings(job, world.plan, parts)) {
        EXPECT_TRUE(finding.state == State::holds || finding.state == State::close)
            << finding.id << ": " << finding.why << " " << finding.place.words;
    }
}

INSTANTIATE_TEST_SUITE_P(Hands, CutSample, testing::Values(Side::right, Side::left));

}  // namespace
}  // namespace sillwright::core
