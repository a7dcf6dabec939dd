#include "geometry/followed_distance.h"

#include <algorithm>
#include <utility>

#include "geometry/contact_states.h"

namespace sillwright::geometry {

using Pair = MotionSearch::Pair;

namespace {

/// Parts of the search in which the bodies are this much further apart than where they are
/// nearest need not be looked at again for changes of some millimetres.
constexpr double k_far_mm = 4.0;

/// Parts that may become the nearest are kept in this size: smaller ones are more to look at,
/// larger ones more to divide.
constexpr double k_cell_mm = 20.0;

/// At one angle, before all angles are looked at, nothing nearer by less than this part is looked for.
constexpr double k_first_look = 0.05;
/// And then by less than this part of the tolerance: where many pairs are equally near, a best that is not the
/// very least leaves them all to be looked at.
constexpr double k_fine_look = 0.1;

std::int32_t slot_of(const DistanceTree& tree, std::int32_t triangle) {
    std::int32_t slot = 0;
    while (tree.triangle(slot) != triangle) {
        ++slot;
    }
    return slot;
}

MotionDistance answer_of(const DistanceTree& fixed, const DistanceTree& moving, const Pair& nearest) {
    MotionDistance result;
    result.least = millimetres(nearest.distance);
    result.at = radians(nearest.angle);
    result.on_fixed_mm = nearest.on_fixed;
    result.on_moving_mm = nearest.on_moving;
    result.fixed_triangle = fixed.triangle(nearest.fixed_slot);
    result.moving_triangle = moving.triangle(nearest.moving_slot);
    return result;
}

MotionDistance apart(const DistanceTree& fixed, const DistanceTree& moving, const MotionQuestion& question,
                     const Pair& nearest, double proven_mm) {
    MotionDistance result = answer_of(fixed, moving, nearest);
    result.proven = millimetres(std::clamp(proven_mm, 0.0, nearest.distance));
    result.states = {{question.from, question.to, proven_mm > 0.0 ? AngleState::free : AngleState::within_tolerance}};
    return result;
}

/// Contact at the angle at which it was met.
MotionDistance contact(const DistanceTree& fixed, const DistanceTree& moving, const Pair& pair) {
    MotionDistance result = answer_of(fixed, moving, pair);
    result.touches = true;
    result.least = Length{};
    result.states = {{result.at, result.at, AngleState::touching}};
    return result;
}

}  // namespace

Result<FollowedDistance> FollowedDistance::begin(const DistanceTree& fixed, const DistanceTree& moving,
                                                 const HingeMotion& motion, const MotionQuestion& question) {
    const auto start = plain_distance(fixed, moving, motion, question);
    if (!start) {
        return start.error();
    }
    const MotionDistance& distance = start.value();
    FollowedDistance followed(fixed, moving, motion, question);
    followed.first_ = followed.search_.pair_at(slot_of(fixed, distance.fixed_triangle),
                                               slot_of(moving, distance.moving_triangle), in_rad(distance.at));
    followed.search_.keep_cells(in_rad(question.from), in_rad(question.to), in_mm(distance.least) + k_far_mm,
                                k_cell_mm);
    return followed;
}

Result<MotionDistance> FollowedDistance::now(std::span<const double> fixed_moved,
                                             std::span<const double> moving_moved) {
    last_ = search_.pair_at(first_.fixed_slot, first_.moving_slot, first_.angle);
    const auto minimum = search_.minimise_kept({in_mm(question_.tolerance)}, last_, fixed_moved, moving_moved);
    proven_mm_ = 0.0;
    if (minimum.ending == MotionSearch::Ending::contact) {
        return contact(*fixed_, *moving_, last_);
    }
    if (one_inside_other(*fixed_, *moving_, pose(motion_, question_.from))) {
        last_.angle = in_rad(question_.from);
        return contact(*fixed_, *moving_, last_);
    }
    proven_mm_ = minimum.lower - search_.rounding_mm();
    return apart(*fixed_, *moving_, question_, last_, proven_mm_);
}

std::optional<MotionDistance> FollowedDistance::last_at(Angle angle) const {
    if (!(proven_mm_ > 0.0)) {
        return std::nullopt;
    }
    const Pair there = search_.pair_at(last_.fixed_slot, last_.moving_slot, in_rad(angle));
    if (there.distance - proven_mm_ > in_mm(question_.tolerance)) {
        return std::nullopt;
    }
    return apart(*fixed_, *moving_, {angle, angle, question_.tolerance}, there, proven_mm_);
}

Result<MotionDistance> plain_distance(const DistanceTree& fixed, const DistanceTree& moving, const HingeMotion& motion,
                                      const MotionQuestion& question) {
    if (const Status ok = check_question(motion, question); !ok) {
        return ok.error();
    }
    MotionSearch search(fixed, moving, motion, {});
    Pair best = search.near_pair(in_rad(question.from));
    // Where the bodies are nearest at one angle tells the way they lie to each other, which parts most of them at once.
    search.minimise(in_rad(question.from), in_rad(question.from), {in_mm(question.tolerance), k_first_look}, best);
    search.minimise(in_rad(question.from), in_rad(question.from), {k_fine_look * in_mm(question.tolerance)}, best);
    const auto minimum = search.minimise(in_rad(question.from), in_rad(question.to), {in_mm(question.tolerance)}, best);
    if (minimum.ending == MotionSearch::Ending::contact) {
        return contact(fixed, moving, best);
    }
    if (one_inside_other(fixed, moving, pose(motion, question.from))) {
        best.angle = in_rad(question.from);
        return contact(fixed, moving, best);
    }
    return apart(fixed, moving, question, best, minimum.lower - search.rounding_mm());
}

}  // namespace sillwright::geometry
