#pragma once

#include <Eigen/Core>
#include <vector>

#include "geometry/result.h"
#include "geometry/units.h"

/// How hot sheet thins where it is drawn into a cavity or over a mould: the sequential-contact model.
namespace sillwright::geometry {

/// A long trough (nothing moves along it), or a body of revolution about the line x = 0.
enum class DrapeShape { trough, revolution };

/// Thickness at one place of the mould.
struct DrapedPlace {
    double at_mm = 0.0;  ///< Arc length on the mould, from its first point.
    double share = 1.0;  ///< Thickness, of that of the sheet.
};

/// Sheet on its mould.
struct DrapedSheet {
    std::vector<DrapedPlace> places;  ///< From one end to the other; two at one place are a jump there.
    double sheet = 0.0;               ///< Length (trough) or area (revolution) clamped, mm or mm2.
    double laid = 0.0;                ///< Thickness by length or area, laid on the mould: as much.

    /// Linear between places.
    [[nodiscard]] double share_at(double at_mm) const;
};

/// How finely it is worked out.
struct DrapeSteps {
    Length step = millimetres(2.0);  ///< Between places on the mould; of a body of revolution the step of the sum too.
    Length corner = millimetres(0.05);  ///< A hollow with a narrower mouth takes what is left evenly.
};

/// A sheet of thickness 1 that is clamped at the mould's first and last point, and there as high as they are. The mould
/// rises into it, then vacuum draws it on. A cavity is a mould that stands nowhere above its ends.
///
/// Units and frame: millimetres; y up, away from the mould. `mould` runs with the free side on its left, that is from
///   left to right, with its platen or rim. A body of revolution: from its rim (x < 0) to its axis (x = 0, the last
///   point).
/// Law: where the sheet touches, it sticks and keeps its thickness; a free span has the same thickness all over and
/// keeps
///   its volume. While the mould rises, free spans are straight, from the clamps to the hull of the mould. Under vacuum
///   a free span is a circular arc that grows rounder; with t its half-angle, it leaves
///     both ends where they are while it is steeper there than neither wall;
///     the wall that it is tangent to first: that end alone moves on along it, and the arc stays tangent there;
///     both walls, once it is tangent to both: both ends move on by the same amount, and the half-angle stays.
///   At an edge an end stays until the arc is tangent to the next wall. Where the arc meets the mould between its ends
///   it sticks and goes on as two spans. In a body of revolution the span over the axis is a spherical cap, others are
///   rings with an arc for a section.
/// Accuracy: of a trough exact on the straights of `mould`, to rounding: the thickness goes with sin(t)/t, with its
/// square,
///   and with the power tan(t)/t - 1 of the chord in the three phases. Of a body of revolution the error falls with the
///   square of the step. Roundings given by chords: with the square of the chord.
/// Limits: no plug, no slip, no cooling on the way, a cold mould, the sheet equally hot and weightless.
/// Errors: invalid_argument for fewer than two points, values that are not finite, ends at different heights (of a
///   trough), a body of revolution that does not end on its axis, steps that are not above zero; does_not_fit where the
///   mould is wider than its clamps, or where the sheet does not come to rest.
/// Source: first two phases and any corner derived here from the law; the third and the cone are the closed forms of
///   Throne's model of sequential contact (bmi.berkeley.edu/Me221, thermoforming theory).
Result<DrapedSheet> draped(const std::vector<Eigen::Vector2d>& mould_mm, DrapeShape shape,
                           const DrapeSteps& steps = {});

}  // namespace sillwright::geometry
