#include "core/edit/section_edit.h"

#include <gmock/gmock.h>

#include "loft_compare.h"

namespace sillwright::core {
namespace {

using bench::after;
using bench::channel;
using bench::estate;
using bench::k_body;
using bench::k_piece;
using bench::mm;
using bench::node;
using bench::refusal;
using bench::words;
using geometry::in_mm;
using geometry::millimetres;
using testing::HasSubstr;
using testing::StartsWith;

/// The channel with its shelf edge gone at station 3: it runs out at 200 mm.
Job running_out() {
    Job job = channel();
    Drawn& body = job.skirt.pieces[0].drawn;
    body.sections[2].nodes.erase(body.sections[2].nodes.begin() + 1);
    body.run_outs = {{"shelf edge", mm(200)}};
    return job;
}

TEST(CopySection, TakesTheShapeAndKeepsTheIds) {
    const Job job = estate();
    const auto edit = copy_section(job, k_piece, "3", {"6", "4", "5"});
    EXPECT_EQ(words(edit), "copy section 3 to stations 4 to 6");
    const Job copied = after(edit, job);
    const Drawn& body = copied.skirt.pieces[0].drawn;
    for (const std::size_t k : {3U, 4U, 5U}) {
        ASSERT_EQ(body.sections[k].nodes.size(), body.sections[2].nodes.size());
        for (std::size_t i = 0; i < body.sections[k].nodes.size(); ++i) {
            EXPECT_EQ(body.sections[k].nodes[i].id, job.skirt.pieces[0].drawn.sections[k].nodes[i].id);
            EXPECT_EQ(body.sections[k].nodes[i].out, body.sections[2].nodes[i].out);
            EXPECT_EQ(body.sections[k].nodes[i].up, body.sections[2].nodes[i].up);
            EXPECT_EQ(body.sections[k].nodes[i].radius, body.sections[2].nodes[i].radius);
        }
    }
    EXPECT_EQ(copied.body, job.body) << "other bodies stay";
    bench::expect_kept(copied);
}

TEST(CopySection, MakesSectionsThatAreNotThere) {
    Job job = channel();
    job.skirt.pieces[0].drawn.sections.erase(job.skirt.pieces[0].drawn.sections.begin() + 1);
    const auto edit = copy_section(job, k_piece, "1", {"2"});
    EXPECT_EQ(words(edit), "copy section 1 to station 2");
    const Job copied = after(edit, job);
    EXPECT_EQ(copied.skirt.pieces[0].drawn.sections[1].station, "2");
    bench::expect_kept(copied);  // with ids that are each their own
    EXPECT_EQ(words(copy_section(estate(), k_piece, "3", {"4", "6", "9"})), "copy section 3 to stations 4, 6 and 9");
    EXPECT_EQ(words(copy_section(estate(), k_piece, "3", {"4", "5"})), "copy section 3 to stations 4 and 5");
}

TEST(CopySection, ARunOutGoesWhereTheFeatureGoesOn) {
    const Job copied = after(copy_section(running_out(), k_piece, "2", {"3"}), channel());
    EXPECT_TRUE(copied.skirt.pieces[0].drawn.run_outs.empty());
    EXPECT_EQ(bench::loft(copied, k_piece).names().size(), 4U);
    const Job lost = after(copy_section(running_out(), k_piece, "3", {"1", "2"}), channel());
    EXPECT_TRUE(lost.skirt.pieces[0].drawn.run_outs.empty()) << "no section has the node any longer";
}

TEST(CopySection, RefusesWhatIsNotThere) {
    EXPECT_THAT(refusal(copy_section(channel(), k_piece, "9", {"1"})), HasSubstr("no station \"9\""));
    EXPECT_THAT(refusal(copy_section(channel(), k_piece, "1", {"9"})), HasSubstr("no station \"9\""));
    EXPECT_THAT(refusal(copy_section(channel(), k_body, "1", {"2"})), HasSubstr("no section of the body at station 1"));
    EXPECT_THAT(refusal(copy_section(channel(), k_piece, "1", {"1"})), HasSubstr("Choose one or more"));
}

TEST(AddStation, GivesWhatTheGuideLinesGive) {
    const Job job = estate();
    const auto edit = add_station(job, millimetres(700));
    EXPECT_EQ(words(edit), "add station 5");
    const Job added = after(edit, job);
    ASSERT_EQ(added.stations.size(), 11U);
    for (std::size_t i = 0; i < added.stations.size(); ++i) {
        EXPECT_EQ(added.stations[i].name, std::to_string(i + 1)) << "numbered anew from front to rear";
    }
    for (const DrawnId id : all_drawn(job)) {
        const auto before = bench::loft(job, id);
        const auto now = bench::loft(added, id);
        const bool reaches = before.front() < millimetres(700) && millimetres(700) < before.rear();
        EXPECT_EQ(now.sections().size(), before.sections().size() + (reaches ? 1 : 0)) << name_of(job, id);
        if (reaches) {
            const auto wanted = before.nodes_at(millimetres(700));
            const auto given = now.nodes_at(millimetres(700));
            ASSERT_EQ(given.size(), wanted.size());
            for (std::size_t i = 0; i < given.size(); ++i) {
                EXPECT_LE((given[i].p_mm - wanted[i].p_mm).norm(), 1e-9);
                EXPECT_NEAR(in_mm(given[i].radius), in_mm(wanted[i].radius), 1e-9);
            }
            EXPECT_LE(bench::apart_mm(before, now, 700), 1e-9);
        }
        for (const auto& section : before.sections()) {
            EXPECT_LE(bench::apart_mm(before, now, in_mm(section.along)), 1e-9) << "as measured at every other station";
        }
        // Between, the guide lines go through one place more. The measured points of Estate A stray from smooth
        // lines by their half millimetres, and no guide line moves by more than half of that.
        for (double along = in_mm(before.front()); along <= in_mm(before.rear()); along += 25.0) {
            EXPECT_LE(bench::apart_mm(before, now, along), 0.25) << name_of(job, id) << " at " << along;
        }
    }
    bench::expect_kept(added);
    EXPECT_EQ(after(delete_station(added, "5"), added), job);
}

TEST(AddStation, SectionsFollowTheirStationsNewNumbers) {
    const Job added = after(add_station(channel(), millimetres(50)), channel());
    EXPECT_EQ(added.skirt.pieces[0].drawn.sections[2].station, "3");
    EXPECT_EQ(added.stations[2].along, mm(100));
    EXPECT_EQ(node(added, "2b").name, "shelf edge");
    EXPECT_EQ(added.skirt.pieces[0].drawn.sections[2].nodes[1].id, "2b");
}

TEST(AddStation, OutsideTheSectionsGivesNone) {
    const Job added = after(add_station(channel(), millimetres(400)), channel());
    EXPECT_EQ(added.stations.back().name, "4");
    EXPECT_EQ(added.skirt, channel().skirt);
}

TEST(AddStation, NamesThatAreNoNumbersStay) {
    Job job = channel();
    job.stations[0].name = "front";
    job.skirt.pieces[0].drawn.sections[0].station = "front";
    const Job added = after(add_station(job, millimetres(50)), job);
    EXPECT_EQ(added.stations[1].name, "station 1");
    EXPECT_EQ(added.stations[2].name, "2");
}

TEST(AddStation, InAJobWithoutStations) {
    const Job added = after(add_station(Job{}, millimetres(0)), Job{});
    ASSERT_EQ(added.stations.size(), 1U);
    EXPECT_EQ(added.stations[0].name, "1");
}

TEST(AddStation, NeedsRoom) {
    for (const double along : {99.5, 100.0, 100.9}) {
        const auto edit = add_station(channel(), millimetres(along));
        ASSERT_FALSE(edit);
        EXPECT_EQ(edit.error().code, geometry::ErrorCode::does_not_fit);
        EXPECT_THAT(refusal(edit), StartsWith("Station 2 stands at 100.00 mm already"));
    }
    EXPECT_TRUE(add_station(channel(), millimetres(101)));
    EXPECT_THAT(refusal(add_station(running_out(), millimetres(200.5))),
                StartsWith("At 200.00 mm shelf edge runs out"));
}

TEST(AddStation, OnEitherSideOfARunOut) {
    for (const double along : {150.0, 250.0}) {
        const Job job = running_out();
        const Job added = after(add_station(job, millimetres(along)), job);
        EXPECT_EQ(added.skirt.pieces[0].drawn.sections[2].nodes.size(), along < 200 ? 4U : 3U);
        EXPECT_EQ(added.skirt.pieces[0].drawn.run_outs.size(), 1U);
        EXPECT_LE(bench::apart_mm(bench::loft(job, k_piece), bench::loft(added, k_piece), along), 1e-9);
    }
}

TEST(DeleteStation, TakesItsSectionsAndNumbersAnew) {
    const auto edit = delete_station(estate(), "4");
    EXPECT_EQ(words(edit), "delete station 4");
    const Job left = after(edit, estate());
    EXPECT_EQ(left.stations.back().name, "9");
    EXPECT_EQ(left.skirt.pieces[0].drawn.sections.size(), 9U);
    EXPECT_EQ(left.skirt.pieces[0].drawn.sections[3].nodes[0].id, "s5.1") << "what was station 5 is 4";
    EXPECT_EQ(left.skirt.pieces[0].drawn.sections[3].station, "4");
    bench::expect_kept(left);
    EXPECT_THAT(refusal(delete_station(channel(), "x")), HasSubstr("no station \"x\""));
}

TEST(MoveStation, KeepsWhatWasTyped) {
    const auto edit = move_station(channel(), "2", "5 in");
    EXPECT_EQ(words(edit), "move station 2");
    EXPECT_EQ(after(edit, channel()).stations[1].along, (Entry{geometry::inches(5), "5 in"}));
    EXPECT_THAT(refusal(move_station(channel(), "2", "far")),
                StartsWith("\"far\" is not a length for along. Column 1"));
    EXPECT_THAT(refusal(move_station(channel(), "9", "1")), HasSubstr("no station \"9\""));
}

TEST(MoveStation, StaysBetweenItsNeighboursAndOnItsSideOfARunOut) {
    EXPECT_EQ(refusal(move_station(channel(), "2", "350")),
              "Station 3, along: 300 is not behind station 2 at 350. Each station stands further along than the one "
              "before.");
    EXPECT_THAT(refusal(move_station(running_out(), "2", "250")),
                StartsWith("The station would pass the place where shelf edge of skirt runs out, 200.00 mm"));
}

TEST(DeleteSection, LeavesOtherBodiesAndTheStation) {
    const auto edit = delete_section(estate(), k_piece, "4");
    EXPECT_EQ(words(edit), "delete section of skirt at station 4");
    const Job left = after(edit, estate());
    EXPECT_EQ(left.stations, estate().stations);
    EXPECT_EQ(left.body, estate().body);
    EXPECT_EQ(left.skirt.pieces[0].drawn.sections.size(), 9U);
    EXPECT_THAT(refusal(delete_section(left, k_piece, "4")), HasSubstr("no section of skirt at station 4"));
    EXPECT_TRUE(after(delete_section(running_out(), k_piece, "3"), channel()).skirt.pieces[0].drawn.run_outs.empty());
}

TEST(DeleteSection, DownToNone) {
    Job job = channel();
    for (const char* station : {"1", "3", "2"}) {
        job = after(delete_section(job, k_piece, station), job);
        bench::expect_kept(job);
    }
    EXPECT_TRUE(job.skirt.pieces[0].drawn.empty());
}

}  // namespace
}  // namespace sillwright::core
