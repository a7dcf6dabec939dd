#pragma once

#include <string>

#include "app/print/figure_picture.h"
#include "app/print/job_head.h"
#include "core/handover/document.h"
#include "geometry/result.h"

namespace sillwright::app::print {

/// A paper set on pages, as the bytes of a PDF file.
///
/// On every page: title and reader, the side in large words, the job with revision, date and unit, the page's number of
/// how many; at its foot the cautions. What falls short, and what is still open, is framed before all else. Drawings
/// are vectors, fonts are embedded, nothing depends on a screen.
/// `size`: A4 or Letter.
/// One page: letters and figures are made smaller, as far as they can be read, until the paper goes on it; where what
///   falls short and what is open leave no room even then, it goes on more pages, at the usual size.
/// Errors: does_not_fit for a paper whose head and cautions leave no room.
/// Precondition: there is a QGuiApplication; a QApplication where `figures` needs one.
geometry::Result<std::string> document_pdf(const core::Document& document, const JobHead& head, core::PaperSize size,
                                           const FigureSource& figures);

}  // namespace sillwright::app::print
