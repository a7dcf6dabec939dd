#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/units.h"

namespace sillwright::core {

/// A straight of the drawn line into which flutes and recesses are cut, by the numbers of its nodes: the shelf from its
/// edge inward, or the face from the bead down to the knee.
struct Strip {
    std::size_t edge = 0, far = 0;  ///< Neighbours.
};

/// No value where the line has no such neighbours: "shelf inner" and "shelf edge", "bead" and "knee".
std::optional<Strip> strip_of(const geometry::Loft& line, RecessFace face);

/// A strip at one place along the car.
struct StripAt {
    Eigen::Vector2d edge_mm, inward, outside;     ///< (out, up); from the edge to the far node, and out of the plug.
    double length_mm = 0.0;                       ///< From node to node.
    double free_from_mm = 0.0, free_to_mm = 0.0;  ///< Of it, from the edge, between the two roundings.
};

StripAt strip_at(const geometry::Loft& line, const Strip& strip, geometry::Length along);

/// How a router's base plate lies, its bit's axis at one place of a strip.
struct PlateStand {
    Eigen::Vector2d middle_mm;             ///< (out, up), the bit's axis on the drawn line.
    std::optional<geometry::Length> room;  ///< Least distance from the axis to an upstand; none within what was asked.
    bool room_is_far = false;              ///< That is on the far node's side (of a shelf: on the car's).
    double bearing = 1.0;                  ///< Part of the plate that lies on what is level with the strip.
};

/// Where the router stands, and how far is looked.
struct PlateAsk {
    geometry::Length along, offset;  ///< Offset: from the strip's edge along it.
    geometry::Length base_radius;
    geometry::Length look;  ///< Upstands are looked for up to there from the axis; no less than the radius.
    /// Where a flute goes through to the piece's end the plate bears there as if the strip went on: on the plug's
    /// trim allowance, or on a board that is clamped to it.
    bool front_goes_on = false, rear_goes_on = false;
};

/// The drawn surface round a strip, on which a router's base plate lies: what the plug offers it.
///
/// Units and frame: millimetres, (along, out, up).
/// Shape: the plate lies in the plane that touches the strip at the bit's axis: along the strip, and along the lane.
/// What
///   lies within `k_level` of that plane and goes on from the strip without a gap bears: its roundings as far as they
///   are level, and a return that goes on level. What rises above that plane by more is an upstand, on the strip's
///   edge's side or on its far side; at a closed end the plate of the end too. Distances are those in the plate's
///   plane. Bearing is the part of a whole disc: the bit's hole and the flutes themselves count as if they were filled.
/// Accuracy: sections stand `k_pitch_mm` apart, straight between: what bends to a radius R along the car lies off that
/// by
///   no more than 25 / (8 R), 0.03 mm at R = 100; roundings to 0.02 mm. Where an upstand begins between
///   two sections its height is taken as straight between them.
/// Limits: beyond the drawn line's ends nothing is known: an upstand that the plug has there is not seen.
class PlateBed {
public:
    PlateBed(const Piece& piece, const geometry::Loft& line, Strip strip);

    /// Precondition: the base plate's radius is greater than zero.
    [[nodiscard]] PlateStand stand_at(const PlateAsk& ask) const;

    [[nodiscard]] const Strip& strip() const { return strip_; }

    /// What is no higher or lower counts as level: a plate on it leans by less than the bit's depth can be set.
    static constexpr geometry::Length k_level = geometry::millimetres(0.5);
    static constexpr double k_pitch_mm = 5.0;

private:
    /// One section: from the strip's ends away, as far as the line goes or stays near the strip's height.
    struct Cut {
        double along_mm = 0.0;
        std::vector<Eigen::Vector2d> edge_side_mm, far_side_mm;
    };

    [[nodiscard]] Cut cut_at(const Piece& piece, geometry::Length along) const;

    const geometry::Loft* line_;
    Strip strip_;
    std::vector<Cut> cuts_;
};

}  // namespace sillwright::core
