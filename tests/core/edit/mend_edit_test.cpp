#include "core/edit/mend_edit.h"

#include <gmock/gmock.h>

#include "bench_job.h"

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

TEST(TakeMend, RefusesWhatCannotBeTaken) {
    EXPECT_THAT(refusal(take_mend(channel(), Finding{})), HasSubstr("No nodes can be moved"));
    EXPECT_THAT(refusal(take_mend(channel(), mended_by({}))), HasSubstr("Front door moving, to skirt"));
    EXPECT_THAT(refusal(take_mend(channel(), mended_by({{"gone", {0, 1}}}))), HasSubstr("no longer there"));
    EXPECT_THAT(refusal(take_mend(channel(), mended_by({{"2b", {-50, -150}}}))), HasSubstr("would cross"));
}

}  // namespace
}  // namespace sillwright::core
