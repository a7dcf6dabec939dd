#include "core/mounts/landing.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <utility>

#include "core/sill_frame.h"

namespace sillwright::core {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::millimetres;

namespace {

/// Steps in which the axis is looked along: no flange crosses it twice in one.
constexpr double k_look_step_mm = 5.0;
/// Halvings that bring one step, or the edge search, below rounding.
constexpr int k_halvings = 60;
/// The search for the nearest place ends within this, or within rounding of the place along the car; its squared
/// distance is flat there, so the distance is far nearer to the least.
constexpr double k_search_mm = 1e-9;
constexpr double k_rounding_part = 1e-14;
/// Golden sections alone would need 55.
constexpr int k_search_steps = 100;

using Curve = std::function<std::optional<Vector3d>(double along_mm)>;

/// Where the axis passes from the car's side of the face to the other, nearest to the seat.
std::optional<double> crossing_mm(const Vector3d& at, const Vector3d& axis, const FlangeFace& face) {
    const auto height = [&](double s) { return face.height_mm(at + s * axis); };
    std::optional<double> best;
    auto before = height(-k_look_back_mm);
    for (double s = -k_look_back_mm; s < k_look_ahead_mm; s += k_look_step_mm) {
        const auto behind = height(s + k_look_step_mm);
        if (before && behind && *before >= 0.0 && *behind < 0.0) {
            double near = s;
            double far = s + k_look_step_mm;
            for (int i = 0; i < k_halvings; ++i) {
                const double middle = 0.5 * (near + far);
                const auto there = height(middle);
                (there && *there >= 0.0 ? near : far) = middle;
            }
            if (!best || std::abs(near) < std::abs(*best)) {
                best = near;
            }
        }
        before = behind;
    }
    return best;
}

/// The place between `from` and `to` where a function is least: parabolas through its three best places as long as they
/// lead on, else golden sections. Source: R. P. Brent, Algorithms for Minimization without Derivatives, 1973, chapter 5
/// (from memory).
template <class Function>
double least_at(double from, double to, const Function& function) {
    const double golden = 0.5 * (3.0 - std::sqrt(5.0));
    double best = from + golden * (to - from);
    double second = best;
    double third = best;
    double at_best = function(best);
    double at_second = at_best;
    double at_third = at_best;
    double step = 0.0;
    double step_before = 0.0;
    for (int i = 0; i < k_search_steps; ++i) {
        const double middle = 0.5 * (from + to);
        const double close = k_search_mm + k_rounding_part * std::abs(best);
        if (std::abs(best - middle) <= 2.0 * close - 0.5 * (to - from)) {
            break;
        }
        bool golden_step = true;
        if (std::abs(step_before) > close && std::isfinite(at_third)) {
            const double r = (best - second) * (at_best - at_third);
            const double q = (best - third) * (at_best - at_second);
            double p = (best - third) * q - (best - second) * r;
            double t = 2.0 * (q - r);
            p = t > 0.0 ? -p : p;
            t = std::abs(t);
            const double before = std::exchange(step_before, step);
            if (std::abs(p) < std::abs(0.5 * t * before) && p > t * (from - best) && p < t * (to - best)) {
                step = p / t;
                golden_step = false;
            }
        }
        if (golden_step) {
            step_before = best < middle ? to - best : from - best;
            step = golden * step_before;
        }
        const double next = best + (std::abs(step) >= close ? step : std::copysign(close, step));
        const double at_next = function(next);
        if (at_next <= at_best) {
            (next < best ? to : from) = best;
            third = std::exchange(second, std::exchange(best, next));
            at_third = std::exchange(at_second, std::exchange(at_best, at_next));
            continue;
        }
        (next < best ? from : to) = next;
        if (at_next <= at_second || second == best) {
            third = std::exchange(second, next);
            at_third = std::exchange(at_second, at_next);
        } else if (at_next <= at_third || third == best || third == second) {
            third = next;
            at_third = at_next;
        }
    }
    return best;
}

/// Nearest place to `p` of a curve along the car; none where the curve has run out.
std::optional<Vector3d> nearest_on(const Curve& curve, const Vector3d& p, const FlangeFace& face) {
    const auto within = [&](double along) { return std::clamp(along, in_mm(face.front()), in_mm(face.rear())); };
    return curve(least_at(within(p.x() - k_edge_search_mm), within(p.x() + k_edge_search_mm), [&](double along) {
        const auto there = curve(along);
        return there ? (*there - p).squaredNorm() : std::numeric_limits<double>::infinity();
    }));
}

Vector3d in_space(double along_mm, const Vector2d& p_mm) {
    return {along_mm, p_mm.x(), p_mm.y()};
}

std::optional<Vector3d> free_edge_at(const FlangeFace& face, double along_mm) {
    const auto section = face.at(millimetres(along_mm));
    return section ? std::optional{in_space(along_mm, section->end_mm)} : std::nullopt;
}

std::optional<Vector3d> bend_at(const FlangeFace& face, double along_mm) {
    const auto section = face.at(millimetres(along_mm));
    const auto flat_from = face.flat_from_mm(millimetres(along_mm));
    if (!section || !flat_from) {
        return std::nullopt;
    }
    return in_space(along_mm, section->root_mm + *flat_from * section->direction);
}

/// `inside` tells whether `p` is on the material's side of the bound.
std::optional<ToBound> to_curve(FlangeBound bound, const Curve& curve, const Vector3d& p, const Vector3d& into_flange,
                                bool inside, const FlangeFace& face) {
    const auto nearest = nearest_on(curve, p, face);
    if (!nearest) {
        return std::nullopt;
    }
    const double distance = (p - *nearest).norm();
    const double sign = inside ? 1.0 : -1.0;
    const Vector3d away = distance > 0.0 ? Vector3d{sign * (p - *nearest) / distance} : into_flange;
    return ToBound{bound, sign * distance, away};
}

std::optional<ToBound> to_free_edge(const FlangeFace& face, const Vector3d& p) {
    const auto section = face.at(millimetres(p.x()));
    if (!section) {
        return std::nullopt;
    }
    const double beyond = section->direction.dot(p.tail<2>() - section->end_mm);
    return to_curve(
        FlangeBound::free_edge, [&face](double along) { return free_edge_at(face, along); }, p,
        in_space(0.0, -section->direction), beyond <= 0.0, face);
}

std::optional<ToBound> to_bend(const FlangeFace& face, const Vector3d& p) {
    const auto section = face.at(millimetres(p.x()));
    const auto flat_from = face.flat_from_mm(millimetres(p.x()));
    if (!section || !flat_from) {
        return std::nullopt;
    }
    const double past = section->direction.dot(p.tail<2>() - section->root_mm) - *flat_from;
    return to_curve(
        FlangeBound::bend, [&face](double along) { return bend_at(face, along); }, p, in_space(0.0, section->direction),
        past >= 0.0, face);
}

ToBound to_front(const FlangeFace& face, const Vector3d& p) {
    return {FlangeBound::front_end, p.x() - in_mm(face.front()), Vector3d::UnitX()};
}

ToBound to_rear(const FlangeFace& face, const Vector3d& p) {
    return {FlangeBound::rear_end, in_mm(face.rear()) - p.x(), -Vector3d::UnitX()};
}

/// Fills in the distances of the hole's centre and of the centres of a slot's ends;
/// false if the flange has no bounds there.
bool add_hole(const Mount& mount, const FlangeFace& face, Landing& landing) {
    const double half = slot_half_mm(mount);
    const double shift = mount.part_shift ? in_mm(mount.part_shift->value) : 0.0;
    std::vector<double> ways{0.0};
    if (half > 0.0) {
        ways.insert(ways.end(), {-half, half});
    }
    const Vector3d lengthwise = (Vector3d::UnitX() - landing.normal.x() * landing.normal).normalized();
    for (const double way : ways) {
        const Vector3d p = landing.p_mm + (shift + way) * lengthwise;
        const auto edge = shift + way == 0.0 ? std::optional{landing.free_edge} : to_free_edge(face, p);
        const auto bend = shift + way == 0.0 ? std::optional{landing.bend} : to_bend(face, p);
        if (!edge || !bend) {
            return false;
        }
        landing.hole_edges.insert(landing.hole_edges.end(), {*edge, to_front(face, p), to_rear(face, p)});
        landing.hole_bends.push_back(*bend);
    }
    return true;
}

std::optional<double> sd_along(const Landing& landing, const Vector3d& gradient) {
    if (!landing.covariance_mm2) {
        return std::nullopt;
    }
    return std::sqrt(gradient.dot(*landing.covariance_mm2 * gradient));
}

}  // namespace

std::vector<ToBound> Landing::bounds() const {
    return {free_edge, bend, front_end, rear_end};
}

std::optional<Eigen::Matrix3d> typed_covariance_mm2(const Mount& mount) {
    Vector3d variance;
    for (std::size_t i = 0; i < 3; ++i) {
        if (!mount.sd[i]) {
            return std::nullopt;
        }
        const double sd = in_mm(mount.sd[i]->value);
        variance[static_cast<Eigen::Index>(i)] = sd * sd;
    }
    return variance.asDiagonal().toDenseMatrix();
}

std::optional<Landing> landing(const Mount& mount, const FlangeFace& face) {
    const Vector3d at = in_mm(mount.at);
    const auto down = crossing_mm(at, mount.axis, face);
    if (!down) {
        return std::nullopt;
    }
    Landing found;
    found.covariance_mm2 = typed_covariance_mm2(mount);
    found.down_axis_mm = *down;
    found.p_mm = at + *down * mount.axis;
    const auto normal = face.normal(found.p_mm);
    const auto free_edge = to_free_edge(face, found.p_mm);
    const auto bend = to_bend(face, found.p_mm);
    if (!normal || !free_edge || !bend) {
        return std::nullopt;
    }
    found.normal = *normal;
    found.free_edge = *free_edge;
    found.bend = *bend;
    found.front_end = to_front(face, found.p_mm);
    found.rear_end = to_rear(face, found.p_mm);
    return add_hole(mount, face, found) ? std::optional{found} : std::nullopt;
}

double slot_half_mm(const Mount& mount) {
    if (!mount.part_slot) {
        return 0.0;
    }
    const double width = mount.part_hole ? in_mm(mount.part_hole->value) : 0.0;
    return std::max(0.0, 0.5 * (in_mm(mount.part_slot->value) - width));
}

std::optional<double> landing_sd_mm(const Mount& mount, const Landing& landing, const Vector3d& direction) {
    const Vector3d& normal = landing.normal;
    return sd_along(landing, direction - (mount.axis.dot(direction) / mount.axis.dot(normal)) * normal);
}

std::optional<double> gap_sd_mm(const Mount& mount, const Landing& landing) {
    return sd_along(landing, landing.normal / mount.axis.dot(landing.normal));
}

}  // namespace sillwright::core
