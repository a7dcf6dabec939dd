#include "core/drag.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <random>

#include "core/drag_shape.h"
#include "core/drag_swing.h"
#include "core/forming/formed_sheet.h"
#include "core/job_file.h"
#include "tests/core/forming/u_world.h"
#include "tests/core/swing/swing_world.h"

namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using geometry::in_mm;
using swing_world::mm;
using testing::HasSubstr;

std::shared_ptr<const Evaluation> evaluated(const Job& job, const std::filesystem::path& folder = ".") {
    auto evaluation = evaluate(job, folder, {}, Mends::leave);
    EXPECT_TRUE(evaluation) << (evaluation ? "" : evaluation.error().message);
    return evaluation ? evaluation.value() : std::make_shared<Evaluation>();
}

Drag begun(const std::shared_ptr<const Evaluation>& from, const std::string& node_id) {
    auto drag = Drag::begin(from, node_id);
    EXPECT_TRUE(drag) << (drag ? "" : drag.error().message);
    return std::move(drag).value();
}

Vector2d place(const Node& node) {
    return {in_mm(node.out.value), in_mm(node.up.value)};
}

std::map<std::string, const Finding*> by_id(const std::vector<Finding>& findings) {
    std::map<std::string, const Finding*> all;
    for (const Finding& finding : findings) {
        EXPECT_TRUE(all.emplace(finding.id, &finding).second) << finding.id << " stands twice";
    }
    return all;
}

/// Those that follow the hand; the others stand (core/standing_findings.h).
std::map<std::string, const Finding*> following(const Evaluation& evaluation) {
    auto all = by_id(evaluation.findings);
    for (const Finding& stands : evaluation.standing) {
        all.erase(stands.id);
    }
    return all;
}

/// What the drag says of the job as it has it, against the full computation of the same job.
void expect_as_evaluated(const Drag& drag, const std::filesystem::path& folder = ".") {
    const auto full = evaluated(drag.evaluation().job, folder);
    const auto all = following(*full);
    const auto dragged = following(drag.evaluation());
    ASSERT_EQ(dragged.size(), all.size());
    const double slack = 2.0 * in_mm(drag.deviation()) + in_mm(k_drag_tolerance);
    for (const auto& [id, finding] : dragged) {
        ASSERT_TRUE(all.contains(id)) << id;
        const Finding& truth = *all.at(id);
        EXPECT_EQ(finding->title, truth.title);
        EXPECT_EQ(finding->required.has_value(), truth.required.has_value()) << id;
        EXPECT_EQ(finding->missing, truth.missing) << id;
        if (truth.state == State::falls_short) {
            EXPECT_EQ(finding->state, State::falls_short) << id;
        }
        if (finding->stage != Stage::swing) {
            EXPECT_EQ(finding->state, truth.state) << id;
            ASSERT_EQ(finding->found.has_value(), truth.found.has_value()) << id;
            if (truth.found) {
                EXPECT_NEAR(*finding->found, *truth.found, 1e-9) << id;
            }
            continue;
        }
        if (finding->found && truth.found && *truth.found >= slack) {
            EXPECT_LE(*finding->found, *truth.found) << id;
            EXPECT_GE(*finding->found, *truth.found - slack) << id;
        }
    }
}

void expect_same(const Evaluation& one, const Evaluation& other) {
    ASSERT_EQ(one.findings.size(), other.findings.size());
    for (std::size_t i = 0; i < one.findings.size(); ++i) {
        const Finding& a = one.findings[i];
        const Finding& b = other.findings[i];
        EXPECT_EQ(a.id, b.id);
        EXPECT_EQ(a.found, b.found) << a.id;
        EXPECT_EQ(a.margin, b.margin) << a.id;
        EXPECT_EQ(a.why, b.why);
        EXPECT_EQ(a.place.words, b.place.words) << a.id;
    }
}

const std::filesystem::path& samples() {
    static const std::filesystem::path folder = SILLWRIGHT_SOURCE_DIR "/samples";
    return folder;
}

Job sample(const char* name) {
    auto job = read_job(samples() / name);
    EXPECT_TRUE(job) << (job ? "" : job.error().message);
    return job ? job.value() : Job{};
}

class DragOfSample : public testing::TestWithParam<const char*> {};

