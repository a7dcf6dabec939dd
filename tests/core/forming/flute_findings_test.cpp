#include "core/forming/flute_findings.h"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>
#include <set>

#include "tests/core/forming/flute_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;
using std::numbers::pi;
using testing::Contains;
using testing::Field;
using testing::HasSubstr;

const std::vector<FluteSection> k_plain{{0, 0, 0}, {1000, 0, 0}};

std::string input(const Finding& finding, const std::string& name) {
    for (const Input& one : finding.inputs) {
        if (one.name == name) {
            return one.value;
        }
    }
    return "no " + name;
}

TEST(FluteFindings, EachHasFormulaSourceStageAndAnIdOfItsOwn) {
    Job job = flute_world(k_plain, {round_flute("a", 40), round_flute("b", 70)});
    Recess badge{"badge",      RecessFace::face, flute_mm(500), flute_mm(30), flute_mm(120),
                 flute_mm(30), flute_mm(1.5),    flute_mm(5),   "",           {}};
    job.skirt.pieces[0].recesses = {badge};
    job.forming.router.base_radius = flute_mm(45);  // the face is 60 high
    std::set<std::string> ids;
    for (const Finding& finding : flute_findings_of(job)) {
        SCOPED_TRACE(finding.id);
        EXPECT_TRUE(ids.insert(finding.id).second);
        EXPECT_EQ(finding.stage, Stage::forming);
        EXPECT_FALSE(finding.formula.empty());
        EXPECT_FALSE(finding.source.empty());
        EXPECT_TRUE(finding.why.ends_with("."));
        EXPECT_TRUE(finding.place.along);
        EXPECT_EQ(finding.state, State::holds) << finding.why << finding.missing.size();
    }
    EXPECT_EQ(ids.size(), 3U * 8 + 1);
    EXPECT_TRUE(ids.contains("forming/skirt/flute/a/land"));
    EXPECT_TRUE(ids.contains("forming/skirt/recess/badge/base plate"));
}

// An upstand of 10 at 60 from the lane, base plate 75 and room 2: short by 17.
TEST(FluteFindings, TheBasePlateFoulsAWall) {
    const Finding finding =
        flute_finding(flute_world({{0, 140, 10}, {1000, 140, 10}}, {round_flute("a", 40)}), "flute/a/base plate");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_NEAR(*finding.margin, -17, 1e-9);
    EXPECT_NEAR(*finding.found, 60, 1e-9);
    EXPECT_NEAR(*finding.required, 77, 1e-9);
    EXPECT_THAT(finding.why, HasSubstr("car's side"));
    EXPECT_EQ(input(finding, "fence on the outer side"), "35.00 mm outward of the shelf edge");
    EXPECT_EQ(input(finding, "or on the inner side"), "115.00 mm inward of the shelf edge");
    EXPECT_EQ(input(finding, "kind of fence"), "straight");
}

TEST(FluteFindings, ANameThatSaysWhatItIsIsNotDoubled) {
    const Job job = flute_world(k_plain, {round_flute("a", 40), round_flute("flute 2", 80)});
    EXPECT_EQ(flute_finding(job, "flute/a/wood").title, "Flute a, wood left below it");
    EXPECT_EQ(flute_finding(job, "flute/flute 2/wood").title, "Flute 2, wood left below it");
}

TEST(FluteFindings, NothingStandsUpOnALevelShelf) {
    const Finding finding = flute_finding(flute_world(k_plain, {round_flute("a", 40)}), "flute/a/base plate");
    EXPECT_EQ(finding.state, State::holds);
    EXPECT_FALSE(finding.found);
}

// The wall comes out from 80 to 40 of the lane over the last tenth: only there it is fouled.
TEST(FluteFindings, FoulsOverTheLastTenthAlone) {
    Flute through = round_flute("a", 40);
    through.rear = flute_mm(1000);
    const Job job =
        flute_world({{0, 120, 10}, {300, 120, 10}, {600, 120, 10}, {900, 120, 10}, {1000, 160, 10}}, {through});
    const Finding finding = flute_finding(job, "flute/a/base plate");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_GT(in_mm(*finding.place.along), 900);
    for (const LaneRow& row : lanes_of(job)[0].rows) {
        if (in_mm(row.along) <= 900 || in_mm(row.along) >= 940) {
            EXPECT_EQ(in_mm(*row.room) < 77, in_mm(row.along) >= 940) << in_mm(row.along) << " " << in_mm(*row.room);
        }
    }
}

