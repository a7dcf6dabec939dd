#include "app/link/bars_of_findings.h"

#include <gtest/gtest.h>

namespace sillwright::app {
namespace {

core::Finding finding(const std::string& id, double margin, std::vector<core::UnsureBy> parts) {
    core::Finding made;
    made.id = id;
    made.title = id;
    made.stage = core::Stage::swing;
    made.state = margin < 0.0 ? core::State::falls_short : core::State::holds;
    made.margin = margin;
    made.unsure_by = std::move(parts);
    return made;
}

// By hand: 0.8² of 0.8² + 0.6² = 1 is 64 %; twice the root of it is 2 mm.
TEST(BarsOfFindings, OneForEachDoorAndWhatItMustClear) {
    const BarsPicture picture = bars_of_findings(
        {finding("swing/front door/shut", 3.0, {{"standard deviation of forming", 1.0}}),
         finding("swing/front door/moving", -1.0,
                 {{"standard deviation of the hinge axis", 0.8}, {"standard deviation of forming", 0.6}}),
         finding("swing/rear door/moving", 2.0, {{"standard deviation of forming", 0.6}}),
         finding("swing/rear door/open", 2.0, {})});
    ASSERT_EQ(picture.bars.size(), 2U) << "the worse of shut and moving";
    const Bar& front = picture.bars[0];
    EXPECT_TRUE(front.label.starts_with("swing/front door/moving: 2.00 mm")) << front.label;
    ASSERT_EQ(front.parts.size(), 2U);
    EXPECT_DOUBLE_EQ(front.parts[0].share, 0.64);
    EXPECT_EQ(front.parts[0].words, "the hinge axis (sd 0.80 mm)");
    EXPECT_EQ(front.words, "Measure better first: the hinge axis.");
}

TEST(BarsOfFindings, WithoutAnyItSaysWhatItNeeds) {
    const BarsPicture picture = bars_of_findings({});
    EXPECT_TRUE(picture.bars.empty());
    EXPECT_FALSE(picture.none.empty());
}

}  // namespace
}  // namespace sillwright::app
