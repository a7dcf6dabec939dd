#include "core/fairness.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "core/edit/node_edit.h"

// Expected values in closed form and by hand; agreement with scipy is in tests/reference/fairness_reference_test.cpp.
namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::millimetres;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

/// A skirt of two lines over stations 100 mm apart: "edge" at the given outs, "root" straight.
Job job_with(const std::vector<double>& outs) {
    Job job;
    Piece piece;
    piece.name = "skirt";
    piece.carried_by = "body";
    for (std::size_t i = 0; i < outs.size(); ++i) {
        const std::string name = std::to_string(i + 1);
        job.stations.push_back({name, {millimetres(100.0 * static_cast<double>(i)), ""}, {}});
        Section section{name, {}, {}};
        section.nodes.push_back({"e" + name, "edge", {millimetres(outs[i]), ""}, {millimetres(100.0), ""}, {}, {}});
        section.nodes.push_back({"r" + name, "root", {millimetres(outs[i]), ""}, {millimetres(20.0), ""}, {}, {}});
        piece.drawn.sections.push_back(section);
    }
    for (Section& section : piece.drawn.sections) {
        section.nodes[1].out = {millimetres(60.0), ""};
    }
    job.skirt.pieces.push_back(piece);
    return job;
}

constexpr DrawnId k_skirt{DrawnId::Kind::piece, 0, 0};

FairLine edge_of(const Job& job) {
    return fair_lines(job, k_skirt).front();
}

TEST(Fairness, FindsNoBumpInAStraightLine) {
    const FairLine edge = edge_of(job_with({80.0, 82.0, 84.0, 86.0, 88.0}));
    ASSERT_THAT(edge.bumps, SizeIs(3));
    for (const Bump& bump : edge.bumps) {
        EXPECT_NEAR(bump.size_mm(), 0.0, 1e-12);
    }
}

// A batten through 0, 1, 2 that is held at 0 in the middle and free at its ends: the straight. One station out of a
// straight line by d is off by d, whatever the others.
TEST(Fairness, FindsAllOfABumpAtTheStationThatHasIt) {
    const FairLine edge = edge_of(job_with({80.0, 80.0, 81.5, 80.0, 80.0}));
    ASSERT_THAT(edge.bumps, SizeIs(3));
    const Bump& bump = edge.bumps[1];
    EXPECT_EQ(bump.station, "3");
    EXPECT_EQ(bump.node_id, "e3");
    EXPECT_EQ(edge.worst(), &bump);
    EXPECT_NEAR(bump.size_mm(), 1.5, 1e-12);
    EXPECT_TRUE(bump.departure_mm().isApprox(Vector2d(1.5, 0.0)));
    EXPECT_TRUE(bump.proud) << "outward, away from the car";
    EXPECT_FALSE(edge_of(job_with({80.0, 80.0, 78.5, 80.0, 80.0})).worst()->proud);
}

// With station 2 let go the batten is held at 0, 200, 300 with 0, d, 0. Two spans a = 200, b = 100; m at 200 from
// 2 (a + b) m = 6 (-d/b - d/a) = -0.09 d, m = -0.00015 d. At 100: d / 2 + (1/8 - 1/2) m a^2 / 6 = 0.875 d.
TEST(Fairness, HasTheNeighboursBumpInClosedForm) {
    const FairLine edge = edge_of(job_with({0.0, 0.0, 4.0, 0.0}));
    ASSERT_THAT(edge.bumps, SizeIs(2));
    EXPECT_NEAR(edge.bumps[0].departure_mm().x(), -0.875 * 4.0, 1e-12);
    EXPECT_NEAR(edge.bumps[1].departure_mm().x(), 4.0, 1e-12);
}

TEST(Fairness, JudgesNoLineOfThreeStations) {
    const Job job = job_with({80.0, 85.0, 80.0});
    const FairLine edge = edge_of(job);
    EXPECT_EQ(edge.stations, 3U);
    EXPECT_THAT(edge.bumps, IsEmpty());
    EXPECT_EQ(edge.worst(), nullptr);
    EXPECT_THAT(fair_findings(job), IsEmpty());
}

