#include "core/finding_about.h"

#include <gtest/gtest.h>

namespace sillwright::core {
namespace {

Finding with(const std::string& id, State state) {
    Finding finding;
    finding.id = id;
    finding.state = state;
    return finding;
}

TEST(FindingAbout, KnowsMountDoorAndNode) {
    Finding finding;
    EXPECT_FALSE(is_about_mount(finding, "")) << "a finding about no mount is not about one without a name";
    EXPECT_FALSE(is_about_door(finding, ""));
    EXPECT_FALSE(is_about_node(finding, "s4-shelf-edge"));
    finding.place.mount = "H2";
    finding.place.door = "front door";
    finding.mend = Mend{"lower", {{"s4-shelf-edge", {0.0, -2.0}}}, {}};
    EXPECT_TRUE(is_about_mount(finding, "H2"));
    EXPECT_FALSE(is_about_mount(finding, "H")) << "names are whole";
    EXPECT_TRUE(is_about_door(finding, "front door"));
    EXPECT_FALSE(is_about_door(finding, "rear door"));
    EXPECT_TRUE(is_about_node(finding, "s4-shelf-edge"));
    EXPECT_FALSE(is_about_node(finding, "s4-bead"));
}

TEST(FindingAbout, TellsWhatFallsShortBecauseOfAChange) {
    const std::vector<Finding> before{with("a", State::falls_short), with("b", State::holds),
                                      with("c", State::not_measured), with("d", State::holds)};
    const std::vector<Finding> after{with("a", State::falls_short), with("b", State::falls_short),
                                     with("c", State::falls_short), with("d", State::close),
                                     with("new", State::falls_short)};
    std::string ids;
    for (const Finding& finding : newly_falling_short(before, after)) {
        ids += finding.id + " ";
    }
    EXPECT_EQ(ids, "b c new ");
    EXPECT_TRUE(newly_falling_short(after, after).empty());
    EXPECT_TRUE(newly_falling_short(after, {}).empty());
}

}  // namespace
}  // namespace sillwright::core
