#pragma once

#include <QFont>
#include <QPainter>
#include <QPointF>
#include <QRectF>
#include <QString>
#include <vector>

/// Words on a page.
///
/// Units: hundredths of a millimetre, y down: font heights are whole numbers of them, and nothing depends on a screen.
namespace sillwright::app::print {

constexpr double k_units_per_mm = 100.0;
constexpr double k_units_per_point = 2540.0 / 72.0;

/// A font of so many points.
QFont page_font(double points, bool bold = false);

double width_of(const QString& text, const QFont& font);
/// From one line to the next.
double line_height(const QFont& font);

/// The text in lines no wider than `width`; a word that is wider is broken where it must be. One line at least.
std::vector<QString> wrapped(const QString& text, const QFont& font, double width);
/// Width of its widest word.
double widest_word(const QString& text, const QFont& font);

/// The line that begins at the upper left corner `at`.
void draw_line_of_words(QPainter& painter, const QPointF& at, const QString& line, const QFont& font);
/// Lines one below the other.
void draw_lines_of_words(QPainter& painter, const QPointF& at, const std::vector<QString>& lines, const QFont& font);

}  // namespace sillwright::app::print
