#pragma once

#include <vector>

#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// The natural cubic spline through values at places: the curve of a thin batten held at the places and
/// free at its ends, for small slopes. Of all curves through the values it has the least bending energy.
///
/// Units and frame: places in millimetres along one axis; values in any one unit.
/// Shape: two places: the straight between them. Three or more: cubics with continuous first and second
///   derivatives, the second zero at both ends. Beyond the ends it goes on straight.
/// Accuracy: a few roundings of the largest value for places of like spacing.
/// Errors: invalid_argument for fewer than two places, another count of values, numbers that are not
///   finite, or places that do not rise.
/// Source: J. C. Holladay, "A smoothest curve approximation", Math. Tables Aids Comput. 11 (1957) 233-243;
///   the three-term system of its second derivatives solved by elimination.
class NaturalSpline {
public:
    static Result<NaturalSpline> through(const std::vector<Length>& places, const std::vector<double>& values);

    [[nodiscard]] double value(Length along) const;

private:
    NaturalSpline() = default;

    std::vector<double> at_, value_, bend_;  ///< Places, values, second derivatives.
};

}  // namespace sillwright::geometry
