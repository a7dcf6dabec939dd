#include "core/edit/mend_edit.h"

#include <gmock/gmock.h>

#include "bench_job.h"
#include "core/edit/field_change.h"

namespace sillwright::core {
namespace {

using bench::channel;
using bench::mm;
using bench::refusal;
using testing::HasSubstr;

Finding mended_by(const std::vector<NodeMove>& moves) {
    Finding finding;
    finding.title = "Front door moving, to skirt";
    finding.mend = Mend{"lower the shelf edge", moves, 0.0};
    return finding;
}

TEST(TakeMend, MovesAllItsNodes) {
    const auto edit = take_mend(channel(), mended_by({{"1b", {0, -2}}, {"2b", {-1, -3}}}));
    EXPECT_EQ(bench::words(edit), "take mend of Front door moving, to skirt");
    const Job job = bench::after(edit, channel());
    EXPECT_EQ(bench::node(job, "1b").up, mm(98));
    EXPECT_EQ(bench::node(job, "2b").out, mm(99));
    EXPECT_EQ(bench::node(job, "2b").up, mm(97));
    EXPECT_EQ(bench::node(job, "3b").up, mm(100));
    EXPECT_EQ(bench::after(take_mend(job, mended_by({{"1b", {0, 2}}, {"2b", {1, 3}}})), job), channel());
}

TEST(TakeMend, WritesItsFieldsAfterItsMoves) {
    Finding finding = mended_by({{"1b", {0, -2}}});
    finding.mend->changes = {length_change(channel(), "/skirt/pieces/0/sheet", geometry::millimetres(4)),
                             number_change("/loads/shaking_g", 3)};
    const Job job = bench::after(take_mend(channel(), finding), channel());
    EXPECT_EQ(bench::node(job, "1b").up, mm(98));
    EXPECT_EQ(job.skirt.pieces[0].sheet->value, geometry::millimetres(4));
    EXPECT_EQ(job.loads.shaking_g, 3);
    finding.mend->changes = {number_change("/loads/shaking_g", -3)};
    EXPECT_THAT(refusal(take_mend(channel(), finding)), HasSubstr("-3"));
}

TEST(TakeMend, RefusesWhatCannotBeTaken) {
    EXPECT_THAT(refusal(take_mend(channel(), Finding{})), HasSubstr("Nothing can be changed here"));
    EXPECT_THAT(refusal(take_mend(channel(), mended_by({}))), HasSubstr("Front door moving, to skirt"));
    EXPECT_THAT(refusal(take_mend(channel(), mended_by({{"gone", {0, 1}}}))), HasSubstr("no longer there"));
    EXPECT_THAT(refusal(take_mend(channel(), mended_by({{"2b", {-50, -150}}}))), HasSubstr("would cross"));
}

}  // namespace
}  // namespace sillwright::core
