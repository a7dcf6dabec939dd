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

TEST(AddRow, OfFormingHasAFreeNameAndIsAJob) {
    const struct {
        Table table;
        const char* words;
    } expected[] = {{Table::drains, "add drain at 350"},
                    {Table::flutes, "add flute 4"},
                    {Table::recesses, "add recess 1"},
                    {Table::generations, "add generation sheet 1"},
                    {Table::ticks, "add tick 1"},
                    {Table::machines, "add machine 1"},
                    {Table::stock, "add stock size 1"},
                    {Table::bits, "add bit 1"},
                    {Table::gauge_points, "add gauge point at station 3"},
                    {Table::boards, "add board 1"},
                    {Table::defects, "add defect 1"}};
    const Job before = bench::formed();
    for (const auto& [table, said] : expected) {
        const auto edit = add_row(before, table);
        EXPECT_EQ(words(edit), said);
        const Job job = after(edit, before);
        bench::expect_kept(job);
        const std::size_t last = row_count(job, table) - 1;
        ASSERT_EQ(last, row_count(before, table));
        EXPECT_EQ(after(delete_rows(job, table, {last}), job), before);
    }
    Job bare = bench::channel();
    for (const Table table : k_tables) {
        const std::size_t count = row_count(bare, table);
        bare = after(add_row(bare, table), bare);
        bare = after(add_row(bare, table), bare);
        EXPECT_EQ(row_count(bare, table), count + 2);
        bench::expect_kept(bare);
    }
    EXPECT_EQ(cell(bare, Table::ticks, 0, column(Table::ticks, "generation")), "female") << "behind the plug";
}

TEST(AddRow, ANewFluteStandsBesideTheLastOne) {
    // flute 3: 12 from the edge, 5 wide; 6 mm of land is the usual least.
    const Job job = after(add_row(bench::formed(), Table::flutes), bench::formed());
    const Flute& made = job.skirt.pieces[1].flutes.at(1);
    EXPECT_EQ(in_mm(made.offset.value), 12.0 + 5.0 + 6.0);
    EXPECT_EQ(in_mm(made.width.value), 5.0);
    EXPECT_FALSE(made.front);
}

TEST(AddRow, GenerationsFollowTheMouldChain) {
    Job job;
    for (int i = 0; i < 5; ++i) {
        job = after(add_row(job, Table::generations), job);
    }
    const auto& chain = job.forming.generations;
    const GenerationKind kinds[] = {GenerationKind::plug, GenerationKind::female, GenerationKind::male,
                                    GenerationKind::sheet, GenerationKind::sheet};
    for (std::size_t i = 0; i < chain.size(); ++i) {
        EXPECT_EQ(chain[i].kind, kinds[i]);
        EXPECT_FALSE(chain[i].shrink_along) << "nothing is assumed unasked";
    }
    EXPECT_EQ(chain[2].name, "male");
    EXPECT_EQ(chain[4].name, "sheet 1");
}

TEST(AddRow, SaysWhatMustBeThereFirst) {
    EXPECT_THAT(refusal(add_row(Job{}, Table::flutes)), HasSubstr("Draw the skirt first."));
    EXPECT_THAT(refusal(add_row(Job{}, Table::drains)), HasSubstr("Draw the skirt first."));
    EXPECT_THAT(refusal(add_row(Job{}, Table::ticks)), HasSubstr("Add the mould chain's generations first."));
    EXPECT_THAT(refusal(add_row(Job{}, Table::gauge_points)), HasSubstr("Add a station first."));
    EXPECT_THAT(refusal(paste(Job{}, Table::recesses, 0, 0, "badge")), HasSubstr("Draw the skirt first."));
    EXPECT_THAT(refusal(add_row(Job{}, Table::defects)), HasSubstr("Add a board first."));
}

