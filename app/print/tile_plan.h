#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <QSizeF>
#include <string>
#include <vector>

#include "core/handover/papers.h"
#include "geometry/drawing.h"

namespace sillwright::app::print {

/// One sheet of a template.
struct Tile {
    int row = 0, column = 0;  ///< From the top, from the left.
    /// "A2": the row's letter and the column's number from 1.
    [[nodiscard]] std::string name() const;
};

/// How a 1:1 template is laid over sheets.
///
/// Units and frame: millimetres of the template, y up. Neighbours overlap by `k_overlap_mm`; sheets on which nothing is
///   drawn are left out. Whatever is drawn of the template has the same coordinates on all its sheets.
struct TilePlan {
    bool lying = false;  ///< Of the two ways the one with fewer sheets.
    QSizeF page_mm;
    Eigen::Vector2d field_mm;     ///< What one sheet shows.
    Eigen::Vector2d top_left_mm;  ///< Of the first sheet's field.
    int rows = 1, columns = 1;
    std::vector<Tile> tiles;  ///< Those with something on them, row by row.

    [[nodiscard]] Eigen::AlignedBox2d field_of(const Tile& tile) const;
    [[nodiscard]] bool has(int row, int column) const;
    /// Registration marks in a sheet's field: in the middle of each overlap with a neighbour that there is, two on each
    /// side.
    [[nodiscard]] std::vector<Eigen::Vector2d> marks_of(const Tile& tile) const;

    static constexpr double k_margin_mm = 12.0;
    static constexpr double k_overlap_mm = 10.0;
    static constexpr double k_head_mm = 25.0;
    static constexpr double k_foot_mm = 17.0;
};

TilePlan tile_plan(const geometry::Drawing& drawing, core::PaperSize size);

}  // namespace sillwright::app::print
