#pragma once

#include <QColor>
#include <QFont>
#include <QPainter>
#include <QPalette>

#include "core/finding.h"

/// The program's colours: paper and graphite, in light and dark; states have colours
/// that nothing else has. Text on paper has a contrast of 4.5 or more (WCAG 2.2, 1.4.3).
namespace sillwright::app::looks {

/// The paper that is drawn on.
enum class Tone { light, dark };

struct Colours {
    QColor desk;      ///< Behind the sheets of paper.
    QColor paper;     ///< What is drawn on.
    QColor edge;      ///< A sheet's outline.
    QColor graphite;  ///< Text, body.
    QColor pencil;    ///< Lesser text, rulers.
    QColor door;
    QColor skirt;
};
const Colours& colours(Tone tone);

/// The palette that gives the widgets a tone, and the tone of a palette.
QPalette palette(Tone tone);
Tone tone_of(const QPalette& palette);

/// Of a state's shape.
QColor shape_colour(core::State state, Tone tone);
/// Of a state's word and number.
QColor text_colour(core::State state, Tone tone);

/// Draws a state's shape in `box`: disc, triangle with an outline, diamond, hollow square.
void draw_shape(QPainter& painter, const QRectF& box, core::State state, Tone tone);

/// The usual font at `pixels` height.
QFont font(int pixels, bool bold = false);

constexpr int k_text = 16;    ///< Height of body text in pixels, the least.
constexpr int k_number = 22;  ///< Of the number that matters, the least.
constexpr int k_target = 40;  ///< Side of what is pressed, the least: with gloves on.

}  // namespace sillwright::app::looks
