#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/buck/buck.h"
#include "core/car_model.h"
#include "core/finding.h"
#include "core/forming/forming_plan.h"
#include "core/job.h"
#include "geometry/profile.h"
#include "geometry/units.h"

/// The buck: ribs across the car and spines along it, on a base, at the plug's size.
///
/// Frame: millimetres of the buck. x rearward from the plug's front end; the base is the plane height = 0, and height
///   grows along the draw direction p = (cos tilt, sin tilt) of (out, up); side grows upward on the car, along
///   (-sin tilt, cos tilt). So a rib drawn with side to the right and height up is seen from the front on a car's
///   right-hand side, from the rear on its left.
/// Size: of the plug, cold: the part's mould face, scaled by the mould chain along and across (assumed_chain), then
///   less the skin, square to the surface in space.
/// Ends: a rib that would stand out beyond the part's front or rear end is moved inward by its thickness, so that its
///   other face lies on the place.
namespace sillwright::core {

/// How a rib's edge leans from one of its faces to the other, over one strip of the section.
struct Bevel {
    std::string strip;  ///< "shelf edge to bead"
    geometry::Angle from,
        to;  ///< At the strip's two ends, the way round of the outline; positive: the far face is
             ///< smaller, the edge is bevelled; negative: it is larger, and a gap is left under the skin.
    geometry::Length most;  ///< Greatest distance between the two faces' edges along it, positive as above.
};

/// A slot that is open towards the base (in a rib) or away from it (in a spine).
struct Slot {
    double at_mm = 0.0;     ///< Its middle: side in a rib, x in a spine.
    double width_mm = 0.0;  ///< Finished.
    double depth_mm = 0.0;  ///< From the rib's lower edge, or the spine's upper edge, finished.
};

struct Rib {
    std::string label;           ///< "R3", each its own within the job.
    std::string station;         ///< Where one of its faces stands at one; else empty.
    geometry::Length along;      ///< Of that face, on the part, as the job says places.
    double x_mm = 0.0;           ///< Of the face that `outline` is of,
    bool place_is_front = true;  ///< which is its front face; else its rear one.
    double thickness_mm = 0.0;
    geometry::Profile outline;      ///< Of that face without slots; closed, anticlockwise, (side, height), from 0 up.
    geometry::Profile far_outline;  ///< Of the other face.
    std::vector<Bevel> bevels;
    std::vector<Slot> laps;                ///< One for each spine, in their order.
    std::vector<Eigen::Vector2d> pins_mm;  ///< Middles of the holes for the datum rods, (side, height).
    double level_mm = 0.0;                 ///< Height of the engraved level line, the same on all ribs.

    [[nodiscard]] double front_mm() const { return place_is_front ? x_mm : x_mm - thickness_mm; }
    [[nodiscard]] double rear_mm() const { return front_mm() + thickness_mm; }
};

struct Spine {
    std::string label;     ///< "S1"
    double side_mm = 0.0;  ///< Of its middle plane.
    double thickness_mm = 0.0;
    double front_mm = 0.0, rear_mm = 0.0, height_mm = 0.0;  ///< It stands on the base.
    std::vector<Slot> laps;                                 ///< One for each rib, in their order.
    std::vector<std::string> rib_labels;
};

struct BaseBoard {
    std::string label;  ///< "B1"
    double front_mm = 0.0, rear_mm = 0.0, low_mm = 0.0,
           high_mm = 0.0;  ///< x from front to rear, side from low to high.
    double thickness_mm = 0.0;
};

/// A distance to be measured on the buck when it stands: between marks that are drilled or engraved.
struct CheckDistance {
    std::string from, to;
    geometry::Length value;
};

/// How far a rib in a wrong place stands off the base; nothing else keeps it from going in there.
struct WrongPlace {
    std::string rib, place;
    bool reversed = false;
    double lift_mm = 0.0;
};

/// A rounding that is smaller than the skin: the rib is sharp there, and the skin rounds it.
struct SharpEdge {
    std::string rib, where;  ///< "shelf edge"
    double under_mm = 0.0;   ///< By how much more than the skin the surface stands off the rib there.
};

struct PieceBuck {
    std::size_t piece = 0;  ///< Number in job.skirt.pieces.
    geometry::Angle tilt;
    double base_mm = 0.0;                        ///< p . (out, up) of the base, at the buck's size.
    double along_size = 1.0, across_size = 1.0;  ///< Plug by part.
    double skin_mm = 0.0;
    geometry::Length front;  ///< Place on the part where x is 0.
    std::vector<Rib> ribs;   ///< From the front.
    std::vector<Spine> spines;
    std::optional<BaseBoard> base;
    std::vector<CheckDistance> checks;
    std::optional<WrongPlace>
        worst_swap;                    ///< Of all wrong places of one rib, swaps and turns, the one that shows least.
    double surface_misfit_mm = 0.0;    ///< Greatest distance of the ribs' bevelled edges from the plug's inner surface.
    std::vector<std::string> missing;  ///< If there is anything, there are no ribs.
    std::vector<SharpEdge> sharp{};
    /// What could not be made where all is known: an offset that vanishes. If there is anything, there are no ribs.
    std::vector<Finding> refused{};
};

struct BuckPlan {
    std::vector<PieceBuck> pieces;  ///< Those that are drawn to their end; none while the job has no board.
};

/// Fast enough while a hand draws: 30 ms at the samples' size.
BuckPlan buck_plan(const Job& job, const CarModel& car, const FormingPlan& forming);

/// All findings of the plan: `buck/<piece>/...`. None while the job has no board.
std::vector<Finding> buck_findings(const Job& job, const CarModel& car, const FormingPlan& forming,
                                   const BuckPlan& plan, Mends mends);

/// The board of that name, or the first one where it is empty; null if there is none.
const Board* board_of(const Buck& buck, const std::string& name);
/// Mean of what was measured; none if nothing was.
std::optional<geometry::Length> thickness_of(const Board& board);

}  // namespace sillwright::core
