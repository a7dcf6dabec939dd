#include "core/edit/other_hand.h"

#include <gtest/gtest.h>

#include <set>

#include "tests/core/edit/bench_job.h"

namespace sillwright::core {
namespace {

using survey::Comparison;
using survey::PointDifference;
using survey::Verdict;

PointDifference point(const std::string& name, double distance, Verdict verdict) {
    PointDifference made;
    made.name = name;
    made.distance_mm = distance;
    made.verdict = verdict;
    return made;
}

Comparison alike() {
    Comparison comparison;
    comparison.verdict = Verdict::same;
    comparison.points = {point("H1", 0.4, Verdict::same), point("H4", 0.9, Verdict::same)};
    return comparison;
}

/// The other side's job: its own measurements, a skirt that goes, other names of stations.
Job left_of(const Job& right) {
    Job left = right;
    left.side = right.side == Side::left ? Side::right : Side::left;
    left.skirt = {};
    for (Mount& mount : left.mounts) {
        mount.at.up.value = mount.at.up.value + geometry::millimetres(0.7);
    }
    left.revision = "left";
    return left;
}

std::set<std::string> ids_of(const Job& job) {
    std::set<std::string> ids;
    std::size_t count = 0;
    for (const DrawnId id : all_drawn(job)) {
        for (const Section& section : drawn(job, id).sections) {
            for (const Node& node : section.nodes) {
                ids.insert(node.id);
                ++count;
            }
        }
    }
    EXPECT_EQ(ids.size(), count);
    return ids;
}

/// What a section says, its ids aside.
void expect_same_numbers(const Section& a, const Section& b) {
    ASSERT_EQ(a.nodes.size(), b.nodes.size());
    for (std::size_t i = 0; i < a.nodes.size(); ++i) {
        EXPECT_EQ(a.nodes[i].name, b.nodes[i].name);
        EXPECT_EQ(a.nodes[i].out, b.nodes[i].out);
        EXPECT_EQ(a.nodes[i].up, b.nodes[i].up);
        EXPECT_EQ(a.nodes[i].radius, b.nodes[i].radius);
    }
}

TEST(OtherHandPart, TheMirroredDesignHasTheSameNumbers) {
    Job right = bench::estate();
    right.fitting.cutter_step = bench::mm(0.25);
    right.limits.line_up_least = 0.99;
    const Job left = left_of(right);
    const auto edit = other_hand_part(right, left, alike());
    ASSERT_TRUE(edit) << edit.error().message;
    const Job& made = edit.value().job;
    EXPECT_EQ(made.skirt, right.skirt);
    EXPECT_EQ(made.fitting.cutter_step, right.fitting.cutter_step);
    EXPECT_EQ(made.limits, right.limits);
    // Of the other side's nothing else is touched.
    Job but_design = made;
    but_design.skirt = left.skirt;
    but_design.limits = left.limits;
    but_design.fitting = left.fitting;
    EXPECT_EQ(but_design, left);
    EXPECT_NE(edit.value().words.find("right"), std::string::npos);
}

TEST(OtherHandPart, BuckAndPapersAreMadeAlike) {
    Job right = bench::estate();
    right.buck = bench::formed().buck;
    right.buck.fit = bench::mm(0.2);
    right.papers.call = "the shop";
    right.papers.foam = bench::mm(55);
    right.buck.unknown.fields["note"] = right.papers.unknown.fields["note"] = "\"ours\"";
    Job left = left_of(right);
    left.buck = {};
    left.papers = {};
    left.buck.unknown.fields["note"] = left.papers.unknown.fields["note"] = "\"theirs\"";
    const auto edit = other_hand_part(right, left, alike());
    ASSERT_TRUE(edit) << edit.error().message;
    Buck buck = right.buck;
    buck.unknown = left.buck.unknown;
    Papers papers = right.papers;
    papers.unknown = left.papers.unknown;
    EXPECT_EQ(edit.value().job.buck, buck);
    EXPECT_EQ(edit.value().job.papers, papers);
}

TEST(OtherHandPart, IsFormedAsThisOneButOnItsOwnMoulds) {
    Job right = bench::formed();
    right.forming.skin = bench::mm(4);
    right.forming.router.land_least = bench::mm(7);
    right.forming.sculpted.sd = bench::mm(0.5);
    Job left = left_of(bench::channel());
    left.side = right.side == Side::left ? Side::right : Side::left;
    Generation male;
    male.name = "male";
    male.kind = GenerationKind::male;
    male.shrink_along = 0.009;
    male.ticks = {bench::tick("E to F", 700, 699)};
    left.forming.generations = {male};
    left.forming.sculpted.lines = {{"2", {{bench::mm(1), bench::mm(2), {}}}, {}}};
    left.forming.unknown.fields["note"] = "\"theirs\"";
    const auto edit = other_hand_part(right, left, alike());
    ASSERT_TRUE(edit) << edit.error().message;
    const Job& made = edit.value().job;
    ASSERT_EQ(made.skirt.pieces.size(), 2U);
    EXPECT_EQ(made.skirt.pieces[0].flutes, right.skirt.pieces[0].flutes);
    EXPECT_EQ(made.skirt.pieces[1].recesses, right.skirt.pieces[1].recesses);
    EXPECT_EQ(made.skirt.pieces[0].drains, right.skirt.pieces[0].drains);
    EXPECT_EQ(made.forming.mould, MouldKind::male);
    EXPECT_EQ(made.forming.skin, right.forming.skin);
    EXPECT_EQ(made.forming.machine, "frame");
    EXPECT_EQ(made.forming.machines, right.forming.machines);
    EXPECT_EQ(made.forming.stock, right.forming.stock);
    EXPECT_EQ(made.forming.router, right.forming.router);
    ASSERT_EQ(made.forming.generations.size(), 4U);
    for (std::size_t i = 0; i < 4; ++i) {
        Generation design = right.forming.generations[i];
        design.ticks = design.name == "male" ? male.ticks : std::vector<Tick>();
        EXPECT_EQ(made.forming.generations[i], design) << design.name;
    }
    EXPECT_EQ(made.forming.sculpted, left.forming.sculpted);
    EXPECT_EQ(made.forming.unknown, left.forming.unknown);
}

TEST(OtherHandPart, GaugeLinesFollowStationsThatAreNumberedAnew) {
    const Job right = bench::channel();
    Job left = bench::channel();
    left.side = right.side == Side::left ? Side::right : Side::left;
    left.skirt.pieces.clear();
    left.stations = {{"1", bench::mm(0), {}}, {"2", bench::mm(300), {}}};
    left.forming.sculpted.lines = {{"2", {{bench::mm(1), bench::mm(2), {}}}, {}}};
    const auto edit = other_hand_part(right, left, alike());
    ASSERT_TRUE(edit) << edit.error().message;
    EXPECT_EQ(edit.value().job.forming.sculpted.lines[0].station, "3");
}

TEST(OtherHandPart, MissingStationsAreMadeForTheSkirtAlone) {
    const Job right = bench::estate();
    Job left = left_of(right);
    left.doors.clear();  // Nothing but the body is drawn there, at other places.
    left.book = {};
    left.photos.clear();
    left.scans.clear();
    left.stations = {{"front", bench::mm(in_mm(right.stations.front().along.value) - 30), {}},
                     {"rear", bench::mm(in_mm(right.stations.back().along.value) + 30), {}}};
    left.body.run_outs.clear();
    left.body.sections.resize(1);
    left.body.sections[0].station = "rear";
    for (Piece piece : right.skirt.pieces) {
        if (piece.carried_by != "body") {
            Door door;
            door.name = piece.carried_by;
            left.doors.push_back(door);
        }
    }
    const auto edit = other_hand_part(right, left, alike());
    ASSERT_TRUE(edit) << edit.error().message;
    const Job& made = edit.value().job;
    EXPECT_EQ(made.body, left.body);
    EXPECT_GT(made.stations.size(), left.stations.size());
    const Piece& from = right.skirt.pieces[0];
    const Piece& to = made.skirt.pieces[0];
    ASSERT_EQ(from.drawn.sections.size(), to.drawn.sections.size());
    for (std::size_t i = 0; i < from.drawn.sections.size(); ++i) {
        const auto along = [](const Job& job, const std::string& name) {
            for (const Station& station : job.stations) {
                if (station.name == name) {
                    return in_mm(station.along.value);
                }
            }
            return -1.0;
        };
        EXPECT_EQ(along(made, to.drawn.sections[i].station), along(right, from.drawn.sections[i].station));
        expect_same_numbers(from.drawn.sections[i], to.drawn.sections[i]);
    }
    ids_of(made);
}

TEST(OtherHandPart, NumberedStationsAreNumberedAnewAndSectionsFollow) {
    const Job right = bench::channel();
    Job left = bench::channel();
    left.side = right.side == Side::left ? Side::right : Side::left;
    left.skirt.pieces.clear();
    left.stations = {{"1", bench::mm(0), {}}, {"2", bench::mm(300), {}}};
    left.body.sections = {{"2", {Node{"1a", "sill", bench::mm(0), bench::mm(0), bench::mm(0), {}}}, {}}};
    const auto edit = other_hand_part(right, left, alike());
    ASSERT_TRUE(edit) << edit.error().message;
    const Job& made = edit.value().job;
    ASSERT_EQ(made.stations.size(), 3U);
    EXPECT_EQ(made.stations[1].name, "2");
    EXPECT_EQ(in_mm(made.stations[1].along.value), 100.0);
    EXPECT_EQ(made.body.sections[0].station, "3");
    // "1a" is taken on the other side: the design's gets a new id.
    ids_of(made);
    EXPECT_EQ(made.body.sections[0].nodes[0].id, "1a");
}

TEST(OtherHandPart, RefusedWhereTheSidesDifferAndTheWorstIsNamed) {
    const Job right = bench::estate();
    Comparison comparison = alike();
    comparison.verdict = Verdict::different;
    comparison.points.push_back(point("H2", 3.4, Verdict::different));
    comparison.points.push_back(point("R5", 5.1, Verdict::different));
    const auto edit = other_hand_part(right, left_of(right), comparison);
    ASSERT_FALSE(edit);
    EXPECT_EQ(edit.error().code, geometry::ErrorCode::does_not_fit);
    EXPECT_NE(edit.error().message.find("R5"), std::string::npos) << edit.error().message;
    EXPECT_NE(edit.error().message.find("5.1 mm"), std::string::npos);
}

TEST(OtherHandPart, NotSureYetIsSaid) {
    const Job right = bench::estate();
    Comparison comparison = alike();
    comparison.verdict = comparison.points[1].verdict = Verdict::measure_better;
    const auto edit = other_hand_part(right, left_of(right), comparison);
    ASSERT_TRUE(edit) << edit.error().message;
    EXPECT_NE(edit.value().words.find("not sure"), std::string::npos);
}

TEST(OtherHandPart, RefusedWhereTheSidesWereNotCompared) {
    const Job right = bench::estate();
    Comparison lacking;
    lacking.lacks = "three common points";
    for (const auto& comparison : {std::optional<Comparison>{}, std::optional{lacking}}) {
        const auto edit = other_hand_part(right, left_of(right), comparison);
        ASSERT_FALSE(edit);
        EXPECT_NE(edit.error().message.find("measure the other side first"), std::string::npos);
    }
    EXPECT_NE(other_hand_part(right, left_of(right), lacking).error().message.find("three common points"),
              std::string::npos);
}

TEST(OtherHandPart, RefusedWhereTheOriginsDiffer) {
    const Job right = bench::estate();
    Comparison comparison = alike();
    comparison.shift_mm = {30, 0, 0};
    const auto edit = other_hand_part(right, left_of(right), comparison);
    ASSERT_FALSE(edit);
    EXPECT_NE(edit.error().message.find("30.0 mm"), std::string::npos) << edit.error().message;
    EXPECT_NE(edit.error().message.find("marks"), std::string::npos);
}

TEST(OtherHandPart, RefusedForTheSameSideOtherUnitsAFileAStationBesideAndADoorThatIsNotThere) {
    const Job right = bench::estate();
    EXPECT_FALSE(other_hand_part(right, right, alike()));
    Job left = left_of(right);
    left.unit = BareUnit::in;
    EXPECT_FALSE(other_hand_part(right, left, alike()));
    left = left_of(right);
    left.stations[1].along = bench::mm(in_mm(left.stations[1].along.value) + 0.5);
    const auto beside = other_hand_part(right, left, alike());
    ASSERT_FALSE(beside);
    EXPECT_NE(beside.error().message.find("Station"), std::string::npos);
    Job swinging = right;
    swinging.skirt.pieces[0].carried_by = right.doors[0].name;
    EXPECT_TRUE(other_hand_part(swinging, left_of(right), alike()));
    left = left_of(right);
    left.doors[0].name = "another door";
    const auto no_door = other_hand_part(swinging, left, alike());
    ASSERT_FALSE(no_door);
    EXPECT_NE(no_door.error().message.find(right.doors[0].name), std::string::npos);
    Job filed = right;
    filed.skirt.pieces[0].drawn = {};
    filed.skirt.pieces[0].file = ShapeFile{"skirt.stl", "", BareUnit::mm, {}};
    EXPECT_FALSE(other_hand_part(filed, left_of(right), alike()));
    Job none = right;
    none.skirt.pieces.clear();
    EXPECT_FALSE(other_hand_part(none, left_of(right), alike()));
}

TEST(OtherHandPart, TheLocatorIsTakenOverWhereItsMountIsThere) {
    Job right = bench::estate();
    right.fitting.locator = right.mounts[0].name;
    right.mounts[0].use = MountUse::flange;
    Job left = left_of(right);
    EXPECT_EQ(other_hand_part(right, left, alike()).value().job.fitting.locator, right.mounts[0].name);
    left.mounts[0].name = "K1";
    left.mounts[0].from_book = false;
    left.fitting.locator = "";
    const auto edit = other_hand_part(right, left, alike());
    ASSERT_TRUE(edit) << edit.error().message;
    EXPECT_EQ(edit.value().job.fitting.locator, "");
}

}  // namespace
}  // namespace sillwright::core
