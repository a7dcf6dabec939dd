#pragma once

#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "geometry/motion_distance.h"
#include "geometry/result.h"

namespace sillwright::core {

/// How a door is looked at.
enum class SwingCase {
    striker,    ///< Shut, held by its striker: no sag.
    released,   ///< Shut, the striker just let go: the sag that comes at once.
    moving,     ///< From shut to the stop, with its sag.
    over_slam,  ///< Travelling inboard past shut, held up by the striker.
};

/// What the moving body is: a part of the door, or a piece of the skirt that it carries.
enum class MovingKind { edge, cladding, carried };

/// One moving body against one fixed body.
struct SwingPair {
    std::size_t door = 0;
    const BodyModel* moving = nullptr;
    const BodyModel* fixed = nullptr;
    MovingKind kind = MovingKind::edge;
    std::optional<std::size_t> piece;  ///< The fixed piece; none for the car's body.
};

/// Least distance of one pair in one case.
struct SwingOutcome {
    SwingPair pair;
    SwingCase which = SwingCase::moving;
    geometry::HingeMotion motion;
    geometry::MotionDistance distance;
    /// Proven for the true surfaces: the meshes' proven distance less both deviations.
    [[nodiscard]] geometry::Length bound() const;
};

/// All pairs of a door: its parts, and what it carries, against all that is fixed.
/// `body`, if not null, is the car's own surface: what a door carries must clear it.
std::vector<SwingPair> swing_pairs(const Job& job, const CarModel& car, std::size_t door, const BodyModel* body);

/// The pair in a case; no value if the door's motion is not measured.
/// Errors: as geometry::least_distance.
geometry::Result<std::optional<SwingOutcome>> swing_outcome(const CarModel& car, const SwingPair& pair, SwingCase which,
                                                            const geometry::Watch& watch);

/// The findings of all doors: shut, moving (edges, cladding and carried pieces each
/// for itself), and past shut; and the outcomes they rest on.
///
/// Numbers: found is the proven bound, so no angle has less; touching is reported
///   by its angles, with the depth that is reached at least as a negative found.
/// Errors: as geometry::least_distance; stopped.
struct SwingReport {
    std::vector<Finding> findings;
    std::vector<SwingOutcome> outcomes;
};
geometry::Result<SwingReport> check_swing(const Job& job, const CarModel& car, const geometry::Watch& watch = {});

/// One finding from the outcomes of one door that belong to it, worst margin first
/// to be taken. Precondition: at least one outcome.
Finding swing_finding(const Job& job, const CarModel& car, const std::string& id, const std::string& title,
                      const std::vector<SwingOutcome>& outcomes, const Entry& asked);

}  // namespace sillwright::core
