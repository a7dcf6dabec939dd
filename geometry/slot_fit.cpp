#include "geometry/slot_fit.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace sillwright::geometry {

using Eigen::Matrix4d;
using Eigen::Vector2d;
using Eigen::Vector3d;
using Eigen::Vector4d;

namespace {

/// Parts of the tolerance: the exchange ends when a place is outside by less than the one, or when the bound is above
/// the other. They overlap, so that it ends once bound and motion are nearer than the difference.
constexpr double k_outside_mm = 0.75 * k_slot_fit_tolerance_mm;
constexpr double k_proven_mm = 0.25 * k_slot_fit_tolerance_mm;
/// By how much the box of motions is wider than where the best motion must lie, so that it never holds it.
constexpr double k_box_spare = 1.5;
/// A usual case has ended before that. From there on planes of one slot may be so nearly parallel that the motion they
/// meet in is better found by how the slots are rounded.
constexpr int k_usual_steps = 28;
/// Weights sum to one; below this they may be rounding alone.
constexpr double k_weight_rounding = 1e-12;
/// A plane of which the new one holds less than this cannot be exchanged for it.
constexpr double k_least_share = 1e-11;
/// Of motions that no slot minds, so that a system for them has a solution; slots give about one.
constexpr double k_free_stiffness = 1e-9;
/// Far beyond what any case takes: then motion and bound are as near as rounding lets them be.
constexpr int k_most_steps = 200;
/// Tasks that are held on the stack.
constexpr std::size_t k_usual_tasks = 32;

Vector2d turned(const Vector2d& p) {
    return {-p.y(), p.x()};
}

/// A plane that bounds one slot from outside, or a side of the box: row · (motion, t) <= most.
///
/// A motion is told by where the reference place goes, and by the turn as a way at the lever: three numbers of one
/// size.
struct Plane {
    Vector4d row = Vector4d::Zero();
    double most = 0.0;
    int task = -1;  ///< None of the box.
    Vector2d out = Vector2d::Zero();
};

/// Where a place stands to its slot.
struct Stand {
    Vector2d off_mm;  ///< From the nearest point of the slot's middle line.
    bool at_end = true;
};

/// A task as it is looked at again and again.
struct Place {
    Vector2d start_mm;  ///< From the slot's middle, before any motion.
    Vector2d turn;      ///< Its way for a turn of one at the lever.
    Vector2d axis = Vector2d::UnitX();
    double half_mm = 0.0, radius_mm = 0.0;

    explicit Place(const SlotTask& task) : start_mm{task.place_mm - 0.5 * (task.from_mm + task.to_mm)} {
        const Vector2d way = task.to_mm - task.from_mm;
        const double squared = way.squaredNorm();
        if (squared > 0.0) {
            const double length = std::sqrt(squared);
            axis = way / length;
            half_mm = 0.5 * length;
        }
        radius_mm = task.radius_mm;
    }
    Place() = default;

    [[nodiscard]] Stand at(const Vector3d& motion) const {
        const Vector2d d = start_mm + motion.head<2>() + motion.z() * turn;
        const double along = d.dot(axis);
        const double held = std::clamp(along, -half_mm, half_mm);
        return {d - held * axis, held != along || half_mm == 0.0};
    }
    /// The slot's plane in a direction: a bound from outside, whatever the direction.
    [[nodiscard]] Plane plane(int task, const Vector2d& out) const {
        Plane made;
        made.row << out, out.dot(turn), -1.0;
        made.most = half_mm * std::abs(out.dot(axis)) + radius_mm - out.dot(start_mm);
        made.task = task;
        made.out = out;
        return made;
    }
};

/// The place that is furthest outside its slot.
struct Worst {
    double outside_mm = -std::numeric_limits<double>::infinity();
    int task = -1;
    Vector2d off_mm = Vector2d::Zero();
};

Worst worst_at(std::span<const Place> places, const Vector3d& motion) {
    Worst worst;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const double radius = places[i].radius_mm;
        const Vector2d off = places[i].at(motion).off_mm;
        const double squared = off.squaredNorm();
        // Most places need no root to see that they are not the worst.
        const double reach = worst.outside_mm + radius;
        if (worst.task < 0 || (reach <= 0.0 ? squared > 0.0 || reach < 0.0 : squared > reach * reach)) {
            const double outside = std::sqrt(squared) - radius;
            if (outside > worst.outside_mm) {
                worst = {outside, static_cast<int>(i), off};
            }
        }
    }
    return worst;
}

/// Four planes that hold the least t: the motion, t, and the weights that prove it.
class Basis {
public:
    /// Starts in a corner of the box with a tangent.
    Basis(const Plane& first, const Vector3d& box) {
        planes_[0] = first;
        for (int i = 0; i < 3; ++i) {
            // The side against the tangent's slope: its weight is then not negative.
            const double side = first.row[i] > 0.0 ? -1.0 : 1.0;
            Plane& plane = planes_[static_cast<std::size_t>(i + 1)];
            plane.row[i] = side;
            plane.most = box[i];
        }
        solve();
    }

