#include "core/mounts/reach.h"

#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <numbers>

#include "core/drawn_loft.h"
#include "core/job_file.h"
#include "core/sill_frame.h"
#include "tests/core/mounts/flange_world.h"

// Expected numbers: plane trigonometry in the world of flange_world.h, done here by
// hand. Asked for: limits of core/job.h (common practice, no source).

namespace sillwright::core {
namespace {

/// Rounding of positions of some 1000 mm; the lean along the car is a difference over 2e-3 mm.
constexpr double k_rounding = 1e-8;
constexpr double k_deg = std::numbers::pi / 180.0;

void expect_numbers(const Job& job, const std::string& id, double found, double required) {
    const Finding finding = finding_of(job, id);
    ASSERT_TRUE(finding.found) << finding.why;
    ASSERT_TRUE(finding.margin);
    EXPECT_NEAR(*finding.found, found, k_rounding) << id;
    EXPECT_NEAR(*finding.required, required, k_rounding) << id;
    EXPECT_NEAR(*finding.margin, finding.at_least ? found - required : required - found, 2 * k_rounding) << id;
}

TEST(Reach, FlatFlange) {
    const Job job = flat_world();
    // Lands at out 130: 20 from the end at 110, 14 from the tangent point at 150 - 6.
    expect_numbers(job, "mounts/H1/reach", 14.0, 2 * 0.5);
    expect_numbers(job, "mounts/H1/edge", 20.0, 2 * 6.0 + 2 * 0.5);
    expect_numbers(job, "mounts/H1/bend", 14.0, 16.0 / 2 + 1.0 + 2 * 0.5);
    expect_numbers(job, "mounts/H1/seat gap", 0.0, 0.5);
    expect_numbers(job, "mounts/H1/seat angle", 0.0, 3.0);
    expect_numbers(job, "mounts/H1/grip", 0.8 + 2 + 3 + 0.12, 5.0);
    for (const Finding& finding : reach_of(job)) {
        if (finding.id.rfind("mounts/", 0) == 0) {
            EXPECT_EQ(finding.state, State::holds) << finding.id << ": " << finding.why;
            EXPECT_FALSE(finding.formula.empty());
            EXPECT_FALSE(finding.source.empty());
            EXPECT_FALSE(finding.why.empty());
        }
    }
}

TEST(Reach, TiltedFlange) {
    const double a = 2.0 * k_deg;
    const Spot end{150 - 40 * std::cos(a), 10 - 40 * std::sin(a)};
    const Job job = world(world_piece(std::vector<Spot>(4, {150, 10, 6}), std::vector<Spot>(4, end)), world_mount());
    expect_numbers(job, "mounts/H1/seat angle", 2.0, 3.0);
    expect_numbers(job, "mounts/H1/seat gap", 20 * std::tan(a), 0.5);
    // Twice the deviation, the up part coming in over the slope: as seen along the flange.
    const double sd = std::hypot(0.5 / std::cos(a), 0.0);
    expect_numbers(job, "mounts/H1/edge", 40 - 20 / std::cos(a), 12 + 2 * sd);
}

TEST(Reach, MountTiltedOutward) {
    const double b = 2.5 * k_deg;
    Job job = flat_world();
    job.mounts[0].axis = {0, std::sin(b), -std::cos(b)};
    expect_numbers(job, "mounts/H1/edge", 20 + 2 * std::tan(b), 12 + 2 * std::hypot(0.5, 0.4 * std::tan(b)));
    expect_numbers(job, "mounts/H1/seat gap", 2 / std::cos(b) - 2, 0.5);
    expect_numbers(job, "mounts/H1/seat angle", 2.5, 3.0);
}

TEST(Reach, MountTiltedAlongTheCar) {
    const double b = 4.0 * k_deg;
    Job job = flat_world();
    job.mounts[0].axis = {std::sin(b), 0, -std::cos(b)};
    const Finding reach = finding_of(job, "mounts/H1/reach");
    ASSERT_TRUE(reach.place.on_part_mm);
    EXPECT_NEAR(reach.place.on_part_mm->x(), 750 + 2 * std::tan(b), k_rounding);
    expect_numbers(job, "mounts/H1/seat angle", 4.0, 3.0);
    EXPECT_EQ(finding_of(job, "mounts/H1/seat angle").state, State::falls_short);
}

/// The end runs from out 110 to out 80: 20 mm a metre.
Job tapered_world() {
    return world(world_piece(std::vector<Spot>(4, {150, 10, 6}), {{110, 10}, {100, 10}, {90, 10}, {80, 10}}),
                 world_mount());
}

TEST(Reach, TaperedInPlanIsMeasuredSquareToTheEdge) {
    const double slope = 30.0 / 1500.0;
    const double square = 1.0 / std::hypot(1.0, slope);
    // The deviation too is taken square to the edge: along 0.5, out 0.5.
    expect_numbers(tapered_world(), "mounts/H1/edge", (130 - 95) * square, 12 + 2 * 0.5);
}

TEST(Reach, SlotCountsFromItsEnd) {
    const double slope = 30.0 / 1500.0;
    Job job = tapered_world();
    job.mounts[0].part_slot = mm(26.5);
    const double front = 750 - 10;  // Half of slot length less width.
    expect_numbers(job, "mounts/H1/edge", (130 - (110 - slope * front)) / std::hypot(1.0, slope), 13);
}

TEST(Reach, SlotNearThePiecesEnd) {
    Job job = flat_world();
    job.mounts[0].at.along = mm(22);
    job.mounts[0].part_slot = mm(26.5);
    expect_numbers(job, "mounts/H1/edge", 22 - 10, 13);
    const Finding edge = finding_of(job, "mounts/H1/edge");
    EXPECT_EQ(edge.state, State::falls_short);
    ASSERT_TRUE(edge.mend);
    EXPECT_TRUE(edge.mend->moves.empty());
    EXPECT_EQ(edge.mend->words, "Make the piece 1.00 mm longer at its front end.");
}

TEST(Reach, FlangeThatClimbsAlongTheCar) {
    const double slope = 30.0 / 1500.0;
    const std::vector<Spot> root{{150, 10, 6}, {150, 20, 6}, {150, 30, 6}, {150, 40, 6}};
    const std::vector<Spot> end{{110, 10}, {110, 20}, {110, 30}, {110, 40}};
    Job job = world(world_piece(root, end), world_mount());
    job.mounts[0].at.up = mm(27);
    expect_numbers(job, "mounts/H1/seat angle", std::atan(slope) / k_deg, 3.0);
    expect_numbers(job, "mounts/H1/seat gap", 0.0, 0.5);
    EXPECT_EQ(finding_of(job, "mounts/H1/seat gap").state, State::holds);
}

TEST(Reach, DrawnOutsidePutsTheInsideASheetNearerToTheBody) {
    Piece piece = flat_piece();
    piece.drawn_face = DrawnFace::outside;
    Job job = world(piece, world_mount());
    job.mounts[0].at.up = mm(15.25);
    expect_numbers(job, "mounts/H1/seat gap", 0.25, 0.5);
    expect_numbers(job, "mounts/H1/edge", 20, 13);
}

TEST(Reach, BendMadeAfterAgreesWithTheRuleFromTheOutsideCorner) {
    // Common practice, no source: hole to bend >= R + t + washer/2 + 1, from the outside
    // corner, which is at out 153 here: 153 - out - (5 + 3 + 8 + 1), less 2 sd.
    Piece piece = world_piece(std::vector<Spot>(4, {150, 10}), std::vector<Spot>(4, {110, 10}));
    piece.flange.making = FlangeMaking::bent_after;
    piece.flange.inner_radius = mm(5);
    const Finding bend = finding_of(world(piece, world_mount()), "mounts/H1/bend");
    ASSERT_TRUE(bend.margin);
    EXPECT_NEAR(*bend.margin, (153 - 130) - (5 + 3 + 8 + 1) - 1, k_rounding);
    piece.flange.inner_radius.reset();
    EXPECT_EQ(finding_of(world(piece, world_mount()), "mounts/H1/bend").state, State::not_measured);
}

TEST(Reach, BeyondTheFlangesEnd) {
    Job job = flat_world();
    job.mounts[0].at.out = mm(105);
    expect_numbers(job, "mounts/H1/reach", -5, 1);
    expect_numbers(job, "mounts/H1/edge", -5, 13);
    EXPECT_EQ(finding_of(job, "mounts/H1/reach").why,
              "The axis of H1 misses: it passes 5.00 mm beyond the flange's free edge; for its edge distance the "
              "flange would have to grow by about 18.00 mm.");
    expect_mended(job, "mounts/H1/reach");
    expect_mended(job, "mounts/H1/edge");
}

TEST(Reach, GrowthOfAFlangeMovedAtBothStations) {
    Job job = flat_world();
    job.mounts[0].at.out = mm(105);
    const Finding edge = finding_of(job, "mounts/H1/edge");
    ASSERT_TRUE(edge.mend);
    ASSERT_EQ(edge.mend->moves.size(), 2U);  // Stations 2 and 3, before and behind 750.
    EXPECT_EQ(edge.mend->moves[0].node_id, "2 flange end");
    EXPECT_EQ(edge.mend->moves[1].node_id, "3 flange end");
    // Inward, and no more than the 18 that are lacking: between the stations the line bulges.
    EXPECT_LT(edge.mend->moves[0].by_mm.x(), -14.0);
    EXPECT_GE(edge.mend->moves[0].by_mm.x(), -18.01);
    EXPECT_NEAR(edge.mend->moves[0].by_mm.y(), 0.0, k_rounding);
}

TEST(Reach, MountAtAStationMovesThatStationAlone) {
    Job job = flat_world();
    job.mounts[0].at.along = mm(500);
    job.mounts[0].at.out = mm(120);
    const Finding edge = finding_of(job, "mounts/H1/edge");
    ASSERT_TRUE(edge.mend);
    ASSERT_EQ(edge.mend->moves.size(), 1U);
    EXPECT_EQ(edge.mend->moves[0].node_id, "2 flange end");
    expect_mended(job, "mounts/H1/edge");
}

TEST(Reach, WordsOfAMend) {
    Job job = flat_world();
    job.mounts[0].at.out = mm(147);
    const Finding bend = finding_of(job, "mounts/H1/bend");
    ASSERT_TRUE(bend.mend);
    EXPECT_EQ(bend.mend->words.rfind("Draw the bend back by ", 0), 0U) << bend.mend->words;
    EXPECT_NE(bend.mend->words.find("at stations 2 to 3."), std::string::npos) << bend.mend->words;
}

TEST(Reach, NoMendWhereThePieceCannotGrowSoFar) {
    Job job = flat_world();
    job.mounts[0].at.out = mm(110 - 200);
    const Finding reach = finding_of(job, "mounts/H1/reach");
    EXPECT_EQ(reach.state, State::falls_short);
    EXPECT_FALSE(reach.mend);
}

TEST(Reach, BeyondTheBend) {
    Job job = flat_world();
    job.mounts[0].at.out = mm(147);
    expect_numbers(job, "mounts/H1/reach", -3, 1);
    expect_numbers(job, "mounts/H1/bend", -3, 10);
    EXPECT_NE(finding_of(job, "mounts/H1/reach").why.find("3.00 mm beyond the bend"), std::string::npos);
    expect_mended(job, "mounts/H1/reach");
    expect_mended(job, "mounts/H1/bend");
}

TEST(Reach, BeyondThePiecesEnds) {
    Job job = flat_world();
    job.mounts[0].at.along = mm(-12);
    expect_numbers(job, "mounts/H1/reach", -12, 1);
    EXPECT_EQ(finding_of(job, "mounts/H1/reach").mend->words, "Make the piece 13.00 mm longer at its front end.");
    job.mounts[0].at.along = mm(1507);
    expect_numbers(job, "mounts/H1/reach", -7, 1);
    EXPECT_EQ(finding_of(job, "mounts/H1/reach").mend->words, "Make the piece 8.00 mm longer at its rear end.");
}

TEST(Reach, NeverMeets) {
    Job job = flat_world();
    job.mounts[0].axis = {0, 1, 0};
    const Finding reach = finding_of(job, "mounts/H1/reach");
    EXPECT_EQ(reach.state, State::falls_short);
    EXPECT_FALSE(reach.found);
    EXPECT_NE(reach.why.find("never meets"), std::string::npos);
    EXPECT_EQ(find(reach_of(job), "mounts/H1/edge"), nullptr);
}

TEST(Reach, FlangeThatHasRunOut) {
    Job job = world(world_piece(std::vector<Spot>(4, {150, 10}), std::vector<Spot>(4, {110, 10})), world_mount());
    Drawn& drawn = job.skirt.pieces[0].drawn;
    drawn.sections[3].nodes.pop_back();
    drawn.run_outs.push_back({"flange end", mm(1100), {}});
    job.mounts[0].at.along = mm(1300);
    const auto line = loft_of(job, drawn, false, "skirt");
    ASSERT_TRUE(line) << line.error().message;
    CarModel car;
    car.pieces.push_back({"skirt", line.value(), std::nullopt, {}});
    const auto findings = reach_findings(job, car);
    const Finding* reach = find(findings, "mounts/H1/reach");
    ASSERT_NE(reach, nullptr);
    EXPECT_EQ(reach->state, State::falls_short);
    EXPECT_FALSE(reach->found);
    EXPECT_NE(reach->why.find("has run out"), std::string::npos) << reach->why;
}

TEST(Reach, GapTooWide) {
    Job job = flat_world();
    job.mounts[0].at.up = mm(15);
    expect_numbers(job, "mounts/H1/seat gap", 3, 0.5);
    EXPECT_NE(finding_of(job, "mounts/H1/seat gap").why.find("does not reach"), std::string::npos);
    expect_mended(job, "mounts/H1/seat gap");
}

TEST(Reach, FlangeInsideItsSeat) {
    Job job = flat_world();
    job.mounts[0].at.up = mm(9);
    expect_numbers(job, "mounts/H1/seat gap", -3, -0.5);
    EXPECT_NE(finding_of(job, "mounts/H1/seat gap").why.find("crushed"), std::string::npos);
    expect_mended(job, "mounts/H1/seat gap");
}

TEST(Reach, GapOfExactlyTheLimitHoldsAndIsClose) {
    Job job = flat_world();
    job.mounts[0].at.up = mm(12.5);
    EXPECT_EQ(finding_of(job, "mounts/H1/seat gap").state, State::close);
}

TEST(Reach, AngleTooSteep) {
    const double a = 5.0 * k_deg;
    for (const double sign : {-1.0, 1.0}) {
        const Spot end{150 - 40 * std::cos(a), 10 + sign * 40 * std::sin(a)};
        const Job job =
            world(world_piece(std::vector<Spot>(4, {150, 10, 6}), std::vector<Spot>(4, end)), world_mount());
        expect_numbers(job, "mounts/H1/seat angle", 5.0, 3.0);
        expect_mended(job, "mounts/H1/seat angle");
    }
}

TEST(Reach, WithoutDeviationsNotMeasuredUnlessItFallsShortAnyway) {
    Job job = flat_world();
    job.mounts[0].sd = {};
    for (const char* id : {"mounts/H1/reach", "mounts/H1/edge", "mounts/H1/bend"}) {
        const Finding finding = finding_of(job, id);
        EXPECT_EQ(finding.state, State::not_measured) << id;
        EXPECT_FALSE(finding.missing.empty()) << id;
    }
    EXPECT_EQ(finding_of(job, "mounts/H1/seat gap").state, State::holds);
    job.mounts[0].at.out = mm(105);
    EXPECT_EQ(finding_of(job, "mounts/H1/edge").state, State::falls_short);
}

TEST(Reach, WithoutFastenerSizesNotMeasured) {
    Job job = flat_world();
    job.mounts[0].fastener.diameter.reset();
    job.mounts[0].fastener.head_diameter.reset();
    EXPECT_EQ(finding_of(job, "mounts/H1/edge").state, State::not_measured);
    EXPECT_EQ(finding_of(job, "mounts/H1/bend").state, State::not_measured);
    EXPECT_EQ(finding_of(job, "mounts/H1/reach").state, State::holds);
}

TEST(Reach, WithoutASheetTheInsideOfALineDrawnOutsideIsNotKnown) {
    Piece piece = flat_piece();
    piece.drawn_face = DrawnFace::outside;
    piece.sheet.reset();
    const Finding reach = finding_of(world(piece, world_mount()), "mounts/H1/reach");
    EXPECT_EQ(reach.state, State::not_measured);
    EXPECT_EQ(reach.missing, std::vector<std::string>{"the sheet thickness of skirt"});
}

TEST(Reach, WithoutASkirtNotMeasured) {
    Job job = flat_world();
    job.skirt.pieces.clear();
    const Finding reach = finding_of(job, "mounts/H1/reach");
    EXPECT_EQ(reach.state, State::not_measured);
    EXPECT_FALSE(reach.missing.empty());
}

TEST(Reach, PieceOnADoorHoldsNoMountOfTheBody) {
    Job job = flat_world();
    job.doors.emplace_back();
    job.doors[0].name = "front door";
    job.skirt.pieces[0].carried_by = "front door";
    EXPECT_EQ(finding_of(job, "mounts/H1/reach").state, State::not_measured);
}

TEST(Reach, LeftHandGivesTheSameNumbers) {
    Job right = tapered_world();
    right.mounts[0].axis = Eigen::Vector3d(0.02, 0.03, -1).normalized();
    Job left = right;
    left.side = Side::left;
    const auto of_right = reach_of(right);
    const auto of_left = reach_of(left);
    ASSERT_EQ(of_right.size(), of_left.size());
    for (std::size_t i = 0; i < of_right.size(); ++i) {
        EXPECT_EQ(of_right[i].id, of_left[i].id);
        EXPECT_EQ(of_right[i].state, of_left[i].state);
        EXPECT_EQ(of_right[i].found, of_left[i].found);
        EXPECT_EQ(of_right[i].margin, of_left[i].margin);
    }
}

TEST(Reach, EstateAHoldsEverywhere) {
    const auto path = std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright";
    const auto job = read_job(path);
    ASSERT_TRUE(job) << job.error().message;
    std::size_t numbers = 0;
    for (const Finding& finding : reach_of(job.value())) {
        EXPECT_EQ(finding.state, State::holds) << finding.id << ": " << finding.why;
        numbers += finding.margin ? 1 : 0;
    }
    EXPECT_GE(numbers, 6U * 8U);  // Eight mounts or more, six findings each.
}

TEST(Reach, EstateAIsMendedWhereItIsMadeToMiss) {
    const auto path = std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright";
    const auto read = read_job(path);
    ASSERT_TRUE(read) << read.error().message;
    Job job = read.value();
    Mount& mount = job.mounts[2];
    mount.at.out = mm(in_mm(mount.at).y() - 20);
    expect_mended(job, "mounts/" + mount.name + "/reach");
    expect_mended(job, "mounts/" + mount.name + "/edge");
    mount.at.out = mm(in_mm(mount.at).y() + 34);
    expect_mended(job, "mounts/" + mount.name + "/bend");
    mount.at.up = mm(in_mm(mount.at).z() + 2);
    expect_mended(job, "mounts/" + mount.name + "/seat gap");
}

}  // namespace
}  // namespace sillwright::core
