#pragma once

#include <optional>

#include "core/job.h"
#include "geometry/units.h"

namespace sillwright::core {

/// How thick a piece is at one place, and how sure that is.
struct Thickness {
    geometry::Length thickness;
    geometry::Length sd;
    bool of_sheet = false;  ///< It is that of the sheet before forming: the formed piece is no thicker.
};

/// The flange's thickness at a place along the car: the job's own number where it has one, else that of the sheet.
/// The same everywhere along the piece.
///
/// Standard deviation: the job's own, else half of `k_forming_spread` of the thickness.
/// Not measured: no value without either thickness.
/// Source: +-10 % of the thickness within a formed part: fiberpad.com, design parameters for vacuum forming; taken as
///   two standard deviations. A deep flange on a male mould is thinner than the sheet by more: measure it.
std::optional<Thickness> flange_thickness(const Piece& piece, geometry::Length along);

/// Half-width, of the thickness.
constexpr double k_forming_spread = 0.10;

}  // namespace sillwright::core
