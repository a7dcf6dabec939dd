#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/result.h"
#include "geometry/sheet_draping.h"
#include "geometry/units.h"

namespace sillwright::core {

/// Common practice, no source: a flatter wall beyond the trim line would take too much sheet.
constexpr geometry::Angle k_lean_most = geometry::degrees(45.0);
/// A chord stands off a rounding of 10 mm by 0.0015 mm.
constexpr geometry::Angle k_chord_turn = geometry::degrees(2.0);

/// The mould at one place along the car, from clamp line to clamp line, as the sheet meets it
/// (geometry/sheet_draping.h).
///
/// Units and frame: millimetres; y along the draw direction of a male mould, against that of a female one, so that the
///   sheet comes from above; x across. The male mould's line runs from the top return end to the flange end, the
///   female's the other way.
/// Shape: the face on which the sheet lies (inside over a male mould, outside in a female one); its two ends straight
/// on
///   by the trim allowance, along the draw direction where they lean from it by more than `k_lean_most`; both on to the
///   lower of the two, the foot; flat from there to the clamp lines. A flange bent after goes on straight from the
///   strip before its root. Roundings in chords of `chord_turn` at most.
struct MouldSection {
    std::vector<Eigen::Vector2d> mould_mm;
    std::vector<double> running_mm;  ///< Arc length of each point.
    struct Anchor {
        double mark = 0.0, at_mm = 0.0;
    };
    std::vector<Anchor> anchors;  ///< Of the drawn piece, by rising marks (formed_sheet.h).

    /// Arc length on the mould at a mark.
    [[nodiscard]] double at_mark(double mark) const;
    [[nodiscard]] double formed_mm() const { return running_mm.back(); }
    [[nodiscard]] double clamped_mm() const { return mould_mm.back().x() - mould_mm.front().x(); }
};

/// Precondition: nothing lacks for a formed sheet.
/// Errors: does_not_fit, led by the place, where the face cannot be made for a radius, where the walls meet above the
///   foot, or where the mould is wider than its clamps; with what would do.
geometry::Result<MouldSection> mould_section(const Job& job, const Piece& piece, const geometry::Loft& line,
                                             geometry::Length along, geometry::Angle tilt,
                                             geometry::Angle chord_turn = k_chord_turn);

}  // namespace sillwright::core
