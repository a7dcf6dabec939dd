#include "core/swing/swing_check.h"

#include <gmock/gmock.h>

#include "core/drawn_loft.h"
#include "geometry/mesh_file.h"
#include "tests/core/small_job.h"
#include "tests/core/swing/swing_world.h"

// Gaps of boxes over a flat shelf, worked out here by hand; see swing_world.h.

namespace sillwright::core {
namespace {

using geometry::in_deg;
using swing_world::box;
using swing_world::by_hand;
using swing_world::ByHand;
using swing_world::k_deg;
using swing_world::k_opening_deg;
using swing_world::k_shelf_mm;
using swing_world::lowest;
using swing_world::mm;
using swing_world::swing_finding;
using swing_world::upright;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

constexpr double k_rounding = 1e-6;
constexpr double k_tolerance_mm = 0.01;

/// Never above the true gap, and no more below it than the tolerance: flat faces have no deviation.
void expect_gap(const Finding& finding, double gap) {
    ASSERT_TRUE(finding.found) << finding.why;
    EXPECT_LE(*finding.found, gap + k_rounding) << finding.title;
    EXPECT_GE(*finding.found, gap - k_tolerance_mm - k_rounding) << finding.title;
    ASSERT_TRUE(finding.margin);
    EXPECT_NEAR(*finding.margin, *finding.found - *finding.required, 1e-12);
}

/// asked + paint 0.1 + 2 sqrt(0.5^2 + 0.6^2 + sag^2).
double required(double asked, double sag_sd_mm) {
    return asked + 0.1 + 2.0 * std::sqrt(0.25 + 0.36 + sag_sd_mm * sag_sd_mm);
}

/// The sag's deviation at a body's furthest corner from `axis`, the middle of the pins: 0.5 at 1000 mm.
double sag_sd_mm(const Job& job, const DoorBody& body, const Eigen::Vector3d& axis) {
    double lever = 0.0;
    for (const Section& section : body.drawn.sections) {
        const double along = in_mm(station_of(job, section.station).along.value);
        for (const Node& node : section.nodes) {
            const Eigen::Vector3d p(along, in_mm(node.out.value), in_mm(node.up.value));
            lever = std::max(lever, (p - axis).norm());
        }
    }
    return 0.5 * lever / 1000.0;
}

TEST(SwingCheck, OnAnUprightAxisTheGapIsTheSameAllTheWay) {
    const Job job = upright(115);
    const Finding moving = swing_finding(job, "moving");
    expect_gap(moving, 115 - k_shelf_mm);
    EXPECT_NEAR(*moving.required,
                required(5, sag_sd_mm(job, job.doors[0].bodies[0], swing_world::middle(*job.doors[0].hinge))), 1e-9);
    EXPECT_EQ(moving.state, State::holds);
    EXPECT_THAT(moving.missing, IsEmpty());
    EXPECT_THAT(moving.touching, IsEmpty());
    EXPECT_FALSE(moving.formula.empty());
    EXPECT_FALSE(moving.source.empty());
    EXPECT_THAT(moving.why, HasSubstr("12.00 mm of skirt at shelf inner to shelf edge"));
    expect_gap(swing_finding(job, "shut"), 115 - k_shelf_mm);
    // Slammed by nothing at all, it is where it was shut, held by the striker.
    const Finding past = swing_finding(job, "past shut");
    expect_gap(past, 115 - k_shelf_mm);
    EXPECT_NEAR(*past.required, required(5, 0.0), 1e-9);
}

TEST(SwingCheck, TheDrawnLineOutsideLeavesASheetMore) {
    Job job = upright(115);
    job.skirt.pieces[0].drawn_face = DrawnFace::outside;
    expect_gap(swing_finding(job, "moving"), 115 - 100);
    expect_gap(swing_finding(job, "shut"), 115 - 100);
    job.skirt.pieces[0].drawn_face = DrawnFace::inside;
    job.skirt.pieces[0].sheet = mm(4);
    expect_gap(swing_finding(job, "moving"), 115 - 104);
}

TEST(SwingCheck, OnALeaningAxisByRodrigues) {
    // 1.5 degrees outward, 0.6 degrees forward: the free edge comes down as it swings out.
    for (const auto& [along, out] : {std::pair{-4.0, 10.0}, std::pair{4.0, 10.0}, std::pair{6.0, -12.0}}) {
        const Hinge hinge = swing_world::hinge(0, along, out);
        const Job job = swing_world::job(swing_world::shelf(), swing_world::door(hinge, 150));
        expect_gap(swing_finding(job, "moving"), lowest(by_hand(hinge), 150, 0, k_opening_deg) - k_shelf_mm);
        expect_gap(swing_finding(job, "shut"), 150 - k_shelf_mm);
    }
}

TEST(SwingCheck, SagAtOnceIsThereShutAndAllTheWay) {
    Job job = upright(115);
    job.doors[0].sag->drop = mm(2);
    ByHand motion = by_hand(*job.doors[0].hinge);
    motion.sag_at_once = std::asin(2.0 / 1000.0);
    const double shut = motion.moved({1000, 0, 115}, 0).z();
    const Finding finding = swing_finding(job, "shut");
    expect_gap(finding, shut - k_shelf_mm);
    EXPECT_THAT(finding.place.words, HasSubstr("door shut, off its striker"));
    EXPECT_NEAR(*finding.required, required(6, sag_sd_mm(job, job.doors[0].bodies[0], motion.at)), 1e-9);
    expect_gap(swing_finding(job, "moving"), lowest(motion, 115, 0, k_opening_deg) - k_shelf_mm);
}

TEST(SwingCheck, SagThatGrowsIsNotThereShut) {
    Job job = upright(115);
    job.doors[0].sag->drop = mm(2);
    job.doors[0].sag->share_at_once = 0.25;
    ByHand motion = by_hand(*job.doors[0].hinge);
    motion.sag_at_once = 0.25 * std::asin(2.0 / 1000.0);
    motion.sag_growth = 0.75 * std::asin(2.0 / 1000.0);
    expect_gap(swing_finding(job, "shut"), motion.moved({1000, 0, 115}, 0).z() - k_shelf_mm);
    expect_gap(swing_finding(job, "moving"), lowest(motion, 115, 0, k_opening_deg) - k_shelf_mm);
}

TEST(SwingCheck, ShutIsLookedAtOnItsStrikerToo) {
    // A negative drop: the door rises off its striker, so that on it the gap is less.
    Job job = upright(115);
    job.doors[0].sag->drop = mm(-2);
    for (Section& section : job.doors[0].bodies[0].drawn.sections) {  // from along 500 on
        section.station = std::to_string(std::stoi(section.station) + 1);
    }
    const Finding finding = swing_finding(job, "shut");
    expect_gap(finding, 115 - k_shelf_mm);
    EXPECT_THAT(finding.place.words, HasSubstr("door shut, on its striker"));
}

/// A shelf with a wall behind the door: its outside stands at out -47.
Piece walled() {
    return swing_world::piece("skirt",
                              {{"top return end", -50, 280}, {"shelf inner", -50, 100}, {"shelf edge", 1300, 100}});
}

TEST(SwingCheck, SlammedPastShutItComesNearerToWhatIsInboard) {
    Job job = swing_world::job(walled(), swing_world::door(swing_world::hinge(0), 200));
    job.doors[0].over_slam = OverSlam{mm(9), mm(900), {}};
    const ByHand motion = by_hand(*job.doors[0].hinge);
    const double angle = std::asin(9.0 / 900.0);
    const Finding finding = swing_finding(job, "past shut");
    expect_gap(finding, motion.moved({1000, 0, 200}, -angle).y() + 47);
    ASSERT_TRUE(finding.place.door_angle);
    EXPECT_NEAR(in_deg(*finding.place.door_angle), -angle / k_deg, 0.05);
    EXPECT_THAT(finding.place.words, HasSubstr("0.6° past shut"));
    // Opening and shut never have it nearer than on the striker.
    expect_gap(swing_finding(job, "shut"), 47);
}

TEST(SwingCheck, ADoorAheadOfItsHingeIsTheMirrorImage) {
    // Everything turned about in along: 1000 - along. The sag is then at the edge at along 0.
    const auto turned_job = [](double lean_along) {
        Job job = swing_world::job(walled(), swing_world::door(swing_world::hinge(1000, lean_along, 8), 160));
        job.doors[0].sag->drop = mm(3);
        job.doors[0].over_slam = OverSlam{mm(5), mm(900), {}};
        return job;
    };
    Job straight = turned_job(-5);
    straight.doors[0].hinge = swing_world::hinge(0, 5, 8);
    const Job ahead = turned_job(-5);
    for (const char* what : {"shut", "moving", "past shut"}) {
        const Finding expected = swing_finding(straight, what);
        const Finding found = swing_finding(ahead, what);
        ASSERT_TRUE(expected.found && found.found) << what;
        EXPECT_NEAR(*found.found, *expected.found, k_tolerance_mm) << what;
        ASSERT_TRUE(found.place.on_part_mm);
    }
    ByHand motion = by_hand(*straight.doors[0].hinge);
    motion.sag_at_once = std::asin(3.0 / 1000.0);
    expect_gap(swing_finding(ahead, "moving"), lowest(motion, 160, 0, k_opening_deg) - k_shelf_mm);
    // It sags at its free edge: 3 mm in a metre, found within the tolerance.
    EXPECT_LT(swing_finding(ahead, "shut").place.on_part_mm->x(), 1000.0 * k_tolerance_mm / 3.0);
}

/// A job whose door is a mesh file in the car's frame, on either side.
Job with_mesh_door(Side side, const std::filesystem::path& folder) {
    Job job = swing_world::job(swing_world::shelf(), swing_world::door(swing_world::hinge(0, 3, 9), 140));
    job.side = side;
    job.zero_to_midplane = mm(700);
    job.doors[0].sag->drop = mm(2);
    const geometry::Mesh box = swing_world::model_of(job).doors[0].parts[0].body.mesh;
    geometry::Mesh in_car = box;
    for (Eigen::Vector3d& p : in_car.points) {
        p.y() = side == Side::right ? p.y() + 700 : -(p.y() + 700);
    }
    if (side == Side::left) {
        for (geometry::Triangle& t : in_car.triangles) {
            std::swap(t[1], t[2]);
        }
    }
    EXPECT_TRUE(geometry::write_mesh(in_car, folder / "door.ply", geometry::MeshFormat::ply_binary,
                                     geometry::FileUnit::millimetre));
    job.doors[0].bodies[0].drawn = {};
    job.doors[0].bodies[0].file = ShapeFile{"door.ply", "", BareUnit::mm, {}};
    return job;
}

TEST(SwingCheck, ALeftHandJobHasTheSameNumbers) {
    const TestFolder left;
    const TestFolder right;
    const Job left_job = with_mesh_door(Side::left, left.path());
    const Job right_job = with_mesh_door(Side::right, right.path());
    ByHand motion = by_hand(*left_job.doors[0].hinge);
    motion.sag_at_once = std::asin(2.0 / 1000.0);
    for (const char* what : {"shut", "moving", "past shut"}) {
        const Finding l = swing_finding(left_job, what, left.path());
        const Finding r = swing_finding(right_job, what, right.path());
        ASSERT_TRUE(l.found && r.found);
        EXPECT_NEAR(*l.found, *r.found, k_rounding) << what;
        EXPECT_EQ(l.state, r.state);
    }
    expect_gap(swing_finding(left_job, "moving", left.path()), lowest(motion, 140, 0, k_opening_deg) - k_shelf_mm);
}

TEST(SwingCheck, CladdingHasALimitOfItsOwn) {
    Job job = upright(130);
    job.doors[0].bodies.push_back(box("cladding", 112, DoorBodyKind::cladding));
    const auto axis = swing_world::middle(*job.doors[0].hinge);
    const Finding edge = swing_finding(job, "moving");
    const Finding cladding = swing_finding(job, "cladding moving");
    expect_gap(edge, 130 - k_shelf_mm);
    expect_gap(cladding, 112 - k_shelf_mm);
    EXPECT_NEAR(*edge.required, required(5, sag_sd_mm(job, job.doors[0].bodies[0], axis)), 1e-9);
    EXPECT_NEAR(*cladding.required, required(8, sag_sd_mm(job, job.doors[0].bodies[1], axis)), 1e-9);
    EXPECT_EQ(edge.state, State::holds);
    EXPECT_EQ(cladding.state, State::falls_short);
    // Shut, both count, and the nearer one is reported.
    expect_gap(swing_finding(job, "shut"), 112 - k_shelf_mm);
    EXPECT_EQ(swing_world::one_of(swing_world::swing_of(upright(130)), "swing/front door/cladding moving"), nullptr);
}

/// A post, 20 by 20 and about (800, 450), that the door meets half-way.
Piece post(const std::filesystem::path& folder) {
    Job job = swing_world::job(swing_world::shelf(), swing_world::door(swing_world::hinge(0), 110));
    job.stations[0].along = mm(790);
    job.stations[1].along = mm(810);
    job.stations.resize(2);
    job.skirt.pieces.clear();
    job.doors[0].bodies[0].drawn =
        swing_world::straight("post", {{"a", 440, 50}, {"b", 460, 50}, {"c", 460, 200}, {"d", 440, 200}}, 1, 2);
    const geometry::Mesh mesh = swing_world::model_of(job).doors[0].parts[0].body.mesh;
    EXPECT_TRUE(geometry::write_mesh(mesh, folder / "post.stl", geometry::MeshFormat::stl_text,
                                     geometry::FileUnit::millimetre));
    Piece piece;
    piece.name = "post";
    piece.carried_by = "body";
    piece.file = ShapeFile{"post.stl", "", BareUnit::mm, {}};
    return piece;
}

TEST(SwingCheck, TouchingIsAnIntervalAndNeverADistanceOfZero) {
    const TestFolder folder;
    const Job job = swing_world::job(post(folder.path()), swing_world::door(swing_world::hinge(0), 110));
    // In the door's frame a corner at radius r and angle a from the pins stands at r sin(a - t);
    // the door is 15 thick to either side of the pins.
    double from = 1e9;
    double to = -1e9;
    for (const double along : {790.0, 810.0}) {
        for (const double out : {440.0, 460.0}) {
            const double r = std::hypot(along, out - 15);
            const double a = std::atan2(out - 15, along);
            from = std::min(from, (a - std::asin(15 / r)) / k_deg);
            to = std::max(to, (a + std::asin(15 / r)) / k_deg);
        }
    }
    const Finding moving = swing_finding(job, "moving", folder.path());
    EXPECT_EQ(moving.state, State::falls_short);
    ASSERT_FALSE(moving.touching.empty());
    EXPECT_NEAR(in_deg(moving.touching.front().from), from, 0.021);
    EXPECT_NEAR(in_deg(moving.touching.back().to), to, 0.021);
    EXPECT_LE(in_deg(moving.touching.front().from), from + 1e-9);
    EXPECT_GE(in_deg(moving.touching.back().to), to - 1e-9);
    EXPECT_TRUE(!moving.found || *moving.found < 0.0) << "a depth, or nothing";
    EXPECT_THAT(moving.why, HasSubstr("touches post"));
    // Shut it is well clear: the post's corner at (790, 440), the door's outer face at out 30.
    const Finding shut = swing_finding(job, "shut", folder.path());
    expect_gap(shut, 440 - 30);
    EXPECT_EQ(shut.state, State::holds);
}

/// Not measured, and this is said to be missing.
void expect_missing(const Job& job, const char* what, const std::string& words) {
    const Finding finding = swing_finding(job, what);
    EXPECT_EQ(finding.state, State::not_measured) << finding.title << ": " << finding.why;
    EXPECT_THAT(finding.missing, Contains(HasSubstr(words))) << finding.title;
}

TEST(SwingCheck, WithoutAHingeNothingIsSaidOfTheSwing) {
    Job job = upright(115);
    job.doors[0].hinge.reset();
    expect_missing(job, "moving", "the hinge axis of front door");
    expect_missing(job, "shut", "the hinge axis of front door");
    expect_missing(job, "past shut", "the hinge axis of front door");
    EXPECT_FALSE(swing_finding(job, "moving").found);
    // On its striker a door needs no hinge: that much is known.
    expect_gap(swing_finding(job, "shut"), 115 - k_shelf_mm);
}

TEST(SwingCheck, WithoutAnOpeningNothingIsSaidOfTheSwing) {
    Job job = upright(115);
    job.doors[0].opening.reset();
    expect_missing(job, "moving", "the opening angle of front door");
    expect_missing(job, "past shut", "the opening angle of front door");
}

TEST(SwingCheck, WithoutASagShutAndMovingAreNotMeasured) {
    Job job = upright(115);
    job.doors[0].sag.reset();
    expect_missing(job, "moving", "the sag of front door off its striker");
    expect_missing(job, "shut", "the sag of front door off its striker");
    expect_gap(swing_finding(job, "moving"), 115 - k_shelf_mm);
    EXPECT_EQ(swing_finding(job, "past shut").state, State::holds) << "it is held up by the striker";
}

TEST(SwingCheck, WithoutDeviationsNotMeasuredUnlessItFallsShortAnyway) {
    Job job = upright(115);
    job.survey_sd.reset();
    expect_missing(job, "moving", "standard deviation of the survey");
    expect_missing(job, "shut", "standard deviation of the survey");
    job.skirt.forming_sd.reset();
    job.doors[0].sag->sd.reset();
    job.skirt.paint.reset();
    expect_missing(job, "moving", "paint film on the skirt");
    Job low = upright(k_shelf_mm + 4);  // 5 is asked for.
    low.survey_sd.reset();
    low.doors[0].sag.reset();
    for (const char* what : {"moving", "shut"}) {
        const Finding finding = swing_finding(low, what);
        EXPECT_EQ(finding.state, State::falls_short) << what;
        EXPECT_THAT(finding.missing, Contains("standard deviation of the survey")) << what;
        EXPECT_THAT(finding.missing, Contains(HasSubstr("the sag of front door"))) << what;
    }
    Job touching = upright(90);
    touching.doors[0].hinge.reset();
    EXPECT_EQ(swing_finding(touching, "shut").state, State::falls_short);
}

TEST(SwingCheck, WhatOneOfTheCasesLacksIsNotHiddenByTheOther) {
    // Shut with and without the sag has the same gap here; only the sag lacks its deviation.
    Job job = upright(115);
    job.doors[0].sag->sd.reset();
    expect_missing(job, "shut", "standard deviation of the sag there");
}

TEST(SwingCheck, WithoutOverSlamOnlyPastShutIsNotMeasured) {
    Job job = upright(115);
    job.doors[0].over_slam.reset();
    expect_missing(job, "past shut", "how far front door travels past shut");
    EXPECT_EQ(swing_finding(job, "moving").state, State::holds);
}

TEST(SwingCheck, WithoutASheetOrASkirtOrADoor) {
    Job job = upright(115);
    job.skirt.pieces[0].sheet.reset();
    expect_missing(job, "moving", "the sheet thickness of skirt");
    job.skirt.pieces.clear();
    expect_missing(job, "moving", "the skirt");
    expect_missing(job, "shut", "the skirt");
    job = upright(115);
    job.doors[0].bodies.clear();
    expect_missing(job, "moving", "the lower edge of front door");
    job.doors.clear();
    const std::vector<Finding> findings = swing_world::swing_of(job);
    ASSERT_EQ(findings.size(), 1U);
    EXPECT_EQ(findings[0].id, "swing/doors");
    EXPECT_EQ(findings[0].state, State::not_measured);
    EXPECT_THAT(findings[0].missing, Contains(HasSubstr("the doors")));
}

TEST(SwingCheck, SomethingOfTheDoorIsKnownAndSomethingIsNot) {
    Job job = upright(115);
    DoorBody unknown;
    unknown.name = "cladding";
    unknown.kind = DoorBodyKind::cladding;
    job.doors[0].bodies.push_back(unknown);
    // What is known holds, but it is not all of the door.
    expect_missing(job, "cladding moving", "the sections of cladding");
    expect_missing(job, "shut", "the sections of cladding");
}

/// A piece under the door that the door carries; it hangs from up 95 to 60, its outside at out 33, 500 mm long.
Piece carried_piece() {
    Piece piece = swing_world::piece("door skirt", {{"top return end", 30, 95}, {"lower edge", 30, 60}});
    piece.drawn = swing_world::straight("door skirt", {{"top return end", 30, 95}, {"lower edge", 30, 60}}, 3, 4);
    piece.carried_by = "front door";
    return piece;
}

TEST(SwingCheck, WhatADoorCarriesIsSweptWithIt) {
    // Over a shelf at up 40, whose outside is at 43.
    Piece low = swing_world::piece("sill skirt", {{"shelf inner", -300, 40}, {"shelf edge", 1300, 40}});
    Job job = swing_world::job(low, swing_world::door(swing_world::hinge(0), 100));
    job.skirt.pieces.push_back(carried_piece());
    const Finding carried = swing_finding(job, "carried moving");
    expect_gap(carried, 60 - 43);
    EXPECT_THAT(carried.why, HasSubstr("door skirt comes within"));
    EXPECT_EQ(carried.state, State::not_measured) << "the sill behind it is not drawn";
    EXPECT_THAT(carried.missing, testing::ElementsAre(HasSubstr("the sections of the body")));
    // The door's own edge is held against what is fixed, not against what it carries.
    expect_gap(swing_finding(job, "moving"), 100 - 43);
    expect_gap(swing_finding(job, "shut"), 60 - 43);
    // Another door carries it: it is then fixed for the front door, 5 mm under its hem.
    job.doors.push_back(job.doors[0]);
    job.doors[1].name = "rear door";
    job.doors[1].bodies[0].drawn =
        swing_world::straight("rear", {{"inner foot", 0, 900}, {"outer foot", 30, 900}, {"outer top", 30, 990}}, 4, 5);
    job.doors[1].hinge = swing_world::hinge(450);
    job.skirt.pieces[1].carried_by = "rear door";
    expect_gap(swing_finding(job, "shut"), 100 - 95);
}

TEST(SwingCheck, WhatADoorCarriesIsHeldAgainstTheBody) {
    Job job = swing_world::job(swing_world::shelf(), swing_world::door(swing_world::hinge(0), 200));
    job.skirt.pieces.clear();
    job.skirt.pieces.push_back(carried_piece());
    // A rocker behind it: its outer face is at out 10, the piece's inside at 30.
    job.body = swing_world::straight("body", {{"sill outer", 10, 150}, {"sill bottom", 10, -50}}, 1, 5);
    const Finding shut = swing_finding(job, "shut");
    // The piece hangs from along 500 to 1000 and turns about out 15: opening takes its front end outward too.
    expect_gap(shut, 30 - 10);
    EXPECT_EQ(shut.state, State::holds);
    expect_gap(swing_finding(job, "carried moving"), 30 - 10);
    const CarModel car = swing_world::model_of(job);
    const auto report = check_swing(job, car);
    ASSERT_TRUE(report);
    ASSERT_TRUE(report.value().body);
    ASSERT_THAT(report.value().outcomes, Not(IsEmpty()));
    for (const SwingOutcome& outcome : report.value().outcomes) {
        EXPECT_EQ(outcome.pair.fixed, report.value().body.get());
    }
}

TEST(SwingCheck, TwoFindingsForShutAndMovingAndNoMoreThanArise) {
    std::vector<std::string> ids;
    for (const Finding& finding : swing_world::swing_of(upright(115))) {
        ids.push_back(finding.id);
        EXPECT_EQ(finding.stage, Stage::swing);
    }
    EXPECT_THAT(ids,
                testing::ElementsAre("swing/front door/shut", "swing/front door/moving", "swing/front door/past shut"));
}

TEST(SwingCheck, CanBeStopped) {
    const Job job = upright(115);
    const CarModel car = swing_world::model_of(job);
    std::stop_source stop;
    stop.request_stop();
    const auto report = check_swing(job, car, {stop.get_token(), {}});
    ASSERT_FALSE(report);
    EXPECT_EQ(report.error().code, geometry::ErrorCode::stopped);
}

}  // namespace
}  // namespace sillwright::core