TEST_P(DragOfSample, SaysAtThirtyPlacesNoMoreThanTheFullComputation) {
    Job job = sample(GetParam());
    job.forming = {};  // How thick the sheet is formed stands under the hand: a test of its own.
    const auto from = evaluated(job, samples());
    std::mt19937 random(7);  // The engine's numbers are the same everywhere; a distribution's are not.
    const auto within = [&](double most) { return most * (2.0 * static_cast<double>(random()) / 4294967296.0 - 1.0); };
    const auto& sections = job.skirt.pieces[0].drawn.sections;
    int followed = 0;
    for (int nodes = 0; nodes < 10; ++nodes) {
        const auto& section = sections[nodes == 0 ? 0 : random() % sections.size()];
        const Node& node = section.nodes[random() % section.nodes.size()];
        Drag drag = begun(from, node.id);
        for (const double most : {1.0, 4.0, 12.0}) {
            if (drag.to(place(node) + Vector2d(within(most), within(most)))) {
                expect_as_evaluated(drag, samples());
                ++followed;
            }
        }
    }
    EXPECT_GE(followed, 25) << "most places have a shape";
}
INSTANTIATE_TEST_SUITE_P(Samples, DragOfSample, testing::Values("estate_a.sillwright", "estate_a_cladding.sillwright"));

TEST(Drag, TellsTheSameAtTheSamePlaceAfterFiveHundredMoves) {
    const Job job = sample("estate_a.sillwright");
    const auto from = evaluated(job, samples());
    const Node& node = job.skirt.pieces[0].drawn.sections[5].nodes[2];
    Drag drag = begun(from, node.id);
    const Vector2d aim = place(node) + Vector2d(0.7, -1.1);
    ASSERT_TRUE(drag.to(aim));
    const Evaluation first = drag.evaluation();
    for (int i = 0; i < 500; ++i) {
        ASSERT_TRUE(drag.to(place(node) + 3.0 * Vector2d(std::cos(0.05 * i), std::sin(0.05 * i))));
    }
    ASSERT_TRUE(drag.to(aim));
    expect_same(drag.evaluation(), first);
    Drag other = begun(from, node.id);
    ASSERT_TRUE(other.to(aim));
    expect_same(other.evaluation(), first);
    EXPECT_EQ(drag.evaluation().car.pieces[0].body->mesh.points, other.evaluation().car.pieces[0].body->mesh.points);
}

TEST(Drag, KeepsWhatItHadWhereThereIsNoShape) {
    const Job job = sample("estate_a.sillwright");
    const auto& nodes = job.skirt.pieces[0].drawn.sections[5].nodes;
    Drag drag = begun(evaluated(job, samples()), nodes[2].id);
    ASSERT_TRUE(drag.to(place(nodes[2]) + Vector2d(1.0, 0.0)));
    const Evaluation before = drag.evaluation();
    const auto refused = drag.to(place(nodes[1]));  // Two nodes at one place: no room for a rounding.
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().code, geometry::ErrorCode::does_not_fit);
    EXPECT_THAT(refused.error().message, HasSubstr("skirt piece"));
    EXPECT_FALSE(drag.to(Vector2d(std::nan(""), 0.0)));
    EXPECT_EQ(drag.evaluation().job, before.job);
    expect_same(drag.evaluation(), before);
    ASSERT_TRUE(drag.to(place(nodes[2]) + Vector2d(1.0, 0.0)));
    expect_same(drag.evaluation(), before);
}

TEST(Drag, IsTheEvaluationItCameFromBeforeTheFirstMove) {
    const Job job = sample("estate_a.sillwright");
    const auto from = evaluated(job, samples());
    const Drag drag = begun(from, job.skirt.pieces[0].drawn.sections[1].nodes[0].id);
    EXPECT_EQ(drag.evaluation().job, job);
    expect_same(drag.evaluation(), *from);
}

TEST(Drag, RefusesNodesThatAreNotTheSkirts) {
    const Job job = sample("estate_a.sillwright");
    const auto from = evaluated(job, samples());
    for (const std::string& id : {job.body.sections[0].nodes[0].id,
                                  job.doors[0].bodies[0].drawn.sections[0].nodes[0].id, std::string("none")}) {
        const auto drag = Drag::begin(from, id);
        ASSERT_FALSE(drag) << id;
        EXPECT_EQ(drag.error().code, geometry::ErrorCode::invalid_argument);
    }
}

