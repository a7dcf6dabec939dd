#include "app/link/solid_tints.h"

#include <gtest/gtest.h>

#include <QElapsedTimer>
#include <algorithm>
#include <cstdio>
#include <map>
#include <set>
#include <utility>

#include "app/drawings/thickness_tint.h"
#include "app/link/solids_of_job.h"
#include "core/number_text.h"
#include "geometry/sheet_ring.h"
#include "tests/app/link/estate.h"
#include "tests/app/link/formed_by_hand.h"

// Expected values: by hand from the section, shares and draft of formed_by_hand.h as changed here.
namespace sillwright::app {
namespace {

using geometry::degrees;
using geometry::millimetres;

/// Steps by the two nodes that a strip lies between, the lower first.
using StepsOfStrips = std::map<std::pair<std::size_t, std::size_t>, std::set<int>>;

/// The piece by hand with a body: shelf and face are as thick as the sheet, the underside thins to the flange, which
/// has half. Drawn 2 degrees downward, which the shelf does not let go.
std::unique_ptr<core::Evaluation> with_body() {
    core::FormingPlan plan = hand_plan();
    plan.pieces[0].draw.tilt = degrees(-2.0);
    plan.pieces[0].draw.needed = degrees(3.0);
    auto made = formed_by_hand(std::move(plan));
    core::PieceModel& model = made->car.pieces[0];
    core::FormedSheet formed = *model.formed;
    formed.shares = {{1.0, 1.0, 1.0, 0.5, 0.5}, {1.0, 1.0, 1.0, 0.5, 0.5}};
    model.formed = std::make_shared<const core::FormedSheet>(std::move(formed));
    const geometry::SheetFaces faces{geometry::Length{}, millimetres(-4.0), geometry::RingFace::outside};
    const auto layout = geometry::layout_of_sheet(*model.line, faces, millimetres(0.1)).value();
    core::BodyModel body;
    body.name = "skirt";
    body.ring = geometry::mesh_of(geometry::sheet_ring(*model.line, faces, layout).value(), millimetres(0.2)).value();
    body.mesh = body.ring->mesh;
    model.body = std::move(body);
    return made;
}

StepsOfStrips by_strips(const geometry::RingMesh& ring, const std::vector<int>& steps) {
    StepsOfStrips found;
    for (std::size_t i = 0; i < ring.places.size(); ++i) {
        if (ring.places[i].part == geometry::RingMeshPart::side) {
            const geometry::RingStrip& strip = geometry::strip_of(ring, ring.places[i].segment);
            found[std::minmax({strip.from_node, strip.to_node})].insert(steps.at(i));
        }
    }
    return found;
}

TEST(SolidTints, TheFaceIsPaleAndTheFlangeDark) {
    const auto made = with_body();
    const geometry::RingMesh& ring = *made->car.pieces[0].body->ring;
    const std::vector<int> steps = piece_tints(*made, 0, SectionForming::thickness);
    ASSERT_EQ(steps.size(), ring.mesh.triangles.size());
    StepsOfStrips found = by_strips(ring, steps);
    EXPECT_EQ((found[{0, 1}]), std::set<int>{5}) << "shelf, outside and inside";
    EXPECT_EQ((found[{1, 2}]), std::set<int>{5}) << "face";
    EXPECT_EQ((found[{3, 4}]), std::set<int>{0}) << "flange";
    // Its middle is at mark 2.5, inside a sheet's thickness beside it: 3 mm of 2 to 4, on the edge of two steps.
    for (const int step : found[{2, 3}]) {
        EXPECT_TRUE(step == 2 || step == 3) << step;
    }
    EXPECT_EQ((found[{0, 0}]), std::set<int>{5}) << "edge of the sheet";
    EXPECT_EQ((found[{4, 4}]), std::set<int>{0});
    for (std::size_t i = 0; i < ring.places.size(); ++i) {
        EXPECT_EQ(steps[i] == k_no_tint, ring.places[i].part != geometry::RingMeshPart::side);
    }
    EXPECT_EQ(tint_words(*made, SectionForming::thickness),
              (std::vector<std::string>{"2.00", "2.33", "2.67", "3.00", "3.33", "3.67", "4.00"}));
}

TEST(SolidTints, UndercutIsDarkAndEnoughDraftPale) {
    auto made = with_body();
    const geometry::RingMesh& ring = *made->car.pieces[0].body->ring;
    StepsOfStrips found = by_strips(ring, piece_tints(*made, 0, SectionForming::draft));
    EXPECT_EQ((found[{0, 1}]), std::set<int>{0}) << "the shelf has -2 degrees";
    EXPECT_EQ((found[{1, 2}]), std::set<int>{5}) << "the face 88";
    EXPECT_EQ((found[{2, 3}]), std::set<int>{3}) << "the underside 2 of 3: the third of four steps from none to enough";
    EXPECT_EQ(tint_words(*made, SectionForming::draft).size(), 7U);
    EXPECT_EQ(tint_words(*made, SectionForming::draft)[3], core::degree_text(degrees(1.5)));
    EXPECT_EQ(tint_words(*made, SectionForming::draft)[5], core::degree_text(degrees(3.0))) << "enough";

    core::FormingPlan plan = *made->forming;
    plan.pieces[0].draw.needed.reset();
    made->forming = std::make_shared<const core::FormingPlan>(std::move(plan));
    found = by_strips(ring, piece_tints(*made, 0, SectionForming::draft));
    EXPECT_EQ((found[{0, 1}]), std::set<int>{0}) << "undercut is undercut whatever is enough";
    EXPECT_EQ((found[{2, 3}]), std::set<int>{5});
}

TEST(SolidTints, NothingIsTintedThatIsNotComputed) {
    auto made = with_body();
    EXPECT_TRUE(piece_tints(*made, 0, SectionForming::none).empty());
    EXPECT_TRUE(tint_words(*made, SectionForming::none).empty());
    made->car.pieces[0].formed = nullptr;
    made->forming = nullptr;
    for (const SectionForming what : {SectionForming::thickness, SectionForming::draft}) {
        EXPECT_TRUE(piece_tints(*made, 0, what).empty());
        EXPECT_TRUE(tint_words(*made, what).empty());
    }
    made = with_body();
    made->car.pieces[0].body->ring.reset();
    EXPECT_TRUE(piece_tints(*made, 0, SectionForming::thickness).empty()) << "of a file";
}

TEST(SolidTints, TheSceneCarriesThemOnlyWhereTheyAreWanted) {
    const auto made = with_body();
    const MadeSolids plain = solids_again(*made, {}).value();
    ASSERT_EQ(plain.scene.bodies.size(), 1U);
    EXPECT_EQ(plain.scene.bodies[0].tints, nullptr);
    EXPECT_TRUE(plain.scene.tints.empty());
    const MadeSolids tinted = solids_again(*made, plain, SectionForming::thickness).value();
    EXPECT_EQ(tinted.scene.bodies[0].mesh, plain.scene.bodies[0].mesh) << "only the colour is another";
    ASSERT_NE(tinted.scene.bodies[0].tints, nullptr);
    EXPECT_EQ(*tinted.scene.bodies[0].tints, piece_tints(*made, 0, SectionForming::thickness));
    EXPECT_EQ(tinted.scene.tints, tint_words(*made, SectionForming::thickness));
    const MadeSolids draft = solids_again(*made, tinted, SectionForming::draft).value();
    EXPECT_EQ(*draft.scene.bodies[0].tints, piece_tints(*made, 0, SectionForming::draft));
    EXPECT_EQ(solids_again(*made, draft).value().scene.bodies[0].tints, nullptr);
}

TEST(SolidTints, UnderTheHandTheyStayUntilThePlanIsMadeAnew) {
    const auto made = with_body();
    const MadeSolids start = solids_again(*made, {}, SectionForming::draft).value();
    made->forming = std::make_shared<const core::FormingPlan>(*made->forming);
    EXPECT_EQ(solids_again(*made, start, SectionForming::draft).value().scene.bodies[0].tints,
              start.scene.bodies[0].tints)
        << "a new plan that says the same";

    // A drag moves the body and keeps the plan: the shelf falls by 10 mm until the mould lets it go.
    const MadeSolids again = solids_again(*made, start, SectionForming::draft).value();
    geometry::LoftSection front = hand_section(100.0);
    geometry::LoftSection rear = hand_section(1100.0);
    for (geometry::LoftSection* const section : {&front, &rear}) {
        section->nodes[1].p_mm = {150.0, 110.0};
    }
    made->car.pieces[0].line = geometry::Loft::make({front, rear}, {}, false).value();
    EXPECT_EQ(solids_again(*made, again, SectionForming::draft).value().scene.bodies[0].tints,
              again.scene.bodies[0].tints);
    made->forming = std::make_shared<const core::FormingPlan>(*made->forming);
    EXPECT_NE(solids_again(*made, again, SectionForming::draft).value().scene.bodies[0].tints,
              again.scene.bodies[0].tints);
}

TEST(SolidTints, EstateIsTintedAllOver) {
    const auto results = estate();
    for (const SectionForming what : {SectionForming::thickness, SectionForming::draft}) {
        QElapsedTimer time;
        time.start();
        const std::vector<int> steps = piece_tints(*results, 0, what);
        std::printf("tints of %zu triangles: %.2f ms\n", steps.size(), static_cast<double>(time.nsecsElapsed()) * 1e-6);
        const core::BodyModel& body = *results->car.pieces[0].body;
        ASSERT_EQ(steps.size(), body.mesh.triangles.size());
        std::set<int> seen;
        for (std::size_t i = 0; i < body.ring->places.size(); ++i) {
            const bool side = body.ring->places[i].part == geometry::RingMeshPart::side;
            ASSERT_TRUE(side ? steps[i] >= 0 && steps[i] < ThicknessTint::k_steps : steps[i] == k_no_tint) << i;
            if (side) {
                seen.insert(steps[i]);
            }
        }
        // Its draft is enough everywhere.
        EXPECT_EQ(seen.size() >= 2U, what == SectionForming::thickness);
    }
}

}  // namespace
}  // namespace sillwright::app
