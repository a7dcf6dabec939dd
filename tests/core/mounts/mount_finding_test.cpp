#include "core/mounts/mount_finding.h"

#include <gtest/gtest.h>

#include "tests/core/mounts/flange_world.h"

namespace sillwright::core {
namespace {

TEST(MountFinding, SaysWhereItIs) {
    const Job job = flat_world();
    const Finding finding = mount_finding(job, job.mounts[0], "slot", "its hole");
    EXPECT_EQ(finding.id, "mounts/H1/slot");
    EXPECT_EQ(finding.title, "H1, its hole");
    EXPECT_EQ(finding.place.mount, "H1");
    EXPECT_EQ(finding.state, State::not_measured);
    EXPECT_NE(finding.place.words.find("750 mm"), std::string::npos) << finding.place.words;
}

TEST(MountFinding, NumbersEitherWay) {
    Finding finding;
    put_numbers(finding, 5.0, 3.0, true, 0.0);
    EXPECT_EQ(*finding.margin, 2.0);
    EXPECT_EQ(finding.state, State::holds);
    put_numbers(finding, 5.0, 3.0, false, 0.0);
    EXPECT_EQ(*finding.margin, -2.0);
    EXPECT_EQ(finding.state, State::falls_short);
    put_numbers(finding, 3.0 - 1e-12, 3.0, true, 0.0);
    EXPECT_EQ(*finding.margin, 0.0);
    finding.missing = {"something"};
    put_numbers(finding, 5.0, 3.0, true, 0.0);
    EXPECT_EQ(finding.state, State::not_measured);
}

TEST(MountFinding, FindsMountsByName) {
    const Job job = flat_world();
    EXPECT_EQ(mount_pointer(job, "H1"), "/mounts/0");
    EXPECT_EQ(find_mount(job, "H2"), nullptr);
    EXPECT_EQ(joined_words({"H1", "H2", "H3"}), "H1, H2 and H3");
}

}  // namespace
}  // namespace sillwright::core
