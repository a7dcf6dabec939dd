#include "core/buck/plug_surface.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/core/buck/hand_plug.h"

namespace sillwright::core {
namespace {

using Eigen::Vector2d;
using geometry::millimetres;

const PlugStrip& strip_named(const PlugLayout& layout, const std::string& name) {
    for (const PlugStrip& strip : layout.strips) {
        if (strip.name == name) {
            return strip;
        }
    }
    ADD_FAILURE() << "no strip " << name;
    return layout.strips.front();
}

/// Where nothing changes along the car the inner surface is the section's parallel: arcs of 10 become arcs of 7 about
/// the same middles, straights move in by the skin.
TEST(PlugSurface, IsTheParallelWhereThePlanIsStraight) {
    const auto line = hand_line({u_section(10), u_section(10)});
    const PlugSurface plug = hand_plug(line, plain_making());
    const auto layout = plug.layout(400).value();
    const auto points = plug.inner(400, layout).value();
    ASSERT_EQ(points.size(), layout.strips.back().last + 1);
    const PlugStrip& rounding = strip_named(layout, "n2");
    for (std::size_t i = rounding.first; i <= rounding.last; ++i) {
        EXPECT_NEAR((points[i].at_mm - Vector2d(90, 140)).norm(), 7.0, 1e-9);
        EXPECT_NEAR(points[i].outer_x_mm, 400.0, 1e-9);
        EXPECT_NEAR(points[i].growth, 0.0, 1e-9);
    }
    const PlugStrip& crown = strip_named(layout, "n2 to n3");
    for (std::size_t i = crown.first; i <= crown.last; ++i) {
        EXPECT_NEAR(points[i].at_mm.y(), 147.0, 1e-9);
    }
    // the wall goes on straight by the allowance
    EXPECT_NEAR((points.front().at_mm - Vector2d(97, 90)).norm(), 0.0, 1e-9);
    EXPECT_NEAR((points.back().at_mm - Vector2d(3, 90)).norm(), 0.0, 1e-9);
}

/// A crown that rises by m for each millimetre is a plane; its parallel at k lies k sqrt(1 + m²) lower in a section.
TEST(PlugSurface, AWedgesCrownLiesLowerByTheSkinsSlant) {
    const double m = 0.08;
    const auto line = hand_line({u_section(0, 150), u_section(0, 150 + 1000 * m)});
    const PlugSurface plug = hand_plug(line, plain_making(4.0));
    for (const double x : {0.0, 12.0, 500.0, 1000.0}) {
        const auto layout = plug.layout(x).value();
        const auto points = plug.inner(x, layout).value();
        const PlugStrip& crown = strip_named(layout, "n2 to n3");
        for (std::size_t i = crown.first; i <= crown.last; ++i) {
            EXPECT_NEAR(points[i].at_mm.y(), 150.0 + m * x - 4.0 * std::sqrt(1.0 + m * m), 1e-8);
            EXPECT_NEAR(points[i].growth, m, 1e-9);
        }
        const PlugStrip& shelf = strip_named(layout, "n1 to n2");
        for (std::size_t i = shelf.first; i <= shelf.last; ++i) {
            EXPECT_NEAR(points[i].at_mm.x(), 96.0, 1e-9);
        }
    }
}

/// A right circular cone about the axis out = up = 0: its parallel is the cone whose radius is less by k sqrt(1 + m²).
TEST(PlugSurface, AConeStaysAConeAboutItsAxis) {
    const double m = -0.05;
    const auto section = [](double r) { return std::vector<HandNode>{{-40, r}, {r, r, r}, {r, -r, r}, {-40, -r}}; };
    const auto line = hand_line({section(100), section(100 + 1000 * m)});
    const PlugSurface plug = hand_plug(line, plain_making());
    for (const double x : {0.0, 250.0, 990.0}) {
        const auto layout = plug.layout(x, true).value();
        const auto points = plug.inner(x, layout).value();
        for (const char* const name : {"n2", "n3"}) {
            const PlugStrip& rounding = strip_named(layout, name);
            for (std::size_t i = rounding.first; i <= rounding.last; ++i) {
                EXPECT_NEAR(points[i].at_mm.norm(), 100.0 + m * x - 3.0 * std::sqrt(1.0 + m * m), 1e-8);
                // square to the surface in space: the foot lies k sin of the lean further along
                EXPECT_NEAR(points[i].outer_x_mm, x - 3.0 * m / std::sqrt(1.0 + m * m), 1e-8);
            }
        }
    }
}

TEST(PlugSurface, IsScaledBeforeTheSkinIsTakenOff) {
    PlugMaking making = plain_making();
    making.along_size = 1.02;
    making.across_size = 1.01;
    const auto line = hand_line({u_section(10), u_section(10)});
    const PlugSurface plug = hand_plug(line, making);
    EXPECT_NEAR(plug.length_mm(), 1020.0, 1e-9);
    EXPECT_NEAR(in_mm(plug.along(510.0)), 500.0, 1e-9);
    const auto layout = plug.layout(510).value();
    const auto points = plug.inner(510, layout).value();
    const PlugStrip& crown = strip_named(layout, "n2 to n3");
    EXPECT_NEAR(points[crown.first].at_mm.y(), 1.01 * 150.0 - 3.0, 1e-9);
}

TEST(PlugSurface, TurnsWithTheDrawDirection) {
    PlugMaking making = plain_making();
    making.tilt = geometry::degrees(30);
    const auto line = hand_line({u_section(10), u_section(10)});
    const PlugSurface plug = hand_plug(line, making);
    const auto layout = plug.layout(500).value();
    const auto points = plug.inner(500, layout).value();
    const double c = std::cos(std::numbers::pi / 6.0);
    const double s = 0.5;
    const PlugStrip& crown = strip_named(layout, "n2 to n3");
    for (std::size_t i = crown.first; i <= crown.last; ++i) {
        // the crown's plane, out = 147, in (side, height) = (-s out + c up, c out + s up)
        EXPECT_NEAR(-s * points[i].at_mm.x() + c * points[i].at_mm.y(), 147.0, 1e-9);
    }
}

/// A shelf that leans by more than 45° from the draw direction has a wall along that direction below its trim line.
TEST(PlugSurface, AFlatEndGetsAnUprightWall) {
    PlugMaking making = plain_making();
    making.tilt = geometry::degrees(60);
    const auto line = hand_line({u_section(10), u_section(10)});
    const PlugSurface plug = hand_plug(line, making);
    const auto layout = plug.layout(500).value();
    const auto points = plug.inner(500, layout).value();
    const PlugStrip& wall = layout.strips.front();
    EXPECT_EQ(wall.name, "beyond n1");
    EXPECT_NEAR(points[wall.first].at_mm.x(), points[wall.last].at_mm.x(), 1e-9);
    EXPECT_NEAR(points[wall.last].at_mm.y() - points[wall.first].at_mm.y(), 20.0, 1e-9);
}

/// A sheet that is thinner in the middle of the crown: the face is the drawn outside less that, and its parallel.
TEST(PlugSurface, FollowsASheetThatIsThinnerInPlaces) {
    const auto line = hand_line({u_section(10), u_section(10)});
    geometry::OffsetLaw law;
    law.rows = {millimetres(0), millimetres(1000)};
    law.marks = {0.0, 1.25, 1.5, 1.75, 3.0};
    law.mm = {-5, -4, -3, -4, -5, -5, -4, -3, -4, -5};
    const PlugSurface plug(Piece{}, line, law, plain_making());
    const auto layout = plug.layout(500).value();
    const auto points = plug.inner(500, layout).value();
    double highest = 0.0;
    for (const PlugPoint& point : points) {
        highest = std::max(highest, point.at_mm.y());
        EXPECT_NEAR((point.outer_mm - point.at_mm).norm(), 3.0, 1e-9);
    }
    EXPECT_NEAR(highest, 150.0 - 3.0 - 3.0, 0.01);
}

TEST(PlugSurface, SaysWhereRoundingsHaveNoRoom) {
    const auto line = hand_line({u_section(10), u_section(10)});
    const PlugSurface plug(Piece{}, line, geometry::OffsetLaw::same(millimetres(60)), plain_making());
    const auto layout = plug.layout(500);
    // to the left is outward: there they have room; to the right the two would meet
    EXPECT_TRUE(layout);
    const PlugSurface inward(Piece{}, line, geometry::OffsetLaw::same(millimetres(-60)), plain_making());
    ASSERT_FALSE(inward.layout(500));
    EXPECT_FALSE(inward.layout(500).error().message.empty());
}

}  // namespace
}  // namespace sillwright::core
