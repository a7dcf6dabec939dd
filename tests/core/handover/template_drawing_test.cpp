#include "core/handover/template_drawing.h"

#include <gtest/gtest.h>

#include <cmath>
#include <variant>

namespace sillwright::core {
namespace {

using Eigen::Vector2d;

TEST(TemplateDrawing, DashesEndWhereTheChainEnds) {
    geometry::Drawing drawing = template_drawing();
    add_dashes(drawing, k_note, {{0.0, 0.0}, {20.0, 0.0}, {20.0, 4.0}});
    double drawn = 0.0;
    for (const auto& entity : drawing.entities) {
        const auto& line = std::get<geometry::DrawnLine>(entity.shape);
        drawn += (line.to_mm - line.from_mm).norm();
    }
    // Of 24 mm: 6 drawn, 3 not, 6 drawn, 3 not, 6 drawn.
    EXPECT_NEAR(drawn, 18.0, 1e-9);
}

TEST(TemplateDrawing, SlotsAreRoundAtTheirEnds) {
    geometry::Drawing drawing = template_drawing();
    add_slot(drawing, k_drill, {10.0, 5.0}, Vector2d::UnitX(), 14.0, 8.0);
    add_slot(drawing, k_drill, {10.0, 5.0}, Vector2d::UnitX(), 8.0, 8.0);
    const auto& slot = std::get<geometry::DrawnChain>(drawing.entities[0].shape);
    ASSERT_EQ(slot.vertices.size(), 4U);
    const auto arc = geometry::arc_of_bulge(slot.vertices[1].p_mm, slot.vertices[2].p_mm, slot.vertices[1].bulge);
    EXPECT_NEAR(geometry::in_mm(arc.radius), 4.0, 1e-9);
    EXPECT_NEAR((arc.centre_mm - Vector2d(13.0, 5.0)).norm(), 0.0, 1e-9);
    // The arc's middle is the slot's end, not a dent.
    const double middle = geometry::in_rad(arc.start) + geometry::in_rad(arc.sweep) / 2.0;
    EXPECT_NEAR(arc.centre_mm.x() + 4.0 * std::cos(middle), 17.0, 1e-9);
    EXPECT_TRUE(std::holds_alternative<geometry::DrawnCircle>(drawing.entities[1].shape));
}

TEST(TemplateDrawing, NumbersAreInTheJobsUnit) {
    EXPECT_EQ(template_length(36.44, BareUnit::mm), "36.4 mm");
    EXPECT_EQ(template_length(36.44, BareUnit::cm), "3.64 cm");
    EXPECT_EQ(template_length(25.4, BareUnit::in), "1.000 in");
}

}  // namespace
}  // namespace sillwright::core
