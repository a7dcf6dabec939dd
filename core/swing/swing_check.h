#pragma once

#include <functional>
#include <memory>
#include <optional>
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
    std::optional<geometry::Length> at_stop;  ///< Of the meshes, with the door at its stop; of a moving door.
    /// The meshes' proven distance less both deviations: for the true surfaces as good as
    /// the deviations, which are found by probing (ring_mesh.h) or stated by a kernel.
    [[nodiscard]] geometry::Length bound() const;
};

/// The greatest distance of any point of a door's body from the hinge: what the sag acts on.
geometry::Length sag_lever(const BodyModel& moving, const geometry::HingeMotion& motion);

/// All pairs of a door: its parts, and what it carries, against all that is fixed.
/// `body`, if not null, is the car's own surface: what a door carries must clear it.
std::vector<SwingPair> swing_pairs(const Job& job, const CarModel& car, std::size_t door, const BodyModel* body);

/// The pair in a case; no value if the door's motion is not measured.
/// Errors: as geometry::least_distance.
geometry::Result<std::optional<SwingOutcome>> swing_outcome(const CarModel& car, const SwingPair& pair, SwingCase which,
                                                            const geometry::Watch& watch);

/// One line of the report: a door, which cases and moving bodies of it, and what is
/// asked of their gap.
struct SwingQuestion {
    std::size_t door = 0;
    std::string id;     ///< "swing/front door/moving"
    std::string title;  ///< "front door to skirt, moving"
    std::vector<SwingCase> cases;
    std::vector<MovingKind> kinds;
    Entry asked;
};
std::vector<SwingQuestion> swing_questions(const Job& job, const CarModel& car);

/// A question's finding and what it rests on; the outcomes point into `car` and `body`.
struct SwingAnswer {
    std::optional<Finding> finding;  ///< None where the question does not arise.
    std::vector<SwingOutcome> outcomes;
    std::size_t worst = 0;  ///< The outcome that the finding reports, if there are any.
};
/// Who tells the outcome of a pair in a case; no value if the door's motion is not measured.
using TellOutcome = std::function<geometry::Result<std::optional<SwingOutcome>>(const SwingPair&, SwingCase)>;

/// The motion that a door is asked for in a case, and over which angles; no value if it is not measured.
struct SwingMotion {
    geometry::HingeMotion motion;
    geometry::Angle from, to;

    friend bool operator==(const SwingMotion&, const SwingMotion&) = default;
};
std::optional<SwingMotion> swing_motion(const DoorModel& door, SwingCase which);

/// Errors: as `tell`.
geometry::Result<SwingAnswer> swing_answer(const Job& job, const CarModel& car, const SwingQuestion& question,
                                           const BodyModel* body, const TellOutcome& tell);
/// Errors: as geometry::least_distance; stopped.
geometry::Result<SwingAnswer> swing_answer(const Job& job, const CarModel& car, const SwingQuestion& question,
                                           const BodyModel* body, const geometry::Watch& watch = {});

/// The findings of all doors: shut, moving and past shut, edges, cladding and carried
/// pieces each for itself; and the outcomes they rest on.
///
/// Numbers: found is the proven bound, so no angle has less; touching is reported
///   by its angles, with the depth that is reached at least, less the deviation of both
///   meshes, as a negative found. The sag counts with the lever of the door's furthest
///   point, so that no other place asks for more.
/// Errors: as geometry::least_distance; stopped.
struct SwingReport {
    std::vector<Finding> findings;
    std::vector<SwingOutcome> outcomes;     ///< They point into the car and into `body`.
    std::shared_ptr<const BodyModel> body;  ///< The car's own surface, where a door carries something; else null.
};
geometry::Result<SwingReport> check_swing(const Job& job, const CarModel& car, const geometry::Watch& watch = {});
/// Whether a door carries something that the car's own surface must be held against.
bool stands_against_body(const Job& job, const CarModel& car);
/// The car's own surface, where a door carries something that it must clear; null where none does.
/// Errors: as body_surface.
geometry::Result<std::shared_ptr<const BodyModel>> carried_against(const Job& job, const CarModel& car);

/// The same with outcomes that are told, and with the car's own surface as it is.
geometry::Result<SwingReport> check_swing(const Job& job, const CarModel& car, std::shared_ptr<const BodyModel> body,
                                          const TellOutcome& tell);

}  // namespace sillwright::core
