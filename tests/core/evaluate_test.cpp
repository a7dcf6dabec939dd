#include "core/evaluate.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <limits>
#include <set>
#include <stop_token>

#include "core/forming/formed_sheet.h"
#include "core/job_file.h"
#include "geometry/mesh_file.h"
#include "tests/core/forming/u_world.h"
#include "tests/core/small_job.h"
#include "tests/core/swing/swing_world.h"

namespace sillwright::core {
namespace {

using swing_world::mm;
using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

std::vector<std::string> ids(const std::vector<Finding>& findings) {
    std::vector<std::string> all;
    for (const Finding& finding : findings) {
        all.push_back(finding.id);
    }
    return all;
}

/// No number that is none, no state without its reason.
void expect_sound(const Finding& finding) {
    for (const auto& number : {finding.found, finding.required, finding.margin}) {
        EXPECT_TRUE(!number || std::isfinite(*number)) << finding.id;
    }
    EXPECT_FALSE(finding.id.empty());
    EXPECT_FALSE(finding.title.empty()) << finding.id;
    EXPECT_FALSE(finding.formula.empty()) << finding.id;
    EXPECT_FALSE(finding.source.empty()) << finding.id;
    if (finding.state == State::not_measured) {
        EXPECT_THAT(finding.missing, testing::Not(IsEmpty())) << finding.id;
    }
}

std::shared_ptr<const Evaluation> evaluated(const Job& job, const std::filesystem::path& folder) {
    auto evaluation = evaluate(job, folder);
    EXPECT_TRUE(evaluation) << (evaluation ? "" : evaluation.error().message);
    if (!evaluation) {
        return std::make_shared<Evaluation>();
    }
    std::set<std::string> seen;
    for (const Finding& finding : evaluation.value()->findings) {
        expect_sound(finding);
        EXPECT_TRUE(seen.insert(finding.id).second) << finding.id << " stands twice";
    }
    return evaluation.value();
}

TEST(Evaluate, EstateAHoldsEverywhere) {
    const std::filesystem::path folder = SILLWRIGHT_SOURCE_DIR "/samples";
    const auto job = read_job(folder / "estate_a.sillwright");
    ASSERT_TRUE(job) << job.error().message;
    const auto evaluation = evaluated(job.value(), folder);
    std::vector<std::string> expected;
    for (const char* door : {"front door", "rear door"}) {
        for (const char* what : {"shut", "moving", "past shut"}) {
            expected.push_back(std::string("swing/") + door + "/" + what);
        }
    }
    for (const Mount& mount : job.value().mounts) {
        if (mount.use == MountUse::flange) {
            for (const char* what : {"reach", "edge", "bend", "seat gap", "seat angle", "grip"}) {
                expected.push_back("mounts/" + mount.name + "/" + what);
            }
        }
    }
    const std::vector<std::string> found = ids(evaluation->findings);
    for (const std::string& id : expected) {
        EXPECT_THAT(found, Contains(id));
    }
    for (const Finding& finding : evaluation->findings) {
        EXPECT_TRUE(finding.state == State::holds || finding.state == State::close)
            << finding.id << ": " << finding.why;
        EXPECT_FALSE(finding.mend) << finding.id;
    }
    EXPECT_EQ(evaluation->car.pieces.size(), 1U);
    // Two doors with one body each: shut twice, moving, past shut.
    EXPECT_EQ(evaluation->outcomes.size(), 2U * 4U);
}

TEST(Evaluate, WhatFallsShortHasItsMend) {
    const TestFolder folder;
    const auto evaluation = evaluated(
        swing_world::job(
            swing_world::piece("skirt", {{"shelf inner", -30, 100}, {"shelf edge", 60, 100}, {"lower edge", 70, 20}}),
            swing_world::door(swing_world::hinge(0), 107)),
        folder.path());
    ASSERT_FALSE(evaluation->findings.empty());
    const Finding& worst = evaluation->findings.front();
    EXPECT_EQ(worst.state, State::falls_short);
    ASSERT_TRUE(worst.mend);
    EXPECT_FALSE(worst.mend->words.empty());
}

/// Door and part as meshes, and an axis; nothing else.
TEST(Evaluate, TwoMeshesAndAnAxisAreChecked) {
    const TestFolder folder;
    const CarModel made = swing_world::model_of(swing_world::upright(115));
    const auto write = [&](const geometry::Mesh& mesh, const char* name) {
        ASSERT_TRUE(geometry::write_mesh(mesh, folder.path() / name, geometry::MeshFormat::ply_binary,
                                         geometry::FileUnit::millimetre));
    };
    write(made.pieces[0].body->mesh, "part.ply");
    write(made.doors[0].parts[0].body.mesh, "door.ply");
    const auto job = parse_job(R"({"version": 1, "side": "right",
        "doors": [{"name": "door", "opening_deg": 70,
                   "hinge": {"lower": {"along": 0, "out": 15, "up": 300}, "upper": {"along": 0, "out": 15, "up": 700}},
                   "bodies": [{"name": "edge", "file": {"path": "door.ply"}}]}],
        "skirt": {"pieces": [{"name": "part", "carried_by": "body", "file": {"path": "part.ply"}}]}})",
                               "two meshes");
    ASSERT_TRUE(job) << job.error().message;
    const auto evaluation = evaluated(job.value(), folder.path());
    const Finding* moving = swing_world::one_of(evaluation->findings, "swing/door/moving");
    ASSERT_NE(moving, nullptr);
    ASSERT_TRUE(moving->found);
    EXPECT_NEAR(*moving->found, 115 - swing_world::k_shelf_mm, 0.011);
    EXPECT_EQ(moving->state, State::not_measured) << "no sag, no deviations";
    EXPECT_THAT(moving->missing, Contains(HasSubstr("the sag of door")));
    ASSERT_TRUE(moving->margin) << "what is known of the margin is said";
    // Nobody said where the meshes' mid-plane is from the line where out is zero.
    for (const char* id : {"sections/part/place", "sections/door/edge/place"}) {
        const Finding* place = swing_world::one_of(evaluation->findings, id);
        ASSERT_NE(place, nullptr) << id;
        EXPECT_EQ(place->state, State::not_measured);
        EXPECT_THAT(place->missing, Contains(HasSubstr("zero_to_midplane")));
    }
    // 5 mm are asked for by default, and there are 12: were there 3, it would fall short whatever is missing.
    EXPECT_GT(*moving->margin, 0.0);
}

