#include "core/car_model.h"

#include <gmock/gmock.h>

#include <filesystem>

#include "core/edit/book_edit.h"
#include "core/forming/formed_sheet.h"
#include "core/job_file.h"
#include "core/survey/results.h"
#include "core/swing/swing_check.h"
#include "tests/core/forming/u_world.h"
#include "tests/core/swing/swing_world.h"

namespace sillwright::core {
namespace {

using Eigen::Vector3d;
using geometry::in_deg;
using geometry::in_mm;
using geometry::millimetres;
using swing_world::mm;
using swing_world::model_of;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::StartsWith;

constexpr double k_rounding = 1e-9;

/// A shelf with a drop at its outer edge.
Job with_apron() {
    Job job = swing_world::upright(115);
    job.skirt.pieces[0] =
        swing_world::piece("skirt", {{"shelf inner", -300, 100}, {"shelf edge", 1300, 100}, {"lower edge", 1300, 20}});
    return job;
}

std::string error_of(const Job& job) {
    const auto car = car_model(job, ".");
    return car ? "no error" : car.error().message;
}

TEST(CarModel, ASheetBodyIsItsLengthTimesItsThickness) {
    const CarModel car = model_of(with_apron());
    ASSERT_EQ(car.pieces.size(), 1U);
    ASSERT_TRUE(car.pieces[0].body);
    const geometry::Mesh& mesh = car.pieces[0].body->mesh;
    EXPECT_EQ(geometry::open_edge_count(mesh), 0U);
    // 1500 long; 1600 and 80 round the inside, a sharp corner whose outside is a quarter circle of radius 3.
    const double section = 3.0 * 1600 + 3.0 * 80 + std::numbers::pi * 9 / 4;
    const double short_of = 3.0 * std::numbers::pi / 2.0 * in_mm(k_check_deviation);  // chords instead of the arc
    EXPECT_LE(geometry::volume_mm3(mesh), 1500 * section + 1e-3);
    EXPECT_GE(geometry::volume_mm3(mesh), 1500 * (section - short_of));
    EXPECT_LE(mesh.deviation, k_check_deviation);
    EXPECT_THAT(car.pieces[0].missing, IsEmpty());
    EXPECT_THAT(car.findings, IsEmpty());
}

TEST(CarModel, ABoxDoorIsABox) {
    const CarModel car = model_of(swing_world::upright(115));
    ASSERT_EQ(car.doors.size(), 1U);
    const geometry::Mesh& mesh = car.doors[0].parts.at(0).body.mesh;
    EXPECT_NEAR(geometry::volume_mm3(mesh), 1000.0 * 30.0 * 200.0, 1e-3);
    EXPECT_NEAR(in_mm(mesh.deviation), 0.0, 1e-9);
}

TEST(CarModel, ADoorsOutlineTrimsIt) {
    Job job = swing_world::upright(115);
    const auto corner = [](double along, double up) { return OutlinePoint{mm(along), mm(up), {}}; };
    // A trapezium: 800 wide at up 120, 600 at up 220; the box is 30 thick.
    job.doors[0].outline = {corner(100, 120), corner(900, 120), corner(800, 220), corner(200, 220)};
    const CarModel car = model_of(job);
    const geometry::Mesh& mesh = car.doors[0].parts.at(0).body.mesh;
    EXPECT_NEAR(geometry::volume_mm3(mesh), 30.0 * 100.0 * (800 + 600) / 2, 1e-2);
    EXPECT_EQ(geometry::open_edge_count(mesh), 0U);
    EXPECT_FALSE(car.doors[0].parts[0].body.ring);
}

TEST(CarModel, ADoorPanelDrawnAsALineIsASheetToItsRight) {
    Job job = swing_world::upright(115);
    DoorBody panel = swing_world::box("panel", 115);
    panel.closed = false;
    panel.sheet = mm(2);
    panel.drawn = swing_world::straight("panel", {{"foot", 30, 115}, {"top", 30, 315}}, 2, 4);
    job.doors[0].bodies = {panel};
    const CarModel car = model_of(job);
    const geometry::Mesh& mesh = car.doors[0].parts.at(0).body.mesh;
    EXPECT_NEAR(geometry::volume_mm3(mesh), 1000.0 * 2.0 * 200.0, 1e-3);
    double least = 1e9;
    double most = -1e9;
    for (const Vector3d& p : mesh.points) {
        least = std::min(least, p.y());
        most = std::max(most, p.y());
    }
    // Upward along the line its right is further out.
    EXPECT_NEAR(least, 30.0, k_rounding);
    EXPECT_NEAR(most, 32.0, k_rounding);
}

TEST(CarModel, ADoorOpensOutwardAndSagsAtItsFreeEdge) {
    for (const double hinge_at : {0.0, 1000.0}) {
        Job job = swing_world::upright(115);
        job.doors[0].hinge = swing_world::hinge(hinge_at);
        job.doors[0].sag->drop = mm(2);
        const CarModel car = model_of(job);
        const DoorModel& door = car.doors[0];
        ASSERT_TRUE(door.on_striker && door.released);
        const Vector3d free_edge(1000.0 - hinge_at, 15, 115);
        const Vector3d open = geometry::pose(*door.on_striker, geometry::degrees(70)) * free_edge;
        EXPECT_NEAR(open.y(), 15 + 1000 * std::sin(70 * swing_world::k_deg), 1e-6) << "outward, hinge at " << hinge_at;
        EXPECT_NEAR(open.z(), 115.0, 1e-6);
        // A turn by asin(2 / 1000) about the pins' middle, at up 500.
        const double sag = std::asin(2.0 / 1000.0);
        const Vector3d released = geometry::pose(*door.released, geometry::Angle{}) * free_edge;
        EXPECT_NEAR(released.z(), 500 + (115 - 500) * std::cos(sag) - 1000 * std::sin(sag), 1e-6);
        const Vector3d on_striker = geometry::pose(*door.on_striker, geometry::Angle{}) * free_edge;
        EXPECT_NEAR((on_striker - free_edge).norm(), 0.0, k_rounding);
    }
}

TEST(CarModel, SagTurnsAboutThePlaceThatTheJobNames) {
    Job job = swing_world::upright(115);
    job.doors[0].sag->drop = mm(10);
    job.doors[0].hinge->sag_about = Position{mm(0), mm(15), mm(300), {}};
    const CarModel car = model_of(job);
    const Vector3d lower_pin(0, 15, 300);
    EXPECT_NEAR((geometry::pose(*car.doors[0].released, geometry::Angle{}) * lower_pin - lower_pin).norm(), 0.0,
                k_rounding);
}

TEST(CarModel, OverSlamIsAnAngle) {
    Job job = swing_world::upright(115);
    job.doors[0].over_slam = OverSlam{mm(9), mm(900), {}};
    const CarModel car = model_of(job);
    ASSERT_TRUE(car.doors[0].over_slam);
    EXPECT_NEAR(in_deg(*car.doors[0].over_slam), std::asin(0.01) / swing_world::k_deg, k_rounding);
}

TEST(CarModel, WhatIsNotMeasuredIsNamed) {
    Job job = swing_world::upright(115);
    job.doors[0].hinge.reset();
    job.doors[0].opening.reset();
    job.skirt.pieces[0].sheet.reset();
    DoorBody panel = swing_world::box("panel", 115);
    panel.closed = false;
    job.doors[0].bodies = {panel};
    CarModel car = model_of(job);
    EXPECT_THAT(car.doors[0].missing_motion,
                ElementsAre("the hinge axis of front door", "the opening angle of front door"));
    ASSERT_EQ(car.doors[0].missing_parts.size(), 1U);
    EXPECT_EQ(car.doors[0].missing_parts[0].words, "the thickness of panel");
    EXPECT_FALSE(car.doors[0].on_striker || car.doors[0].released);
    EXPECT_THAT(car.pieces[0].missing, ElementsAre("the sheet thickness of skirt"));
    EXPECT_FALSE(car.pieces[0].body);
    EXPECT_TRUE(car.pieces[0].line) << "it can still be drawn";
    job.doors[0].bodies.clear();
    job.skirt.pieces[0].drawn = {};
    car = model_of(job);
    ASSERT_EQ(car.doors[0].missing_parts.size(), 1U);
    EXPECT_EQ(car.doors[0].missing_parts[0].words, "the lower edge of front door");
    EXPECT_THAT(car.pieces[0].missing, ElementsAre("the sections of skirt"));
    EXPECT_FALSE(model_of(Job{}).body);
}

TEST(CarModel, ErrorsNameThePieceOrDoorAndThePlace) {
    Job job = with_apron();
    job.skirt.pieces[0].drawn.sections[2].nodes[1].radius = mm(900);
    EXPECT_THAT(error_of(job), StartsWith("skirt piece \"skirt\": "));
    EXPECT_THAT(error_of(job), HasSubstr("station 3"));
    EXPECT_THAT(error_of(job), HasSubstr("shelf edge"));

    job = with_apron();
    job.doors[0].bodies[0].drawn.sections[1].nodes[2].radius = mm(900);
    EXPECT_THAT(error_of(job), StartsWith("door \"front door\", \"lower edge\": "));
    EXPECT_THAT(error_of(job), HasSubstr("outer top"));

    job = with_apron();
    job.body =
        swing_world::straight("body", {{"sill outer", 10, 90}, {"sill bottom", 10, 20}, {"floor", -60, 20}}, 1, 5);
    EXPECT_EQ(error_of(job), "no error");
    job.body.sections[0].nodes[1].radius = mm(500);
    EXPECT_THAT(error_of(job), StartsWith("body: "));

    // A sheet of 120 on a drop of 80: its inside would turn about.
    job = with_apron();
    job.skirt.pieces[0].drawn_face = DrawnFace::outside;
    job.skirt.pieces[0].sheet = mm(120);
    EXPECT_THAT(error_of(job), StartsWith("skirt piece \"skirt\": "));

    job = with_apron();
    job.doors[0].outline = {{mm(2000), mm(0), {}}, {mm(2100), mm(0), {}}, {mm(2100), mm(500), {}}};
    EXPECT_THAT(error_of(job), StartsWith("door \"front door\", \"lower edge\": "));
}

TEST(CarModel, ABodyThatIsFarTooLargeIsRefusedWithItsCure) {
    // Forty metres of a rounding with a radius of 5 m, bowed along the car: some 400 chords in some hundred rows.
    Job job;
    Piece piece = swing_world::piece("skirt", {{"a", 0, 40'000}, {"b", 40'000, 40'000}, {"c", 40'000, 0}});
    for (std::size_t i = 0; i < 5; ++i) {
        job.stations.push_back({std::to_string(i + 1), mm(1e4 * static_cast<double>(i)), {}});
        piece.drawn.sections[i].nodes[1].radius = mm(5'000);
        piece.drawn.sections[i].nodes[1].out = mm(40'000 + static_cast<double>(i * i));
    }
    job.skirt.pieces = {piece};
    EXPECT_THAT(error_of(job), StartsWith("skirt piece \"skirt\": "));
    EXPECT_THAT(error_of(job), HasSubstr("points"));
    EXPECT_THAT(error_of(job), HasSubstr("unit"));
}

TEST(CarModel, TheBodysSurfaceIsAFoilOnItsOutside) {
    Job job = swing_world::upright(115);
    job.body = swing_world::straight("body", {{"sill outer", 10, 90}, {"sill bottom", 10, 20}}, 1, 5);
    const CarModel car = model_of(job);
    ASSERT_TRUE(car.body);
    const auto surface = body_surface(*car.body, k_check_deviation);
    ASSERT_TRUE(surface) << surface.error().message;
    EXPECT_EQ(geometry::open_edge_count(surface.value().mesh), 0U);
    EXPECT_GT(geometry::volume_mm3(surface.value().mesh), 0.0);
    for (const Vector3d& p : surface.value().mesh.points) {
        EXPECT_LE(p.y(), 10.0 + k_rounding) << "nothing stands out of the drawn line";
        EXPECT_GE(p.y(), 9.9);
    }
}

TEST(CarModel, MountsOfTheBookAreSureTogether) {
    const std::filesystem::path samples = std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "samples";
    const auto read = read_job(samples / "measuring_book.sillwright");
    ASSERT_TRUE(read) << read.error().message;
    const auto edit = add_mounts_from_book(read.value());
    ASSERT_TRUE(edit) << edit.error().message;
    const Job& job = edit.value().job;
    CarModel car;
    take_sureness(job, survey::survey_results(job, samples, false), car);
    const PlacesTogether& together = car.mounts_together;
    ASSERT_EQ(together.names.size(), job.mounts.size());
    ASSERT_EQ(together.covariance_mm2.rows(), 3 * std::ssize(together.names));
    for (std::size_t i = 0; i < together.names.size(); ++i) {
        const auto row = 3 * static_cast<Eigen::Index>(i);
        const Eigen::Matrix3d own = together.covariance_mm2.block<3, 3>(row, row);
        EXPECT_LT((own - car.mount_covariances_mm2.at(together.names[i])).norm(), 1e-9) << together.names[i];
    }
    // Measured from the same marks: not independent of one another.
    EXPECT_GT((together.covariance_mm2.block<3, 3>(0, 3).norm()), 1e-6);
}

TEST(StripWords, NameTheNodesOfATriangle) {
    const CarModel car = model_of(with_apron());
    const BodyModel& body = *car.pieces[0].body;
    const auto& line = car.pieces[0].line;
    std::set<std::string> words;
    for (std::size_t i = 0; i < body.mesh.triangles.size(); ++i) {
        const std::string said = strip_words(body, line, static_cast<std::int32_t>(i));
        words.insert(said);
        const auto& t = body.mesh.triangles[i];
        double lowest = 1e9;
        for (const auto corner : t) {
            lowest = std::min(lowest, body.mesh.points[static_cast<std::size_t>(corner)].z());
        }
        if (said == "shelf inner to shelf edge") {
            EXPECT_GE(lowest, 100.0 - k_rounding) << "the shelf lies at up 100";
        }
    }
    EXPECT_THAT(words,
                testing::IsSupersetOf({"shelf inner to shelf edge", "shelf edge", "shelf edge to lower edge", "end",
                                       "edge of the sheet at lower edge", "edge of the sheet at shelf inner"}));
    EXPECT_EQ(strip_words(body, line, static_cast<std::int32_t>(body.mesh.triangles.size())), "end cap");
    const std::optional<geometry::Loft> none;
    EXPECT_EQ(strip_words(body, none, 0), "");
}

/// Distance of a place from a piece's mesh.
double off_mesh_mm(const PieceModel& piece, const Eigen::Vector3d& p) {
    return geometry::nearest_on_surface(*piece.body->tree, p).distance_mm;
}

// The outside lies off the drawn inside by what the formed sheet has at each place, square to it.
TEST(CarModel, ASheetThatIsFormedIsAsThickAsItComesOut) {
    const Job job = u_job();
    const CarModel car = model_of(job);
    const PieceModel& piece = car.pieces[0];
    ASSERT_TRUE(piece.formed);
    EXPECT_THAT(car.findings, IsEmpty());
    EXPECT_EQ(geometry::open_edge_count(piece.body->mesh), 0U);
    const double shelf = in_mm(piece.formed->thickness_at(millimetres(500), 0.5));
    const double face = in_mm(piece.formed->thickness_at(millimetres(500), 1.5));
    const double flange = in_mm(piece.formed->thickness_at(millimetres(500), 2.5));
    EXPECT_LT(flange, face - 0.1);  // Over a male mould the walls thin.
    EXPECT_LT(off_mesh_mm(piece, {500, 130, 180 + shelf}), in_mm(k_check_deviation));
    EXPECT_LT(off_mesh_mm(piece, {500, 150 + face, 90}), in_mm(k_check_deviation));
    EXPECT_LT(off_mesh_mm(piece, {500, 130, -flange}), in_mm(k_check_deviation));
    EXPECT_LT(off_mesh_mm(piece, {500, 130, 0}), in_mm(k_check_deviation));
    // Until it is decided how it is formed it is the sheet everywhere.
    Job undecided = job;
    undecided.forming.mould.reset();
    const CarModel even = model_of(undecided);
    EXPECT_FALSE(even.pieces[0].formed);
    EXPECT_LT(off_mesh_mm(even.pieces[0], {500, 130, -3}), in_mm(k_check_deviation));
}

TEST(CarModel, AMeasuredFlangeGoesBeforeTheComputedOne) {
    Job job = u_job();
    job.skirt.pieces[0].flange.thickness = mm(2.2);
    const CarModel car = model_of(job);
    EXPECT_LT(off_mesh_mm(car.pieces[0], {500, 130, -2.2}), in_mm(k_check_deviation));
}

// The face is 180 wide and its walls lean in by 30 over 40: the foot is narrower than the face by far more than a clamp
// distance of 1.
TEST(CarModel, ASheetThatCannotBeDrapedIsSaidAndTakenAsItIs) {
    Job job = u_job();
    for (Section& section : job.skirt.pieces[0].drawn.sections) {
        section.nodes.front().up = mm(150);
        section.nodes.back().up = mm(30);
    }
    job.forming.clamp_distance = mm(1);
    const CarModel car = model_of(job);
    EXPECT_FALSE(car.pieces[0].formed);
    ASSERT_TRUE(car.pieces[0].body);
    ASSERT_EQ(car.findings.size(), 1U);
    const Finding& finding = car.findings[0];
    EXPECT_EQ(finding.id, "forming/skirt/thickness");
    EXPECT_EQ(finding.state, State::not_measured);
    EXPECT_THAT(finding.why, HasSubstr("clamp"));
    EXPECT_THAT(finding.missing, Not(IsEmpty()));
    EXPECT_FALSE(finding.formula.empty());
    EXPECT_FALSE(finding.source.empty());
}

TEST(CarModel, WhatIsKnownIsMadeAnewWhenItsFormingChanges) {
    const Job job = u_job();
    const CarModel before = model_of(job);
    const KnownModels known{&job, &before, [](const ShapeFile&) { return true; }};
    const auto same = car_model(job, ".", k_check_deviation, known).value();
    EXPECT_EQ(same.pieces[0].body->tree, before.pieces[0].body->tree);
    Job changed = job;
    changed.forming.mould = MouldKind::female;
    const auto anew = car_model(changed, ".", k_check_deviation, known).value();
    EXPECT_NE(anew.pieces[0].body->tree, before.pieces[0].body->tree);
    EXPECT_FALSE(*anew.pieces[0].formed == *before.pieces[0].formed);
    EXPECT_EQ(*anew.pieces[0].formed, *model_of(changed).pieces[0].formed);
    EXPECT_EQ(anew.pieces[0].body->mesh.points, model_of(changed).pieces[0].body->mesh.points);
}

}  // namespace
}  // namespace sillwright::core
