#include "core/swing/swing_mend.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <cstdio>

#include "geometry/mesh_file.h"
#include "tests/core/small_job.h"
#include "tests/core/swing/swing_world.h"

namespace sillwright::core {
namespace {

using swing_world::mm;
using swing_world::model_of;
using swing_world::swing_finding;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

std::optional<Mend> mend_of(const Job& job, const char* what, const std::filesystem::path& folder = ".") {
    const CarModel car = model_of(job, folder);
    const Finding finding = swing_finding(job, what, folder);
    EXPECT_EQ(finding.state, State::falls_short) << finding.why;
    auto mend = swing_mend(job, car, nullptr, finding, folder);
    EXPECT_TRUE(mend) << (mend ? "" : mend.error().message);
    return mend ? mend.value() : std::nullopt;
}

/// Makes the moves and computes everything anew.
void expect_mended(const Job& job, const char* what) {
    const auto mend = mend_of(job, what);
    ASSERT_TRUE(mend);
    ASSERT_THAT(mend->moves, Not(IsEmpty())) << mend->words;
    ASSERT_TRUE(mend->proven_margin);
    const Finding after = swing_finding(mended(job, mend->moves), what);
    ASSERT_TRUE(after.margin) << after.why;
    EXPECT_GE(*after.margin, 0.0);
    EXPECT_LE(*after.margin, k_mend_overshoot_mm);
    EXPECT_NEAR(*after.margin, *mend->proven_margin, 1e-9);
}

/// A shelf that ends where the door does, so that a few nodes decide.
Piece narrow_shelf() {
    return swing_world::piece(
        "skirt",
        {{"top return end", -40, 80}, {"shelf inner", -30, 100}, {"shelf edge", 60, 100}, {"lower edge", 70, 20}});
}

TEST(SwingMend, LowersTheShelfUnderTheDoorByWhatIsLacking) {
    const Job job = swing_world::job(narrow_shelf(), swing_world::door(swing_world::hinge(0), 107));
    for (const char* what : {"shut", "moving"}) {
        expect_mended(job, what);
    }
    const auto mend = mend_of(job, "moving");
    ASSERT_TRUE(mend);
    EXPECT_THAT(mend->words, HasSubstr("shelf"));
    EXPECT_THAT(mend->words, HasSubstr("lower"));
    EXPECT_THAT(mend->words, HasSubstr("station"));
    // Flat over flat: nothing is won by moving out or in, and by more than is lacking nobody has to move.
    const Finding finding = swing_finding(job, "moving");
    for (const NodeMove& move : mend->moves) {
        EXPECT_LE(move.by_mm.y(), 0.0) << move.node_id;
        EXPECT_GE(move.by_mm.y(), 1.5 * *finding.margin - 1.0) << move.node_id;
    }
}

TEST(SwingMend, UnderALeaningAxis) {
    // The free edge comes down as it swings out, over the shelf's edge.
    const Job job = swing_world::job(narrow_shelf(), swing_world::door(swing_world::hinge(0, 0, 10), 110));
    expect_mended(job, "moving");
}

TEST(SwingMend, WhereTheyTouch) {
    const Job job = swing_world::job(narrow_shelf(), swing_world::door(swing_world::hinge(0), 101));
    EXPECT_FALSE(swing_finding(job, "moving").touching.empty());
    expect_mended(job, "moving");
}

TEST(SwingMend, MovesOnlyNodesOfTheSkirt) {
    const Job job = swing_world::job(narrow_shelf(), swing_world::door(swing_world::hinge(0), 107));
    const auto mend = mend_of(job, "shut");
    ASSERT_TRUE(mend);
    const Job after = mended(job, mend->moves);
    EXPECT_EQ(after.doors, job.doors);
    EXPECT_EQ(after.stations, job.stations);
    std::size_t moved = 0;
    for (std::size_t s = 0; s < 5; ++s) {
        const auto& before_nodes = job.skirt.pieces[0].drawn.sections[s].nodes;
        const auto& after_nodes = after.skirt.pieces[0].drawn.sections[s].nodes;
        ASSERT_EQ(before_nodes.size(), after_nodes.size());
        for (std::size_t i = 0; i < before_nodes.size(); ++i) {
            EXPECT_EQ(before_nodes[i].id, after_nodes[i].id);
            moved += before_nodes[i] == after_nodes[i] ? 0U : 1U;
        }
    }
    EXPECT_EQ(moved, mend->moves.size());
}

TEST(SwingMend, APieceFromAFileHasWordsAndNoMoves) {
    const TestFolder folder;
    Job job = swing_world::job(narrow_shelf(), swing_world::door(swing_world::hinge(0), 107));
    const geometry::Mesh mesh = model_of(job).pieces[0].body->mesh;
    ASSERT_TRUE(geometry::write_mesh(mesh, folder.path() / "skirt.ply", geometry::MeshFormat::ply_binary,
                                     geometry::FileUnit::millimetre));
    job.skirt.pieces[0].drawn = {};
    job.skirt.pieces[0].file = ShapeFile{"skirt.ply", "", BareUnit::mm, {}};
    const auto mend = mend_of(job, "shut", folder.path());
    ASSERT_TRUE(mend);
    EXPECT_THAT(mend->moves, IsEmpty());
    EXPECT_FALSE(mend->proven_margin);
    // 107 over 103, 6 asked for, 0.1 of paint, 2 sqrt(0.25 + 0.36 + (0.5 l / 1000)^2), l about 1 m: 4.04 or so.
    EXPECT_THAT(mend->words, HasSubstr(" mm more"));
}

TEST(SwingMend, WhereNothingHelpsThereAreNoMoves) {
    // A gap of half a metre is asked for: no section can be pushed so far out of the way.
    Job job = swing_world::job(narrow_shelf(), swing_world::door(swing_world::hinge(0), 107));
    job.limits.gap_shut = mm(500);
    const auto mend = mend_of(job, "shut");
    ASSERT_TRUE(mend);
    EXPECT_THAT(mend->moves, IsEmpty()) << mend->words;
    EXPECT_FALSE(mend->proven_margin);
    EXPECT_THAT(mend->words, HasSubstr("more"));
}

TEST(SwingMend, OnlySwingFindingsHaveOne) {
    const Job job = swing_world::upright(115);
    const CarModel car = model_of(job);
    Finding other;
    other.id = "mounts/H1/reach";
    const auto mend = swing_mend(job, car, nullptr, other, ".");
    ASSERT_TRUE(mend);
    EXPECT_FALSE(mend.value());
}

TEST(SwingMend, CanBeStopped) {
    const Job job = swing_world::upright(107);
    const CarModel car = model_of(job);
    const Finding finding = swing_finding(job, "moving");
    std::stop_source stop;
    stop.request_stop();
    const auto mend = swing_mend(job, car, nullptr, finding, ".", {stop.get_token(), {}});
    ASSERT_FALSE(mend);
    EXPECT_EQ(mend.error().code, geometry::ErrorCode::stopped);
}

TEST(Mended, MovesTheNamedNodeByOutAndUp) {
    Job job = swing_world::upright(115);
    Node& node = job.skirt.pieces[0].drawn.sections[2].nodes[1];
    node.out.typed = "51 1/8\"";
    const Job after = mended(job, {{node.id, {1.5, -2.25}}});
    const Node& moved = after.skirt.pieces[0].drawn.sections[2].nodes[1];
    EXPECT_EQ(geometry::in_mm(moved.out.value), 1301.5);
    EXPECT_EQ(geometry::in_mm(moved.up.value), 97.75);
    EXPECT_EQ(moved.out.typed, "") << "the typed words no longer say it";
    EXPECT_EQ(mended(job, {}), job);
    EXPECT_EQ(mended(job, {{"no such node", {1, 1}}}), job);
}

TEST(SwingMend, WhatADoorCarriesTooNearTheBodyGetsWordsOnly) {
    // A piece on the door, its inside at out 30, before a sill at out 27: 3 mm where more is needed, and no
    // node of a fixed piece would help.
    Job job = swing_world::job(swing_world::shelf(), swing_world::door(swing_world::hinge(0), 200));
    Piece carried = swing_world::piece("door skirt", {{"top", 30, 190}, {"bottom", 30, 100}});
    carried.carried_by = "front door";
    job.skirt.pieces = {carried};
    job.body = swing_world::straight("body", {{"sill outer", 27, 220}, {"sill bottom", 27, 50}}, 1, 5);
    const CarModel car = model_of(job);
    const auto report = check_swing(job, car);
    ASSERT_TRUE(report);
    for (const Finding& finding : report.value().findings) {
        if (finding.state != State::falls_short) {
            continue;
        }
        const auto mend = swing_mend(job, car, report.value().body.get(), finding, ".");
        ASSERT_TRUE(mend);
        ASSERT_TRUE(mend.value());
        EXPECT_THAT(mend.value()->moves, IsEmpty()) << finding.id;
        EXPECT_FALSE(mend.value()->proven_margin);
        if (finding.margin) {
            // What is lacking is the finding's own number, to a tenth.
            char lacking[32];
            std::snprintf(lacking, sizeof lacking, "needs %.1f mm more", -*finding.margin);
            EXPECT_THAT(mend.value()->words, HasSubstr(lacking)) << finding.id;
        }
    }
    EXPECT_TRUE(std::any_of(report.value().findings.begin(), report.value().findings.end(),
                            [](const Finding& f) { return f.state == State::falls_short; }));
}

}  // namespace
}  // namespace sillwright::core
