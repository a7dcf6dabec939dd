#include "core/edit/table.h"

#include <gmock/gmock.h>

#include "bench_job.h"

namespace sillwright::core {
namespace {

using bench::after;
using bench::estate;
using bench::mm;
using bench::refusal;
using bench::words;
using geometry::in_mm;
using geometry::millimetres;
using testing::HasSubstr;
using testing::StartsWith;

std::size_t column(Table table, const std::string& name) {
    const auto& all = columns(table);
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (all[i].name == name) {
            return i;
        }
    }
    ADD_FAILURE() << "no column " << name;
    return 0;
}

geometry::Result<Edit> write(const Job& job, Table table, std::size_t row, const std::string& name,
                             const std::string& text) {
    return write_cell(job, table, row, column(table, name), text);
}

// Read by eye in samples/estate_a.sillwright.
TEST(TableCell, ReadsTheJob) {
    const Job job = estate();
    const auto mount = [&](const std::string& name) {
        return cell(job, Table::mounts, 3, column(Table::mounts, name));
    };
    EXPECT_EQ(row_count(job, Table::mounts), 9U);
    EXPECT_EQ(mount("name"), "H4");
    EXPECT_EQ(mount("kind"), "hole");
    EXPECT_EQ(mount("shape"), "slot");
    EXPECT_EQ(mount("use"), "flange");
    EXPECT_EQ(mount("along"), "719.2");
    EXPECT_EQ(mount("axis"), "0.006 0.018 -1");
    EXPECT_EQ(mount("slot length"), "14");
    EXPECT_EQ(mount("sd up"), "0.4");
    EXPECT_EQ(mount("hole in the part"), "11");
    EXPECT_EQ(mount("fastener"), "push clip 6");
    EXPECT_EQ(mount("grip, most"), "4.5");
    EXPECT_EQ(mount("spacer"), "") << "not measured";
    EXPECT_EQ(cell(job, Table::stations, 3, 1), "610");
    EXPECT_EQ(cell(job, Table::doors, 0, column(Table::doors, "opening")), "68");
    EXPECT_EQ(cell(job, Table::doors, 0, column(Table::doors, "upper pin along")), "215.6");
    EXPECT_EQ(cell(job, Table::doors, 0, column(Table::doors, "sag distance")), "1000");
    EXPECT_EQ(cell(job, Table::doors, 1, column(Table::doors, "over-slam distance")), "650");
    EXPECT_EQ(cell(job, Table::keep_outs, 0, column(Table::keep_outs, "to up")), "14.5");
}

TEST(WriteCell, KeepsTheTextAsTyped) {
    const auto edit = write(estate(), Table::mounts, 8, "out", "2 in");
    EXPECT_EQ(words(edit), "write out of mount H9");
    const Job job = after(edit, estate());
    EXPECT_EQ(job.mounts[8].at.out, (Entry{geometry::inches(2), "2 in"}));
    EXPECT_EQ(cell(job, Table::mounts, 8, column(Table::mounts, "out")), "2 in");
    EXPECT_EQ(words(write(estate(), Table::doors, 0, "opening", "70")), "write opening of front door");
    EXPECT_EQ(words(write(estate(), Table::stations, 3, "along", "612")), "write along of station 4");
    bench::expect_kept(job);
}

TEST(WriteCell, EmptyIsNotMeasured) {
    const Job job = after(write(estate(), Table::mounts, 0, "size", ""), estate());
    EXPECT_FALSE(job.mounts[0].size);
    EXPECT_THAT(refusal(write(estate(), Table::mounts, 0, "along", "")),
                StartsWith("along: this cannot be left empty"));
}

TEST(WriteCell, SaysWhatIsWrongAndWhatWouldBeRight) {
    EXPECT_THAT(refusal(write(estate(), Table::mounts, 0, "size", "big")),
                StartsWith("size: \"big\" is not a length."));
    EXPECT_EQ(refusal(write(estate(), Table::mounts, 0, "use", "roof")),
              "use: \"roof\" cannot stand here. Write one of: flange, top edge, unused.");
    EXPECT_EQ(refusal(write(estate(), Table::mounts, 0, "size", "0")),
              "Mount H1, size: 0 is not above zero. Write the measured length, or leave it empty if it is not "
              "measured.");
    EXPECT_THAT(refusal(write(estate(), Table::mounts, 0, "name", "H2")), HasSubstr("\"H2\" stands twice"));
    EXPECT_THAT(refusal(write(estate(), Table::mounts, 0, "grip, most", "1")),
                StartsWith("Mount H1, fastener grip most: it is less than the least grip."));
    EXPECT_THAT(refusal(write(estate(), Table::doors, 0, "opening", "270")),
                StartsWith("Front door, opening: the door cannot open by this angle."));
    EXPECT_THAT(refusal(write(estate(), Table::keep_outs, 0, "to along", "20")),
                HasSubstr("Write the smaller value in from along, the larger in to along."));
}

TEST(WriteCell, AHingeIsWrittenNumberByNumber) {
    Job job = estate();
    job.doors[0].hinge.reset();
    job.doors[0].sag.reset();
    const Job bare = job;
    for (const auto& [name, text] : {std::pair{"upper pin up", "785"},
                                     {"lower pin along", "210"},
                                     {"lower pin out", "118"},
                                     {"lower pin up", "385"},
                                     {"upper pin along", "215.6"},
                                     {"upper pin out", "102.6"},
                                     {"sag distance", "1000"},
                                     {"sag drop", "1.5"}}) {
        job = after(write(job, Table::doors, 0, name, text), job);
        bench::expect_kept(job);
    }
    EXPECT_EQ(in_mm(job.doors[0].hinge->upper.along->value), 215.6);
    EXPECT_THAT(refusal(write(job, Table::doors, 0, "upper pin up", "100")),
                HasSubstr("the upper pin is not above the lower one"));
    for (const char* name : {"upper pin up", "lower pin along", "lower pin out", "lower pin up", "upper pin along",
                             "upper pin out", "sag distance", "sag drop"}) {
        job = after(write(job, Table::doors, 0, name, ""), job);
    }
    EXPECT_EQ(job, bare) << "emptied, nothing of it is left";
}

TEST(WriteCell, SectionsFollowTheirStation) {
    const Job job = after(write(estate(), Table::stations, 3, "name", "B pillar"), estate());
    EXPECT_EQ(job.skirt.pieces[0].drawn.sections[3].station, "B pillar");
    EXPECT_EQ(job.body.sections[3].station, "B pillar");
    EXPECT_EQ(after(write(job, Table::stations, 3, "name", "4"), job), estate());
    EXPECT_THAT(refusal(write(estate(), Table::stations, 3, "name", "5")), HasSubstr("\"5\" stands twice"));
}

TEST(WriteCell, APieceFollowsTheDoorThatCarriesIt) {
    Job job = estate();
    job.skirt.pieces[0].carried_by = "rear door";
    job = after(write(job, Table::doors, 1, "name", "back door"), job);
    EXPECT_EQ(job.skirt.pieces[0].carried_by, "back door");
    EXPECT_THAT(refusal(delete_rows(job, Table::doors, {1})), HasSubstr("Let the body or another door carry it"));
}

TEST(WriteCell, AStationDoesNotPassARunOut) {
    Job job = bench::channel();
    Drawn& body = job.skirt.pieces[0].drawn;
    body.sections[2].nodes.erase(body.sections[2].nodes.begin() + 1);
    body.run_outs = {{"shelf edge", mm(200)}};
    EXPECT_THAT(refusal(write(job, Table::stations, 1, "along", "250")), HasSubstr("runs out, 200.00 mm"));
}

TEST(Paste, WritesToTheRightAndDown) {
    const auto edit = paste(estate(), Table::mounts, 1, column(Table::mounts, "along"), "260\t54\r\n 545 \t55,5\r\n");
    EXPECT_EQ(words(edit), "paste 4 cells into mounts");
    const Job job = after(edit, estate());
    EXPECT_EQ(job.mounts[1].at.along, (Entry{millimetres(260), "260"}));
    EXPECT_EQ(job.mounts[1].at.out, (Entry{millimetres(54), "54"}));
    EXPECT_EQ(job.mounts[1].at.up, estate().mounts[1].at.up);
    EXPECT_EQ(job.mounts[2].at.out, (Entry{millimetres(55.5), "55,5"}));
    EXPECT_EQ(job.mounts[0], estate().mounts[0]);
}

TEST(Paste, LinesBeyondTheLastRowMakeNewOnes) {
    const auto edit =
        paste(Job{}, Table::mounts, 0, 0,
              "H1;hole;round;flange;69.3;51.6;15.62;0 0.01 -1;9\nH2;hole;slot;flange;262.7;54.5;15.74;;9");
    EXPECT_THAT(refusal(edit), StartsWith("Line 2, axis: \"\" is not a direction."));
    const Job job = after(paste(Job{}, Table::mounts, 0, 0,
                                "H1;hole;round;flange;69.3;51.6;15.62;0 0.01 -1;9\n"
                                "X2;hole;slot;flange;262.7;54.5;15.74;0 0 -1;9\n"),
                          Job{});
    ASSERT_EQ(job.mounts.size(), 2U);
    EXPECT_EQ(job.mounts[1].name, "X2");
    EXPECT_EQ(job.mounts[1].shape, HoleShape::slot);
    EXPECT_EQ(job.mounts[1].size, (Entry{millimetres(9), "9"}));
    bench::expect_kept(job);
    const Job stations = after(paste(Job{}, Table::stations, 0, 0, "1\t0\n2\t15 3/4\"\n3\t810.25\n"), Job{});
    ASSERT_EQ(stations.stations.size(), 3U);
    EXPECT_EQ(stations.stations[1].along.typed, "15 3/4\"");
}

TEST(Paste, StationNamesCanChangeAboutInOneGo) {
    const Job job = after(paste(bench::channel(), Table::stations, 0, 0, "3\n2\n1\n"), bench::channel());
    EXPECT_EQ(job.skirt.pieces[0].drawn.sections[0].station, "3");
    EXPECT_EQ(job.skirt.pieces[0].drawn.sections[0].nodes[0].id, "1a");
    EXPECT_EQ(job.skirt.pieces[0].drawn.sections[2].station, "1");
}

TEST(Paste, NothingIsWrittenIfOneCellIsWrong) {
    const Job job = estate();
    const std::size_t along = column(Table::mounts, "along");
    const auto edit = paste(job, Table::mounts, 1, along, "260\t54\n545\tfar\n");
    ASSERT_FALSE(edit);
    EXPECT_THAT(refusal(edit), StartsWith("Line 2, out: \"far\" is not a length. Column 1"));
    EXPECT_EQ(job, estate());
    EXPECT_THAT(refusal(paste(job, Table::mounts, 7, column(Table::mounts, "size"), "9\n0\n")),
                StartsWith("Line 2: Mount H9, size: 0 is not above zero."));
    EXPECT_THAT(refusal(paste(job, Table::stations, 1, 1, "300\n200\n")),
                StartsWith("Line 2: Station 3, along: 200 is not behind station 2 at 300."));
    EXPECT_THAT(refusal(paste(job, Table::stations, 1, 1, "300\t5\n")),
                StartsWith("Line 1 has 2 cells, but from along"));
    EXPECT_THAT(refusal(paste(job, Table::mounts, 1, 0, "")), HasSubstr("nothing to paste"));
    EXPECT_THAT(refusal(paste(job, Table::mounts, 1, 0, "\"H")), StartsWith("Line 1: a cell begins with"));
}

TEST(AddRow, HasAFreeNameAndIsAJob) {
    const struct {
        Table table;
        const char* words;
    } expected[] = {{Table::mounts, "add mount H10"},
                    {Table::stations, "add station 11"},
                    {Table::doors, "add door 3"},
                    {Table::keep_outs, "add keep-out 1"}};
    for (const auto& [table, said] : expected) {
        const auto edit = add_row(estate(), table);
        EXPECT_EQ(words(edit), said);
        const Job job = after(edit, estate());
        bench::expect_kept(job);
        const std::size_t last = row_count(job, table) - 1;
        EXPECT_EQ(last, row_count(estate(), table));
        EXPECT_EQ(after(delete_rows(job, table, {last}), job), estate());
        Job bare = after(add_row(Job{}, table), Job{});
        bare = after(add_row(bare, table), bare);
        EXPECT_EQ(row_count(bare, table), 2U);
        bench::expect_kept(bare);
    }
    EXPECT_FALSE(after(add_row(estate(), Table::mounts), estate()).mounts.back().size) << "nothing is measured of it";
}

TEST(DeleteRows, TakesAllThatAreChosen) {
    const auto edit = delete_rows(estate(), Table::mounts, {3, 0, 3});
    EXPECT_EQ(words(edit), "delete mounts H1, H4");
    EXPECT_EQ(after(edit, estate()).mounts[2].name, "H5");
    const auto stations = delete_rows(estate(), Table::stations, {4, 9});
    EXPECT_EQ(words(stations), "delete stations 5, 10");
    const Job job = after(stations, estate());
    EXPECT_EQ(job.stations.size(), 8U);
    EXPECT_EQ(job.skirt.pieces[0].drawn.sections[4].nodes[0].id, "s6.1");
    EXPECT_EQ(job.skirt.pieces[0].drawn.sections[4].station, "5");
    EXPECT_EQ(words(delete_rows(estate(), Table::keep_outs, {0})), "delete keep-out front jacking pad");
    EXPECT_THAT(refusal(delete_rows(estate(), Table::mounts, {9})), HasSubstr("no row 10"));
    EXPECT_THAT(refusal(delete_rows(estate(), Table::mounts, {})), HasSubstr("No row is chosen"));
}

}  // namespace
}  // namespace sillwright::core