// Read by eye in bench::formed.
TEST(TableCell, ReadsTheForming) {
    const Job job = bench::formed();
    const auto text = [&](Table table, std::size_t row, const std::string& name) {
        return cell(job, table, row, column(table, name));
    };
    EXPECT_EQ(row_count(job, Table::flutes), 3U);
    EXPECT_EQ(text(Table::flutes, 1, "width"), "6");
    EXPECT_EQ(text(Table::flutes, 0, "front"), "20");
    EXPECT_EQ(text(Table::flutes, 0, "rear"), "");
    EXPECT_EQ(text(Table::flutes, 0, "bit"), "nose");
    EXPECT_EQ(text(Table::flutes, 1, "piece"), "skirt");
    EXPECT_EQ(text(Table::flutes, 2, "name"), "flute 3");
    EXPECT_EQ(text(Table::flutes, 2, "piece"), "end piece");
    EXPECT_EQ(text(Table::recesses, 0, "corner radius"), "6");
    EXPECT_EQ(text(Table::recesses, 0, "on"), "face");
    EXPECT_EQ(text(Table::drains, 1, "size"), "8");
    EXPECT_EQ(text(Table::generations, 1, "kind"), "female");
    EXPECT_EQ(text(Table::generations, 2, "shrinkage along"), "0.15 %");
    EXPECT_EQ(text(Table::generations, 2, "shrinkage across"), "");
    EXPECT_EQ(text(Table::generations, 3, "quoted hot"), "no");
    EXPECT_EQ(text(Table::generations, 3, "mould hot"), "60");
    EXPECT_EQ(text(Table::generations, 3, "mould's expansion"), "0.000025");
    EXPECT_EQ(row_count(job, Table::ticks), 3U);
    EXPECT_EQ(text(Table::ticks, 2, "now"), "119.8");
    EXPECT_EQ(text(Table::ticks, 2, "direction"), "across");
    EXPECT_EQ(text(Table::ticks, 0, "generation"), "female");
    EXPECT_EQ(text(Table::machines, 0, "clamp margin"), "25");
    EXPECT_EQ(text(Table::stock, 0, "price"), "61.5");
    EXPECT_EQ(text(Table::bits, 1, "form"), "vee");
    EXPECT_EQ(text(Table::bits, 1, "angle"), "90");
    EXPECT_EQ(row_count(job, Table::gauge_points), 3U);
    EXPECT_EQ(text(Table::gauge_points, 2, "station"), "3");
    EXPECT_EQ(text(Table::gauge_points, 2, "out"), "2");
}

TEST(WriteCell, OfFormingChangesItsRowAlone) {
    const Job before = bench::formed();
    const auto flute = write(before, Table::flutes, 2, "width", "7");
    EXPECT_EQ(words(flute), "write width of flute 3");
    EXPECT_EQ(in_mm(after(flute, before).skirt.pieces[1].flutes[0].width.value), 7.0);
    EXPECT_EQ(after(flute, before).skirt.pieces[0], before.skirt.pieces[0]);
    const auto shrink = write(before, Table::generations, 3, "shrinkage across", "0.7 %");
    EXPECT_EQ(words(shrink), "write shrinkage across of generation sheet");
    EXPECT_EQ(after(shrink, before).forming.generations[3].shrink_across, 0.007);
    const auto hot = write(before, Table::generations, 3, "mould hot", "");
    EXPECT_FALSE(after(hot, before).forming.generations[3].hot);
    // 57.3 °C are 330.45 K, and 330.45 - 273.15 is not 57.3 in doubles.
    const auto warm = write(before, Table::generations, 3, "mould hot", "57.3");
    EXPECT_EQ(cell(after(warm, before), Table::generations, 3, column(Table::generations, "mould hot")), "57.3");
    const auto now = write(before, Table::ticks, 1, "now", "997.4");
    EXPECT_EQ(in_mm(after(now, before).forming.generations[2].ticks[0].now->value), 997.4);
    EXPECT_EQ(words(write(before, Table::gauge_points, 2, "up", "4")), "write up of gauge point at station 3");
}

