#include "geometry/contact_states.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

namespace sillwright::geometry {

using Eigen::Isometry3d;
using Eigen::Vector3d;

namespace {

using Pair = MotionSearch::Pair;

/// Pairs of boxes that one attempt to prove an interval free may take before the
/// interval is halved instead.
constexpr std::size_t k_most_boxes = 40000;

/// Where bodies lie on each other without crossing, spans up to this many times the least width are let be.
constexpr double k_lying_widths = 64.0;

/// Crossing pairs looked at for the one that stays crossed longest.
constexpr std::size_t k_most_crossings = 256;

/// Angles of one touching interval at which the depth is looked for.
constexpr int k_depth_angles = 9;

/// Nothing is said of a motion beyond this angle (radians) to either side.
constexpr double k_longest_stay = 0.1;

/// The motion of one body seen from the other, about one angle: the turn per radian
/// (velocity = turn x (point - axis point)), and bounds on its length and on any
/// point's speed nearby.
struct Relative {
    Vector3d axis_point;
    Vector3d turn;
    double most_turn;
    double most_speed;
    double rounding;
};

/// The f at which `slack` is used up by f * rate + f^2 / 2 * bend.
double lasts(double slack, double rate, double bend) {
    if (!(slack > 0.0)) {
        return 0.0;
    }
    const double per = rate + std::sqrt(rate * rate + 2.0 * bend * slack);
    return per > 0.0 ? std::min(k_longest_stay, 2.0 * slack / per) : k_longest_stay;
}

/// For how long, to either side in radians, the edge p-q keeps piercing the
/// triangle t. Each of the five signed volumes must keep its sign: it does while
/// its rate now, and the most that its second derivative can be, do not use it up.
///
/// Seen from the triangle the edge d = q - p moves as R(u, f) R(y, k f) or the
/// inverse of that: points at a speed of at most S and an acceleration of at most T S,
/// d' at most T |d| and d'' at most T^2 |d|, where T = 1 + |k| and S = T times the
/// radius.
/// Side: V = n.(p - a) with n twice the triangle's area long: V' = n.p', |V''| <= |n| T S.
/// Edge e = b - a: V = d.N, N = (a - p) x (b - p), N' = p' x (a - b), so
///   V' = d'.N + p'.(d x e),
///   V'' = d''.N + d'.N' + p''.(d x e) + p'.(d' x e)
///       <= T^2 |d| (|N| + S |e| f) + 3 T S |d| |e|.
/// Corners known to within `rounding` change V by that times the areas on which
/// they stand; twice is taken, for the rounding of the volumes themselves.
double stays_pierced(const Vector3d& p, const Vector3d& q, const Corners& t, const Relative& motion) {
    const Piercing volumes = piercing(p, q, t);
    if (!volumes.pierces()) {
        return 0.0;
    }
    const double turn = motion.most_turn;
    const double speed = motion.most_speed;
    const Vector3d normal = (t[1] - t[0]).cross(t[2] - t[0]);
    const double around = (t[1] - t[0]).norm() + (t[2] - t[0]).norm();
    double angle = k_longest_stay;
    const auto side = [&](const Vector3d& end, double volume) {
        const double unsure = 2.0 * motion.rounding * (normal.norm() + 2.0 * around * (end - t[0]).norm());
        const double rate = std::abs(normal.dot(motion.turn.cross(end - motion.axis_point)));
        angle = std::min(angle, lasts(std::abs(volume) - unsure, rate, normal.norm() * turn * speed));
    };
    side(p, volumes.side_p);
    side(q, volumes.side_q);
    const Vector3d d = q - p;
    const Vector3d d_rate = motion.turn.cross(d);
    const Vector3d p_rate = motion.turn.cross(p - motion.axis_point);
    for (std::size_t k = 0; k < 3; ++k) {
        const Vector3d to_a = t[k] - p;
        const Vector3d to_b = t[(k + 1) % 3] - p;
        const Vector3d e = to_b - to_a;
        const Vector3d area = to_a.cross(to_b);
        const double unsure = 4.0 * motion.rounding * (area.norm() + d.norm() * (to_a.norm() + to_b.norm()));
        const double rate = std::abs(d_rate.dot(area) + p_rate.dot(d.cross(e)));
        const double bend = turn * turn * d.norm() * (area.norm() + speed * e.norm() * k_longest_stay) +
                            3.0 * turn * speed * d.norm() * e.norm();
        angle = std::min(angle, lasts(std::abs(volumes.edges[k]) - unsure, rate, bend));
    }
    return angle;
}

double greatest_radius(const Corners& t, const Vector3d& from) {
    return std::max({(t[0] - from).norm(), (t[1] - from).norm(), (t[2] - from).norm()});
}

bool root_box_holds(const DistanceTree& tree, const Vector3d& p) {
    const auto& root = tree.nodes().front();
    return ((root.axes.transpose() * (p - root.centre)).cwiseAbs().array() <= root.half.array()).all();
}

/// How far at most a box reaches into another from its nearest side; below zero if they are apart. No point of it is
/// deeper than this in a body that fills the other.
double most_overlap(const DistanceTree::Node& other, const DistanceTree::Node& box, const Isometry3d& other_from_box) {
    const Vector3d apart = (other.axes.transpose() * (other_from_box * box.centre - other.centre)).cwiseAbs();
    const Vector3d reach = (other.axes.transpose() * other_from_box.linear() * box.axes).cwiseAbs() * box.half;
    return (other.half + reach - apart).minCoeff();
}

bool part_inside(const DistanceTree& body, const DistanceTree& parts, const Isometry3d& body_from_parts) {
    if (!body.closed()) {
        return false;
    }
    return std::any_of(parts.part_slots().begin(), parts.part_slots().end(), [&](std::int32_t slot) {
        const Vector3d p = body_from_parts * parts.corners(slot)[0];
        return root_box_holds(body, p) && inside(body, p);
    });
}

/// Depth of a point inside a closed body; negative outside.
double depth_of(const DistanceTree& body, const Vector3d& p) {
    const double distance = nearest_on_surface(body, p).distance_mm;
    return inside(body, p) ? distance : -distance;
}

}  // namespace

/// Between two points the depth changes by no more than they are apart, so no corner
/// of a box is deeper than its middle by more than the box's radius.
Deepest deepest_corner(const DistanceTree& body, const DistanceTree& parts, const Isometry3d& body_from_parts,
                       double floor) {
    Deepest deepest{floor, Vector3d::Zero()};
    if (!body.closed()) {
        return deepest;
    }
    struct Task {
        std::int32_t index;
        double most;
    };
    const auto task_of = [&](std::int32_t index) {
        const auto& node = parts.nodes()[static_cast<std::size_t>(index)];
        const double overlap = most_overlap(body.nodes().front(), node, body_from_parts);
        return Task{index, overlap <= deepest.depth
                               ? overlap
                               : std::min(overlap, depth_of(body, body_from_parts * node.centre) + node.radius)};
    };
    std::vector<Task> stack{task_of(0)};
    while (!stack.empty()) {
        const Task task = stack.back();
        stack.pop_back();
        if (task.most <= deepest.depth) {
            continue;
        }
        const auto& node = parts.nodes()[static_cast<std::size_t>(task.index)];
        if (!node.is_leaf()) {
            Task first = task_of(node.second);
            Task second = task_of(task.index + 1);
            if (first.most > second.most) {
                std::swap(first, second);
            }
            stack.push_back(first);
            stack.push_back(second);
            continue;
        }
        for (std::int32_t slot = node.first_slot; slot < node.first_slot + node.slot_count; ++slot) {
            for (const Vector3d& corner : parts.corners(slot)) {
                const Vector3d p = body_from_parts * corner;
                if (const double depth = root_box_holds(body, p) ? depth_of(body, p) : 0.0; depth > deepest.depth) {
                    deepest = {depth, p};
                }
            }
        }
    }
    return deepest;
}

namespace {

class StateFinder {
public:
    StateFinder(const DistanceTree& fixed, const DistanceTree& moving, const HingeMotion& motion,
                const MotionQuestion& question, const Watch& watch)
        : fixed_{fixed},
          moving_{moving},
          motion_{motion},
          watch_{watch},
          from_{in_rad(question.from)},
          to_{in_rad(question.to)},
          least_width_{0.125 * in_rad(question.bracket)},
          search_{fixed, moving, motion, {watch.stop, {}}} {
        greatest_speed_ = search_.greatest_speed((moving.nodes().front().centre - motion.axis_point_mm).norm() +
                                                 moving.nodes().front().radius);
    }