TEST(Fairness, TakesANamesOwnStationsOnly) {
    Job job = job_with({80.0, 80.0, 80.0, 80.0, 80.0, 80.0});
    for (const std::size_t i : {3U, 4U}) {  // a flute at four stations, the middle two deeper
        Section& section = job.skirt.pieces[0].drawn.sections[i];
        section.nodes.insert(
            section.nodes.begin() + 1,
            Node{"f" + section.station, "flute", {millimetres(70.0), ""}, {millimetres(60.0), ""}, {}, {}});
    }
    const auto lines = fair_lines(job, k_skirt);
    ASSERT_THAT(lines, SizeIs(3));
    EXPECT_EQ(lines[2].name, "flute");
    EXPECT_EQ(lines[2].stations, 2U);
    EXPECT_EQ(in_mm(lines[2].from), 300.0);
    EXPECT_EQ(in_mm(lines[2].to), 400.0);
    EXPECT_THAT(lines[2].bumps, IsEmpty());
}

TEST(Fairness, SaysWhichLineIsNotFairAndMendsIt) {
    const Job job = job_with({80.0, 80.0, 81.5, 80.0, 80.0});
    const std::vector<Finding> findings = fair_findings(job);
    ASSERT_THAT(findings, SizeIs(2));
    const Finding& edge = findings[0];
    EXPECT_EQ(edge.id, "sections/fair/skirt/edge");
    EXPECT_EQ(edge.stage, Stage::sections);
    EXPECT_EQ(edge.state, State::falls_short);
    EXPECT_FALSE(edge.at_least);
    EXPECT_NEAR(*edge.found, 1.5, 1e-12);
    EXPECT_EQ(*edge.required, 0.7);
    EXPECT_NEAR(*edge.margin, -0.8, 1e-12);
    EXPECT_EQ(in_mm(*edge.place.along), 200.0);
    EXPECT_THAT(edge.why, HasSubstr("Station 3 stands 1.50 mm proud"));
    ASSERT_TRUE(edge.mend);
    ASSERT_THAT(edge.mend->moves, SizeIs(1));
    EXPECT_EQ(edge.mend->moves[0].node_id, "e3");
    EXPECT_TRUE(edge.mend->moves[0].by_mm.isApprox(Vector2d(-1.5, 0.0)));
    EXPECT_NEAR(edge.mend->proven_margin.value_or(-1.0), 0.7, 1e-12) << "straight again";
    EXPECT_THAT(edge.mend->words, HasSubstr("1.50 mm in at station 3"));
    EXPECT_EQ(findings[1].state, State::holds);
    EXPECT_FALSE(findings[1].mend);
}

TEST(Fairness, IsCloseWithinAQuarterOfTheLimit) {
    // The band cannot be the usual 1 mm where no margin is greater than 0.7: 0.175 (core/finding_state.h).
    EXPECT_EQ(fair_findings(job_with({80.0, 80.0, 80.6, 80.0, 80.0}))[0].state, State::close);
    EXPECT_EQ(fair_findings(job_with({80.0, 80.0, 80.5, 80.0, 80.0}))[0].state, State::holds);
}

// Two bumps of 5 mm far apart: no one move takes both away.
TEST(Fairness, SaysInWordsWhatNoSingleMoveMends) {
    const Job job = job_with({80.0, 80.0, 85.0, 80.0, 80.0, 80.0, 80.0, 85.0, 80.0, 80.0});
    const Finding edge = fair_findings(job)[0];
    EXPECT_EQ(edge.state, State::falls_short);
    ASSERT_TRUE(edge.mend);
    EXPECT_THAT(edge.mend->moves, IsEmpty());
    EXPECT_FALSE(edge.mend->proven_margin);
    EXPECT_FALSE(edge.mend->words.empty());
}

TEST(Fairness, FairsOneNode) {
    const Job job = job_with({80.0, 80.0, 81.5, 80.0, 80.0});
    const auto line = faired(job, "e3");
    ASSERT_TRUE(line);
    EXPECT_NEAR(line->worst()->size_mm(), 0.0, 1e-12);
    EXPECT_FALSE(faired(job, "e1")) << "an end has no fair place";
    EXPECT_FALSE(faired(job, "nobody"));
    // What faired() says is what moving the node gives.
    const Bump bump = *edge_of(job_with({80.0, 80.3, 81.5, 79.8, 80.0})).worst();
    const Job other = job_with({80.0, 80.3, 81.5, 79.8, 80.0});
    const auto moved = move_node(other, bump.node_id, bump.fair_mm);
    ASSERT_TRUE(moved);
    EXPECT_NEAR(edge_of(moved.value().job).worst()->size_mm(), faired(other, bump.node_id)->worst()->size_mm(), 1e-12);
}

}  // namespace
}  // namespace sillwright::core