TEST(WriteCell, OfFormingSaysWhatIsWrongWhere) {
    const Job job = bench::formed();
    EXPECT_THAT(refusal(write(job, Table::flutes, 2, "depth", "0")), StartsWith("End piece, flute 3, depth: 0 is not"));
    EXPECT_THAT(refusal(write(job, Table::flutes, 1, "name", "flute 1")), HasSubstr("stands twice"));
    EXPECT_THAT(refusal(write(job, Table::recesses, 0, "length", "-1")), StartsWith("End piece, badge, length: "));
    EXPECT_THAT(refusal(write(job, Table::drains, 1, "size", "0")), StartsWith("Skirt, drain at 250, size: "));
    EXPECT_THAT(refusal(write(job, Table::generations, 1, "shrinkage along", "60 %")),
                StartsWith("Generation female, shrink along: "));
    EXPECT_THAT(refusal(write(job, Table::generations, 1, "shrinkage along", "much")),
                StartsWith("shrinkage along: \"much\" is not a number of per cent"));
    EXPECT_THAT(refusal(write(job, Table::ticks, 2, "now", "0")), StartsWith("Generation male, C to D, now: "));
    EXPECT_THAT(refusal(write(job, Table::bits, 0, "diameter", "0")), StartsWith("Bit nose, diameter: "));
    EXPECT_THAT(refusal(write(job, Table::flutes, 0, "piece", "roof")), HasSubstr("Write one of: skirt, end piece."));
    EXPECT_THAT(refusal(write(job, Table::gauge_points, 0, "station", "")), HasSubstr("Write one of: 1, 2, 3."));
    EXPECT_THAT(refusal(paste(job, Table::ticks, 1, column(Table::ticks, "before"), "998\n0\n")),
                StartsWith("Line 2: Generation male, C to D, before: "));
}

TEST(WriteCell, FlutesFollowTheirBitAndTheJobItsMachine) {
    Job job = after(write(bench::formed(), Table::bits, 0, "name", "round 12"), bench::formed());
    EXPECT_EQ(job.skirt.pieces[0].flutes[0].bit, "round 12");
    EXPECT_EQ(job.skirt.pieces[0].flutes[1].bit, "");
    EXPECT_EQ(job.skirt.pieces[1].recesses[0].bit, "round 12");
    job = after(write(job, Table::machines, 0, "name", "long frame"), job);
    EXPECT_EQ(job.forming.machine, "long frame");
    job = after(write(job, Table::stations, 2, "name", "rear"), job);
    EXPECT_EQ(job.forming.sculpted.lines[1].station, "rear");
    bench::expect_kept(job);
}

TEST(WriteCell, ARowGoesToAnotherOwner) {
    Job job = after(write(bench::formed(), Table::flutes, 0, "piece", "end piece"), bench::formed());
    EXPECT_EQ(job.skirt.pieces[0].flutes, std::vector{bench::formed().skirt.pieces[0].flutes[1]});
    EXPECT_EQ(job.skirt.pieces[1].flutes[1], bench::formed().skirt.pieces[0].flutes[0]);
    EXPECT_THAT(refusal(write(bench::formed(), Table::ticks, 0, "generation", "male")), HasSubstr("stands twice"));
    // Station 2 has no gauge line yet; that of station 3 goes with its last point.
    job = after(write(bench::formed(), Table::gauge_points, 2, "station", "2"), bench::formed());
    ASSERT_EQ(job.forming.sculpted.lines.size(), 2U);
    EXPECT_EQ(job.forming.sculpted.lines[1].station, "2");
    EXPECT_EQ(job.forming.sculpted.lines[1].points, bench::formed().forming.sculpted.lines[1].points);
    bench::expect_kept(job);
}

TEST(Paste, RowsKeepTheirOrderWhenTheyGoToOtherOwners) {
    const Job job = after(paste(bench::formed(), Table::gauge_points, 0, 0, "3\t11\t1\n2\t22\t2\n2\t33\t3\n1\t44\t4\n"),
                          bench::formed());
    const auto& lines = job.forming.sculpted.lines;
    ASSERT_EQ(lines.size(), 3U);
    const auto outs = [&](std::size_t line) {
        std::vector<double> all;
        for (const GaugePoint& point : lines[line].points) {
            all.push_back(in_mm(point.out.value));
        }
        return all;
    };
    EXPECT_EQ(lines[0].station, "1");
    EXPECT_EQ(outs(0), std::vector{44.0});
    EXPECT_EQ(lines[1].station, "2");
    EXPECT_EQ(outs(1), (std::vector{22.0, 33.0}));
    EXPECT_EQ(lines[2].station, "3");
    EXPECT_EQ(outs(2), std::vector{11.0});
    bench::expect_kept(job);
}

