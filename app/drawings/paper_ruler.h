#pragma once

#include <QPainter>
#include <QRectF>

#include "app/drawings/section_scale.h"
#include "app/looks.h"
#include "core/job.h"

namespace sillwright::app {

/// The rulers at a paper's edge, out below and up at the left, in a job's unit: numbers in
/// steps of 1, 2 or 5 with noughts; inches below one in halves, quarters, eighths, sixteenths.
///
/// Units and frame: pixels of the sheet, y down. `paper` is the sheet without its rulers.
void draw_rulers(QPainter& painter, const QRectF& sheet, const QRectF& paper, const SectionScale& scale,
                 core::BareUnit unit, const looks::Colours& colours);

/// A bar of a round length in the paper's lower left corner, with its length in words.
void draw_scale_bar(QPainter& painter, const QRectF& paper, const SectionScale& scale, core::BareUnit unit,
                    const looks::Colours& colours);
/// What it takes of the paper.
QRectF scale_bar_box(const QRectF& paper, const SectionScale& scale, core::BareUnit unit);

/// A step of a ruler: how long it is, and into how many parts it is divided.
struct RulerStep {
    double length_mm = 1.0;
    int parts = 5;
};
/// The least step that is at least `least_px` long.
RulerStep ruler_step(double least_px, double pixels_per_mm, core::BareUnit unit);

/// "−50", "1 1/2": what a ruler writes at a place.
QString ruler_number(double at_mm, core::BareUnit unit);

}  // namespace sillwright::app
