#include "core/edit/run_out_edit.h"

#include <gmock/gmock.h>

#include "core/drawn_lacking.h"
#include "loft_compare.h"

namespace sillwright::core {
namespace {

using bench::after;
using bench::channel;
using bench::k_piece;
using bench::refusal;
using testing::ElementsAre;
using testing::HasSubstr;

TEST(RunOutEdit, AFeatureThatEndsIsDeletedAtOneStationAndRunsOut) {
    const auto deleted = delete_node(channel(), "3b");
    EXPECT_EQ(bench::words(deleted), "delete shelf edge at station 3");
    Job job = after(deleted, channel());
    bench::expect_kept(job);
    EXPECT_THAT(lacking_for_loft(job, job.skirt.pieces[0].drawn, false, "skirt"),
                ElementsAre("shelf edge of skirt at station 3, or where it runs out"));
    const auto edit = run_out_node(job, "1b", "20 cm");
    EXPECT_EQ(bench::words(edit), "let shelf edge run out");
    job = after(edit, job);
    EXPECT_EQ(job.skirt.pieces[0].drawn.run_outs,
              (std::vector<RunOut>{{"shelf edge", Entry{geometry::millimetres(200), "20 cm"}, {}}}));
    EXPECT_EQ(bench::loft(job, k_piece).run_out_places().size(), 1U);
    job = after(run_out_node(job, "1b", "250"), job);
    ASSERT_EQ(job.skirt.pieces[0].drawn.run_outs.size(), 1U) << "the place that was said before goes";
    EXPECT_EQ(job.skirt.pieces[0].drawn.run_outs[0].along.typed, "250");
}

TEST(RunOutEdit, EitherEndHasItsOwn) {
    Job job = after(delete_node(channel(), "3b"), channel());
    job = after(delete_node(job, "1b"), job);
    job = after(run_out_node(job, "2b", "250"), job);
    job = after(run_out_node(job, "2b", "50"), job);
    EXPECT_EQ(job.skirt.pieces[0].drawn.run_outs.size(), 2U);
    EXPECT_EQ(bench::loft(job, k_piece).run_out_places().size(), 2U);
    job = after(delete_node(job, "2b"), job);
    EXPECT_TRUE(job.skirt.pieces[0].drawn.run_outs.empty()) << "nothing is left that runs out";
}

TEST(RunOutEdit, TheLastNodeTakesItsSectionWithIt) {
    Job job = channel();
    for (const char* id : {"2a", "2b", "2c", "2d"}) {
        job = after(delete_node(job, id), job);
        bench::expect_kept(job);
    }
    EXPECT_EQ(job.skirt.pieces[0].drawn.sections.size(), 2U);
}

TEST(RunOutEdit, RefusesWhatCannotBeMeant) {
    const Job job = after(delete_node(channel(), "3b"), channel());
    EXPECT_THAT(refusal(run_out_node(job, "1b", "50")), HasSubstr("50 is not between a section of skirt that has"));
    EXPECT_THAT(refusal(run_out_node(job, "1b", "300")), HasSubstr("300 is not between"));
    EXPECT_THAT(refusal(run_out_node(job, "1b", "there")), HasSubstr("\"there\" is not a length for along. Column 1"));
    EXPECT_THAT(refusal(run_out_node(job, "x", "50")), HasSubstr("no node \"x\""));
    EXPECT_THAT(refusal(delete_node(job, "x")), HasSubstr("no node \"x\""));
}

}  // namespace
}  // namespace sillwright::core
