#include "geometry/contact_states.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace sillwright::geometry {

using Eigen::Isometry3d;
using Eigen::Vector3d;

namespace {

using Pair = MotionSearch::Pair;

/// Pairs of boxes that one attempt to prove an interval free may take before the
/// interval is halved instead.
constexpr std::size_t k_most_boxes = 40000;

/// Crossing pairs looked at for the one that stays crossed longest.
constexpr std::size_t k_most_crossings = 256;

/// Angles of one touching interval at which the depth is looked for.
constexpr int k_depth_angles = 9;

/// For how long, to either side in radians, the edge p-q keeps piercing the
/// triangle t. Each of the five signed volumes must keep its sign.
///
/// Seen from the triangle, the edge d = q - p moves rigidly: its points at most
/// `speed` and it turns at most `turn` per radian. A side volume changes by twice
/// the triangle's area times the way of its end. The volume of d with the edge
/// e = b - a has the rate d'.((a-p) x (b-p)) + p'.(d x e), so at most
/// C0 + C1 f after an angle f, with C0 = turn |d| |(a-p) x (b-p)| + speed |d x e| and
/// C1 = 2 speed turn |d| |e|; it keeps its sign while C0 f + C1 f^2 / 2 is less than it.
double stays_pierced(const Vector3d& p, const Vector3d& q, const Corners& t, double speed, double turn) {
    const Piercing volumes = piercing(p, q, t);
    if (!volumes.pierces()) {
        return 0.0;
    }
    const double twice_area = (t[1] - t[0]).cross(t[2] - t[0]).norm();
    double angle = std::min(std::abs(volumes.side_p), std::abs(volumes.side_q)) / (speed * twice_area);
    const Vector3d d = q - p;
    for (std::size_t k = 0; k < 3; ++k) {
        const Vector3d& a = t[k];
        const Vector3d& b = t[(k + 1) % 3];
        const double c0 = turn * d.norm() * (a - p).cross(b - p).norm() + speed * d.cross(b - a).norm();
        const double c1 = 2.0 * speed * turn * d.norm() * (b - a).norm();
        const double volume = std::abs(volumes.edges[k]);
        angle = std::min(angle, 2.0 * volume / (c0 + std::sqrt(c0 * c0 + 2.0 * c1 * volume)));
    }
    return angle;
}

double greatest_radius(const Corners& t, const Vector3d& from) {
    return std::max({(t[0] - from).norm(), (t[1] - from).norm(), (t[2] - from).norm()});
}

/// Axis-parallel box about the moved root box.
struct Box {
    Vector3d low, high;
    [[nodiscard]] bool holds(const Vector3d& p) const {
        return (p.array() >= low.array()).all() && (p.array() <= high.array()).all();
    }
};
Box box_of(const DistanceTree& tree, const Isometry3d& place) {
    const auto& root = tree.nodes().front();
    const Vector3d centre = place * root.centre;
    const Vector3d reach = (place.linear() * root.axes).cwiseAbs() * root.half;
    return {centre - reach, centre + reach};
}

bool part_inside(const DistanceTree& body, const DistanceTree& parts, const Isometry3d& body_from_parts) {
    if (!body.closed()) {
        return false;
    }
    const Box box = box_of(body, Isometry3d::Identity());
    return std::any_of(parts.part_slots().begin(), parts.part_slots().end(), [&](std::int32_t slot) {
        const Vector3d p = body_from_parts * parts.corners(slot)[0];
        return box.holds(p) && inside(body, p);
    });
}

/// The deepest corner of `parts` inside `body`.
struct Deepest {
    double depth = 0.0;
    Vector3d p = Vector3d::Zero();  // In the body's frame.
};
Deepest deepest_corner(const DistanceTree& body, const DistanceTree& parts, const Isometry3d& body_from_parts) {
    Deepest deepest;
    if (!body.closed()) {
        return deepest;
    }
    const Box box = box_of(body, Isometry3d::Identity());
    std::vector<std::int32_t> stack{0};
    while (!stack.empty()) {
        const auto index = stack.back();
        stack.pop_back();
        const auto& node = parts.nodes()[static_cast<std::size_t>(index)];
        const Vector3d centre = body_from_parts * node.centre;
        if (((centre.array() + node.radius) < box.low.array()).any() ||
            ((centre.array() - node.radius) > box.high.array()).any()) {
            continue;
        }
        if (!node.is_leaf()) {
            stack.push_back(node.second);
            stack.push_back(index + 1);
            continue;
        }
        for (std::int32_t slot = node.first_slot; slot < node.first_slot + node.slots; ++slot) {
            for (const Vector3d& corner : parts.corners(slot)) {
                const Vector3d p = body_from_parts * corner;
                if (!box.holds(p)) {
                    continue;
                }
                const double distance = nearest_on_surface(body, p).distance_mm;
                if (distance > deepest.depth && inside(body, p)) {
                    deepest = {distance, p};
                }
            }
        }
    }
    return deepest;
}

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
            if (state == AngleState::within_tolerance && span.high - span.low > least_width_) {
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

    /// State of the span, which is narrowed to what was proven if that is a part only.
    AngleState state_of(Span& span) {
        const double middle = 0.5 * (span.low + span.high);
        const double half = 0.5 * (span.high - span.low);
        Pair contact;
        switch (
            search_.prove_apart(span.low, span.high, std::max(search_.rounding_mm(), 1e-12), k_most_boxes, contact)) {
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
        double stays = crossing_stays(middle);
        if (stays < half) {
            stays = std::max(stays, depth_stays(middle));
        }
        if (stays >= half || stays > 0.25 * least_width_) {
            span = {std::max(span.low, middle - stays), std::min(span.high, middle + stays)};
            return AngleState::touching;
        }
        return AngleState::within_tolerance;
    }

    /// For how long about `angle` some edge keeps piercing some triangle.
    double crossing_stays(double angle) {
        const Isometry3d door = pose(motion_, radians(angle));
        double longest = 0.0;
        for (const Pair& pair : search_.crossings(angle, k_most_crossings)) {
            const Corners& fixed = fixed_.corners(pair.fixed_slot);
            const Corners moving = search_.moved_corners(pair.moving_slot, door);
            const double speed = search_.greatest_speed(std::max(greatest_radius(fixed, motion_.axis_point_mm),
                                                                 greatest_radius(moving, motion_.axis_point_mm)));
            const double turn = search_.greatest_speed(1.0);
            for (std::size_t k = 0; k < 3; ++k) {
                longest = std::max({longest, stays_pierced(fixed[k], fixed[(k + 1) % 3], moving, speed, turn),
                                    stays_pierced(moving[k], moving[(k + 1) % 3], fixed, speed, turn)});
            }
        }
        return longest;
    }

    /// For how long about `angle` the deepest corner stays inside.
    double depth_stays(double angle) {
        return depth_at(angle) / std::max(greatest_speed_, std::numeric_limits<double>::min());
    }

    double depth_at(double angle) {
        const Isometry3d door = pose(motion_, radians(angle));
        const Deepest of_moving = deepest_corner(fixed_, moving_, door);
        const Deepest of_fixed = deepest_corner(moving_, fixed_, door.inverse());
        const bool moving_deeper = of_moving.depth >= of_fixed.depth;
        const double depth = moving_deeper ? of_moving.depth : of_fixed.depth;
        if (depth > states_.depth_mm) {
            states_.depth_mm = depth;
            states_.depth_angle = angle;
            states_.depth_point = moving_deeper ? of_moving.p : Vector3d(door * of_fixed.p);
        }
        return depth;
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
                depth_at(in_rad(interval.from) +
                         (in_rad(interval.to) - in_rad(interval.from)) * (i + 0.5) / k_depth_angles);
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
