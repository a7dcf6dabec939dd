#pragma once

#include <vector>

#include "core/evaluate.h"
#include "core/handover/contents.h"
#include "core/handover/documents.h"
#include "geometry/motion_distance.h"
#include "geometry/result.h"

namespace sillwright::app::print {

/// All that is printed of a job: each paper as papers/<number>_<name>.pdf, each template as templates/<name>.pdf, the
/// copy of the measuring book where there is one, and report.html with all papers.
/// From any thread: each file is made in the application's own, one after another, so that a window stays alive.
/// Errors: stopped; as document_pdf and template_pdf, led by the file that could not be made.
/// Precondition: there is a QApplication; no display is needed.
geometry::Result<std::vector<core::HandoverFile>> paper_files(const core::Evaluation& evaluation,
                                                              const core::BuckWork& work,
                                                              const geometry::Watch& watch = {});

/// The same of papers that are there already.
geometry::Result<std::vector<core::HandoverFile>> paper_files(const core::Evaluation& evaluation,
                                                              const std::vector<core::Document>& documents,
                                                              const geometry::Watch& watch = {});

}  // namespace sillwright::app::print
