#pragma once

#include <QPageSize>
#include <QString>

#include "core/job.h"

class QPdfWriter;

namespace sillwright::app::print {

/// What every page says of its job.
struct JobHead {
    QString vehicle, revision, date;
    QString unit;  ///< "mm"
    QString side;  ///< "RIGHT SIDE"

    /// "Estate A · revision 3 · 2026-11-30 · numbers in mm"
    [[nodiscard]] QString line() const;
};
JobHead head_of(const core::Job& job);

QPageSize page_size(core::PaperSize size);
/// Of the page, in hundredths of a millimetre; its longer side across if `lying`.
QSizeF page_units(core::PaperSize size, bool lying);
/// Coordinates in the file are rounded to its dots, which are finer than any printer's.
constexpr int k_dots_per_inch = 2540;
/// A writer of vectors with embedded fonts and no margins of its own.
void set_up(QPdfWriter& writer, core::PaperSize size, bool lying, const QString& title);

}  // namespace sillwright::app::print