// 10.39 from the edge, which falls at 45° and is level to 0.5 for 0.5 more: beyond it (acos q - q sqrt(1 - q²)) / pi of
// the plate hang over, q = 10.89 / 75.
TEST(FluteFindings, TheOutermostBearsByItsSegment) {
    Job job = flute_world(k_plain, {round_flute("a", 10.39)});
    const double q = 10.89 / 75;
    const double bears = 1 - (std::acos(q) - q * std::sqrt(1 - q * q)) / pi;
    const Finding finding = flute_finding(job, "flute/a/bearing");
    EXPECT_EQ(finding.unit, Unit::none);
    EXPECT_NEAR(*finding.found, bears, 1e-9);
    EXPECT_NEAR(bears, 0.5921, 5e-4);
    EXPECT_EQ(finding.state, State::holds);
    job.forming.router.bearing_least = 0.6;
    EXPECT_EQ(flute_finding(job, "flute/a/bearing").state, State::falls_short);
}

TEST(FluteFindings, WoodIsLeftOrNot) {
    Job job = flute_world(k_plain, {round_flute("a", 40)});
    EXPECT_NEAR(*flute_finding(job, "flute/a/wood").margin, 12 - 6 - 3, 1e-9);
    job.forming.router.board = flute_mm(5);
    const Finding through = flute_finding(job, "flute/a/wood");
    EXPECT_EQ(through.state, State::falls_short);
    EXPECT_THAT(through.why, HasSubstr("goes through"));
}

TEST(FluteFindings, TheBitIsSaid) {
    Job job = flute_world(k_plain, {round_flute("a", 40)});
    job.skirt.pieces[0].flutes[0].width = flute_mm(24);
    const Finding narrow = flute_finding(job, "flute/a/bit");
    EXPECT_EQ(narrow.state, State::falls_short);
    EXPECT_NEAR(*narrow.found, 24 - 20.785, 5e-4);
    EXPECT_THAT(narrow.why, HasSubstr("20.78 mm"));
    job.skirt.pieces[0].flutes[0].bit = "round nose 6";
    job.skirt.pieces[0].flutes[0].depth = flute_mm(14);
    EXPECT_THAT(flute_finding(job, "flute/a/bit").inputs, Contains(Field(&Input::name, "bit")));
    job.skirt.pieces[0].flutes[0].width = flute_mm(6);
    job.skirt.pieces[0].flutes[0].bottom_radius = flute_mm(3);
    const Finding deep = flute_finding(job, "flute/a/bit");
    EXPECT_NEAR(*deep.margin, -1, 1e-9) << "it reaches 13";
    EXPECT_THAT(deep.why, HasSubstr("reaches"));
    job.skirt.pieces[0].flutes[0].bit = "grandfather's";
    const Finding unknown = flute_finding(job, "flute/a/bit");
    EXPECT_EQ(unknown.state, State::not_measured);
    EXPECT_THAT(unknown.missing.front(), HasSubstr("grandfather's"));
}

TEST(FluteFindings, RunOutsLeaveRoomForTheirRoundEnds) {
    Flute flute = round_flute("a", 40);
    flute.front = flute_mm(25);
    const Finding finding = flute_finding(flute_world(k_plain, {flute}), "flute/a/run-out");
    EXPECT_NEAR(*finding.margin, 25 - 10.39 - 20, 1e-9);
    EXPECT_EQ(in_mm(*finding.place.along), 25);
    flute.front.reset();
    flute.rear.reset();
    EXPECT_EQ(flute_finding(flute_world(k_plain, {flute}), "flute/a/run-out").state, State::holds);
}

TEST(FluteFindings, LandsAndTheStraight) {
    Job job = flute_world({{0, 100, 0}, {1000, 100, 0}}, {round_flute("a", 9), round_flute("b", 33)});
    EXPECT_NEAR(*flute_finding(job, "flute/a/land").margin, 24 - 20.78 - 6, 1e-9);
    const Finding edge = flute_finding(job, "flute/a/shelf");
    EXPECT_NEAR(*edge.margin, 9 - 10.39, 1e-9);
    EXPECT_THAT(edge.why, HasSubstr("1.39 mm into the rounding"));
    job.skirt.pieces[0].flutes[1].offset = flute_mm(131);
    EXPECT_NEAR(*flute_finding(job, "flute/b/shelf").margin, 140 - 131 - 10.39, 1e-9);
}

