#include "core/edit/book_edit.h"

#include <gmock/gmock.h>

#include <cmath>

#include "bench_job.h"
#include "core/survey/reading_line.h"

namespace sillwright::core {
namespace {

using bench::after;
using bench::mm;
using bench::refusal;
using bench::words;
using survey::line_of_reading;
using testing::ElementsAre;
using testing::HasSubstr;

Job with_lines(const std::vector<std::string>& lines) {
    Job job;
    job.vehicle = "Estate A, invented";
    for (const std::string& line : lines) {
        job = after(add_reading(job, line), job);
    }
    return job;
}

std::vector<std::string> lines_of(const Job& job) {
    std::vector<std::string> lines;
    for (const survey::Reading& reading : job.book.readings) {
        lines.push_back(line_of_reading(reading, job.unit) + (reading.dropped.empty() ? "" : " | " + reading.dropped));
    }
    return lines;
}

TEST(AddReading, WritesTheLineAtTheEnd) {
    const Job job = with_lines({"E H1 1473.5"});
    const auto edit = add_reading(job, "height A H1 -212");
    EXPECT_EQ(words(edit), "write reading height A H1 -212");
    const Job more = after(edit, job);
    EXPECT_THAT(lines_of(more), ElementsAre("E H1 1473.5", "height A H1 -212"));
    EXPECT_EQ(more.book.readings[1].id, "r2");
    bench::expect_kept(more);
    EXPECT_THAT(refusal(add_reading(job, "E H1")), HasSubstr("Column 5"));
}

TEST(AddReadings, GivesNewIdsToAll) {
    const Job job = with_lines({"E H1 1473.5"});
    std::vector<survey::Reading> more = with_lines({"E H2 1000", "E H3 900"}).book.readings;
    const auto edit = add_readings(job, more);
    EXPECT_EQ(words(edit), "take 2 readings");
    const Job taken = after(edit, job);
    EXPECT_THAT(lines_of(taken), ElementsAre("E H1 1473.5", "E H2 1000", "E H3 900"));
    EXPECT_EQ(taken.book.readings[2].id, "r3");
    more[1].set_up = "lift";
    EXPECT_THAT(refusal(add_readings(job, more)), HasSubstr("no set-up \"lift\""));
    EXPECT_THAT(refusal(add_readings(job, {})), HasSubstr("no reading"));
}

TEST(DropReading, LeavesItInTheBookWithTheReason) {
    const Job job = with_lines({"E H1 1484"});
    const auto edit = drop_reading(job, "r1", " tape had a twist ");
    EXPECT_EQ(words(edit), "drop reading E H1 1484");
    const Job dropped = after(edit, job);
    EXPECT_THAT(lines_of(dropped), ElementsAre("E H1 1484 | tape had a twist"));
    EXPECT_EQ(after(take_back_reading(dropped, "r1"), dropped), job);
    EXPECT_THAT(refusal(drop_reading(job, "r1", "  ")), HasSubstr("Write why"));
    EXPECT_THAT(refusal(drop_reading(dropped, "r1", "again")), HasSubstr("dropped already"));
    EXPECT_THAT(refusal(drop_reading(job, "r9", "why")), HasSubstr("no reading \"r9\""));
    EXPECT_THAT(refusal(take_back_reading(job, "r1")), HasSubstr("counts already"));
}

TEST(CorrectReading, KeepsWhatWasWritten) {
    const Job job = with_lines({"E H1 1484", "E H2 1000"});
    const auto edit = correct_reading(job, "r1", "E H1 1474");
    EXPECT_EQ(words(edit), "correct reading E H1 1484 to E H1 1474");
    const Job corrected = after(edit, job);
    EXPECT_THAT(lines_of(corrected),
                ElementsAre("E H1 1484 | written as E H1 1484, corrected", "E H1 1474", "E H2 1000"));
    EXPECT_EQ(corrected.book.readings[1].id, "r3");
    EXPECT_THAT(refusal(correct_reading(job, "r1", "E H1 1484")), HasSubstr("same as before"));
}

TEST(SetPoint, TakesTheWholeEntryButKeepsWhatItDoesNotKnow) {
    Job job = with_lines({"E H1 1484"});
    survey::Point point;
    point.name = "H1";
    point.kind = survey::PointKind::mount;
    point.note = "burr";
    job = after(set_point(job, point), job);
    job.book.points[0].unknown.fields["colour"] = "\"red\"";
    point.note.clear();
    point.along = mm(300);
    const auto edit = set_point(job, point);
    EXPECT_EQ(words(edit), "describe point H1");
    job = after(edit, job);
    ASSERT_EQ(job.book.points.size(), 1U);
    EXPECT_EQ(job.book.points[0].along, mm(300));
    EXPECT_EQ(job.book.points[0].note, "");
    EXPECT_EQ(job.book.points[0].unknown.fields.count("colour"), 1U);
    job = after(delete_point(job, "H1"), job);
    EXPECT_TRUE(job.book.points.empty());
    EXPECT_THAT(refusal(delete_point(job, "H1")), HasSubstr("but its readings"));
}

TEST(RenamePoint, RenamesItEverywhere) {
    Job job = bench::estate();
    job.book.readings.clear();
    job.book.points.clear();
    job.book.hinges = {{"front door", {"T1"}, {}}};
    for (const char* line : {"E H1 1473.5", "E T1/2 900", "E h1 1473"}) {
        job = after(add_reading(job, line), job);
    }
    survey::Photo photo;
    photo.name = "side";
    photo.path = "side.png";
    photo.points = {{10, 20, "H1", {}, {}, {}}};
    job.photos = {photo};
    const Job renamed = after(rename_point(job, "H1", "K1"), job);
    EXPECT_THAT(lines_of(renamed), ElementsAre("E K1 1473.5", "E T1/2 900", "E h1 1473"));
    EXPECT_EQ(renamed.mounts[0].name, "K1");
    EXPECT_EQ(renamed.photos[0].points[0].point, "K1");
    const Job target = after(rename_point(job, "T1", "rear low"), job);
    EXPECT_THAT(lines_of(target), ElementsAre("E H1 1473.5", "E \"rear low/2\" 900", "E h1 1473"));
    EXPECT_THAT(target.book.hinges[0].targets, ElementsAre("rear low"));
    EXPECT_THAT(refusal(rename_point(job, "h1", "H1")), HasSubstr("already"));
    const auto joined = rename_point(job, "h1", "H1", true);
    EXPECT_EQ(words(joined), "join point h1 with H1");
    EXPECT_THAT(lines_of(after(joined, job)), ElementsAre("E H1 1473.5", "E T1/2 900", "E H1 1473"));
    EXPECT_THAT(refusal(rename_point(job, "H1", "E", true)), HasSubstr("one point twice"));
    EXPECT_THAT(refusal(rename_point(job, "Z", "Y")), HasSubstr("no point \"Z\""));
}

TEST(SetSetUp, ReadingsFollowItsName) {
    Job job;
    survey::SetUp lift;
    lift.name = "lift";
    job = after(set_set_up(job, "", lift), job);
    job = after(add_reading(job, "E H1 1473.5", "lift"), job);
    EXPECT_THAT(refusal(delete_set_up(job, "lift")), HasSubstr("1 reading was made"));
    survey::SetUp stands = lift;
    stands.name = "stands";
    stands.roll = geometry::degrees(0.3);
    const auto edit = set_set_up(job, "lift", stands);
    EXPECT_EQ(words(edit), "rename set-up lift to stands");
    const Job renamed = after(edit, job);
    EXPECT_THAT(lines_of(renamed), ElementsAre("E H1 1473.5 @stands"));
    EXPECT_THAT(refusal(set_set_up(job, "", lift)), HasSubstr("twice"));
    EXPECT_THAT(refusal(set_set_up(job, "ramp", lift)), HasSubstr("no set-up \"ramp\""));
}

TEST(DeleteSetUp, TheFirstStaysWhileReadingsWithoutOneWereMadeInIt) {
    Job job = with_lines({"E H1 1473.5"});
    survey::SetUp wheels;
    wheels.name = "wheels";
    job = after(set_set_up(job, "", wheels), job);
    EXPECT_THAT(refusal(delete_set_up(job, "wheels")), HasSubstr("without a set-up"));
}

TEST(SetInstrument, AddsChangesDeletes) {
    Job job;
    survey::Instrument tape;
    tape.name = "tape 5 m";
    tape.tape_class = survey::TapeClass::ii;
    job = after(set_instrument(job, "", tape), job);
    tape.sd = mm(0.8);
    EXPECT_EQ(words(set_instrument(job, "tape 5 m", tape)), "change instrument tape 5 m");
    EXPECT_TRUE(after(delete_instrument(job, "tape 5 m"), job).book.instruments.empty());
    tape.sd = mm(0);
    EXPECT_THAT(refusal(set_instrument(job, "tape 5 m", tape)), HasSubstr("not above zero"));
}

TEST(FrameByMarks, HoldsThreeTwoOneAndNothingElse) {
    Job job = with_lines({"A B 1500", "A C 700", "B C 1300", "D A 40"});
    survey::Point held;
    held.name = "D";
    held.along = mm(5);
    job = after(set_point(job, held), job);
    FrameMarks marks;
    marks.origin = "A";
    marks.behind = "B";
    marks.beside = "C";
    marks.up = mm(120);
    const auto edit = frame_by_marks(job, marks);
    EXPECT_EQ(words(edit), "set the frame by A, B and C");
    const Job framed = after(edit, job);
    int along = 0;
    int out = 0;
    int up = 0;
    for (const survey::Point& point : framed.book.points) {
        along += point.along.has_value() ? 1 : 0;
        out += point.out.has_value() ? 1 : 0;
        up += point.up.has_value() ? 1 : 0;
    }
    EXPECT_EQ(along, 1);
    EXPECT_EQ(out, 2);
    EXPECT_EQ(up, 3);
    for (const survey::Point& point : framed.book.points) {
        EXPECT_EQ(point.about_along, point.name == "B" ? std::optional(mm(1500)) : std::nullopt);
    }
    ASSERT_EQ(framed.book.set_ups.size(), 1U);
    EXPECT_FALSE(framed.book.set_ups[0].level);
    marks.beside = "B";
    EXPECT_THAT(refusal(frame_by_marks(job, marks)), HasSubstr("three different marks"));
    marks.beside = "Z";
    EXPECT_THAT(refusal(frame_by_marks(job, marks)), HasSubstr("no point \"Z\""));
}

TEST(SetHingeSet, OneOfEachDoor) {
    Job job;
    job = after(set_hinge_set(job, {"front door", {"T1", "T2"}, {}}), job);
    const auto edit = set_hinge_set(job, {"front door", {"T1", "T2", "T3"}, {}});
    EXPECT_EQ(words(edit), "take the targets of front door: T1, T2 and T3");
    job = after(edit, job);
    ASSERT_EQ(job.book.hinges.size(), 1U);
    EXPECT_THAT(refusal(set_hinge_set(job, {"rear door", {"T1", "T1"}, {}})), HasSubstr("twice"));
    EXPECT_TRUE(after(delete_hinge_set(job, "front door"), job).book.hinges.empty());
    EXPECT_THAT(refusal(delete_hinge_set(job, "rear door")), HasSubstr("no targets"));
}

TEST(AnswerMirrored, NotesWhatWasAskedAndNothingElse) {
    const Job job = with_lines({"A H3 500"});
    survey::Mirrored question;
    question.points = {"H2", "H3"};
    question.here_mm = {{100.0, 12.2, 0.0}, {300.4, 12.2, 16.0}};
    question.there_mm = {{100.0, 12.2, 0.0}, {300.4, 12.2, -40.6}};
    question.asked = 1;
    question.coordinate = 2;
    const Job answered = after(answer_mirrored(job, question, false), job);
    ASSERT_EQ(answered.book.points.size(), 1U);
    EXPECT_EQ(answered.book.points[0].name, "H3");
    EXPECT_FALSE(answered.book.points[0].about_along);
    EXPECT_FALSE(answered.book.points[0].about_out);
    EXPECT_EQ(answered.book.points[0].about_up, mm(-41));
    EXPECT_FALSE(answered.book.points[0].along);
}

TEST(SetBookHead, RefusesWhatIsNoDate) {
    const Job job;
    EXPECT_EQ(after(set_book_head(job, "Ada", "2026-03-14", 19.5), job).book.temperature, 19.5);
    EXPECT_THAT(refusal(set_book_head(job, "Ada", "14.3.2026", {})), HasSubstr("is not a date"));
    EXPECT_THAT(refusal(set_book_head(job, "Ada", "", 68.0 + 10.0)), HasSubstr("degrees Celsius"));
}

TEST(SetOtherHand, StaysInTheJobsFolder) {
    const Job job;
    EXPECT_EQ(after(set_other_hand(job, "estate_a_left.sillwright"), job).other_hand, "estate_a_left.sillwright");
    EXPECT_THAT(refusal(set_other_hand(job, "../left.sillwright")), HasSubstr("out of the job's folder"));
}

Job measured() {
    auto job = read_job(bench::k_samples / "measuring_book.sillwright");
    EXPECT_TRUE(job) << (job ? "" : job.error().message);
    return job ? std::move(job).value() : Job{};
}

TEST(AddMountsFromBook, PlacesThemWhereTheBookHasThemAndKeepsThemThere) {
    const Job job = measured();
    const auto edit = add_mounts_from_book(job);
    EXPECT_EQ(words(edit), "add mounts H1, H2, H3 and H4 from the book");
    const Job placed = after(edit, job);
    ASSERT_EQ(placed.mounts.size(), 4U);
    EXPECT_TRUE(placed.mounts[1].from_book);
    // Made from a hole at 719.2 along; the tapes leave it within some millimetres.
    EXPECT_NEAR(geometry::in_mm(placed.mounts[1].at.along.value), 719.2, 4.0);
    EXPECT_TRUE(placed.mounts[1].sd[0]);
    bench::expect_kept(placed);
    // The reading with its digits changed over pulled H1 away: dropped, it goes back at once.
    std::string wrong;
    for (const survey::Reading& reading : job.book.readings) {
        wrong = reading.value->typed == "1604.0" ? reading.id : wrong;
    }
    const Job dropped = after(drop_reading(placed, wrong, "digits changed over"), placed);
    EXPECT_NEAR(geometry::in_mm(dropped.mounts[0].at.along.value), 262.7, 2.0);
    EXPECT_GT(std::abs(geometry::in_mm(placed.mounts[0].at.along.value) - 262.7), 2.0);
    EXPECT_THAT(refusal(add_mounts_from_book(placed)), HasSubstr("places no mount"));
    EXPECT_THAT(refusal(add_mounts_from_book(placed, {"H1"})), HasSubstr("already"));
    EXPECT_THAT(refusal(add_mounts_from_book(placed, {"Z"})), HasSubstr("no reading of Z"));
}

TEST(KeepMountFromBook, RefusesWhatTheBookCannotPlace) {
    Job job = with_lines({"A H1 500"});
    Mount mount;
    mount.name = "H1";
    job.mounts = {mount};
    EXPECT_THAT(refusal(keep_mount_from_book(job, "H1", true)), HasSubstr("does not place mount H1 yet"));
    EXPECT_THAT(refusal(keep_mount_from_book(job, "H9", true)), HasSubstr("no mount \"H9\""));
    EXPECT_THAT(refusal(keep_hinge_from_book(job, "front door", true)), HasSubstr("no door"));
}

TEST(AddFromCsv, BringsSetUpsAndInstrumentsAlong) {
    const auto csv =
        survey::book_of_csv("from,to,value,set-up,instrument\nE,H1,1473.5,lift,steel tape\n", {}, BareUnit::mm);
    ASSERT_TRUE(csv);
    const Job taken = after(add_from_csv(Job{}, csv.value()), Job{});
    EXPECT_THAT(lines_of(taken), ElementsAre("E H1 1473.5 @lift by \"steel tape\""));
    ASSERT_EQ(taken.book.set_ups.size(), 1U);
    EXPECT_TRUE(taken.book.set_ups[0].level) << "as a book without set-ups is";
    bench::expect_kept(taken);
}

}  // namespace
}  // namespace sillwright::core
