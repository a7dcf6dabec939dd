#pragma once

#include <optional>

#include "core/job.h"
#include "geometry/units.h"

namespace sillwright::core {

struct PieceModel;

/// How thick a piece is at one place, and how sure that is.
struct Thickness {
    geometry::Length thickness;
    geometry::Length sd;
    bool of_sheet = false;  ///< It is that of the sheet before forming: the formed piece is no thicker.
    bool computed = false;  ///< It is computed from how the sheet is drawn (core/forming/formed_sheet.h).
};

/// The flange's thickness at a place along the car: the job's own number where it has one, the same everywhere along
/// the piece; else what the model's formed sheet has half-way from the flange's root to its end; else, or without a
/// model, that of the sheet.
///
/// Standard deviation: the job's own, else half of `k_forming_spread` of the thickness.
/// Not measured: no value without either thickness.
/// Source: +-10 % of the thickness within a formed part: fiberpad.com, design parameters for vacuum forming; taken as
///   two standard deviations. A flange that is thinner by more than its own spread near its root or its end: measure
///   it.
std::optional<Thickness> flange_thickness(const Piece& piece, geometry::Length along,
                                          const PieceModel* model = nullptr);

/// Half-width, of the thickness.
constexpr double k_forming_spread = 0.10;

}  // namespace sillwright::core