TEST(Paste, AFaultIsLedByItsLineThoughItsRowMoved) {
    // The first line goes behind flute 3: it is the last row then.
    const auto edit = paste(bench::formed(), Table::flutes, 0, 0, "flute 1;10;0;3;0;;;;end piece\n");
    EXPECT_THAT(refusal(edit), StartsWith("Line 1: End piece, flute 1, width: "));
}

TEST(Paste, AWholeGaugeLineIntoAnEmptyJob) {
    const Job job = after(paste(bench::channel(), Table::gauge_points, 0, 0, "2;0;0\n2;100;0\n1;0;5\n2;100;100\n"),
                          bench::channel());
    ASSERT_EQ(job.forming.sculpted.lines.size(), 2U);
    EXPECT_EQ(job.forming.sculpted.lines[0].station, "1");
    ASSERT_EQ(job.forming.sculpted.lines[1].points.size(), 3U);
    EXPECT_EQ(in_mm(job.forming.sculpted.lines[1].points[2].up.value), 100.0);
}

TEST(DeleteRows, OfFormingInWords) {
    const Job job = bench::formed();
    EXPECT_EQ(words(delete_rows(job, Table::generations, {2})), "delete generation male");
    EXPECT_EQ(words(delete_rows(job, Table::flutes, {2})), "delete flute 3");
    EXPECT_EQ(words(delete_rows(job, Table::flutes, {2, 0})), "delete flutes 1, 3");
    EXPECT_EQ(words(delete_rows(job, Table::drains, {0})), "delete drain at 50");
    EXPECT_EQ(words(delete_rows(job, Table::gauge_points, {0, 1})), "delete 2 gauge points");
    const Job left = after(delete_rows(job, Table::flutes, {2, 0}), job);
    EXPECT_EQ(left.skirt.pieces[0].flutes.size(), 1U);
    EXPECT_TRUE(left.skirt.pieces[1].flutes.empty());
    const Job lines = after(delete_rows(job, Table::gauge_points, {0, 1}), job);
    ASSERT_EQ(lines.forming.sculpted.lines.size(), 1U) << "a line without a point goes";
    EXPECT_EQ(lines.forming.sculpted.lines[0].station, "3");
    const Job stations = after(delete_rows(job, Table::stations, {0}), job);
    ASSERT_EQ(stations.forming.sculpted.lines.size(), 1U);
    EXPECT_EQ(stations.forming.sculpted.lines[0].station, "2") << "was station 3";
    EXPECT_THAT(refusal(delete_rows(job, Table::ticks, {3})), HasSubstr("no row 4"));
}

TEST(TableCell, ReadsTheBoards) {
    const Job job = bench::formed();
    const auto text = [&](Table table, std::size_t row, const std::string& name) {
        return cell(job, table, row, column(table, name));
    };
    EXPECT_EQ(row_count(job, Table::boards), 2U);
    EXPECT_EQ(text(Table::boards, 0, "length"), "2440");
    EXPECT_EQ(text(Table::boards, 0, "width"), "");
    EXPECT_EQ(text(Table::boards, 0, "thickness 1"), "11.9");
    EXPECT_EQ(text(Table::boards, 0, "count"), "");
    EXPECT_EQ(text(Table::boards, 0, "grain"), "no");
    EXPECT_EQ(text(Table::boards, 1, "count"), "1");
    EXPECT_EQ(text(Table::boards, 1, "grain"), "yes");
    EXPECT_EQ(text(Table::boards, 1, "price"), "12.5");
    EXPECT_EQ(row_count(job, Table::defects), 3U);
    EXPECT_EQ(text(Table::defects, 0, "name"), "knot");
    EXPECT_EQ(text(Table::defects, 0, "across"), "50");
    EXPECT_EQ(text(Table::defects, 0, "board"), "mdf 12");
    EXPECT_EQ(text(Table::defects, 2, "along"), "400");
    EXPECT_EQ(text(Table::defects, 2, "across"), "");
    EXPECT_EQ(text(Table::defects, 2, "board"), "ply 9");
}

