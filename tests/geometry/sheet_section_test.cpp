#include "geometry/sheet_section.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <vector>

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;
constexpr double k_pi = std::numbers::pi;

Profile line(const std::vector<ProfileNode>& nodes) {
    return make_profile(nodes, false).value();
}

ProfileNode node(double x, double y, double radius = 0.0) {
    return {{x, y}, millimetres(radius)};
}

SheetFaces faces(double left, double right) {
    return {millimetres(left), millimetres(right)};
}

void expect_part(double found, double wanted, double part = 1e-9) {
    EXPECT_NEAR(found, wanted, part * std::max(1.0, std::abs(wanted)));
}

TEST(SheetSection, OfAStraightIsARectangle) {
    const AreaMoments found = sheet_moments(line({node(0, 0), node(80, 0)}), faces(3, 0)).value();
    expect_part(found.area_mm2, 240);
    expect_part(found.xx_mm4, 80 * 27.0 / 12);
    expect_part(found.yy_mm4, 3 * 512000.0 / 12);
    EXPECT_NEAR((found.centroid_mm - Vector2d(40, 1.5)).norm(), 0.0, 1e-12);
}

// A rounded corner on the right is a quarter of a ring; on the left too, with the other radii.
TEST(SheetSection, OfARoundingIsASectorOfARing) {
    for (const auto& [left, right] : {std::pair{3.0, 0.0}, std::pair{0.0, -3.0}, std::pair{1.0, -2.0}}) {
        const AreaMoments found =
            sheet_moments(line({node(0, 0), node(50, 0, 10), node(50, 40)}), faces(left, right)).value();
        // The rounding turns left about (40, 10): left makes it smaller.
        const double inner = 10 - left;
        const double outer = 10 - right;
        const double t = left - right;
        const double area = 40 * t + 30 * t + k_pi / 4 * (outer * outer - inner * inner);
        expect_part(found.area_mm2, area);
        // First moments of the three parts about x = 0.
        const double ring = (std::pow(outer, 3) - std::pow(inner, 3)) / 3;
        const double x =
            40 * t * 20 + 30 * t * (50 - (left + right) / 2) + k_pi / 4 * (outer * outer - inner * inner) * 40 + ring;
        expect_part(found.centroid_mm.x(), x / area);
    }
}

TEST(SheetSection, HasSharpCornersRoundOutsideAndCutInside) {
    const Profile corner = line({node(0, 0), node(50, 0), node(50, 40)});
    const double quarter = k_pi / 4 * 9;
    expect_part(sheet_moments(corner, faces(3, 0)).value().area_mm2, 50 * 3 + 40 * 3 - 9);
    expect_part(sheet_moments(corner, faces(0, -3)).value().area_mm2, 50 * 3 + 40 * 3 + quarter);
    expect_part(sheet_moments(corner, faces(3, -3)).value().area_mm2, 50 * 6 + 40 * 6 - 9 + quarter);
}

// A channel as a drawn line at its middle: that with sharp corners, less what the round ones lack outside.
TEST(SheetSection, OfAChannelIsThatOfTheTable) {
    const Profile channel = line({node(50, 3), node(3, 3), node(3, 97), node(50, 97)});
    // The outside lies on the left of the line.
    const AreaMoments found = sheet_moments(channel, faces(3, 0)).value();
    const double lack = (1 - k_pi / 4) * 9;
    expect_part(found.area_mm2, 582 - 2 * lack);
}

TEST(SheetSection, IsTheSameWhicheverWayTheLineRuns) {
    const std::vector<ProfileNode> nodes{node(0, 0), node(40, 5, 8), node(60, -30, 12), node(100, -35)};
    const std::vector<ProfileNode> back(nodes.rbegin(), nodes.rend());
    const AreaMoments one = sheet_moments(line(nodes), faces(2, -1)).value();
    const AreaMoments other = sheet_moments(line(back), faces(1, -2)).value();
    expect_part(one.area_mm2, other.area_mm2, 1e-12);
    expect_part(one.xx_mm4, other.xx_mm4, 1e-11);
    expect_part(one.xy_mm4, other.xy_mm4, 1e-11);
}

