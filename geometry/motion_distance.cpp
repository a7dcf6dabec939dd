#include "geometry/motion_distance.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

#include "geometry/contact_states.h"
#include "geometry/motion_search.h"

namespace sillwright::geometry {

namespace {

using Pair = MotionSearch::Pair;
using Ending = MotionSearch::Ending;

/// Angles at which the search is seeded, ends among them.
constexpr int k_seed_angles = 16;

/// A seed need not be exact: pairs that are nearer by less than this part of the
/// best so far are not looked for. The proof that follows finds them.
constexpr double k_seed_slack = 0.05;

/// Rounds of polishing and looking about again from the best seed.
constexpr int k_polish_rounds = 6;

/// Nothing nearer by less than this is looked for at one angle: a flat hem above a
/// flat shelf has all its pairs within rounding of each other.
constexpr double k_pose_slack_mm = 1e-9;

constexpr std::size_t k_most_curve_angles = 100000;

Error stopped() {
    return {ErrorCode::stopped, "The distance over the swing was stopped before it was finished."};
}

Status check(const HingeMotion& motion, Angle from, Angle to) {
    constexpr double k_unit = 1e-9;  // How far from 1 a unit vector's length may be.
    if (!(std::abs(motion.axis_direction.norm() - 1.0) < k_unit) ||
        !(std::abs(motion.sag_direction.norm() - 1.0) < k_unit)) {
        return Error{ErrorCode::invalid_argument,
                     "The hinge axis has no direction: its two points must differ, and its direction be of length 1."};
    }
    if (!motion.axis_point_mm.allFinite() || !(motion.opening > Angle{})) {
        return Error{ErrorCode::invalid_argument, "The hinge needs a point and an opening angle above 0°."};
    }
    if (!std::isfinite(in_rad(motion.sag_at_once)) || !std::isfinite(motion.sag_rate())) {
        return Error{ErrorCode::invalid_argument, "The sag of the door must be an angle, at once and as it opens."};
    }
    // Beyond this the last place of an angle grows past what the search halves down to.
    constexpr Angle k_most = degrees(360.0);
    if (!(from >= -k_most) || !(to <= k_most)) {
        return Error{ErrorCode::invalid_argument, "The swing must stay within a full turn of the door as it was shut."};
    }
    if (!(from <= to) || !(in_rad(to - from) <= std::numbers::pi)) {
        return Error{ErrorCode::invalid_argument, "The swing from " + std::to_string(in_deg(from)) + "° to " +
                                                      std::to_string(in_deg(to)) +
                                                      "° must rise, by half a turn at most."};
    }
    return std::monostate{};
}

/// Nearest pair at the seed angles, followed to a near minimum.
Ending seed(MotionSearch& search, double from, double to, double tolerance, Pair& best) {
    const int seeds = to > from ? k_seed_angles : 1;
    for (int i = 0; i < seeds; ++i) {
        const double angle = seeds == 1 ? from : from + (to - from) * i / (seeds - 1);
        // The last best pair is a good first guess here too.
        if (i > 0) {
            const Pair guess = search.pair_at(best.fixed_slot, best.moving_slot, angle);
            best = guess.distance < best.distance ? guess : best;
        }
        const Ending ending = search.minimise(angle, angle, {tolerance, k_seed_slack}, best).ending;
        if (ending != Ending::done) {
            return ending;
        }
    }
    for (int round = 0; round < k_polish_rounds && to > from; ++round) {
        const double before = best.distance;
        search.polish(from, to, best);
        if (!(best.distance > 0.0)) {
            return Ending::contact;
        }
        const Ending ending = search.minimise(best.angle, best.angle, {0.1 * tolerance}, best).ending;
        if (ending != Ending::done || best.distance > before - 0.1 * tolerance) {
            return ending;
        }
    }
    return Ending::done;
}

/// Follows the nearest pair to its least over the angle, and where another is nearer
/// there, follows that: within the tolerance there may be several.
Ending settle(MotionSearch& search, double from, double to, Pair& best) {
    for (int round = 0; round < k_polish_rounds; ++round) {
        search.polish(from, to, best);
        const double before = best.distance;
        const Ending ending = search.minimise(best.angle, best.angle, {k_pose_slack_mm}, best).ending;
        if (ending != Ending::done || best.distance > before - k_pose_slack_mm) {
            return ending;
        }
    }
    return Ending::done;
}

PoseDistance as_pose(const DistanceTree& fixed, const DistanceTree& moving, const Pair& pair) {
    return {radians(pair.angle), millimetres(pair.distance),      pair.on_fixed,
            pair.on_moving,      fixed.triangle(pair.fixed_slot), moving.triangle(pair.moving_slot)};
}

void take_pair(MotionDistance& result, const DistanceTree& fixed, const DistanceTree& moving, const Pair& pair) {
    const PoseDistance nearest = as_pose(fixed, moving, pair);
    result.least = nearest.distance;
    result.at = nearest.at;
    result.on_fixed_mm = nearest.on_fixed_mm;
    result.on_moving_mm = nearest.on_moving_mm;
    result.fixed_triangle = nearest.fixed_triangle;
    result.moving_triangle = nearest.moving_triangle;
}

/// Bodies that touch, or that cannot be proven not to: every angle has its state.
Result<MotionDistance> with_states(const DistanceTree& fixed, const DistanceTree& moving, const HingeMotion& motion,
                                   const MotionQuestion& question, const Watch& watch, Pair best) {
    ContactStates states = contact_states(fixed, moving, motion, question, watch);
    if (states.stopped || watch.stop.stop_requested()) {
        return stopped();
    }
    MotionSearch search(fixed, moving, motion, watch);
    if (best.distance > 0.0 && settle(search, in_rad(question.from), in_rad(question.to), best) == Ending::stopped) {
        return stopped();
    }
    MotionDistance result;
    take_pair(result, fixed, moving, best);
    result.depth = millimetres(states.depth_mm);
    result.depth_at = radians(states.depth_angle);
    result.depth_point_mm = states.depth_point;
    result.states = std::move(states.intervals);
    const auto touching = std::find_if(result.states.begin(), result.states.end(), [](const AngleInterval& interval) {
        return interval.state == AngleState::touching;
    });
    if (touching != result.states.end()) {
        // Show the place where the contact begins, as far as surfaces cross there.
        result.touches = true;
        const Pair first = [&] {
            const auto crossing = search.crossings(in_rad(touching->from), 1);
            return crossing.empty() ? best : crossing.front();
        }();
        take_pair(result, fixed, moving, first);
        result.at = touching->from;
        result.least = Length{};
    }
    return result;
}

}  // namespace

Status check_question(const HingeMotion& motion, const MotionQuestion& question) {
    if (Status ok = check(motion, question.from, question.to); !ok) {
        return ok;
    }
    if (!(question.tolerance > Length{}) || !(question.bracket > Angle{})) {
        return Error{ErrorCode::invalid_argument, "Tolerance and bracket of a swing must be above zero."};
    }
    return std::monostate{};
}

Result<MotionDistance> least_distance(const DistanceTree& fixed, const DistanceTree& moving, const HingeMotion& motion,
                                      const MotionQuestion& question, const Watch& watch) {
    if (const Status ok = check_question(motion, question); !ok) {
        return ok.error();
    }
    const double from = in_rad(question.from);
    const double to = in_rad(question.to);
    const double tolerance = in_mm(question.tolerance);
    MotionSearch search(fixed, moving, motion, watch);
    Pair best;
    MotionSearch::Minimum minimum{seed(search, from, to, tolerance, best), 0.0};
    if (minimum.ending == Ending::done) {
        minimum = search.minimise(from, to, {tolerance}, best);
    }
    if (minimum.ending == Ending::stopped) {
        return stopped();
    }
    const double proven = minimum.lower - search.rounding_mm();
    if (minimum.ending == Ending::contact || !(proven > 0.0) ||
        one_inside_other(fixed, moving, pose(motion, question.from))) {
        return with_states(fixed, moving, motion, question, watch, best);
    }
    if (settle(search, from, to, best) == Ending::stopped) {
        return stopped();
    }
    MotionDistance result;
    take_pair(result, fixed, moving, best);
    result.proven = millimetres(std::min(proven, best.distance));
    result.states = {{question.from, question.to, AngleState::free}};
    return result;
}

PoseDistance distance_at(const DistanceTree& fixed, const DistanceTree& moving, const HingeMotion& motion,
                         Angle angle) {
    MotionSearch search(fixed, moving, motion, {});
    Pair best;
    search.minimise(in_rad(angle), in_rad(angle), {k_pose_slack_mm}, best);
    return as_pose(fixed, moving, best);
}

Result<std::vector<PoseDistance>> clearance_curve(const DistanceTree& fixed, const DistanceTree& moving,
                                                  const HingeMotion& motion, Angle from, Angle to, Angle step,
                                                  const Watch& watch) {
    if (const Status ok = check(motion, from, to); !ok) {
        return ok.error();
    }
    const double steps = std::ceil((to - from) / step - 1e-9);  // A whole number of steps stays whole.
    if (!(step > Angle{}) || !(steps < static_cast<double>(k_most_curve_angles))) {
        return Error{ErrorCode::invalid_argument, "A clearance curve needs a step above 0° that gives no more than " +
                                                      std::to_string(k_most_curve_angles) + " angles."};
    }
    const auto count = static_cast<std::size_t>(std::max(steps, 0.0));
    MotionSearch search(fixed, moving, motion, watch);
    std::vector<PoseDistance> curve;
    curve.reserve(count + 1);
    Pair best;
    for (std::size_t i = 0; i <= count; ++i) {
        const double part = count == 0 ? 0.0 : static_cast<double>(i) / static_cast<double>(count);
        const double angle = in_rad(from) + part * in_rad(to - from);
        best = i == 0 ? Pair{} : search.pair_at(best.fixed_slot, best.moving_slot, angle);
        best.angle = angle;
        if (best.distance > 0.0 && search.minimise(angle, angle, {k_pose_slack_mm}, best).ending == Ending::stopped) {
            return stopped();
        }
        curve.push_back(as_pose(fixed, moving, best));
    }
    return curve;
}

}  // namespace sillwright::geometry
