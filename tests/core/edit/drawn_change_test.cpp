#include "core/edit/drawn_change.h"

#include <gmock/gmock.h>

#include "bench_job.h"

namespace sillwright::core {
namespace {

using bench::channel;
using bench::mm;
using testing::ElementsAre;
using testing::HasSubstr;

Job running_out() {
    Job job = channel();
    Drawn& body = job.skirt.pieces[0].drawn;
    body.sections[2].nodes.erase(body.sections[2].nodes.begin() + 1);
    body.run_outs = {{"shelf edge", mm(200)}};
    return job;
}

TEST(NamesInOrder, MergesWhatSectionsHave) {
    Drawn body = running_out().skirt.pieces[0].drawn;
    body.sections[0].nodes.erase(body.sections[0].nodes.begin() + 2);  // no lower edge at station 1
    EXPECT_THAT(names_in_order(body), ElementsAre("top return end", "shelf edge", "lower edge", "flange end"));
    EXPECT_TRUE(names_in_order({}).empty());
}

TEST(SectionMadeAt, StandsFromFrontToRear) {
    Job job = channel();
    Drawn& body = job.skirt.pieces[0].drawn;
    EXPECT_EQ(section_made_at(job, body, "2").nodes.size(), 4U) << "the one that is there";
    body.sections.erase(body.sections.begin() + 1);
    EXPECT_TRUE(section_made_at(job, body, "2").nodes.empty());
    EXPECT_EQ(section_at_station(body, "2"), 1U);
    EXPECT_FALSE(section_at_station(body, "9"));
}

TEST(RunOuts, AreInUseWhereTheirNodeComesOrGoes) {
    const Job job = running_out();
    const Drawn& body = job.skirt.pieces[0].drawn;
    EXPECT_TRUE(in_use(job, body, body.run_outs[0]));
    EXPECT_FALSE(in_use(job, body, RunOut{"shelf edge", mm(50)})) << "it goes on there";
    EXPECT_FALSE(in_use(job, body, RunOut{"shelf edge", mm(900)})) << "behind all stations";
}

TEST(RunOuts, OnlyThoseThatAChangeLeavesIdleAreDropped) {
    const Job before = running_out();
    Job after = before;
    Drawn& body = after.skirt.pieces[0].drawn;
    body.sections[2].nodes = channel().skirt.pieces[0].drawn.sections[2].nodes;
    body.run_outs.push_back({"shelf edge", mm(50)});
    drop_idle_run_outs(before, before.skirt.pieces[0].drawn, after, body);
    ASSERT_EQ(body.run_outs.size(), 1U);
    EXPECT_EQ(body.run_outs[0].along, mm(50)) << "was never in use: somebody has yet to see to it";
}

TEST(PassedRunOut, IsSaidInWords) {
    Job after = running_out();
    EXPECT_FALSE(passed_run_out(running_out(), after));
    after.stations[1].along = mm(201);
    const auto passed = passed_run_out(running_out(), after);
    ASSERT_TRUE(passed);
    EXPECT_THAT(*passed, HasSubstr("shelf edge of skirt runs out, 200.00 mm"));
}

TEST(StationNames, AreFollowedByGaugeLines) {
    Job job = bench::formed();
    std::swap(job.stations[0].name, job.stations[2].name);
    follow_station_names(job, {"1", "2", "3"});
    EXPECT_EQ(job.forming.sculpted.lines[0].station, "3");
    EXPECT_EQ(job.forming.sculpted.lines[1].station, "1");
}

TEST(StationNames, CanChangeAbout) {
    Job job = channel();
    std::swap(job.stations[0].name, job.stations[2].name);
    follow_station_names(job, {"1", "2", "3"});
    EXPECT_EQ(job.skirt.pieces[0].drawn.sections[0].station, "3");
    EXPECT_EQ(job.skirt.pieces[0].drawn.sections[2].station, "1");
    EXPECT_FALSE(numbered_in_order(job.stations));
    number_stations(job);
    EXPECT_EQ(job, channel());
    EXPECT_TRUE(numbered_in_order(job.stations));
    EXPECT_EQ(station_index(job, "3"), 2U);
    EXPECT_FALSE(station_index(job, "4"));
}

}  // namespace
}  // namespace sillwright::core
