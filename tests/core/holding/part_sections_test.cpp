#include "core/holding/part_sections.h"

#include <gtest/gtest.h>

#include <cmath>

#include "geometry/sheet_section.h"
#include "tests/core/forming/hand_formed.h"
#include "tests/core/holding/holding_world.h"
#include "tests/core/mounts/flange_world.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;
using geometry::Profile;

/// The angle 60 x 40 x 4 of the section table: by hand from two rectangles.
std::vector<Profile> angle() {
    std::vector<geometry::ProfileNode> nodes;
    for (const auto& [x, y] : {std::pair{0, 0}, {40, 0}, {40, 4}, {4, 4}, {4, 60}, {0, 60}}) {
        nodes.push_back({{x, y}, {}});
    }
    return {geometry::make_profile(nodes, true).value()};
}

TEST(PartSections, UnsymmetricalBendingIsThatOfThePrincipalAxes) {
    const auto outline = angle();
    const auto moments = geometry::area_moments(outline).value();
    const auto principal = moments.principal();
    // A moment for loads down is resolved along the two principal axes, each bends for itself, and is put together.
    const double a = geometry::in_rad(principal.axis);
    const double about_first = std::cos(a) / principal.greatest_mm4;
    const double about_second = -std::sin(a) / principal.least_mm4;
    const double down = about_first * std::cos(a) - about_second * std::sin(a);
    const double sideways = -about_first * std::sin(a) - about_second * std::cos(a);
    const BendingNumbers found = bending_down(moments, outline);
    EXPECT_NEAR(found.second_mm4 * down, 1.0, 1e-12);
    EXPECT_NEAR(std::abs(found.sideways), std::abs(sideways / down), 1e-12);
    // By hand: (142752 · 51872 - 50400²) / 51872.
    EXPECT_NEAR(found.second_mm4, (142752.0 * 51872 - 50400.0 * 50400) / 51872, 1e-6);
    // Stress at every corner, by the same: none is above the one that the modulus says, one reaches it.
    double most = 0.0;
    for (const auto& segment : outline[0].segments) {
        const Eigen::Vector2d p = start_point(segment) - moments.centroid_mm;
        const Eigen::Vector2d own{std::cos(a) * p.x() + std::sin(a) * p.y(),
                                  -std::sin(a) * p.x() + std::cos(a) * p.y()};
        most = std::max(most, std::abs(about_first * own.y() + -about_second * own.x()));
    }
    EXPECT_NEAR(found.modulus_mm3 * most, 1.0, 1e-9);
}

TEST(PartSections, OfASymmetricSectionGoStraight) {
    const geometry::Profile line = geometry::make_profile({{{0, 0}, {}}, {{0, 80}, {}}}, false).value();
    const auto outline =
        geometry::sheet_outline(line, {millimetres(2), millimetres(-2), geometry::RingFace::outside}).value();
    const auto moments = geometry::area_moments(outline).value();
    const BendingNumbers down = bending_down(moments, outline);
    EXPECT_NEAR(down.second_mm4, 4 * std::pow(80.0, 3) / 12, 1e-6);
    EXPECT_NEAR(down.modulus_mm3, 4 * 80.0 * 80 / 6, 1e-6);
    EXPECT_NEAR(down.sideways, 0.0, 1e-12);
    EXPECT_NEAR(bending_across(moments, outline).modulus_mm3, 80 * 4.0 * 4 / 6, 1e-6);
}

TEST(PartSections, CoverThePieceEndToEndAndEndAtRunOuts) {
    Job job = held_job();
    Flute flute{"a", held_mm(30), held_mm(16), held_mm(5), held_mm(2), held_mm(333), {}, {}};
    job.skirt.pieces[0].flutes.push_back(flute);
    const CarModel car = held_car(job);
    const auto sections =
        part_sections(job.skirt.pieces[0], *car.pieces[0].line, {millimetres(100), millimetres(900)}).value();
    ASSERT_EQ(sections.size(), 4U);
    EXPECT_EQ(sections.front().from, millimetres(0));
    EXPECT_EQ(sections.back().to, millimetres(1800));
    EXPECT_EQ(sections[1].to, millimetres(333));
    for (std::size_t i = 1; i < sections.size(); ++i) {
        EXPECT_EQ(sections[i].from, sections[i - 1].to);
    }
    // The flute's walls are more sheet: two walls of 5, less what the corners take.
    EXPECT_GT(sections[2].moments.area_mm2, sections[1].moments.area_mm2 + 10);
    EXPECT_NEAR(sections[0].moments.area_mm2, sections[1].moments.area_mm2, 1e-6);
    // The outline's bounds: outside of the bead's rounding and of the shelf.
    EXPECT_NEAR(sections[0].low_mm.y(), 12, 1e-9);
    EXPECT_NEAR(sections[0].low_mm.x(), 35, 1e-9);
}