    /// Puts a plane that the motion breaks in the place of one: the bound does not fall. False if rounding leaves none.
    [[nodiscard]] bool exchange(const Plane& in) {
        const Vector4d share = inverse_.transpose() * in.row;
        // The plane whose weight is used up first; of those that are within rounding, the one that leaves the four most
        // independent (P. M. J. Harris, Math. Programming 5 (1973) 1, from memory).
        double least = std::numeric_limits<double>::infinity();
        for (int j = 0; j < 4; ++j) {
            if (share[j] > k_least_share) {
                least = std::min(least, (std::max(weights_[j], 0.0) + k_weight_rounding) / share[j]);
            }
        }
        int out = -1;
        for (int j = 0; j < 4; ++j) {
            if (share[j] > k_least_share && std::max(weights_[j], 0.0) <= least * share[j] &&
                (out < 0 || share[j] > share[out])) {
                out = j;
            }
        }
        if (out < 0) {
            return false;
        }
        planes_[static_cast<std::size_t>(out)] = in;
        solve();
        return true;
    }

    /// Whether the bound needs the box: then it is none of the slots alone.
    [[nodiscard]] bool leans_on_box() const {
        for (int j = 0; j < 4; ++j) {
            if (planes_[static_cast<std::size_t>(j)].task < 0 && weights_[j] > k_weight_rounding) {
                return true;
            }
        }
        return false;
    }
    [[nodiscard]] Vector3d motion() const { return at_.head<3>(); }
    [[nodiscard]] double bound() const { return at_[3]; }
    [[nodiscard]] const std::array<Plane, 4>& planes() const { return planes_; }
    [[nodiscard]] const Vector4d& weights() const { return weights_; }

private:
    void solve() {
        Matrix4d rows;
        Vector4d most;
        for (int j = 0; j < 4; ++j) {
            const Plane& plane = planes_[static_cast<std::size_t>(j)];
            rows.row(j) = plane.row.transpose();
            most[j] = plane.most;
        }
        inverse_ = rows.inverse();
        at_ = inverse_ * most;
        weights_ = -inverse_.row(3).transpose();
    }

    std::array<Plane, 4> planes_{};
    Matrix4d inverse_;
    Vector4d at_, weights_;
};

/// The best motion for the slots of a basis alone, by one step of Newton's method from its motion: it uses how the
/// slots' ends are rounded, which the planes do not. Near the end planes of one slot are almost parallel and no longer
/// tell.
Vector3d rounded_motion(std::span<const Place> places, const Basis& basis) {
    using System = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::ColMajor, 8, 8>;
    using Right = Eigen::Matrix<double, Eigen::Dynamic, 1, Eigen::ColMajor, 8, 1>;
    std::array<int, 4> active{};
    std::array<double, 4> weight{};
    int count = 0;
    for (int j = 0; j < 4; ++j) {
        const int task = basis.planes()[static_cast<std::size_t>(j)].task;
        if (task < 0 || basis.weights()[j] <= 0.0) {
            continue;
        }
        const auto known = std::find(active.begin(), active.begin() + count, task);
        const auto at = static_cast<std::size_t>(known - active.begin());
        if (known == active.begin() + count) {
            active[at] = task;
            ++count;
        }
        weight[at] += basis.weights()[j];
    }
    const Eigen::Index size = 4 + count;
    System system = System::Zero(size, size);
    Right right = Right::Zero(size);
    system.topLeftCorner<3, 3>().diagonal().setConstant(k_free_stiffness);
    right[3] = 1.0;
    for (int k = 0; k < count; ++k) {
        const Place& place = places[static_cast<std::size_t>(active[static_cast<std::size_t>(k)])];
        const Stand stand = place.at(basis.motion());
        const double off = stand.off_mm.norm();
        if (off == 0.0) {
            return basis.motion();
        }
        const Vector2d out = stand.off_mm / off;
        const Vector3d slope(out.x(), out.y(), out.dot(place.turn));
        if (stand.at_end) {
            const Vector2d side = turned(out);
            const Vector3d bend(side.x(), side.y(), side.dot(place.turn));
            system.topLeftCorner<3, 3>() += (weight[static_cast<std::size_t>(k)] / off) * bend * bend.transpose();
        }
        system.block<3, 1>(0, 4 + k) = slope;
        system(3, 4 + k) = 1.0;
        system.block<1, 3>(4 + k, 0) = slope.transpose();
        system(4 + k, 3) = -1.0;
        right[4 + k] = place.radius_mm - off;
    }
    const Right step = system.partialPivLu().solve(right);
    return basis.motion() + step.head<3>();
}

