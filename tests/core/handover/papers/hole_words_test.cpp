#include "core/handover/papers/hole_words.h"

#include <gtest/gtest.h>

namespace sillwright::core {
namespace {

using geometry::millimetres;

TEST(HoleWords, TakeTheJobsHoleBeforeThePlannedOne) {
    HolePlan plan;
    plan.cut = {13.5, 10.0};
    plan.shift_mm = 0.25;
    EXPECT_EQ(made_hole(plan).size, (HoleSize{13.5, 10.0}));
    EXPECT_FALSE(made_hole(plan).of_job);
    plan.drawn = HoleSize{15.0, 11.0};
    plan.drawn_shift_mm = 0.2;
    EXPECT_EQ(made_hole(plan).size, (HoleSize{15.0, 11.0}));
    EXPECT_EQ(made_hole(plan).shift_mm, 0.2);
    EXPECT_TRUE(made_hole(plan).of_job);
}

TEST(HoleWords, SayRoundAndSlot) {
    EXPECT_EQ(size_words({6.5, 6.5}), "round 6.5");
    EXPECT_EQ(size_words({19.5, 11.0}), "19.5 × 11.0");
    EXPECT_EQ(role_words(HoleRole::locator), "LOCATOR");
    EXPECT_EQ(role_words(HoleRole::guide), "guide");
    EXPECT_EQ(role_words(HoleRole::clearance), "slot");
}

TEST(HoleWords, SayWhatIsInTheBody) {
    Mount mount;
    mount.name = "H1";
    EXPECT_EQ(body_words(mount), "round hole, size not measured");
    mount.size = Entry{millimetres(9.0), ""};
    EXPECT_EQ(body_words(mount), "round hole 9.0 mm");
    mount.shape = HoleShape::slot;
    mount.slot_length = Entry{millimetres(14.0), ""};
    EXPECT_EQ(body_words(mount), "slot 9.0 × 14.0 mm");
    mount.shape = HoleShape::square;
    EXPECT_EQ(body_words(mount), "square hole 9.0 mm");
    mount.kind = MountKind::stud;
    EXPECT_EQ(body_words(mount), "stud 9.0 mm");
    mount.kind = MountKind::nut;
    mount.size.reset();
    EXPECT_EQ(body_words(mount), "nut, thread not measured");
    EXPECT_EQ(fastener_words(mount.fastener), "not chosen");
    EXPECT_EQ(fixing_words(mount.fastener), "pressed in");
    mount.fastener.kind = FastenerKind::screw;
    EXPECT_EQ(fixing_words(mount.fastener), "screw with a loose nut");
    mount.fastener.kind = FastenerKind::fixed_screw;
    EXPECT_EQ(fixing_words(mount.fastener), "screw into a fixed nut or thread");
}

}  // namespace
}  // namespace sillwright::core