TEST(WriteCell, ChoicesOfABoardFollowItsName) {
    Job job = bench::formed();
    job.buck.spine_board = job.buck.base_board = "mdf 12";
    const Job before = job;
    job = after(write(job, Table::boards, 1, "name", "birch 9"), job);
    EXPECT_EQ(job.buck.rib_board, "birch 9");
    EXPECT_EQ(job.buck.spine_board, "mdf 12");
    job = after(write(job, Table::boards, 0, "name", "ply 9"), job);
    EXPECT_EQ(job.buck.spine_board, "ply 9");
    EXPECT_EQ(job.buck.base_board, "ply 9");
    EXPECT_EQ(job.buck.rib_board, "birch 9");
    const Job changed_about = after(paste(before, Table::boards, 0, 0, "ply 9\nmdf 12\n"), before);
    EXPECT_EQ(changed_about.buck.rib_board, "mdf 12");
    EXPECT_EQ(changed_about.buck.base_board, "ply 9");
    bench::expect_kept(job);
}

TEST(WriteCell, TheBucksBitFollowsItsName) {
    const Job job = after(write(bench::formed(), Table::bits, 0, "name", "ball"), bench::formed());
    EXPECT_EQ(job.buck.bit, "ball");
}

TEST(WriteCell, ADefectGoesToAnotherBoard) {
    const Job before = bench::formed();
    const Job job = after(write(before, Table::defects, 0, "board", "ply 9"), before);
    EXPECT_TRUE(job.buck.boards[0].defects.empty());
    ASSERT_EQ(job.buck.boards[1].defects.size(), 3U);
    EXPECT_EQ(job.buck.boards[1].defects[2], before.buck.boards[0].defects[0]);
    EXPECT_EQ(refusal(write(before, Table::defects, 0, "board", "oak")),
              "board: \"oak\" cannot stand here. Write one of: mdf 12, ply 9.");
    bench::expect_kept(job);
}

TEST(WriteCell, OfBoardsWhatCannotBeMeantIsSaid) {
    const Job job = bench::formed();
    EXPECT_THAT(refusal(write(job, Table::boards, 0, "name", "ply 9")), HasSubstr("\"ply 9\" stands twice"));
    EXPECT_THAT(refusal(write(job, Table::boards, 0, "thickness 2", "0")),
                StartsWith("Board mdf 12, thickness 2: 0 is not above zero."));
    EXPECT_THAT(refusal(write(job, Table::boards, 0, "count", "-1")), StartsWith("Board mdf 12, count: "));
    EXPECT_THAT(refusal(write(job, Table::boards, 0, "grain", "maybe")), HasSubstr("Write one of: yes, no."));
    EXPECT_THAT(refusal(write(job, Table::defects, 1, "width", "0")),
                StartsWith("Board ply 9, corner, width: 0 is not above zero."));
    EXPECT_THAT(refusal(write(job, Table::defects, 2, "name", "corner")), HasSubstr("\"corner\" stands twice"));
}

TEST(DeleteRows, ABoardThatIsChosenIsKept) {
    const Job job = bench::formed();
    EXPECT_THAT(refusal(delete_rows(job, Table::boards, {1})), HasSubstr("there is no board \"ply 9\""));
    EXPECT_EQ(words(delete_rows(job, Table::boards, {0})), "delete board mdf 12");
    const Job left = after(delete_rows(job, Table::defects, {0, 2}), job);
    EXPECT_EQ(words(delete_rows(job, Table::defects, {2})), "delete defect stain");
    EXPECT_TRUE(left.buck.boards[0].defects.empty());
    ASSERT_EQ(left.buck.boards[1].defects.size(), 1U);
    EXPECT_EQ(left.buck.boards[1].defects[0].name, "corner");
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
