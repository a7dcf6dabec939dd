#include "core/edit/fastener_edit.h"

#include <gtest/gtest.h>

#include "core/edit/field_change.h"
#include "tests/core/mounts/flange_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;

const FastenerRow& row_named(const std::string& name) {
    const FastenerRow* const row = find_fastener(name);
    EXPECT_NE(row, nullptr) << name;
    return row != nullptr ? *row : fastener_table().front();
}

TEST(FastenerEdit, TakesARowAndKeepsTheSpacer) {
    const Job job = flat_world();
    const auto edit = take_fastener(job, "H1", row_named("push-in clip, hole 8, grip 4 to 6"));
    ASSERT_TRUE(edit) << edit.error().message;
    const Fastener& taken = edit.value().job.mounts[0].fastener;
    EXPECT_EQ(taken.name, "push-in clip, hole 8, grip 4 to 6");
    EXPECT_NEAR(in_mm(taken.grip_least->value), 4.0, 1e-12);
    EXPECT_NEAR(in_mm(taken.spacer->value), 2.0, 1e-12);
    EXPECT_TRUE(taken.slides);
    EXPECT_EQ(edit.value().words, "take push-in clip, hole 8, grip 4 to 6 at H1");
}

TEST(FastenerEdit, NoSuchMount) {
    const auto edit = take_fastener(flat_world(), "H9", fastener_table().front());
    ASSERT_FALSE(edit);
    EXPECT_NE(edit.error().message.find("H9"), std::string::npos);
}

TEST(FastenerEdit, ChangeOfTheFileIsTheSame) {
    for (const BareUnit unit : {BareUnit::mm, BareUnit::in}) {
        Job job = flat_world();
        job.vehicle = "Estate A, invented";
        job.unit = unit;
        const auto edit =
            take_fastener(job, "H1", row_named("screw M6 x 20 with washer and spring nut"), millimetres(5.92));
        ASSERT_TRUE(edit) << edit.error().message;
        const Fastener& taken = edit.value().job.mounts[0].fastener;
        const auto written = with_changes(job, {fastener_change(job, "H1", taken)});
        ASSERT_TRUE(written) << written.error().message;
        const Fastener& read = written.value().mounts[0].fastener;
        EXPECT_EQ(read.name, taken.name);
        EXPECT_EQ(read.kind, taken.kind);
        EXPECT_NEAR(in_mm(read.tail->value), in_mm(taken.tail->value), 1e-12);
        EXPECT_NEAR(in_mm(read.grip_most->value), in_mm(taken.grip_most->value), 1e-12);
        EXPECT_EQ(geometry::in_newtons(*read.holds), geometry::in_newtons(*taken.holds));
    }
}

}  // namespace
}  // namespace sillwright::core
