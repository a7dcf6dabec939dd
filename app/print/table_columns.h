#pragma once

#include <QFont>
#include <vector>

#include "core/handover/document.h"

namespace sillwright::app::print {

/// How wide each column of a table is, by what is in it.
struct TableColumns {
    std::vector<double> widths;
    std::vector<bool> right;  ///< Numbers alone: they stand at its right.
};

/// No wider than `width` together; as wide as needed where there is room, else no narrower than their longest word as
/// long as that goes. `padding`: of a cell, both sides together. Columns to write into are 20 mm wide at least.
TableColumns table_columns(const core::Grid& grid, const QFont& font, const QFont& heading, double width,
                           double padding);

}  // namespace sillwright::app::print
