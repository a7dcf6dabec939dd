#pragma once

#include <string>

#include "app/print/job_head.h"
#include "core/handover/templates.h"
#include "geometry/result.h"

namespace sillwright::app::print {

/// A template at its true size over as many sheets as it needs, as the bytes of a PDF file: first a small map of the
/// sheets with what must be known, then sheet by sheet. On each: job, side, which face looks out, the sheet's name and
/// its neighbours', crosses at the same places on both neighbours, and bars of 100 mm and 4 in to be measured before
/// use.
///
/// Accuracy: coordinates to 0.01 mm, all from the sheet's own corner; nothing depends on where the page ends.
/// Errors: does_not_fit for a drawing without anything, or one that needs more than `k_most_sheets`.
/// Precondition: there is a QGuiApplication.
geometry::Result<std::string> template_pdf(const core::Template& one, const JobHead& head, core::PaperSize size);

constexpr int k_most_sheets = 200;

/// Pens of these widths have registration crosses and scale bars alone.
constexpr double k_cross_pen_mm = 0.21;
constexpr double k_bar_pen_mm = 0.27;

}  // namespace sillwright::app::print
