#include "core/mounts/mount_check.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/core/mounts/flange_world.h"

// Expected numbers: plane trigonometry in the world of flange_world.h, done here by
// hand. Asked for: limits of core/job.h (common practice, no source).

namespace sillwright::core {
namespace {

TEST(MountCheck, FlatFlange) {
    const Job job = flat_world();
    // Lands at out 130: 20 from the end at 110, 14 from the tangent point at 150 - 6.
    expect_numbers(job, "mounts/H1/reach", 14.0, 2 * 0.5);
    expect_numbers(job, "mounts/H1/edge", 20.0, 2 * 6.0 + 2 * 0.5);
    expect_numbers(job, "mounts/H1/bend", 14.0, 16.0 / 2 + 1.0 + 2 * 0.5);
    expect_numbers(job, "mounts/H1/seat gap", 0.0, 0.5);
    expect_numbers(job, "mounts/H1/seat angle", 0.0, 3.0);
    // Two standard deviations of the stack: panel 0.03, 5 % of the flange, 15 % of the film.
    expect_numbers(job, "mounts/H1/grip", 0.8 + 2 + 3 + 0.12, 5.0 + 2 * std::sqrt(0.0009 + 0.0225 + 0.000324));
    for (const Finding& finding : reach_of(job)) {
        if (finding.id.rfind("mounts/", 0) == 0) {
            EXPECT_EQ(finding.state, State::holds) << finding.id << ": " << finding.why;
            EXPECT_FALSE(finding.formula.empty());
            EXPECT_FALSE(finding.source.empty());
            EXPECT_FALSE(finding.why.empty());
        }
    }
}

TEST(MountCheck, TiltedFlange) {
    const double a = 2.0 * k_deg;
    const Spot end{150 - 40 * std::cos(a), 10 - 40 * std::sin(a)};
    const Job job = world(world_piece(std::vector<Spot>(4, {150, 10, 6}), std::vector<Spot>(4, end)), world_mount());
    expect_numbers(job, "mounts/H1/seat angle", 2.0, 3.0);
    expect_numbers(job, "mounts/H1/seat gap", 20 * std::tan(a), 0.5);
    // Twice the deviation, the up part coming in over the slope: as seen along the flange.
    const double sd = std::hypot(0.5 / std::cos(a), 0.0);
    expect_numbers(job, "mounts/H1/edge", 40 - 20 / std::cos(a), 12 + 2 * sd);
}

TEST(MountCheck, MountTiltedOutward) {
    const double b = 2.5 * k_deg;
    Job job = flat_world();
    job.mounts[0].axis = {0, std::sin(b), -std::cos(b)};
    expect_numbers(job, "mounts/H1/edge", 20 + 2 * std::tan(b), 12 + 2 * std::hypot(0.5, 0.4 * std::tan(b)));
    expect_numbers(job, "mounts/H1/seat gap", 2 / std::cos(b) - 2, 0.5);
    expect_numbers(job, "mounts/H1/seat angle", 2.5, 3.0);
}

TEST(MountCheck, MountTiltedAlongTheCar) {
    const double b = 4.0 * k_deg;
    Job job = flat_world();
    job.mounts[0].axis = {std::sin(b), 0, -std::cos(b)};
    const Finding reach = finding_of(job, "mounts/H1/reach");
    ASSERT_TRUE(reach.place.on_part_mm);
    EXPECT_NEAR(reach.place.on_part_mm->x(), 750 + 2 * std::tan(b), k_rounding);
    expect_numbers(job, "mounts/H1/seat angle", 4.0, 3.0);
    EXPECT_EQ(finding_of(job, "mounts/H1/seat angle").state, State::falls_short);
}

TEST(MountCheck, TaperedInPlanIsMeasuredSquareToTheEdge) {
    const double slope = 30.0 / 1500.0;
    const double square = 1.0 / std::hypot(1.0, slope);
    // The deviation too is taken square to the edge: along 0.5, out 0.5.
    expect_numbers(tapered_world(), "mounts/H1/edge", (130 - 95) * square, 12 + 2 * 0.5);
}

TEST(MountCheck, SlotCountsFromItsEnd) {
    const double slope = 30.0 / 1500.0;
    Job job = tapered_world();
    job.mounts[0].part_slot = mm(26.5);
    const double front = 750 - 10;  // Half of slot length less width.
    expect_numbers(job, "mounts/H1/edge", (130 - (110 - slope * front)) / std::hypot(1.0, slope), 13);
}

TEST(MountCheck, EveryBoundIsHeldAgainstItsOwnDeviation) {
    // 3.0 from the free edge by 0.6 is sure; 3.5 from the front end by 4.0 is not.
    Job job = flat_world();
    job.mounts[0].at.along = mm(3.5);
    job.mounts[0].at.out = mm(113);
    job.mounts[0].sd = {mm(2), mm(0.3), mm(0.4)};
    expect_numbers(job, "mounts/H1/reach", 3.5, 2 * 2.0);
    const Finding reach = finding_of(job, "mounts/H1/reach");
    EXPECT_EQ(reach.state, State::falls_short);
    EXPECT_NE(reach.why.find("3.50 mm from the piece's front end, less than"), std::string::npos) << reach.why;
    ASSERT_TRUE(reach.mend);
    EXPECT_EQ(reach.mend->words, "Make the piece 0.50 mm longer at its front end.");
    expect_numbers(job, "mounts/H1/edge", 3.5, 2 * 6.0 + 2 * 2.0);
}

std::string input_of(const Finding& finding, const std::string& name) {
    for (const Input& input : finding.inputs) {
        if (input.name == name) {
            return input.value;
        }
    }
    return "no such input";
}

TEST(MountCheck, WideHoleKeepsADiameterOfSheetBeyondIt) {
    // 12 from the free edge: the hole's own edge is 2 from it, where a diameter of 6 is asked for.
    Job job = flat_world();
    job.mounts[0].at.out = mm(122);
    job.mounts[0].part_hole = mm(20);
    expect_numbers(job, "mounts/H1/edge", 12.0, 20.0 / 2 + 6.0 + 2 * 0.5);
    const Finding edge = finding_of(job, "mounts/H1/edge");
    EXPECT_EQ(edge.state, State::falls_short);
    EXPECT_EQ(input_of(edge, "hole edge to free edge"), "2.00 mm");
    // The hole is wider than the washer of 16: 22 from the tangent point at 144.
    expect_numbers(job, "mounts/H1/bend", 22.0, 20.0 / 2 + 1.0 + 2 * 0.5);
    EXPECT_EQ(input_of(finding_of(job, "mounts/H1/bend"), "hole edge to bend"), "12.00 mm");
}

// 2.5 to 3 diameters to the edge of brittle sheet: common practice, no source.
TEST(MountCheck, BrittleSheetAsksForThreeDiameters) {
    Job job = flat_world();
    job.mounts[0].at.out = mm(126);
    job.skirt.material.name = "ABS";
    expect_numbers(job, "mounts/H1/edge", 16.0, 2 * 6.0 + 2 * 0.5);
    job.skirt.material.name = "GRP";
    expect_numbers(job, "mounts/H1/edge", 16.0, 3 * 6.0 + 2 * 0.5);
    expect_mended(job, "mounts/H1/edge");
    job.limits.edge_distance_diameters = 4;
    expect_numbers(job, "mounts/H1/edge", 16.0, 4 * 6.0 + 2 * 0.5);
}

TEST(MountCheck, WithoutTheHoleInThePartTheEdgeIsNotMeasured) {
    Job job = flat_world();
    job.mounts[0].part_hole.reset();
    const Finding edge = finding_of(job, "mounts/H1/edge");
    EXPECT_EQ(edge.state, State::not_measured);
    EXPECT_EQ(edge.missing, std::vector<std::string>{"the diameter of H1's hole in the part"});
}

TEST(MountCheck, SlotCountsFromItsEndToTheBendToo) {
    // A sharp root that runs from out 150 to out 120: nearest to the slot's rear end.
    const double slope = 30.0 / 1500.0;
    Job job =
        world(world_piece({{150, 10}, {140, 10}, {130, 10}, {120, 10}}, std::vector<Spot>(4, {60, 10})), world_mount());
    job.mounts[0].at.out = mm(115);
    job.mounts[0].part_slot = mm(26.5);
    const double rear = 750 + 10;
    expect_numbers(job, "mounts/H1/bend", (150 - slope * rear - 115) / std::hypot(1.0, slope), 16.0 / 2 + 1.0 + 1.0);
}

TEST(MountCheck, FlangeThatClimbsAlongTheCar) {
    const double slope = 30.0 / 1500.0;
    const std::vector<Spot> root{{150, 10, 6}, {150, 20, 6}, {150, 30, 6}, {150, 40, 6}};
    const std::vector<Spot> end{{110, 10}, {110, 20}, {110, 30}, {110, 40}};
    Job job = world(world_piece(root, end), world_mount());
    job.mounts[0].at.up = mm(27);
    expect_numbers(job, "mounts/H1/seat angle", std::atan(slope) / k_deg, 3.0);
    expect_numbers(job, "mounts/H1/seat gap", 0.0, 0.5);
    EXPECT_EQ(finding_of(job, "mounts/H1/seat gap").state, State::holds);
}

TEST(MountCheck, DrawnOutsidePutsTheInsideASheetNearerToTheBody) {
    Piece piece = flat_piece();
    piece.drawn_face = DrawnFace::outside;
    Job job = world(piece, world_mount());
    job.mounts[0].at.up = mm(15.25);
    expect_numbers(job, "mounts/H1/seat gap", 0.25, 0.5);
    expect_numbers(job, "mounts/H1/edge", 20, 13);
}

TEST(MountCheck, BendMadeAfterAgreesWithTheRuleFromTheOutsideCorner) {
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

TEST(MountCheck, GapOfExactlyTheLimitHoldsAndIsClose) {
    Job job = flat_world();
    job.mounts[0].at.up = mm(12.5);
    EXPECT_EQ(finding_of(job, "mounts/H1/seat gap").state, State::close);
}

TEST(MountCheck, WithoutDeviationsNotMeasuredUnlessItFallsShortAnyway) {
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

TEST(MountCheck, WithoutFastenerSizesNotMeasured) {
    Job job = flat_world();
    job.mounts[0].fastener.diameter.reset();
    job.mounts[0].fastener.head_diameter.reset();
    EXPECT_EQ(finding_of(job, "mounts/H1/edge").state, State::not_measured);
    EXPECT_EQ(finding_of(job, "mounts/H1/bend").state, State::not_measured);
    EXPECT_EQ(finding_of(job, "mounts/H1/reach").state, State::holds);
}

}  // namespace
}  // namespace sillwright::core
