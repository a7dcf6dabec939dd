#include "core/skirt/flange_findings.h"

#include <gtest/gtest.h>

#include <cmath>
#include <memory>
#include <numbers>

#include "core/car_model.h"
#include "core/drawn_loft.h"
#include "core/forming/formed_sheet.h"
#include "tests/core/mounts/flange_world.h"

namespace sillwright::core {
namespace {

constexpr double k_deg = std::numbers::pi / 180.0;

/// A flange that falls away from the square by `draft_deg` at every station.
Job drafted(const std::vector<double>& draft_deg) {
    std::vector<Spot> end;
    for (const double draft : draft_deg) {
        end.push_back({150 - 40 * std::cos(draft * k_deg), 10 - 40 * std::sin(draft * k_deg)});
    }
    return world(world_piece(std::vector<Spot>(4, {150, 10, 6}), end), world_mount());
}

const char* const k_id = "sections/skirt/flange";

std::string input(const Finding& finding, const std::string& name) {
    for (const Input& one : finding.inputs) {
        if (one.name == name) {
            return one.value;
        }
    }
    return "no input " + name;
}

// Draft of 3 degrees at least on male moulds: thermopro.com, Design guidelines.
TEST(FlangeFinding, TrueSquareDoesNotLeaveAMaleMould) {
    const Finding square = finding_of(flat_world(), k_id);
    EXPECT_EQ(square.state, State::falls_short);
    EXPECT_NEAR(*square.found, 0.0, 1e-9);
    EXPECT_NEAR(*square.margin, -3.0, 1e-9);
    ASSERT_TRUE(square.mend);
}

TEST(FlangeFinding, DraftIsTheAngleBeyondSquare) {
    const Finding open = finding_of(drafted({5, 5, 5, 5}), k_id);
    EXPECT_EQ(open.state, State::holds);
    EXPECT_NEAR(*open.found, 5.0, 1e-9);
    EXPECT_EQ(finding_of(drafted({3.2, 3.2, 3.2, 3.2}), k_id).state, State::close);
    EXPECT_NEAR(*finding_of(drafted({-2, -2, -2, -2}), k_id).found, -2.0, 1e-9);
}

TEST(FlangeFinding, LeastDraftCounts) {
    const Finding finding = finding_of(drafted({4, 6, 6, 6}), k_id);
    EXPECT_NEAR(*finding.found, 4.0, 1e-9);
    EXPECT_NEAR(geometry::in_mm(*finding.place.along), 0.0, 1e-9);
}

TEST(FlangeFinding, WithoutAFaceNotMeasured) {
    Job job = flat_world();
    for (Section& section : job.skirt.pieces[0].drawn.sections) {
        section.nodes[0].name = "top return end";
    }
    EXPECT_EQ(finding_of(job, k_id).state, State::not_measured);
}

// Once the mould is decided it is the draw direction that counts: by hand, the flange's angle to it.
TEST(FlangeFinding, DrawDirectionOfTheMouldCounts) {
    Job job = drafted({1, 1, 1, 1});
    job.forming.mould = MouldKind::male;
    job.forming.tilt = geometry::degrees(-4);
    const Finding tilted = finding_of(job, k_id);
    EXPECT_NEAR(*tilted.found, 5.0, 1e-9);
    EXPECT_EQ(tilted.state, State::holds);
    job.forming.tilt = geometry::degrees(-1);
    const Finding held = finding_of(job, k_id);
    EXPECT_NEAR(*held.found, 2.0, 1e-9);
    EXPECT_NEAR(*held.margin, -1.0, 1e-9);
    EXPECT_EQ(held.state, State::falls_short);
    ASSERT_TRUE(held.mend);
    job.forming.mould = MouldKind::female;
    EXPECT_NEAR(*finding_of(job, k_id).margin, 0.0, 1e-9);
}

Job bent_after() {
    Job job = flat_world();
    Flange& flange = job.skirt.pieces[0].flange;
    flange.making = FlangeMaking::bent_after;
    flange.inner_radius = mm(6);
    flange.neutral_fraction = 0.42;
    flange.springback = geometry::degrees(3);
    return job;
}

TEST(FlangeFinding, BentAfterCarriesItsNumbers) {
    const Finding finding = finding_of(bent_after(), k_id);
    EXPECT_EQ(finding.state, State::holds);
    EXPECT_FALSE(finding.margin);
    // By hand: 90 degrees, R + K t = 7.26, a quarter of its circle 11.404; 40 - 6 = 34 stay straight.
    EXPECT_EQ(input(finding, "bend angle"), "90.00°");
    EXPECT_EQ(input(finding, "bend allowance"), "11.40 mm");
    EXPECT_EQ(input(finding, "setback"), "9.00 mm");
    EXPECT_EQ(input(finding, "straight of the flange"), "34.00 mm");
    EXPECT_EQ(input(finding, "flat length, bend and straight"), "45.40 mm");
    EXPECT_EQ(input(finding, "bend to"), "93.00°");
}

TEST(FlangeFinding, BentAfterTakesTheSheetAsItIsFormedThere) {
    const Job job = bent_after();
    const auto line = loft_of(job, job.skirt.pieces[0].drawn, false, "skirt").value();
    FormedSheet formed;
    formed.sheet = job.skirt.pieces[0].sheet->value;
    formed.rows = {line.front(), line.rear()};
    formed.marks = {0.0, static_cast<double>(line.names().size()) - 1.0};
    formed.shares = {{0.5, 0.5}, {0.5, 0.5}};
    PieceModel model;
    model.line = line;
    model.formed = std::make_shared<const FormedSheet>(formed);
    const Finding finding = flange_finding(job, job.skirt.pieces[0], line, &model);
    // By hand: 3 mm of sheet come out 1.5 thick; a quarter of the circle of 6 + 0.42 · 1.5 is 10.414.
    EXPECT_EQ(input(finding, "sheet as formed, at the bend"), "1.50 mm");
    EXPECT_EQ(input(finding, "bend allowance"), "10.41 mm");
    EXPECT_EQ(input(finding, "setback"), "7.50 mm");
}

TEST(FlangeFinding, BentAfterWithoutItsFiguresIsNotMeasured) {
    Job job = bent_after();
    job.skirt.pieces[0].flange.inner_radius.reset();
    job.skirt.pieces[0].flange.neutral_fraction.reset();
    job.skirt.pieces[0].flange.springback.reset();
    job.skirt.pieces[0].sheet.reset();
    const Finding finding = finding_of(job, k_id);
    EXPECT_EQ(finding.state, State::not_measured);
    EXPECT_EQ(finding.missing.size(), 4U);
}

TEST(FlangeFinding, TheTwoWaysAreOneEditApart) {
    Job job = bent_after();
    EXPECT_EQ(finding_of(job, k_id).state, State::holds);
    job.skirt.pieces[0].flange.making = FlangeMaking::formed_with_part;
    EXPECT_EQ(finding_of(job, k_id).state, State::falls_short);
}

}  // namespace
}  // namespace sillwright::core
