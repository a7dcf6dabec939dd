#include "core/mounts/mount_lists.h"

#include <gtest/gtest.h>

#include "tests/core/mounts/flange_world.h"

namespace sillwright::core {
namespace {

Finding listed(const Job& job, const std::string& id) {
    const auto findings = mount_list_findings(job);
    const Finding* found = find(findings, id);
    EXPECT_NE(found, nullptr) << id;
    return found != nullptr ? *found : Finding{};
}

TEST(MountLists, NoMountIsNotMeasured) {
    Job job = flat_world();
    job.mounts.clear();
    EXPECT_EQ(listed(job, "mounts/measured").state, State::not_measured);
    EXPECT_EQ(listed(job, "mounts/measured").missing.size(), 1U);
}

TEST(MountLists, UnusedMountsAreListed) {
    Job job = flat_world();
    EXPECT_EQ(find(mount_list_findings(job), "mounts/unused"), nullptr);
    for (const char* name : {"H2", "H3"}) {
        job.mounts.push_back(world_mount(name));
        job.mounts.back().use = MountUse::unused;
    }
    const Finding unused = listed(job, "mounts/unused");
    EXPECT_EQ(unused.state, State::holds);
    EXPECT_FALSE(unused.margin);
    EXPECT_EQ(unused.why, "These mounts are not used: H2 and H3.");
}

TEST(MountLists, NoneUsedForTheFlangeFallsShort) {
    Job job = flat_world();
    job.mounts[0].use = MountUse::unused;
    EXPECT_EQ(listed(job, "mounts/used").state, State::falls_short);
}

TEST(MountLists, ScrewedTopEdgeNeedsAMountThere) {
    Job job = flat_world();
    job.skirt.pieces[0].top_edge = TopEdgeFixing::screw;
    EXPECT_EQ(listed(job, "mounts/top edge").state, State::falls_short);
    job.mounts.push_back(world_mount("T1"));
    job.mounts.back().use = MountUse::top_edge;
    EXPECT_EQ(listed(job, "mounts/top edge").state, State::holds);
    EXPECT_NE(listed(job, "mounts/top edge").why.find("T1"), std::string::npos);
    job.mounts.back().at.along = mm(1600);  // Behind the piece.
    EXPECT_EQ(listed(job, "mounts/top edge").state, State::falls_short);
}

TEST(MountLists, TopEdgeThatIsNotSaidIsNotMeasured) {
    Job job = flat_world();
    for (const TopEdgeFixing fixing : {TopEdgeFixing::tape, TopEdgeFixing::none}) {
        job.skirt.pieces[0].top_edge = fixing;
        EXPECT_EQ(listed(job, "mounts/top edge").state, State::holds);
    }
    job.skirt.pieces[0].top_edge.reset();
    EXPECT_EQ(listed(job, "mounts/top edge").state, State::not_measured);
    EXPECT_EQ(listed(job, "mounts/top edge").missing.size(), 1U);
}

}  // namespace
}  // namespace sillwright::core
