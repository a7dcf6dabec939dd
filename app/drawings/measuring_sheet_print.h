#pragma once

#include <string>

#include "core/survey/measuring_sheet.h"

class QPagedPaintDevice;

namespace sillwright::app {

enum class PageSize { a4, letter };

/// The measuring sheet on upright pages: on each the car, the side in large words, date, who, temperature, unit; lines
/// 9.5 mm high with room for a reading and for reading it again. The filled copy has lower lines, with what was
/// written, adjusted, sd, w and why it is dropped.
/// The device's page is taken as it is; its margins are left free at least.
void print_measuring_sheet(const core::survey::MeasuringSheet& sheet, QPagedPaintDevice& device);

/// The same as the bytes of a PDF file. Precondition: there is a QGuiApplication.
std::string measuring_sheet_pdf(const core::survey::MeasuringSheet& sheet, PageSize size);

}  // namespace sillwright::app
