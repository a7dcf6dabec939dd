#include "app/print/tile_plan.h"

#include <algorithm>
#include <cmath>

#include "app/print/drawing_ink.h"
#include "app/print/job_head.h"

namespace sillwright::app::print {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;

namespace {

/// Free round the drawing, so that no thick line is cut off.
constexpr double k_air_mm = 2.0;
/// Where a side's two marks stand, parts of the field's length.
constexpr double k_mark_places[] = {0.2, 0.8};

int sheets(double length, double field) {
    const double pitch = field - TilePlan::k_overlap_mm;
    return std::max(1, static_cast<int>(std::ceil((length - TilePlan::k_overlap_mm) / pitch)));
}

TilePlan laid(const AlignedBox2d& box, core::PaperSize size, bool lying) {
    TilePlan plan;
    plan.lying = lying;
    plan.page_mm = page_units(size, lying) / 100.0;
    plan.field_mm = {plan.page_mm.width() - 2.0 * TilePlan::k_margin_mm,
                     plan.page_mm.height() - 2.0 * TilePlan::k_margin_mm - TilePlan::k_head_mm - TilePlan::k_foot_mm};
    plan.columns = sheets(box.sizes().x(), plan.field_mm.x());
    plan.rows = sheets(box.sizes().y(), plan.field_mm.y());
    // The drawing in the middle of all sheets together.
    const Vector2d pitch = plan.field_mm - Vector2d::Constant(TilePlan::k_overlap_mm);
    const Vector2d all(pitch.x() * plan.columns + TilePlan::k_overlap_mm,
                       pitch.y() * plan.rows + TilePlan::k_overlap_mm);
    plan.top_left_mm = box.center() + Vector2d(-all.x(), all.y()) / 2.0;
    return plan;
}

/// Whether anything is drawn there.
bool is_used(const geometry::Drawing& drawing, const AlignedBox2d& field) {
    return std::any_of(drawing.entities.begin(), drawing.entities.end(), [&](const geometry::DrawnEntity& entity) {
        if (std::holds_alternative<geometry::DrawnText>(entity.shape)) {
            return drawn_box(entity.shape).intersects(field);
        }
        return reaches_into(entity.shape, field);
    });
}

}  // namespace

std::string Tile::name() const {
    // Beyond Z: AA, AB; a template has no more rows than that.
    std::string letters(1, static_cast<char>('A' + row % 26));
    if (row >= 26) {
        letters.insert(letters.begin(), static_cast<char>('A' + row / 26 - 1));
    }
    return letters + std::to_string(column + 1);
}

AlignedBox2d TilePlan::field_of(const Tile& tile) const {
    const Vector2d pitch = field_mm - Vector2d::Constant(k_overlap_mm);
    const Vector2d top_left = top_left_mm + Vector2d(pitch.x() * tile.column, -pitch.y() * tile.row);
    return {Vector2d(top_left.x(), top_left.y() - field_mm.y()), Vector2d(top_left.x() + field_mm.x(), top_left.y())};
}

bool TilePlan::has(int row, int column) const {
    return std::any_of(tiles.begin(), tiles.end(),
                       [&](const Tile& tile) { return tile.row == row && tile.column == column; });
}

std::vector<Vector2d> TilePlan::marks_of(const Tile& tile) const {
    const AlignedBox2d field = field_of(tile);
    const double half = k_overlap_mm / 2.0;
    std::vector<Vector2d> marks;
    for (const double part : k_mark_places) {
        const double x = field.min().x() + part * field_mm.x();
        const double y = field.min().y() + part * field_mm.y();
        if (has(tile.row, tile.column - 1)) {
            marks.emplace_back(field.min().x() + half, y);
        }
        if (has(tile.row, tile.column + 1)) {
            marks.emplace_back(field.max().x() - half, y);
        }
        if (has(tile.row - 1, tile.column)) {
            marks.emplace_back(x, field.max().y() - half);
        }
        if (has(tile.row + 1, tile.column)) {
            marks.emplace_back(x, field.min().y() + half);
        }
    }
    return marks;
}

TilePlan tile_plan(const geometry::Drawing& drawing, core::PaperSize size) {
    AlignedBox2d box = drawn_box(drawing);
    if (box.isEmpty()) {
        box = AlignedBox2d(Vector2d::Zero(), Vector2d::Zero());
    }
    box = AlignedBox2d(box.min() - Vector2d::Constant(k_air_mm), box.max() + Vector2d::Constant(k_air_mm));
    const TilePlan upright = laid(box, size, false);
    const TilePlan lying = laid(box, size, true);
    TilePlan plan = lying.rows * lying.columns < upright.rows * upright.columns ? lying : upright;
    for (int row = 0; row < plan.rows; ++row) {
        for (int column = 0; column < plan.columns; ++column) {
            const Tile tile{row, column};
            if (is_used(drawing, plan.field_of(tile))) {
                plan.tiles.push_back(tile);
            }
        }
    }
    return plan;
}

}  // namespace sillwright::app::print
