#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <QPainter>
#include <QPointF>

#include "geometry/drawing.h"

namespace sillwright::app::print {

/// How a drawing lies on a page: y up becomes y down.
struct DrawingScale {
    double units_per_mm = 100.0;
    QPointF origin;  ///< Of the drawing's (0, 0).

    [[nodiscard]] QPointF on_page(const Eigen::Vector2d& p_mm) const {
        return {origin.x() + units_per_mm * p_mm.x(), origin.y() - units_per_mm * p_mm.y()};
    }
};

/// The box of all that is drawn, words with their own size. Millimetres.
Eigen::AlignedBox2d drawn_box(const geometry::Drawing& drawing);

/// The box of one thing.
Eigen::AlignedBox2d drawn_box(const geometry::DrawnShape& shape);

/// Whether anything of a shape but writing is inside a box: lines and arcs themselves, not what they enclose.
bool reaches_into(const geometry::DrawnShape& shape, const Eigen::AlignedBox2d& box);

/// Draws in ink: what is cut thick, what is drilled in blue, notes thin. `line`: width of the thin lines, in page
/// units. With `only`, what has nothing in that box is left out; the rest is drawn whole.
void draw_drawing(QPainter& painter, const geometry::Drawing& drawing, const DrawingScale& scale, double line,
                  const Eigen::AlignedBox2d* only = nullptr);

}  // namespace sillwright::app::print