// 24 wide, 6 deep, bottom radius 3, sheet 3, male: depth 6 of 12; radius 3 of 3; width 24 of 12; seen 18 of 14.4.
TEST(FluteFindings, FormByItsRules) {
    Flute flute{"a", flute_mm(40), flute_mm(24), flute_mm(6), flute_mm(3), flute_mm(100), flute_mm(900), "", {}};
    Job job = flute_world(k_plain, {flute});
    const auto rules = form_rules(job.skirt.pieces[0], lanes_of(job)[0], MouldKind::male);
    ASSERT_EQ(rules.size(), 4U);
    EXPECT_NEAR(in_mm(rules[0].margin()), 6, 1e-9);
    EXPECT_NEAR(in_mm(rules[1].margin()), 0, 1e-9);
    EXPECT_NEAR(in_mm(rules[2].margin()), 12, 1e-9);
    EXPECT_NEAR(in_mm(rules[3].margin()), 3.6, 1e-9);
    EXPECT_EQ(form_rules(job.skirt.pieces[0], lanes_of(job)[0], MouldKind::female).size(), 2U);
    job.skirt.pieces[0].flutes[0].depth = flute_mm(13);
    const Finding deep = flute_finding(job, "flute/a/form");
    EXPECT_NEAR(*deep.margin, -1, 1e-9);
    EXPECT_FALSE(deep.at_least);
    EXPECT_THAT(input(deep, "vents"), HasSubstr("17 of 0.6 mm"));
    EXPECT_THAT(input(deep, "seen on the part"), HasSubstr("18.00"));
}

// 20.78 by a 24 round nose: less 6 tan 30°; 18 by a 20 round nose, which leaves 10: cos b = 0.4, less 6 tan 33.21°.
TEST(FluteFindings, SeenWidthsAreListedFromTheEdgeInward) {
    Flute narrow = round_flute("narrow", 75);
    narrow.width = flute_mm(18);
    const Job job = flute_world(k_plain, {narrow, round_flute("wide", 40)});
    const Finding finding = flute_finding(job, "flute/wide/form");
    EXPECT_EQ(input(finding, "seen widths, from the edge inward"), "17.3 / 14.1 mm");
}

// Drawn straight outward on a level shelf the wall ahead holds all of its depth.
TEST(FluteFindings, WallsHoldThePartOnTheMould) {
    Job job = flute_world(k_plain, {round_flute("a", 40)});
    job.forming.undercut_most = flute_mm(4);
    const Finding finding = flute_finding(job, "flute/a/undercut");
    EXPECT_EQ(finding.state, State::falls_short);
    EXPECT_NEAR(*finding.found, 6, 1e-6);
    EXPECT_NEAR(*finding.margin, -2, 1e-6);
    job.forming.tilt = geometry::degrees(90);
    EXPECT_NEAR(*flute_finding(job, "flute/a/undercut").found, 0, 1e-9);
}

TEST(FluteFindings, WhatIsNotMeasuredIsListed) {
    Job job = flute_world(k_plain, {round_flute("a", 40)});
    job.forming.router = {};
    job.forming.mould.reset();
    job.forming.tilt.reset();
    for (const std::string name : {"wood", "base plate", "bearing", "form", "undercut"}) {
        const Finding finding = flute_finding(job, "flute/a/" + name, Mends::look_for);
        EXPECT_EQ(finding.state, State::not_measured) << name;
        EXPECT_FALSE(finding.missing.empty()) << name;
        EXPECT_FALSE(finding.found) << name;
    }
}

TEST(FluteFindings, AreTheSameOnTheOtherSideOfTheCar) {
    Job job = flute_world({{0, 140, 10}, {1000, 140, 10}}, {round_flute("a", 40)});
    const auto right = flute_findings_of(job);
    job.side = Side::left;
    EXPECT_EQ(flute_findings_of(job), right);
}

}  // namespace
}  // namespace sillwright::core
