#pragma once

#include <QPainter>
#include <QSizeF>
#include <QString>
#include <functional>

#include "core/handover/document.h"

namespace sillwright::app::print {

/// A figure as it is drawn on a page.
///
/// Units: pixels as the program's drawings have them, with words 16 high; they print at `k_units_per_pixel`.
struct FigurePicture {
    QSizeF size;
    std::function<void(QPainter& painter)> draw;  ///< On (0, 0) to `size`. Null: there is nothing to draw.
    QString words{};                              ///< Behind the caption: its scale; or why there is no drawing.
};

/// Words 16 pixels high are 7.7 points on paper, and nothing of a figure is smaller unless it says so.
constexpr double k_units_per_pixel = 17.0;

/// Makes a figure that is no larger than `room`.
using FigureSource = std::function<FigurePicture(const core::Figure& figure, const QSizeF& room)>;

}  // namespace sillwright::app::print
