#pragma once

#include <string>
#include <vector>

#include "app/print/figure_picture.h"
#include "app/print/job_head.h"
#include "core/handover/document.h"

namespace sillwright::app::print {

/// All papers in one page for a browser, which needs no other file: figures inside it as SVG, tables as tables, with a
/// style for the printer too. It is well-formed XML as well, in UTF-8.
/// Precondition: as document_pdf.
std::string report_html(const std::vector<core::Document>& documents, const JobHead& head, const FigureSource& figures);

/// Text between tags or in an attribute: its signs that mean something there, and those that XML has no room for.
std::string escaped(const std::string& text);

/// An SVG to stand inside a page: without the head of a file, its ids and what refers to them led by `prefix`.
std::string inside_page(const std::string& svg, const std::string& prefix);

}  // namespace sillwright::app::print