TEST(SheetSection, WithPlacesButOneThicknessIsTheConstantOne) {
    const Profile bent = line({node(0, 0), node(40, 5, 8), node(60, -30), node(100, -35, 2), node(100, 20, 1)});
    const AreaMoments exact = sheet_moments(bent, faces(3, -0.5)).value();
    double before = 1.0;
    for (const double tolerance : {0.1, 0.01, 0.001, 0.0001}) {
        const std::vector<FacesAt> places{{millimetres(10), faces(3, -0.5)}, {millimetres(90), faces(3, -0.5)}};
        const AreaMoments found = sheet_moments(bent, places, millimetres(tolerance)).value();
        const double off = std::abs(found.area_mm2 - exact.area_mm2);
        EXPECT_LE(off, tolerance * 2 * in_mm(length(bent)));
        EXPECT_LE(off, before + 1e-12);
        before = off;
        EXPECT_NEAR(found.xx_mm4 / exact.xx_mm4, 1.0, tolerance);
    }
}

// A wedge: a trapezium of two and four, 60 long.
TEST(SheetSection, OfAThicknessThatChangesOnAStraightIsATrapezium) {
    const std::vector<FacesAt> places{{millimetres(20), faces(2, 0)}, {millimetres(80), faces(4, 0)}};
    const AreaMoments found = sheet_moments(line({node(0, 0), node(100, 0)}), places, millimetres(0.01)).value();
    expect_part(found.area_mm2, 20 * 2 + 60 * 3 + 20 * 4);
    const double x = 40 * 10 + 120 * 50 + 60 * (20 + 40) + 80 * 90;
    expect_part(found.centroid_mm.x(), x / 300.0);
}

// A spiral: thickness that grows evenly round a quarter turn; area by integration of (r + d)²/2.
TEST(SheetSection, OfAThicknessThatChangesRoundABend) {
    const Profile quarter{{{ArcSegment{{0, 0}, 30, radians(0), radians(k_pi / 2)}, 0}}, false};
    const double size = 30 * k_pi / 2;
    const std::vector<FacesAt> places{{millimetres(0), faces(0, -2)}, {millimetres(size), faces(0, -5)}};
    const double outer = k_pi / 2 / 2 * (32.0 * 32 + 32 * 35 + 35 * 35) / 3;
    const double exact = outer - k_pi / 4 * 900;
    for (const double tolerance : {0.02, 0.0002}) {
        const AreaMoments found = sheet_moments(quarter, places, millimetres(tolerance)).value();
        EXPECT_NEAR(found.area_mm2, exact, 2 * tolerance * size);
    }
}

TEST(SheetSection, RefusesWhatIsNoSheet) {
    const Profile straight = line({node(0, 0), node(80, 0)});
    const auto code = [](const auto& result) {
        return result.has_value() ? std::optional<ErrorCode>{} : std::optional{result.error().code};
    };
    EXPECT_EQ(code(sheet_moments(straight, faces(0, 0))), ErrorCode::invalid_argument);
    EXPECT_EQ(code(sheet_moments(straight, faces(0, 3))), ErrorCode::invalid_argument);
    EXPECT_EQ(code(sheet_moments(make_profile({node(0, 0), node(80, 0), node(0, 50)}, true).value(), faces(3, 0))),
              ErrorCode::invalid_argument);
    const std::vector<FacesAt> falling{{millimetres(20), faces(2, 0)}, {millimetres(20), faces(4, 0)}};
    EXPECT_EQ(code(sheet_moments(straight, falling, millimetres(0.01))), ErrorCode::invalid_argument);
    EXPECT_EQ(code(sheet_moments(straight, std::vector<FacesAt>{}, millimetres(0.01))), ErrorCode::invalid_argument);
    const std::vector<FacesAt> good{{millimetres(20), faces(2, 0)}};
    EXPECT_EQ(code(sheet_moments(straight, good, millimetres(0))), ErrorCode::invalid_argument);
    // A narrow hook: its end lies in the sheet's other leg.
    const Profile hook = line({node(0, 0), node(50, 0, 1), node(50, 2.5, 1), node(10, 2.5)});
    EXPECT_EQ(code(sheet_moments(hook, faces(3, 0))), ErrorCode::does_not_fit);
    // Between two bends there is no straight left for a face of varying thickness.
    const Profile step = line({node(0, 0), node(50, 0), node(50, 2), node(50.5, 40)});
    const std::vector<FacesAt> thick{{millimetres(0), faces(60, 0)}};
    EXPECT_EQ(code(sheet_moments(step, thick, millimetres(0.01))), ErrorCode::does_not_fit);
}

}  // namespace
}  // namespace sillwright::geometry
