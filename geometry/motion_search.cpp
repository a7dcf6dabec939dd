#include "geometry/motion_search.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <utility>

namespace sillwright::geometry {

using Eigen::Matrix3d;
using Eigen::Vector3d;

namespace {

using Node = DistanceTree::Node;

/// The angle is halved, rather than a box, where the box's whole way in the span is
/// this many times the size of both boxes: far from there no one direction parts
/// them. Measured: 1 to 2 is best for bodies that pass each other, and for those
/// that glide the first box is parted before anything is halved.
constexpr double k_way_against_size = 1.5;

/// An interval of angles is not halved below this (radians): there a point
/// 10 m from the axis travels 1e-9 mm.
constexpr double k_least_half_angle = 1e-13;

/// Where only contact is looked for, triangles are looked at once the boxes' way is
/// down to this.
constexpr double k_look_at_triangles_mm = 1e-3;

/// Tasks between two looks at the stop token.
constexpr std::size_t k_tasks_between_looks = 4096;

/// Of two pairs of boxes that may come equally near, the one with nearer middles is
/// looked at first; a small part, since the bound itself tells more.
constexpr double k_middles_in_order = 0.01;

/// Cells that are kept at most: each is some 150 bytes.
constexpr std::size_t k_most_cells = 6'000;

/// Rounds of projecting one box's point to the other for a direction between them.
constexpr int k_projections = 3;

/// m^T v, written out: this is the innermost of all.
Vector3d along_columns(const Matrix3d& m, const Vector3d& v) {
    return {m.col(0).dot(v), m.col(1).dot(v), m.col(2).dot(v)};
}

double extent_along(const Matrix3d& axes, const Vector3d& half, const Vector3d& direction) {
    return along_columns(axes, direction).cwiseAbs().dot(half);
}

double extent_along(const Node& node, const Vector3d& direction) {
    return extent_along(node.axes, node.half, direction);
}

double reach_along(const Corners& t, const Vector3d& direction) {
    return std::max({direction.dot(t[0]), direction.dot(t[1]), direction.dot(t[2])});
}

}  // namespace

MotionSearch::MotionSearch(const DistanceTree& fixed, const DistanceTree& moving, const HingeMotion& motion,
                           Watch watch)
    : fixed_{fixed},
      moving_{moving},
      motion_{motion},
      watch_{std::move(watch)},
      sag_rate_{motion.sag_rate()},
      rounding_{k_rounding_parts * std::numeric_limits<double>::epsilon() / 2.0 *
                std::max({fixed.greatest_coordinate_mm(), moving.greatest_coordinate_mm(),
                          motion.axis_point_mm.cwiseAbs().maxCoeff()})} {
    // Exact to rounding, as `pose` takes them: the bounds stand on that.
    motion_.axis_direction.normalize();
    motion_.sag_direction.normalize();
}

std::int32_t MotionSearch::make_span(double low, double high) {
    Span span{};
    span.low = low;
    span.high = high;
    span.middle = 0.5 * (low + high);
    span.half = 0.5 * (high - low);
    span.turn = pose(motion_, radians(span.middle)).linear();
    span.sag_axis = Eigen::AngleAxisd(span.middle, motion_.axis_direction) * motion_.sag_direction;
    span.sine = std::sin(span.half);
    const double quarter_sine = std::sin(0.5 * span.half);
    span.versine = 2.0 * quarter_sine * quarter_sine;
    const double k = std::abs(sag_rate_);
    span.sag_first = k * span.half;
    span.sag_second = (0.5 * k * k + k) * span.half * span.half;
    spans_.push_back(span);
    return static_cast<std::int32_t>(spans_.size()) - 1;
}

std::int32_t MotionSearch::halves_of(std::int32_t index) {
    if (spans_[static_cast<std::size_t>(index)].halves < 0) {
        const double low = spans_[static_cast<std::size_t>(index)].low;
        const double middle = spans_[static_cast<std::size_t>(index)].middle;
        const double high = spans_[static_cast<std::size_t>(index)].high;
        const std::int32_t first = make_span(low, middle);
        make_span(middle, high);
        spans_[static_cast<std::size_t>(index)].halves = first;
    }
    return spans_[static_cast<std::size_t>(index)].halves;
}

/// The most by which a point can come nearer against `direction` within the span,
/// from where it is at the middle angle.
///
/// Turn by f about u: n.Q(f)x = n.x - q (1 - cos f) + c sin f, with c = (n x u).x and
/// q = n.x - (n.u)(u.x). Sag by s = k f before it, about the turned axis y:
/// first order k f (n x y).x, the rest at most (k^2 / 2 + k) f^2 |x|.
double MotionSearch::point_travel(const Span& span, const Vector3d& x, const Vector3d& n) const {
    const Vector3d& u = motion_.axis_direction;
    const double q = n.dot(x) - n.dot(u) * u.dot(x);
    double most = span.sine * std::abs(n.cross(u).dot(x)) + span.versine * std::max(q, 0.0);
    if (sag_rate_ != 0.0) {
        most += span.sag_first * std::abs(n.cross(span.sag_axis).dot(x)) + span.sag_second * x.norm();
    }
    return most;
}

/// As above for any point of a box about x.
double MotionSearch::travel(const Span& span, const Node& moving, const Vector3d& x, const Vector3d& n) const {
    if (span.half <= 0.0) {
        return 0.0;
    }
    const Vector3d across = n.cross(motion_.axis_direction);
    double most = point_travel(span, x, n) + span.sine * extent_along(moving, along_columns(span.turn, across)) +
                  span.versine * moving.radius * across.norm();
    if (sag_rate_ != 0.0) {
        most += span.sag_first * extent_along(moving, along_columns(span.turn, n.cross(span.sag_axis))) +
                span.sag_second * moving.radius;
    }
    return most;
}

/// The best of a first direction and the six face directions of the two boxes, or
/// the first of them that is enough.
MotionSearch::Bound MotionSearch::best_bound(const Span& span, const Node& fixed, const Node& moving,
                                             const Vector3d& first, double enough) const {
    const Vector3d x = span.turn * (moving.centre - motion_.axis_point_mm);
    const Vector3d gap = x + motion_.axis_point_mm - fixed.centre;
    const Matrix3d moving_axes = span.turn * moving.axes;
    Bound best;
    best.middles = gap.norm();
    const auto consider = [&](const Vector3d& n, double extent) {
        const double apart = n.dot(gap) - extent;
        if (apart <= best.least()) {
            return false;
        }
        const double most = travel(span, moving, x, n);
        if (apart - most > best.least()) {
            best = {apart, most, extent, n, best.middles};
        }
        return best.least() >= enough;
    };
    const auto consider_any = [&](const Vector3d& n) {
        return consider(n, extent_along(fixed, n) + extent_along(moving_axes, moving.half, n));
    };
    if (consider_any(first) || (hint_ != first && consider_any(hint_))) {
        return best;
    }
    const Matrix3d between = fixed.axes.transpose() * moving_axes;
    const Matrix3d sizes = between.cwiseAbs();
    const Vector3d gap_fixed = along_columns(fixed.axes, gap);
    const Vector3d gap_moving = along_columns(between, gap_fixed);
    const Vector3d extents_fixed = sizes * moving.half + fixed.half;
    const Vector3d extents_moving = along_columns(sizes, fixed.half) + moving.half;
    for (Eigen::Index k = 2; k >= 0; --k) {  // The thinnest direction is the last.
        if (std::abs(gap_fixed[k]) - extents_fixed[k] > best.least() &&
            consider(std::copysign(1.0, gap_fixed[k]) * fixed.axes.col(k), extents_fixed[k])) {
            return best;
        }
        if (std::abs(gap_moving[k]) - extents_moving[k] > best.least() &&
            consider(std::copysign(1.0, gap_moving[k]) * moving_axes.col(k), extents_moving[k])) {
            return best;
        }
    }
    // Towards the boxes' nearest points, in the fixed box's axes: each in turn is brought nearest to the other.
    Vector3d on_moving = gap_fixed;
    Vector3d on_fixed;
    for (int i = 0; i < k_projections; ++i) {
        on_fixed = on_moving.cwiseMax(-fixed.half).cwiseMin(fixed.half);
        const Vector3d local =
            (between.transpose() * (on_fixed - gap_fixed)).cwiseMax(-moving.half).cwiseMin(moving.half);
        on_moving = gap_fixed + between * local;
    }
    const Vector3d across = on_moving - on_fixed;
    if (const double distance = across.norm(); distance > best.least()) {
        consider_any(fixed.axes * (across / distance));
    }
    return best;
}

Corners MotionSearch::moved_corners(std::int32_t slot, const Eigen::Isometry3d& door) const {
    const Corners& t = moving_.corners(slot);
    return {door * t[0], door * t[1], door * t[2]};
}

MotionSearch::Pair MotionSearch::pair_at(std::int32_t fixed_slot, std::int32_t moving_slot, double angle) const {
    const Corners t = moved_corners(moving_slot, pose(motion_, radians(angle)));
    const ClosestPoints nearest = triangle_distance(fixed_.corners(fixed_slot), t);
    return {std::sqrt(nearest.squared_mm2), angle, fixed_slot, moving_slot, nearest.on_first, nearest.on_second};
}

/// The search itself. A visitor holds what counts as enough and what to do with a
/// pair of triangles; it says when to end.
template <class Visit>
MotionSearch::Ending MotionSearch::run(double from, double to, Visit& visit) {
    if (spans_.empty() || spans_[0].low != from || spans_[0].high != to) {  // Else its halves still serve.
        spans_.clear();
        make_span(from, to);
    }
    tasks_.clear();
    tasks_.push_back({0, 0, 0, false, 1.0F, {}});
    done_ = 0.0;
    return run_tasks(visit);
}

/// Works off what has been put down.
template <class Visit>
MotionSearch::Ending MotionSearch::run_tasks(Visit& visit) {
    for (std::size_t count = 1; !tasks_.empty(); ++count) {
        const Task task = tasks_.back();
        tasks_.pop_back();
        if (count % k_tasks_between_looks == 0) {
            if (watch_.stop.stop_requested()) {
                return Ending::stopped;
            }
            if (watch_.progress) {
                watch_.progress(std::min(1.0, done_));
            }
        }
        if (count > visit.most_tasks) {
            return Ending::given_up;
        }
        if (task.bound.least() >= visit.enough()) {  // The best may have improved since.
            visit.drop(task.bound.least());
            done_ += static_cast<double>(task.share);
        } else if (task.triangles) {
            triangles(task, visit);
            if (visit.touched) {
                return Ending::contact;
            }
        } else {
            split(task, visit);
        }
    }
    return Ending::done;
}

/// Halves the angle, or the larger box, or comes down to triangles.
template <class Visit>
void MotionSearch::split(const Task& task, Visit& visit) {
    const Node& fixed = fixed_.nodes()[static_cast<std::size_t>(task.fixed)];
    const Node& moving = moving_.nodes()[static_cast<std::size_t>(task.moving)];
    const double half = spans_[static_cast<std::size_t>(task.span)].half;
    Task first = task;
    first.share *= 0.5F;
    Task second = first;
    const double way = half * (moving.centre - motion_.axis_point_mm).norm();
    // A way below the slack cannot matter: only the triangles can tell more, be the boxes points.
    const double size = std::max(fixed.radius + moving.radius, visit.slack_mm());
    if (half > k_least_half_angle &&
        (way > k_way_against_size * size || task.bound.travel > std::max(task.bound.extent, visit.slack_mm()))) {
        first.span = halves_of(task.span);
        second.span = first.span + 1;
        push_nearer_last(first, second, visit);
    } else if (!moving.is_leaf() && (fixed.is_leaf() || moving.radius > fixed.radius)) {
        first.moving = task.moving + 1;
        second.moving = moving.second;
        push_nearer_last(first, second, visit);
    } else if (!fixed.is_leaf()) {
        first.fixed = task.fixed + 1;
        second.fixed = fixed.second;
        push_nearer_last(first, second, visit);
    } else {
        first.triangles = true;
        first.share = task.share / static_cast<float>(fixed.slot_count * moving.slot_count);
        for (std::int32_t i = fixed.first_slot; i < fixed.first_slot + fixed.slot_count; ++i) {
            for (std::int32_t j = moving.first_slot; j < moving.first_slot + moving.slot_count; ++j) {
                first.fixed = i;
                first.moving = j;
                tasks_.push_back(first);
            }
        }
    }
}

template <class Visit>
void MotionSearch::push_nearer_last(Task first, Task second, Visit& visit) {
    const double enough = visit.enough();
    for (Task* task : {&first, &second}) {
        task->bound = best_bound(
            spans_[static_cast<std::size_t>(task->span)], fixed_.nodes()[static_cast<std::size_t>(task->fixed)],
            moving_.nodes()[static_cast<std::size_t>(task->moving)], task->bound.direction, enough);
    }
    const auto order = [](const Bound& bound) { return bound.least() + k_middles_in_order * bound.middles; };
    if (order(first.bound) > order(second.bound)) {
        std::swap(first, second);
    }
    for (const Task* task : {&second, &first}) {
        if (task->bound.least() >= enough) {
            visit.drop(task->bound.least());
            done_ += static_cast<double>(task->share);
        } else {
            tasks_.push_back(*task);
        }
    }
}

/// One pair of triangles over a span: dealt with, or put back with half the angle.
template <class Visit>
void MotionSearch::triangles(const Task& task, Visit& visit) {
    const Span span = spans_[static_cast<std::size_t>(task.span)];
    const Vector3d& origin = motion_.axis_point_mm;
    const Corners& fixed = fixed_.corners(task.fixed);
    const Corners& shut = moving_.corners(task.moving);
    const Corners from_axis{span.turn * (shut[0] - origin), span.turn * (shut[1] - origin),
                            span.turn * (shut[2] - origin)};
    const auto least_along = [&](const Vector3d& n) {
        double low = std::numeric_limits<double>::infinity();
        for (const Vector3d& x : from_axis) {
            low = std::min(low, n.dot(x) - (span.half > 0.0 ? point_travel(span, x, n) : 0.0));
        }
        return low + n.dot(origin) - reach_along(fixed, n);
    };
    double least = least_along(task.bound.direction);
    Task half = task;
    if (least < visit.enough()) {
        const Corners moved{from_axis[0] + origin, from_axis[1] + origin, from_axis[2] + origin};
        const ClosestPoints nearest = triangle_distance(fixed, moved);
        const double distance = std::sqrt(nearest.squared_mm2);
        visit.meet({distance, span.middle, task.fixed, task.moving, nearest.on_first, nearest.on_second});
        if (visit.touched) {
            return;
        }
        least = 0.0;
        if (distance > 0.0) {
            half.bound.direction = (nearest.on_second - nearest.on_first) / distance;
            least = std::min(distance, least_along(half.bound.direction));
        }
    }
    if (least >= visit.enough() || span.half <= k_least_half_angle) {
        visit.drop(least);
        done_ += static_cast<double>(task.share);
        return;
    }
    half.share *= 0.5F;
    half.bound.apart = least;
    half.bound.travel = 0.0;
    half.span = halves_of(task.span);
    tasks_.push_back(half);
    ++half.span;
    tasks_.push_back(half);
}

MotionSearch::Minimum MotionSearch::minimise(double from, double to, const Slack& slack, Pair& best) {
    if (!std::isfinite(best.distance)) {
        best = near_pair(0.5 * (from + to));
    }
    if (!(best.distance > 0.0)) {
        return {Ending::contact, 0.0};
    }
    hint_ = (best.on_moving - best.on_fixed) / best.distance;
    Nearest visit{best, slack};
    const Ending ending = run(from, to, visit);
    return {ending, std::min(visit.lower, best.distance)};
}

void MotionSearch::keep_cells(double from, double to, double far, double size_mm) {
    struct Visit {
        [[nodiscard]] static double slack_mm() { return k_look_at_triangles_mm; }
        [[nodiscard]] static double enough() { return std::numeric_limits<double>::infinity(); }
        void drop(double) {}
    };
    const auto is_small = [&](const Task& task) {
        const Node& fixed = fixed_.nodes()[static_cast<std::size_t>(task.fixed)];
        const Node& moving = moving_.nodes()[static_cast<std::size_t>(task.moving)];
        const double half = spans_[static_cast<std::size_t>(task.span)].half;
        const double way = 2.0 * half * (moving.centre - motion_.axis_point_mm).norm();
        return (fixed.is_leaf() && moving.is_leaf()) || fixed.radius + moving.radius + way <= size_mm;
    };
    const auto further = [](const Task& a, const Task& b) { return a.bound.least() > b.bound.least(); };
    spans_.clear();
    kept_.clear();
    Visit visit;
    // The nearest is divided first, so that what is left when there are enough is as far as can be.
    std::vector<Task> open{{0, 0, make_span(from, to), false, 1.0F, {}}};
    while (!open.empty() && kept_.size() + open.size() < k_most_cells) {
        std::pop_heap(open.begin(), open.end(), further);
        const Task task = open.back();
        open.pop_back();
        if (task.bound.least() >= far || is_small(task)) {
            kept_.push_back(task);
            continue;
        }
        tasks_.clear();
        split(task, visit);
        for (const Task& part : tasks_) {
            open.push_back(part);
            std::push_heap(open.begin(), open.end(), further);
        }
    }
    kept_.insert(kept_.end(), open.begin(), open.end());
    tasks_.clear();
    std::stable_sort(kept_.begin(), kept_.end(), [&](const Task& a, const Task& b) { return further(b, a); });
    kept_spans_ = spans_.size();
}

void MotionSearch::forget_spans_behind(std::size_t count) {
    spans_.resize(count);
    for (Span& span : spans_) {
        span.halves = static_cast<std::size_t>(span.halves + 1) < count ? span.halves : -1;  // The second follows.
    }
}

MotionSearch::Minimum MotionSearch::minimise_kept(const Slack& slack, Pair& best, std::span<const double> fixed_moved,
                                                  std::span<const double> moving_moved) {
    const auto way = [](std::span<const double> moved, std::int32_t node) {
        return moved.empty() ? 0.0 : moved[static_cast<std::size_t>(node)];
    };
    forget_spans_behind(kept_spans_);
    if (!(best.distance > 0.0)) {
        return {Ending::contact, 0.0};
    }
    hint_ = (best.on_moving - best.on_fixed) / best.distance;
    Nearest visit{best, slack};
    const double most_way = way(fixed_moved, 0) + way(moving_moved, 0);
    for (const Task& cell : kept_) {
        if (cell.bound.least() - most_way >= visit.enough()) {
            visit.drop(cell.bound.least() - most_way);
            break;  // So are all that follow.
        }
        const double least = cell.bound.least() - way(fixed_moved, cell.fixed) - way(moving_moved, cell.moving);
        if (least >= visit.enough()) {
            visit.drop(least);
            continue;
        }
        Task task = cell;
        task.bound = best_bound(
            spans_[static_cast<std::size_t>(task.span)], fixed_.nodes()[static_cast<std::size_t>(task.fixed)],
            moving_.nodes()[static_cast<std::size_t>(task.moving)], task.bound.direction, visit.enough());
        tasks_.assign(1, task);
        if (const Ending ending = run_tasks(visit); ending != Ending::done) {
            return {ending, 0.0};
        }
    }
    return {Ending::done, std::min(visit.lower, best.distance)};
}

MotionSearch::Pair MotionSearch::near_pair(double angle) const {
    const Eigen::Isometry3d door = pose(motion_, radians(angle));
    std::int32_t fixed = 0;
    std::int32_t moving = 0;
    const auto apart = [&](std::int32_t i, std::int32_t j) {
        return (door * moving_.nodes()[static_cast<std::size_t>(j)].centre -
                fixed_.nodes()[static_cast<std::size_t>(i)].centre)
            .squaredNorm();
    };
    while (true) {
        const Node& a = fixed_.nodes()[static_cast<std::size_t>(fixed)];
        const Node& b = moving_.nodes()[static_cast<std::size_t>(moving)];
        if (!b.is_leaf() && (a.is_leaf() || b.radius > a.radius)) {
            moving = apart(fixed, moving + 1) <= apart(fixed, b.second) ? moving + 1 : b.second;
        } else if (!a.is_leaf()) {
            fixed = apart(fixed + 1, moving) <= apart(a.second, moving) ? fixed + 1 : a.second;
        } else {
            return pair_at(a.first_slot, b.first_slot, angle);
        }
    }
}

MotionSearch::Ending MotionSearch::prove_apart(double from, double to, double floor, std::size_t most_tasks,
                                               Pair& contact) {
    struct Visit {
        Pair& contact;
        double floor;
        std::size_t most_tasks;
        bool touched = false;
        bool open = false;  // Something nearer than the floor could not be split further.

        [[nodiscard]] double slack_mm() const { return k_look_at_triangles_mm; }
        [[nodiscard]] double enough() const { return floor; }
        void drop(double least) { open = open || least < floor; }
        void meet(const Pair& pair) {
            if (!(pair.distance > 0.0)) {
                contact = pair;
                touched = true;
            }
        }
    };
    Visit visit{contact, floor, most_tasks};
    const Ending ending = run(from, to, visit);
    return ending == Ending::done && visit.open ? Ending::given_up : ending;
}

std::vector<MotionSearch::Pair> MotionSearch::crossings(double angle, std::size_t most) {
    struct Visit {
        std::vector<Pair> found;
        std::size_t most;
        std::size_t most_tasks = std::numeric_limits<std::size_t>::max();
        bool touched = false;

        [[nodiscard]] static double slack_mm() { return 0.0; }
        [[nodiscard]] double enough() const { return std::numeric_limits<double>::min(); }
        void drop(double) {}
        void meet(Pair pair) {
            if (!(pair.distance > 0.0)) {
                found.push_back(pair);
                touched = found.size() >= most;
            }
        }
    };
    Visit visit{{}, most};
    run(angle, angle, visit);
    return std::move(visit.found);
}

void MotionSearch::polish(double from, double to, Pair& best) const {
    // Golden section on the pair's own distance, about the angle where it was met.
    constexpr double k_ratio = 0.6180339887498949;
    constexpr int k_steps = 60;  // The bracket shrinks by 3e-13.
    for (double reach = 0.02; reach > 1e-9; reach *= 0.05) {
        double low = std::max(from, best.angle - reach);
        double high = std::min(to, best.angle + reach);
        double a = high - k_ratio * (high - low);
        double b = low + k_ratio * (high - low);
        Pair at_a = pair_at(best.fixed_slot, best.moving_slot, a);
        Pair at_b = pair_at(best.fixed_slot, best.moving_slot, b);
        for (int i = 0; i < k_steps && high - low > 1e-12; ++i) {
            if (at_a.distance <= at_b.distance) {
                high = b;
                b = a;
                at_b = at_a;
                a = high - k_ratio * (high - low);
                at_a = pair_at(best.fixed_slot, best.moving_slot, a);
            } else {
                low = a;
                a = b;
                at_a = at_b;
                b = low + k_ratio * (high - low);
                at_b = pair_at(best.fixed_slot, best.moving_slot, b);
            }
        }
        for (const Pair& pair : {at_a, at_b, pair_at(best.fixed_slot, best.moving_slot, low),
                                 pair_at(best.fixed_slot, best.moving_slot, high)}) {
            if (pair.distance < best.distance) {
                best = pair;
            }
        }
    }
}

}  // namespace sillwright::geometry
