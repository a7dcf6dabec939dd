#pragma once

#include <memory>

#include "core/forming/formed_sheet.h"

namespace sillwright::core {

/// A sheet formed by hand: as thick as before from the start to mark `from`, six tenths of that from mark `to` on, a
/// straight between; the same from 0 to 2000 along.
inline std::shared_ptr<const FormedSheet> hand_formed(double from, double to, double sheet_mm = 3.0) {
    FormedSheet formed;
    formed.sheet = geometry::millimetres(sheet_mm);
    formed.rows = {geometry::millimetres(0.0), geometry::millimetres(2000.0)};
    formed.marks = {0.0, from, to, to + 1.0};
    formed.shares = {{1.0, 1.0, 0.6, 0.6}, {1.0, 1.0, 0.6, 0.6}};
    return std::make_shared<const FormedSheet>(std::move(formed));
}

}  // namespace sillwright::core