    ContactStates find() {
        std::vector<Span> open{{from_, to_}};
        while (!open.empty() && !states_.stopped) {
            const Span span = open.back();
            open.pop_back();
            if (watch_.progress && to_ > from_) {
                watch_.progress((span.low - from_) / (to_ - from_));
            }
            Span proven = span;
            const AngleState state = state_of(proven);
            if (state == AngleState::within_tolerance && span.high - span.low > least_width_ && !lies_on(span)) {
                const double middle = 0.5 * (span.low + span.high);
                open.push_back({middle, span.high});
                open.push_back({span.low, middle});
                continue;
            }
            if (proven.high < span.high) {
                open.push_back({proven.high, span.high});
            }
            if (proven.low > span.low) {
                open.push_back({span.low, proven.low});
            }
            proven_.push_back({radians(proven.low), radians(proven.high), state});
        }
        join();
        measure_depth();
        return std::move(states_);
    }

private:
    struct Span {
        double low, high;
    };

    /// True if the bodies lie on each other, as far as can be told, at both ends and in the middle of a short span:
    /// halving it further would only find the same again.
    [[nodiscard]] bool lies_on(const Span& span) {
        if (span.high - span.low > k_lying_widths * least_width_) {
            return false;
        }
        const std::array<double, 3> angles{span.low, 0.5 * (span.low + span.high), span.high};
        return std::all_of(angles.begin(), angles.end(), [&](double angle) {
            Pair nearest;
            search_.minimise(angle, angle, {search_.rounding_mm()}, nearest);
            return nearest.distance <= search_.rounding_mm() && crossing_stays(angle) == 0.0;
        });
    }

