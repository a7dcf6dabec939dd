#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "geometry/units.h"

/// Draft: the angle between a face and the direction in which a body leaves its mould.
///
/// Units and frame: a draw direction lies in one plane, at an angle (`tilt`) from the plane's first axis towards its
///   second: (cos tilt, sin tilt). A face is given by the part of its outward unit normal that lies in this plane, no
///   longer than 1. Its draft is asin(normal . direction): 90 degrees where it faces the draw direction, 0 where it
///   runs along it, negative where the mould holds it.
namespace sillwright::geometry {

/// The direction of a tilt.
Eigen::Vector2d draw_direction(Angle tilt);

/// Draft of one face.
Angle draft_of(const Eigen::Vector2d& normal, Angle tilt);

struct TiltRange {
    Angle from, to;
};

struct BestTilt {
    Angle tilt, draft;
};

/// The least draft of many faces, as a function of the tilt.
///
/// Method: the least of normal . direction is reached at a corner of the normals' convex hull, and from one tilt to a
///   greater one these corners follow each other round the hull. Between two changes the least is one sinusoid.
/// Accuracy: rounding, some 1e-15 rad; near a draft of 90 degrees the square root of that.
class LeastDraft {
public:
    /// Precondition: at least one normal, all finite.
    explicit LeastDraft(const std::vector<Eigen::Vector2d>& normals);

    [[nodiscard]] Angle at(Angle tilt) const;
    /// Those that are the least at some tilt.
    [[nodiscard]] const std::vector<Eigen::Vector2d>& normals() const { return hull_; }

    /// Where in from..to the least draft is greatest; the lowest of equal ones.
    /// Precondition: from <= to.
    [[nodiscard]] BestTilt best(Angle from, Angle to) const;

    /// Tilts in from..to at which every face has at least `draft`; the ends included. No value if there are none.
    /// Precondition: 0 <= draft <= 90 degrees, from <= to, to - from <= 180 degrees: then they are one range.
    [[nodiscard]] std::optional<TiltRange> enough(Angle draft, Angle from, Angle to) const;

private:
    std::vector<Eigen::Vector2d> hull_;  ///< Anticlockwise, no three in a line.
};

}  // namespace sillwright::geometry
