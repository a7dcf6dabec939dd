#pragma once

#include <cstddef>
#include <vector>

#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// A smooth line through values measured at places along the car: cubics with
/// Akima's slopes.
///
/// Why this one: it passes through every value, gives back a straight line from
/// straight data, does not wiggle beside a kink as a spline does, and is local.
///
/// Units and frame: places in millimetres along one axis; values in any one unit,
///   often millimetres of one coordinate.
/// Shape: two places: the straight between them. Three or more: Akima's curve,
///   with a continuous first derivative; the second jumps at the places.
/// Reach: a value that moves is felt up to the third place to either side
///   (`k_reach`), and nowhere else.
/// Accuracy: a few roundings of the largest value.
/// Errors: invalid_argument for fewer than two places, another count of values,
///   numbers that are not finite, or places that do not rise.
/// Source: H. Akima, "A new method of interpolation and smooth curve fitting based
///   on local procedures", J. ACM 17 (1970) 589-602; end slopes by his parabola.
///   Where both of his weights vanish (a kink between two straights) the slope is
///   the mean of the two, as he proposes.
class GuideLine {
public:
    /// Places to either side of a moved value within which the line changes.
    static constexpr std::size_t k_reach = 3;

    static Result<GuideLine> through(const std::vector<Length>& places, const std::vector<double>& values);

    [[nodiscard]] Length front() const { return millimetres(pieces_.front().at); }
    [[nodiscard]] Length rear() const { return millimetres(rear_); }

    /// At `along`, taken as the nearest end where it is outside front..rear.
    [[nodiscard]] double value(Length along) const;
    /// First derivative, value unit per millimetre; at a place of the line both sides agree.
    [[nodiscard]] double slope(Length along) const;
    /// Second derivative; at a place of the line that of the piece behind it.
    [[nodiscard]] double bend(Length along) const;

    /// The range in which this line and `other` through the same places differ,
    /// added to [from, to] if there is one. False if the lines are the same, bit for bit.
    bool widen_by_difference(const GuideLine& other, Length& from, Length& to) const;

private:
    /// c0 + c1 t + c2 t^2 + c3 t^3, t = along - at.
    struct Piece {
        double at, c0, c1, c2, c3;
        friend bool operator==(const Piece&, const Piece&) = default;
    };

    GuideLine() = default;
    [[nodiscard]] const Piece& piece_at(double along_mm) const;
    [[nodiscard]] double clamped(Length along) const;

    std::vector<Piece> pieces_;
    double rear_ = 0.0;
    double rear_value_ = 0.0;
};

}  // namespace sillwright::geometry