    /// A part of a span that is proven touching counts from this half width on: far
    /// less than the bracket, so that an end is found to within it, in few steps.
    [[nodiscard]] double least_stay() const { return 0.25 * least_width_; }

    /// State of the span, which is narrowed to what was proven if that is a part only.
    AngleState state_of(Span& span) {
        const double middle = 0.5 * (span.low + span.high);
        const double half = 0.5 * (span.high - span.low);
        // Most of a span that touches does so at its middle: that costs least to find.
        double stays = crossing_stays(middle);
        if (stays == 0.0) {
            Pair contact;
            const double floor = std::max(search_.rounding_mm(), std::numeric_limits<double>::min());
            switch (search_.prove_apart(span.low, span.high, floor, k_most_boxes, contact)) {
                case MotionSearch::Ending::stopped:
                    states_.stopped = true;
                    return AngleState::within_tolerance;
                case MotionSearch::Ending::done: {
                    const Isometry3d door = pose(motion_, radians(middle));
                    return one_inside_other(fixed_, moving_, door) ? AngleState::touching : AngleState::free;
                }
                case MotionSearch::Ending::given_up:
                case MotionSearch::Ending::contact:
                    break;
            }
        }
        if (stays == 0.0 || (stays <= least_stay() && stays < half)) {
            stays = std::max(stays, depth_stays(middle));
        }
        if (stays > 0.0 && (stays >= half || stays > least_stay())) {
            span = {std::max(span.low, middle - stays), std::min(span.high, middle + stays)};
            return AngleState::touching;
        }
        return AngleState::within_tolerance;
    }

