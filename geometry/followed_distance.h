#pragma once

#include <optional>
#include <span>

#include "geometry/distance_tree.h"
#include "geometry/motion.h"
#include "geometry/motion_distance.h"
#include "geometry/motion_search.h"
#include "geometry/result.h"

namespace sillwright::geometry {

/// A least distance over a motion that is asked for again and again while a hand changes one
/// of the two bodies a little.
///
/// Method: as `least_distance`, but what was found out at the start is used: the nearest pair
///   of triangles is the first guess, and parts of the search in which the bodies were far
///   apart are not looked at again while nothing there has moved so far.
/// Accuracy: `proven` is as good as that of `least_distance`, less the tolerance asked for; it
///   depends on how the bodies are now and on how they were at the start, not on what was
///   asked between. `least` is attained at `at`, and no more than the tolerance above `proven`,
///   but not polished.
/// Touching: that it does is told, and one angle at which it does; not from where to where, nor how deep.
/// Lifetime: both trees are looked at again at every question; they must stay where they are,
///   and may only be changed by `refit`.
class FollowedDistance {
public:
    /// Errors: as least_distance.
    static Result<FollowedDistance> begin(const DistanceTree& fixed, const DistanceTree& moving,
                                          const HingeMotion& motion, const MotionQuestion& question);

    /// The distance now. `fixed_moved` and `moving_moved` as moved_by_node gives them against the
    /// trees at the start; empty for a body that is as it was.
    /// Errors: as least_distance.
    [[nodiscard]] Result<MotionDistance> now(std::span<const double> fixed_moved, std::span<const double> moving_moved);

    /// The distance at one angle of the interval, as far as the last answer of `now` proves it within the
    /// tolerance: the nearest triangles are as near there.
    [[nodiscard]] std::optional<MotionDistance> last_at(Angle angle) const;

private:
    FollowedDistance(const DistanceTree& fixed, const DistanceTree& moving, const HingeMotion& motion,
                     const MotionQuestion& question)
        : fixed_{&fixed}, moving_{&moving}, motion_{motion}, question_{question}, search_{fixed, moving, motion, {}} {}

    const DistanceTree* fixed_;
    const DistanceTree* moving_;
    HingeMotion motion_;
    MotionQuestion question_;
    MotionSearch search_;
    MotionSearch::Pair first_;  ///< The nearest at the start.
    MotionSearch::Pair last_;   ///< And at the last question.
    double proven_mm_ = 0.0;    ///< At the last question; zero if nothing is.
};

/// The least distance without polishing, for bodies of which nothing is known from before: `least` is no
/// more than the tolerance above `proven`.
/// Errors: as least_distance.
Result<MotionDistance> plain_distance(const DistanceTree& fixed, const DistanceTree& moving, const HingeMotion& motion,
                                      const MotionQuestion& question);

}  // namespace sillwright::geometry
