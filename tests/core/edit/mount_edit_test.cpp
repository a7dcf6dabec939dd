#include "core/edit/mount_edit.h"

#include <gmock/gmock.h>

#include <limits>

#include "bench_job.h"

namespace sillwright::core {
namespace {

using bench::after;
using bench::estate;
using bench::mm;
using bench::refusal;
using bench::words;
using testing::HasSubstr;

TEST(PlaceMount, IsLikeTheNearest) {
    const Job job = estate();
    const auto edit = place_mount(job, {760, 55, 16.7}, {0, 0.04, -2});
    EXPECT_EQ(words(edit), "place mount H10");
    const Job placed = after(edit, job);
    const Mount& mount = placed.mounts.back();
    const Mount& like = job.mounts[3];  // H4, a slot at 719
    EXPECT_EQ(mount.name, "H10");
    EXPECT_EQ(mount.shape, HoleShape::slot);
    EXPECT_EQ(mount.slot_length, like.slot_length);
    EXPECT_EQ(mount.fastener, like.fastener);
    EXPECT_EQ(mount.sd, like.sd);
    EXPECT_EQ(mount.at, (Position{mm(760), mm(55), mm(16.7), {}}));
    EXPECT_NEAR(mount.axis.norm(), 1.0, 1e-15);
    EXPECT_NEAR(mount.axis.y() / mount.axis.z(), -0.02, 1e-15);
    bench::expect_kept(placed);
    EXPECT_EQ(after(delete_mount(placed, "H10"), placed), job);
}

TEST(PlaceMount, TheFirstIsABareHole) {
    const Job placed = after(place_mount(Job{}, {700, 55, 16}, {0, 0, -1}), Job{});
    Mount bare;
    bare.name = "H1";
    bare.at = {mm(700), mm(55), mm(16), {}};
    ASSERT_EQ(placed.mounts.size(), 1U);
    EXPECT_EQ(placed.mounts[0], bare);
}

TEST(PlaceMount, RefusesWhatIsNoDirectionOrNoPlace) {
    EXPECT_THAT(refusal(place_mount(Job{}, {0, 0, 0}, {0, 0, 0})), HasSubstr("axis has no length"));
    EXPECT_THAT(refusal(place_mount(Job{}, {0, 2e6, 0}, {0, 0, -1})),
                HasSubstr("Mount H1, out: this is longer than 1 km"));
    EXPECT_THAT(refusal(place_mount(Job{}, {0, std::numeric_limits<double>::infinity(), 0}, {0, 0, -1})),
                HasSubstr("Mount H1, out: this is not a number"));
}

TEST(MoveMount, MovesOneAlone) {
    const auto edit = move_mount(estate(), "H3", {546, 55, 16});
    EXPECT_EQ(words(edit), "move mount H3");
    Job moved = after(edit, estate());
    EXPECT_EQ(moved.mounts[2].at, (Position{mm(546), mm(55), mm(16), {}}));
    moved.mounts[2].at = estate().mounts[2].at;
    EXPECT_EQ(moved, estate());
    EXPECT_THAT(refusal(move_mount(estate(), "H77", {0, 0, 0})), HasSubstr("no mount \"H77\""));
}

TEST(DeleteMount, TakesOne) {
    const auto edit = delete_mount(estate(), "H3");
    EXPECT_EQ(words(edit), "delete mount H3");
    EXPECT_EQ(after(edit, estate()).mounts.size(), 8U);
    EXPECT_THAT(refusal(delete_mount(estate(), "H77")), HasSubstr("no mount \"H77\""));
}

TEST(DeleteKeepOut, TakesOne) {
    const auto edit = delete_keep_out(estate(), "front jacking pad");
    EXPECT_EQ(words(edit), "delete keep-out front jacking pad");
    EXPECT_EQ(after(edit, estate()).keep_outs.size(), estate().keep_outs.size() - 1);
    EXPECT_THAT(refusal(delete_keep_out(estate(), "pad")), HasSubstr("no keep-out \"pad\""));
}

}  // namespace
}  // namespace sillwright::core