/// The planes' weights gathered by slot: two planes of one slot bound it together at least as well.
void tell_bars(const Basis& basis, SlotFit& fit) {
    for (int j = 0; j < 4; ++j) {
        const Plane& plane = basis.planes()[static_cast<std::size_t>(j)];
        const double weight = std::max(basis.weights()[j], 0.0);
        if (plane.task < 0 || weight == 0.0) {
            continue;
        }
        const auto task = static_cast<std::size_t>(plane.task);
        const auto end = fit.bars.begin() + static_cast<std::ptrdiff_t>(fit.bar_count);
        const auto known = std::find_if(fit.bars.begin(), end, [task](const SlotBar& bar) { return bar.task == task; });
        if (known == end) {
            ++fit.bar_count;
            known->task = task;
        }
        known->out += weight * plane.out;
    }
    for (std::size_t k = 0; k < fit.bar_count; ++k) {
        SlotBar& bar = fit.bars[k];
        bar.weight = bar.out.norm();
        bar.out = bar.weight > 0.0 ? Vector2d{bar.out / bar.weight} : Vector2d::Zero();
    }
    fit.excess_mm = basis.bound();
}

/// The motions that can be best, about no motion: there no place can be further outside than it is without one.
struct Box {
    std::size_t reference = 0;
    double lever_mm = 1.0;
    Vector3d half = Vector3d::Zero();
};

Box box_of(std::span<const SlotTask> tasks, std::span<const Place> places, double outside_mm) {
    Box box;
    const auto room = [&](std::size_t i) { return places[i].half_mm + places[i].radius_mm; };
    for (std::size_t i = 1; i < tasks.size(); ++i) {
        if (room(i) < room(box.reference)) {
            box.reference = i;
        }
    }
    const auto from_reference = [&](std::size_t i) {
        return (tasks[i].place_mm - tasks[box.reference].place_mm).squaredNorm();
    };
    std::size_t furthest = box.reference;
    for (std::size_t i = 0; i < tasks.size(); ++i) {
        if (from_reference(i) > from_reference(furthest)) {
            furthest = i;
        }
    }
    if (furthest != box.reference) {
        box.lever_mm = std::sqrt(from_reference(furthest));
    }
    const double near = k_box_spare * 2.0 * (outside_mm + room(box.reference));
    const double far = k_box_spare * 2.0 * (outside_mm + room(furthest));
    box.half << near, near, near + far;
    return box;
}

SlotFit fit_of(std::span<const SlotTask> tasks, std::span<Place> places) {
    SlotFit fit;
    for (std::size_t i = 0; i < tasks.size(); ++i) {
        if (tasks[i].radius_mm < 0.0) {
            fit.bars[0] = {i, Vector2d::Zero(), 1.0};
            fit.bar_count = 1;
            fit.excess_mm = -tasks[i].radius_mm;
            return fit;
        }
        places[i] = Place(tasks[i]);
        places[i].turn = Vector2d::Zero();
    }
    Worst worst = worst_at(places, Vector3d::Zero());
    if (worst.outside_mm <= 0.0) {
        fit.motion = SmallMotion{};
        return fit;
    }
    const Box box = box_of(tasks, places, worst.outside_mm);
    const Vector2d reference = tasks[box.reference].place_mm;
    for (std::size_t i = 0; i < tasks.size(); ++i) {
        places[i].turn = turned(tasks[i].place_mm - reference) / box.lever_mm;
    }
    const auto plane_of = [&](const Worst& at) {
        return places[static_cast<std::size_t>(at.task)].plane(at.task, at.off_mm.normalized());
    };
    const auto fits_by = [&](const Vector3d& motion) {
        const double turn = motion.z() / box.lever_mm;
        fit.motion = SmallMotion{motion.head<2>() - turn * turned(reference), turn};
    };
    Basis basis(plane_of(worst), box.half);
    for (fit.steps = 1; basis.bound() <= k_proven_mm || basis.leans_on_box(); ++fit.steps) {
        worst = worst_at(places, basis.motion());
        if (worst.outside_mm <= k_outside_mm) {
            fits_by(basis.motion());
            return fit;
        }
        if (fit.steps > k_usual_steps) {
            const Vector3d rounded = rounded_motion(places, basis);
            if (worst_at(places, rounded).outside_mm <= k_outside_mm) {
                fits_by(rounded);
                return fit;
            }
        }
        if (fit.steps >= k_most_steps || !basis.exchange(plane_of(worst))) {
            break;  // As near to the border as rounding lets it be told.
        }
    }
    tell_bars(basis, fit);
    return fit;
}

}  // namespace

SlotFit slot_fit_proof(std::span<const SlotTask> tasks) {
    std::array<Place, k_usual_tasks> few;
    if (tasks.size() <= few.size()) {
        return fit_of(tasks, std::span(few).first(tasks.size()));
    }
    std::vector<Place> many(tasks.size());
    return fit_of(tasks, many);
}

std::optional<SmallMotion> slot_fit(std::span<const SlotTask> tasks) {
    return slot_fit_proof(tasks).motion;
}

}  // namespace sillwright::geometry
