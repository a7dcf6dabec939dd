#pragma once

#include <QColor>
#include <QFont>
#include <QPainter>

#include "core/finding.h"

/// The program's colours: paper and graphite; states have colours that nothing
/// else has. Text on paper has a contrast of 4.5 or more (WCAG 2.2, 1.4.3).
namespace sillwright::app::looks {

inline const QColor k_desk{0xEE, 0xE9, 0xDC};      ///< Behind the sheets of paper.
inline const QColor k_paper{0xF8, 0xF5, 0xED};     ///< What is drawn on.
inline const QColor k_edge{0xCF, 0xC8, 0xB6};      ///< A sheet's outline.
inline const QColor k_graphite{0x26, 0x26, 0x26};  ///< Text, body.
inline const QColor k_pencil{0x57, 0x53, 0x4A};    ///< Lesser text, rulers.
inline const QColor k_door{0x4A, 0x35, 0x7A};
inline const QColor k_skirt{0x00, 0x66, 0x5A};

/// Of a state's shape.
QColor shape_colour(core::State state);
/// Of a state's word and number.
QColor text_colour(core::State state);

/// Draws a state's shape in `box`: disc, triangle with an outline, diamond, hollow square.
void draw_shape(QPainter& painter, const QRectF& box, core::State state);

/// The usual font at `pixels` height.
QFont font(int pixels, bool bold = false);

}  // namespace sillwright::app::looks
