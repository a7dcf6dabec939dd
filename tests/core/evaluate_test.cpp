#include "core/evaluate.h"

#include <gmock/gmock.h>

#include <cmath>
#include <limits>
#include <set>

#include "core/job_file.h"
#include "geometry/mesh_file.h"
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

}  // namespace
}  // namespace sillwright::core
