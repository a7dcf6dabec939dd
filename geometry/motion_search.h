#pragma once

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "geometry/distance_tree.h"
#include "geometry/motion.h"
#include "geometry/motion_distance.h"

namespace sillwright::geometry {

/// Branch and bound over pairs of boxes and an interval of angles: what
/// `least_distance` and its relatives are made of. Radians and millimetres.
class MotionSearch {
public:
    MotionSearch(const DistanceTree& fixed, const DistanceTree& moving, const HingeMotion& motion, Watch watch);

    /// A pair of triangles at an angle.
    struct Pair {
        double distance = std::numeric_limits<double>::infinity();
        double angle = 0.0;
        std::int32_t fixed_slot = 0, moving_slot = 0;
        Eigen::Vector3d on_fixed = Eigen::Vector3d::Zero();
        Eigen::Vector3d on_moving = Eigen::Vector3d::Zero();
    };

    enum class Ending { done, contact, given_up, stopped };

    /// By how much something may be nearer than the best without being looked
    /// for: the greater of a length and a part of the best.
    struct Slack {
        double mm;
        double part = 0.0;
    };

    /// Improves `best` over [from, to] until nothing is nearer than the slack
    /// allows; `lower` is then proven. Ends with contact as soon as a pair touches.
    struct Minimum {
        Ending ending;
        double lower;
    };
    Minimum minimise(double from, double to, const Slack& slack, Pair& best);

    /// Divides the whole search over [from, to] into cells, kept for `minimise_kept`: pairs of
    /// boxes over a part of the angles that stay `far` apart, or that are no larger than `size_mm`.
    void keep_cells(double from, double to, double far, double size_mm);

    /// As `minimise`, from the cells kept, after bodies have changed (their trees refitted, with the
    /// same nodes): `fixed_moved` and `moving_moved` tell for each node how far any corner
    /// below it has moved at most since; empty where nothing has. A cell that was further apart
    /// than the best by that much is not looked at again.
    Minimum minimise_kept(const Slack& slack, Pair& best, std::span<const double> fixed_moved,
                          std::span<const double> moving_moved);

    /// Proves that nothing is nearer than `floor` (> 0) anywhere in [from, to], or
    /// finds a touching pair, or gives up after `most_tasks` tasks.
    Ending prove_apart(double from, double to, double floor, std::size_t most_tasks, Pair& contact);

    /// Distance of one pair of triangles at an angle.
    [[nodiscard]] Pair pair_at(std::int32_t fixed_slot, std::int32_t moving_slot, double angle) const;

    /// Some near pair at an angle, found by going down to the nearer box each time.
    [[nodiscard]] Pair near_pair(double angle) const;

    /// Moves `best` to the least distance of its own pair of triangles near its angle.
    void polish(double from, double to, Pair& best) const;

    /// Pairs of triangles that cross at an angle, at most `most`.
    [[nodiscard]] std::vector<Pair> crossings(double angle, std::size_t most);

    /// Corners of a moving triangle with the door at an angle.
    [[nodiscard]] Corners moved_corners(std::int32_t slot, const Eigen::Isometry3d& door) const;

    /// Greatest speed, per radian, of any point within `radius_mm` of the axis point.
    [[nodiscard]] double greatest_speed(double radius_mm) const { return (1.0 + std::abs(sag_rate_)) * radius_mm; }
    [[nodiscard]] double rounding_mm() const { return rounding_; }

private:
    /// An interval of angles with what the bounds need of it.
    struct Span {
        double low, high, middle, half;
        Eigen::Matrix3d turn;      // Of the door at the middle.
        Eigen::Vector3d sag_axis;  // Turned with the door.
        double sine, versine;      // Of half.
        double sag_first, sag_second;
        std::int32_t halves = -1;  // Index of the first half; the second follows.
    };
    /// How far apart two boxes stay along one direction.
    struct Bound {
        double apart = -std::numeric_limits<double>::infinity();  // At the middle angle, extents taken off.
        double travel = 0.0;                                      // The most that the span can take from it.
        double extent = 0.0;
        Eigen::Vector3d direction = Eigen::Vector3d::UnitZ();
        double middles = 0.0;  // Distance of the boxes' middles: breaks ties in the order of the search.
        [[nodiscard]] double least() const { return apart - travel; }
    };
    struct Task {
        std::int32_t fixed, moving;  // Nodes, or slots if `triangles`.
        std::int32_t span;
        bool triangles;
        float share;  // Of the whole, for progress.
        Bound bound;
    };

    /// Looks for the least distance.
    struct Nearest {
        Pair& best;
        Slack slack;
        double lower = std::numeric_limits<double>::infinity();
        bool touched = false;
        std::size_t most_tasks = std::numeric_limits<std::size_t>::max();

        [[nodiscard]] double slack_mm() const { return std::max(slack.mm, slack.part * best.distance); }
        [[nodiscard]] double enough() const { return best.distance - slack_mm(); }
        void drop(double least) { lower = std::min(lower, least); }
        void meet(const Pair& pair) {
            if (pair.distance < best.distance) {
                best = pair;
                touched = !(pair.distance > 0.0);
            }
        }
    };

    std::int32_t make_span(double low, double high);
    std::int32_t halves_of(std::int32_t span);
    [[nodiscard]] double travel(const Span& span, const DistanceTree::Node& moving, const Eigen::Vector3d& from_axis,
                                const Eigen::Vector3d& direction) const;
    [[nodiscard]] double point_travel(const Span& span, const Eigen::Vector3d& from_axis,
                                      const Eigen::Vector3d& direction) const;
    [[nodiscard]] Bound best_bound(const Span& span, const DistanceTree::Node& fixed, const DistanceTree::Node& moving,
                                   const Eigen::Vector3d& first, double enough) const;
    template <class Visit>
    Ending run(double from, double to, Visit& visit);
    template <class Visit>
    Ending run_tasks(Visit& visit);
    void forget_spans_behind(std::size_t count);
    template <class Visit>
    void split(const Task& task, Visit& visit);
    template <class Visit>
    void push_nearer_last(Task first, Task second, Visit& visit);
    template <class Visit>
    void triangles(const Task& task, Visit& visit);

    const DistanceTree& fixed_;
    const DistanceTree& moving_;
    HingeMotion motion_;
    Watch watch_;
    double sag_rate_;
    double rounding_;
    std::vector<Span> spans_;
    std::vector<Task> tasks_;
    std::vector<Task> kept_;                           // The nearest first.
    std::size_t kept_spans_ = 0;                       // Spans that these need.
    Eigen::Vector3d hint_ = Eigen::Vector3d::UnitZ();  // Between the nearest points met so far.
    double done_ = 0.0;
};

}  // namespace sillwright::geometry
