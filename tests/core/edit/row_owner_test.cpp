#include "core/edit/row_owner.h"

#include <gmock/gmock.h>

#include "bench_job.h"

namespace sillwright::core {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

TEST(RowOwner, IsAPieceAGenerationAStationOrABoard) {
    const Job job = bench::formed();
    EXPECT_THAT(owners(job, Table::flutes), ElementsAre("skirt", "end piece"));
    EXPECT_THAT(owners(job, Table::ticks), ElementsAre("plug", "female", "male", "sheet"));
    EXPECT_THAT(owners(job, Table::gauge_points), ElementsAre("1", "2", "3"));
    EXPECT_THAT(owners(job, Table::defects), ElementsAre("mdf 12", "ply 9"));
    EXPECT_THAT(owners(job, Table::boards), IsEmpty());
    EXPECT_THAT(owners(job, Table::mounts), IsEmpty());
    EXPECT_THAT(owners(job, Table::generations), IsEmpty());
    EXPECT_EQ(owner_of(job, Table::flutes, 2), "end piece");
    EXPECT_EQ(owner_of(job, Table::ticks, 2), "male");
    EXPECT_EQ(owner_of(job, Table::gauge_points, 2), "3");
    EXPECT_EQ(owner_of(job, Table::defects, 0), "mdf 12");
    EXPECT_EQ(owner_of(job, Table::defects, 2), "ply 9");
}

TEST(RowOwner, OfANewRowIsThatOfTheLastOne) {
    Job job = bench::formed();
    EXPECT_EQ(owner_of_new(job, Table::flutes), "end piece");
    EXPECT_EQ(owner_of_new(job, Table::drains), "skirt");
    EXPECT_EQ(owner_of_new(job, Table::gauge_points), "3");
    job.skirt.pieces[0].flutes.clear();
    job.skirt.pieces[1].flutes.clear();
    EXPECT_EQ(owner_of_new(job, Table::flutes), "skirt");
    job.skirt.pieces[0].file = ShapeFile{"skirt.stl", "", BareUnit::mm, {}};
    EXPECT_EQ(owner_of_new(job, Table::flutes), "end piece") << "the first that is not a file";
    job.skirt.pieces[1].file = job.skirt.pieces[0].file;
    EXPECT_EQ(owner_of_new(job, Table::flutes), "");
    for (Generation& generation : job.forming.generations) {
        generation.ticks.clear();
    }
    EXPECT_EQ(owner_of_new(job, Table::ticks), "female");
    job.forming.generations.resize(1);
    EXPECT_EQ(owner_of_new(job, Table::ticks), "plug");
    EXPECT_EQ(owner_of_new(Job{}, Table::gauge_points), "");
    EXPECT_EQ(owner_of_new(job, Table::defects), "ply 9");
    job.buck.boards[1].defects.clear();
    EXPECT_EQ(owner_of_new(job, Table::defects), "mdf 12");
    job.buck.boards[0].defects.clear();
    EXPECT_EQ(owner_of_new(job, Table::defects), "mdf 12") << "the first";
    EXPECT_EQ(owner_of_new(Job{}, Table::defects), "");
}

TEST(GiveRows, GoBehindThoseThatAreThereInTheirOrder) {
    Job job = bench::formed();
    EXPECT_THAT(give_rows(job, Table::flutes, {{0, "end piece"}, {1, "end piece"}, {2, "skirt"}}),
                ElementsAre(2, 0, 1));
    EXPECT_EQ(job.skirt.pieces[0].flutes.at(0).name, "flute 3");
    EXPECT_EQ(job.skirt.pieces[1].flutes.at(0).name, "flute 1");
    EXPECT_EQ(job.skirt.pieces[1].flutes.at(1).name, "flute 2");
}

TEST(GiveRows, ToWhereTheyAreAlreadyChangesNothing) {
    Job job = bench::formed();
    EXPECT_THAT(give_rows(job, Table::ticks, {{1, "male"}}), ElementsAre(0, 1, 2));
    EXPECT_EQ(job, bench::formed());
}

TEST(GiveRows, AGaugeLineThatWasEmptyOrSaysMoreStays) {
    Job job = bench::formed();
    job.forming.sculpted.lines.push_back({"2", {}, {}});
    job.forming.sculpted.lines[1].unknown.fields["gauge"] = "\"long\"";
    give_rows(job, Table::gauge_points, {{2, "1"}});
    ASSERT_EQ(job.forming.sculpted.lines.size(), 3U);
    EXPECT_TRUE(job.forming.sculpted.lines[1].points.empty());
    EXPECT_EQ(job.forming.sculpted.lines[0].points.size(), 3U);
}

TEST(ListOfOwner, MakesAGaugeLineInTheStationsOrder) {
    Job job = bench::formed();
    EXPECT_EQ(list_of_owner(job, Table::gauge_points, "3"), 1U);
    EXPECT_EQ(list_of_owner(job, Table::gauge_points, "2"), 1U);
    EXPECT_EQ(job.forming.sculpted.lines[1].station, "2");
    EXPECT_EQ(job.forming.sculpted.lines[2].station, "3");
    EXPECT_EQ(list_of_owner(job, Table::flutes, "end piece"), 1U);
}

}  // namespace
}  // namespace sillwright::core