TEST(Evaluate, NothingButASide) {
    const auto job = parse_job(R"({"version": 1, "side": "left"})", "empty");
    ASSERT_TRUE(job) << job.error().message;
    const TestFolder folder;
    const auto evaluation = evaluated(job.value(), folder.path());
    ASSERT_FALSE(evaluation->findings.empty());
    for (const Finding& finding : evaluation->findings) {
        EXPECT_EQ(finding.state, State::not_measured) << finding.id;
    }
}

TEST(Evaluate, WhatIsNotDrawnYetIsNamedAndTheRestWorks) {
    auto read = read_job(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples/estate_a.sillwright");
    ASSERT_TRUE(read);
    Job job = read.value();
    job.doors[0].bodies[0].drawn = {};
    // As a job file it must be one that opens.
    const auto again = parse_job(job_text(job), "job.sillwright");
    ASSERT_TRUE(again) << (again ? "" : again.error().message);
    const auto evaluation = evaluate(again.value(), ".");
    ASSERT_TRUE(evaluation) << (evaluation ? "" : evaluation.error().message);
    std::set<std::string> open;
    for (const Finding& finding : evaluation.value()->findings) {
        expect_sound(finding);
        if (finding.state == State::not_measured) {
            open.insert(finding.id);
            EXPECT_THAT(finding.missing, Contains(HasSubstr("the sections of door panel"))) << finding.id;
        }
    }
    EXPECT_THAT(open, Contains("swing/front door/moving"));
    EXPECT_THAT(open, Contains("swing/front door/shut"));
    for (const std::string& id : open) {
        EXPECT_THAT(id, HasSubstr("front door")) << "the rear door and the mounts are as they were";
    }
}

TEST(Evaluate, CanBeStopped) {
    std::stop_source stop;
    stop.request_stop();
    const auto evaluation = evaluate(swing_world::upright(115), ".", {stop.get_token(), {}});
    ASSERT_FALSE(evaluation);
    EXPECT_EQ(evaluation.error().code, geometry::ErrorCode::stopped);
}

/// Every field of every finding, to the last bit.
void expect_equal(const Evaluation& one, const Evaluation& other) {
    ASSERT_EQ(ids(one.findings), ids(other.findings));
    for (std::size_t i = 0; i < one.findings.size(); ++i) {
        const Finding& a = one.findings[i];
        const Finding& b = other.findings[i];
        SCOPED_TRACE(a.id);
        EXPECT_EQ(a.title, b.title);
        EXPECT_EQ(a.stage, b.stage);
        EXPECT_EQ(a.state, b.state);
        EXPECT_EQ(a.unit, b.unit);
        EXPECT_EQ(a.found, b.found);
        EXPECT_EQ(a.required, b.required);
        EXPECT_EQ(a.margin, b.margin);
        EXPECT_EQ(a.at_least, b.at_least);
        EXPECT_EQ(a.place.words, b.place.words);
        EXPECT_EQ(a.place.along, b.place.along);
        EXPECT_EQ(a.place.on_part_mm, b.place.on_part_mm);
        EXPECT_EQ(a.place.on_other_mm, b.place.on_other_mm);
        EXPECT_EQ(a.place.door_angle, b.place.door_angle);
        EXPECT_EQ(a.why, b.why);
        EXPECT_EQ(a.formula, b.formula);
        EXPECT_EQ(a.source, b.source);
        EXPECT_EQ(a.missing, b.missing);
        ASSERT_EQ(a.inputs.size(), b.inputs.size());
        for (std::size_t k = 0; k < a.inputs.size(); ++k) {
            EXPECT_EQ(a.inputs[k].name, b.inputs[k].name);
            EXPECT_EQ(a.inputs[k].value, b.inputs[k].value);
        }
        ASSERT_EQ(a.touching.size(), b.touching.size());
        for (std::size_t k = 0; k < a.touching.size(); ++k) {
            EXPECT_EQ(a.touching[k].from, b.touching[k].from);
            EXPECT_EQ(a.touching[k].to, b.touching[k].to);
        }
        ASSERT_EQ(a.mend.has_value(), b.mend.has_value());
        if (a.mend) {
            EXPECT_EQ(a.mend->words, b.mend->words);
            EXPECT_EQ(a.mend->proven_margin, b.mend->proven_margin);
            ASSERT_EQ(a.mend->moves.size(), b.mend->moves.size());
            for (std::size_t k = 0; k < a.mend->moves.size(); ++k) {
                EXPECT_EQ(a.mend->moves[k].node_id, b.mend->moves[k].node_id);
                EXPECT_EQ(a.mend->moves[k].by_mm, b.mend->moves[k].by_mm);
            }
        }
    }
    ASSERT_EQ(one.outcomes.size(), other.outcomes.size());
    for (std::size_t i = 0; i < one.outcomes.size(); ++i) {
        EXPECT_EQ(one.outcomes[i].distance.proven, other.outcomes[i].distance.proven);
        EXPECT_EQ(one.outcomes[i].distance.at, other.outcomes[i].distance.at);
        EXPECT_EQ(one.outcomes[i].pair.moving->name, other.outcomes[i].pair.moving->name);
    }
    EXPECT_EQ(one.unmended, other.unmended);
}

/// Outcomes must point into the evaluation that they stand in, not into one that may be gone.
void expect_own_bodies(const Evaluation& evaluation) {
    std::set<const BodyModel*> own{evaluation.body.get()};
    for (const PieceModel& piece : evaluation.car.pieces) {
        own.insert(piece.body ? &*piece.body : nullptr);
    }
    for (const DoorModel& door : evaluation.car.doors) {
        for (const DoorPart& part : door.parts) {
            own.insert(&part.body);
        }
    }
    for (const SwingOutcome& outcome : evaluation.outcomes) {
        EXPECT_TRUE(own.contains(outcome.pair.moving));
        EXPECT_TRUE(own.contains(outcome.pair.fixed));
    }
}

/// A change of a job, with its name for messages.
struct Change {
    const char* name;
    void (*make)(Job&);
};

void move_by(Entry& entry, double by_mm) {
    entry.value = entry.value + geometry::millimetres(by_mm);
}

/// Makes the changes one after another, and holds each update against the whole computation.
void expect_updates(Job job, const std::filesystem::path& folder, const std::vector<Change>& changes) {
    auto before = evaluated(job, folder);
    for (const Change& change : changes) {
        SCOPED_TRACE(change.name);
        change.make(job);
        auto updated = update(job, *before, folder);
        ASSERT_TRUE(updated) << updated.error().message;
        const auto whole = evaluated(job, folder);
        before.reset();  // Nothing may point into what went before.
        expect_equal(*updated.value(), *whole);
        expect_own_bodies(*updated.value());
        // The findings first, the mends after.
        auto first = update(job, *whole, folder, {}, Mends::leave);
        ASSERT_TRUE(first);
        auto then = with_mends(first.value());
        ASSERT_TRUE(then);
        expect_equal(*then.value(), *whole);
        before = updated.value();
    }
}

/// Two doors, two pieces, one carried high above the doors, a gap that does not hold.
Job world_of_two_doors() {
    Job job = swing_world::upright(107);
    job.skirt.pieces[0] =
        swing_world::piece("skirt", {{"shelf inner", -30, 100}, {"shelf edge", 60, 100}, {"lower edge", 70, 20}});
    job.doors.push_back(swing_world::door(swing_world::hinge(600), 140));
    job.doors[1].name = "rear door";
    job.skirt.pieces.push_back(swing_world::piece("carried", {{"shelf inner", -100, 400}, {"shelf edge", -60, 400}}));
    job.skirt.pieces[1].carried_by = "rear door";
    job.body = swing_world::straight("body", {{"rocker", -50, 90}, {"pinch weld", -55, 20}}, 1, 5);
    return job;
}

TEST(Update, IsTheWholeComputationAfterEveryKindOfChange) {
    const TestFolder folder;
    const std::vector<Change> changes{
        {"nothing", [](Job&) {}},
        {"move node", [](Job& job) { move_by(job.skirt.pieces[0].drawn.sections[2].nodes[1].up, -0.5); }},
        {"round node", [](Job& job) { move_by(job.skirt.pieces[0].drawn.sections[1].nodes[1].radius, 3); }},
        {"move node of the carried piece",
         [](Job& job) { move_by(job.skirt.pieces[1].drawn.sections[3].nodes[0].up, 2); }},
        {"move node of the body", [](Job& job) { move_by(job.body.sections[1].nodes[0].out, -4); }},
        {"move node of a door", [](Job& job) { move_by(job.doors[1].bodies[0].drawn.sections[0].nodes[0].up, 1); }},
        {"limit", [](Job& job) { move_by(job.limits.gap_moving_edge, 0.7); }},
        {"station", [](Job& job) { move_by(job.stations[2].along, 20); }},
        {"hinge", [](Job& job) { job.doors[0].hinge = swing_world::hinge(0, 2, 6); }},
        {"opening", [](Job& job) { job.doors[1].opening = geometry::degrees(50); }},
        {"sag", [](Job& job) { job.doors[0].sag->drop = mm(2); }},
        {"no sag", [](Job& job) { job.doors[0].sag.reset(); }},
        {"past shut", [](Job& job) { job.doors[1].over_slam->travel = mm(4); }},
        {"paint", [](Job& job) { job.skirt.paint = mm(0.3); }},
        {"no survey", [](Job& job) { job.survey_sd.reset(); }},
        {"outline",
         [](Job& job) {
             job.doors[0].outline = {
                 {mm(100), mm(100), {}}, {mm(900), mm(100), {}}, {mm(900), mm(330), {}}, {mm(100), mm(330), {}}};
         }},
        {"sheet", [](Job& job) { job.skirt.pieces[0].sheet = mm(4); }},
        {"no sheet", [](Job& job) { job.skirt.pieces[0].sheet.reset(); }},
        {"sheet again", [](Job& job) { job.skirt.pieces[0].sheet = mm(3); }},
        {"end cap", [](Job& job) { job.skirt.pieces[0].front_closed = true; }},
        {"rename piece", [](Job& job) { job.skirt.pieces[0].name = "sill"; }},
        {"rename door",
         [](Job& job) {
             job.doors[1].name = "back door";
             job.skirt.pieces[1].carried_by = "back door";
         }},
        {"carried by nothing", [](Job& job) { job.skirt.pieces[1].carried_by = "body"; }},
        {"other order",
         [](Job& job) {
             std::swap(job.skirt.pieces[0], job.skirt.pieces[1]);
             std::swap(job.doors[0], job.doors[1]);
         }},
        {"cladding",
         [](Job& job) { job.doors[0].bodies.push_back(swing_world::box("cladding", 150, DoorBodyKind::cladding)); }},
        {"body not measured", [](Job& job) { job.doors[0].bodies[0].drawn = {}; }},
        {"body away", [](Job& job) { job.doors[0].bodies.erase(job.doors[0].bodies.begin()); }},
        {"door away", [](Job& job) { job.doors.pop_back(); }},
        {"piece away", [](Job& job) { job.skirt.pieces.pop_back(); }},
        {"vehicle", [](Job& job) { job.vehicle = "another"; }},
    };
    expect_updates(world_of_two_doors(), folder.path(), changes);
}

TEST(Update, IsTheWholeComputationOfASample) {
    const std::filesystem::path folder = SILLWRIGHT_SOURCE_DIR "/samples";
    const auto job = read_job(folder / "estate_a.sillwright");
    ASSERT_TRUE(job);
    expect_updates(job.value(), folder,
                   {{"move node", [](Job& one) { move_by(one.skirt.pieces[0].drawn.sections[4].nodes[2].up, -1); }},
                    {"move mount", [](Job& one) { move_by(one.mounts[1].at.along, 12); }},
                    {"mount too near the edge", [](Job& one) { move_by(one.mounts[2].at.out, 14); }},
                    {"move another mount", [](Job& one) { move_by(one.mounts[4].at.along, -3); }},
                    {"mount away", [](Job& one) { one.mounts.erase(one.mounts.begin()); }},
                    {"thicker head", [](Job& one) { one.mounts[3].fastener.head_diameter = mm(22); }}});
}

TEST(Update, ReadsAFileAgainThatHasChanged) {
    const TestFolder folder;
    Job job = swing_world::upright(115);
    const CarModel made = swing_world::model_of(job);
    const auto write = [&](geometry::Mesh mesh, double by_mm) {
        for (Eigen::Vector3d& p : mesh.points) {
            p.z() += by_mm;
        }
        ASSERT_TRUE(geometry::write_mesh(mesh, folder.path() / "part.ply", geometry::MeshFormat::ply_binary,
                                         geometry::FileUnit::millimetre));
    };
    write(made.pieces[0].body->mesh, 0.0);
    job.skirt.pieces[0].drawn = {};
    job.skirt.pieces[0].file = ShapeFile{"part.ply", {}, BareUnit::mm, {}};
    job.zero_to_midplane = mm(0);
    const auto before = evaluated(job, folder.path());
    write(made.pieces[0].body->mesh, -3.0);
    std::filesystem::last_write_time(folder.path() / "part.ply", before->files.at(0).written + std::chrono::seconds(5));
    auto updated = update(job, *before, folder.path());
    ASSERT_TRUE(updated) << updated.error().message;
    expect_equal(*updated.value(), *evaluated(job, folder.path()));
    EXPECT_NE(updated.value()->outcomes.at(0).distance.proven, before->outcomes.at(0).distance.proven);
    std::filesystem::remove(folder.path() / "part.ply");
    EXPECT_FALSE(update(job, *before, folder.path())) << "what is gone is not taken over";
}

TEST(Update, TellsRisingProgressToItsEnd) {
    const TestFolder folder;
    std::vector<double> told;
    const geometry::Watch watch{{}, [&](double part) { told.push_back(part); }};
    ASSERT_TRUE(evaluate(world_of_two_doors(), folder.path(), watch));
    ASSERT_FALSE(told.empty());
    EXPECT_TRUE(std::is_sorted(told.begin(), told.end()));
    EXPECT_GE(told.front(), 0.0);
    EXPECT_EQ(told.back(), 1.0);
}

TEST(Update, StopsSoonWhereverItIs) {
    const std::filesystem::path folder = SILLWRIGHT_SOURCE_DIR "/samples";
    Job job = read_job(folder / "estate_a.sillwright").value();
    for (Section& section : job.skirt.pieces[0].drawn.sections) {
        for (Node& node : section.nodes) {
            move_by(node.up, 8);  // Short of its gaps, so that mends are looked for as well.
        }
    }
    // Stopped by the progress itself, at each of its steps: no later one is told.
    for (const double at : {0.0, 0.2, 0.3, 0.45, 0.6}) {
        std::stop_source stop;
        int after = 0;
        const geometry::Watch watch{stop.get_token(), [&](double part) {
                                        after += stop.stop_requested() ? 1 : 0;
                                        if (part >= at) {
                                            stop.request_stop();
                                        }
                                    }};
        const auto stopped = evaluate(job, folder, watch);
        ASSERT_FALSE(stopped) << at;
        EXPECT_EQ(stopped.error().code, geometry::ErrorCode::stopped) << at;
        EXPECT_LE(after, 1) << at;
    }
}

TEST(Evaluation, ACopyPointsIntoItself) {
    const TestFolder folder;
    auto original = evaluated(world_of_two_doors(), folder.path());
    Evaluation copy = *original;
    Evaluation assigned;
    assigned = *original;
    original.reset();
    expect_own_bodies(copy);
    expect_own_bodies(assigned);
    const Evaluation moved = std::move(copy);
    expect_own_bodies(moved);
    EXPECT_EQ(moved.outcomes.size(), assigned.outcomes.size());
}

TEST(Evaluate, AChangeOfFormingIsWorkedThroughAsFromTheStart) {
    Job job = u_job();
    job.skirt.paint = mm(0.12);
    const auto before = evaluated(job, ".");
    for (const MouldKind mould : {MouldKind::female, MouldKind::male}) {
        job.forming.mould = mould;
        job.forming.clamp_distance = mm(140);
        const auto updated = update(job, *before, ".");
        ASSERT_TRUE(updated) << updated.error().message;
        const auto whole = evaluated(job, ".");
        expect_equal(*updated.value(), *whole);
        ASSERT_TRUE(whole->car.pieces[0].formed);
        EXPECT_EQ(*updated.value()->car.pieces[0].formed, *whole->car.pieces[0].formed);
        EXPECT_EQ(updated.value()->car.pieces[0].body->mesh.points, whole->car.pieces[0].body->mesh.points);
    }
}

}  // namespace
}  // namespace sillwright::core