TEST(PartSections, SayWhereASectionCannotBeLaidOut) {
    Job job = held_job();
    job.skirt.pieces[0].flutes.push_back({"a", held_mm(3), held_mm(16), held_mm(5), held_mm(2), {}, {}, {}});
    const CarModel car = held_car(job);
    const auto sections = part_sections(job.skirt.pieces[0], *car.pieces[0].line, {});
    ASSERT_FALSE(sections);
    EXPECT_NE(sections.error().message.find("900.00 mm"), std::string::npos) << sections.error().message;
}

/// Upright from up 120 to the root at up 10, rounded by 6, then a flange of 40: six tenths of 3 from the root on.
struct FormedSection {
    Job job = flat_world();
    geometry::Loft line = loft_of(job, job.skirt.pieces[0].drawn, false, "skirt").value();
};

// By hand, drawn inside, so that the outside turns round the rounding: 60 of 3; from mark 1 to 1.88 (44 of 50) from 3
// to 1.944; on the rounding over 45 degrees from 1.944 to 1.8, then 1.8: r t + t²/2 for each radian; 34 of 1.8.
TEST(PartSections, AFormedSectionHasItsOwnThicknessAtEachPlace) {
    const FormedSection world;
    const auto formed = hand_formed(1.0, 2.0);
    const auto section =
        part_section(world.job.skirt.pieces[0], world.line, millimetres(700), Flutes::cut, formed.get());
    ASSERT_TRUE(section) << section.error().message;
    const double eighth = std::acos(-1.0) / 4.0;
    const double thinning = 6.0 * 1.872 + (1.944 * 1.944 + 1.944 * 1.8 + 1.8 * 1.8) / 6.0;
    const double area = 180.0 + 44.0 * 0.5 * (3.0 + 1.944) + eighth * (thinning + 6.0 * 1.8 + 1.8 * 1.8 / 2.0) + 61.2;
    EXPECT_NEAR(section.value().moments.area_mm2, area, 2.0 * in_mm(k_section_fit) * 15.0);
    // The flange's underside is at 10 - 1.8.
    EXPECT_NEAR(section.value().low_mm.y(), 8.2, 1e-9);
    EXPECT_NEAR(section.value().high_mm.x(), 153.0, 1e-9);
}

TEST(PartSections, OneFormedThicknessIsThatOfASheet) {
    const FormedSection world;
    FormedSheet even = *hand_formed(1.0, 2.0);
    even.shares = {{0.8, 0.8, 0.8, 0.8}, {0.8, 0.8, 0.8, 0.8}};
    Piece thin = world.job.skirt.pieces[0];
    const auto found = part_section(thin, world.line, millimetres(700), Flutes::cut, &even).value();
    thin.sheet = mm(2.4);
    const auto truth = part_section(thin, world.line, millimetres(700)).value();
    EXPECT_NEAR(found.moments.area_mm2, truth.moments.area_mm2, 0.15);
    EXPECT_NEAR(found.down.second_mm4, truth.down.second_mm4, 1e-3 * truth.down.second_mm4);
}

// Where the law has no room in a tight hollow rounding, the section has its mean thickness.
TEST(PartSections, AFlutedShelfIsFormedToo) {
    Job job = held_job();
    job.skirt.pieces[0].flutes.push_back(Flute{});
    Flute& flute = job.skirt.pieces[0].flutes.back();
    flute.name = "flute 1";
    flute.offset = held_mm(30);
    flute.width = held_mm(16);
    flute.depth = held_mm(4);
    flute.bottom_radius = held_mm(10);
    const CarModel car = held_car(job);
    const auto formed = hand_formed(3.0, 4.0);
    const auto with =
        part_section(job.skirt.pieces[0], *car.pieces[0].line, millimetres(700), Flutes::cut, formed.get());
    const auto even = part_section(job.skirt.pieces[0], *car.pieces[0].line, millimetres(700), Flutes::cut);
    ASSERT_TRUE(with) << with.error().message;
    EXPECT_LT(with.value().moments.area_mm2, even.value().moments.area_mm2);
    // Lower edge to flange end, 65 and 40 wide, are six tenths as thick; part of the face before them is between.
    EXPECT_GT(with.value().moments.area_mm2, even.value().moments.area_mm2 - 1.2 * (75.0 + 40.0 + 95.0));
}

}  // namespace
}  // namespace sillwright::core