    /// For how long about `angle` some edge keeps piercing some triangle.
    double crossing_stays(double angle) {
        const Isometry3d door = pose(motion_, radians(angle));
        const Vector3d turn =
            motion_.axis_direction +
            motion_.sag_rate() * (Eigen::AngleAxisd(angle, motion_.axis_direction) * motion_.sag_direction);
        double longest = 0.0;
        for (const Pair& pair : search_.crossings(angle, k_most_crossings)) {
            const Corners& fixed = fixed_.corners(pair.fixed_slot);
            const Corners moving = search_.moved_corners(pair.moving_slot, door);
            const double radius =
                std::max(greatest_radius(fixed, motion_.axis_point_mm), greatest_radius(moving, motion_.axis_point_mm));
            const Relative of_moving{motion_.axis_point_mm, turn, search_.greatest_speed(1.0),
                                     search_.greatest_speed(radius), search_.rounding_mm()};
            Relative of_fixed = of_moving;
            of_fixed.turn = -turn;
            for (std::size_t k = 0; k < 3; ++k) {
                longest = std::max({longest, stays_pierced(fixed[k], fixed[(k + 1) % 3], moving, of_fixed),
                                    stays_pierced(moving[k], moving[(k + 1) % 3], fixed, of_moving)});
            }
        }
        return longest;
    }

    /// For how long about `angle` the deepest corner stays inside.
    double depth_stays(double angle) {
        const double least_depth = least_stay() * greatest_speed_ + search_.rounding_mm();
        const double depth = deepest_at(angle, least_depth);
        return depth > least_depth ? (depth - search_.rounding_mm()) / greatest_speed_ : 0.0;
    }

    /// Depth of the deepest corner of either body inside the other, or `floor` if none is deeper; takes note of it.
    double deepest_at(double angle, double floor) {
        const Isometry3d door = pose(motion_, radians(angle));
        const auto note = [&](const Deepest& deepest, const Isometry3d& place) {
            if (deepest.depth > std::max(floor, states_.depth_mm)) {
                states_.depth_mm = deepest.depth;
                states_.depth_angle = angle;
                states_.depth_point = place * deepest.p;
            }
        };
        const Deepest of_moving = deepest_corner(fixed_, moving_, door, floor);
        note(of_moving, Isometry3d::Identity());
        const Deepest of_fixed = deepest_corner(moving_, fixed_, door.inverse(), of_moving.depth);
        note(of_fixed, door);
        return of_fixed.depth;
    }

    void join() {
        std::sort(proven_.begin(), proven_.end(),
                  [](const AngleInterval& a, const AngleInterval& b) { return a.from < b.from; });
        for (const AngleInterval& interval : proven_) {
            if (!states_.intervals.empty() && states_.intervals.back().state == interval.state) {
                states_.intervals.back().to = interval.to;
            } else {
                states_.intervals.push_back(interval);
            }
        }
    }

    void measure_depth() {
        for (const AngleInterval& interval : states_.intervals) {
            if (interval.state != AngleState::touching) {
                continue;
            }
            for (int i = 0; i < k_depth_angles && !watch_.stop.stop_requested(); ++i) {
                deepest_at(
                    in_rad(interval.from) + (in_rad(interval.to) - in_rad(interval.from)) * (i + 0.5) / k_depth_angles,
                    states_.depth_mm);
            }
        }
    }

    const DistanceTree& fixed_;
    const DistanceTree& moving_;
    HingeMotion motion_;
    const Watch& watch_;
    double from_, to_;
    double least_width_;
    MotionSearch search_;
    double greatest_speed_ = 0.0;
    std::vector<AngleInterval> proven_;
    ContactStates states_;
};

}  // namespace

bool one_inside_other(const DistanceTree& fixed, const DistanceTree& moving, const Isometry3d& door) {
    return part_inside(fixed, moving, door) || part_inside(moving, fixed, door.inverse());
}

ContactStates contact_states(const DistanceTree& fixed, const DistanceTree& moving, const HingeMotion& motion,
                             const MotionQuestion& question, const Watch& watch) {
    return StateFinder(fixed, moving, motion, question, watch).find();
}

}  // namespace sillwright::geometry