/// Drags the second node of the third section of a piece about, and compares at every place.
void expect_followed(const Job& job, std::size_t piece) {
    const auto from = evaluated(job);
    const Node& node = job.skirt.pieces[piece].drawn.sections[2].nodes[1];
    Drag drag = begun(from, node.id);
    for (const Vector2d& by : {Vector2d(0, 0), Vector2d(1, -2), Vector2d(-2, 1.5), Vector2d(3, 9)}) {
        ASSERT_TRUE(drag.to(place(node) + by));
        expect_as_evaluated(drag);
    }
}

TEST(Drag, FollowsWhatADoorCarries) {
    Job job = swing_world::upright(130);
    job.skirt.pieces.push_back(swing_world::piece("carried", {{"shelf inner", 40, 125}, {"shelf edge", 90, 125}}));
    job.skirt.pieces[1].carried_by = "front door";
    job.body = swing_world::straight("body", {{"rocker", -20, 90}, {"pinch weld", -25, 20}}, 1, 5);
    expect_followed(job, 1);
    expect_followed(job, 0);
}

TEST(Drag, FollowsOnePieceOfSeveral) {
    Job job = swing_world::upright(115);
    job.skirt.pieces.push_back(swing_world::piece("second", {{"shelf inner", 40, 60}, {"shelf edge", 90, 60}}));
    expect_followed(job, 0);
    expect_followed(job, 1);
}

TEST(Drag, FollowsEndCaps) {
    Job job = swing_world::job(
        swing_world::piece("skirt", {{"shelf inner", -30, 100}, {"shelf edge", 60, 100}, {"lower edge", 70, 20}}),
        swing_world::door(swing_world::hinge(0), 115));
    job.skirt.pieces[0].front_closed = job.skirt.pieces[0].rear_closed = true;
    expect_followed(job, 0);
    const Node& node = job.skirt.pieces[0].drawn.sections[0].nodes[1];
    Drag drag = begun(evaluated(job), node.id);
    ASSERT_TRUE(drag.to(place(node) + Vector2d(2, 3)));
    expect_as_evaluated(drag);
}

TEST(Drag, FollowsWhereNothingHolds) {
    expect_followed(swing_world::upright(107), 0);    // A gap too small.
    expect_followed(swing_world::upright(103.2), 0);  // Next to nothing.
    expect_followed(swing_world::upright(100), 0);    // Crossing.
}

TEST(Drag, FollowsWithWhatIsMeasured) {
    Job none = swing_world::upright(115);
    none.doors.clear();
    expect_followed(none, 0);
    Job no_hinge = swing_world::upright(115);
    no_hinge.doors[0].hinge.reset();
    expect_followed(no_hinge, 0);
    Job no_sag = swing_world::upright(115);
    no_sag.doors[0].sag.reset();
    expect_followed(no_sag, 0);
    Job no_sheet = swing_world::upright(115);
    no_sheet.skirt.pieces[0].sheet.reset();
    expect_followed(no_sheet, 0);
    Job no_edge = swing_world::upright(115);
    no_edge.doors[0].bodies.clear();
    expect_followed(no_edge, 0);
}

/// A node on a straight has no rounding at the start; drawn out it has one, outside of a sharp corner at least.
TEST(Drag, FollowsANodeThatWasOnAStraight) {
    Job job = swing_world::job(
        swing_world::piece("skirt", {{"shelf inner", -30, 100}, {"middle", 15, 100}, {"shelf edge", 60, 100}}),
        swing_world::door(swing_world::hinge(0), 115));
    expect_followed(job, 0);
}

// At rest a drag says what the full check says; moved, the sheet keeps the thickness that it had.
TEST(Drag, KeepsTheThicknessOfTheFormedSheet) {
    const Job job = u_job();
    const auto from = evaluated(job);
    ASSERT_TRUE(from->car.pieces[0].formed);
    Drag drag = begun(from, "1 shelf edge");
    ASSERT_TRUE(drag.to({150, 180}));
    expect_as_evaluated(drag);
    ASSERT_TRUE(drag.to({151, 181}));
    EXPECT_EQ(drag.evaluation().car.pieces[0].formed, from->car.pieces[0].formed);
    EXPECT_EQ(geometry::open_edge_count(drag.evaluation().car.pieces[0].body->mesh), 0U);
}

}  // namespace
}  // namespace sillwright::core
