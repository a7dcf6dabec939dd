#include "core/buck/datum_rods.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::millimetres;

namespace {

constexpr geometry::Length k_chord = geometry::millimetres(0.1);  ///< Taken off the room.
constexpr double k_level_step_mm = 10.0;
constexpr double k_most_steps = 60.0;  ///< Of places that are looked at, across or up; of a larger rib fewer.

using Points = std::vector<Vector2d>;

/// Whether a point is inside and no edge nearer than `room`.
bool has_room(const Points& p, const Vector2d& at, double room) {
    bool inside = false;
    for (std::size_t i = 0; i + 1 < p.size(); ++i) {
        const Vector2d& a = p[i];
        const Vector2d& b = p[i + 1];
        const Vector2d way = b - a;
        const double length2 = way.squaredNorm();
        const double part = length2 > 0.0 ? std::clamp((at - a).dot(way) / length2, 0.0, 1.0) : 0.0;
        if ((a + part * way - at).squaredNorm() < room * room) {
            return false;
        }
        if ((a.y() <= at.y()) != (b.y() <= at.y()) && a.x() + way.x() * (at.y() - a.y()) / way.y() > at.x()) {
            inside = !inside;
        }
    }
    return inside;
}

/// Distance from an upright rectangle that stands on the base.
double off_upright(const Vector2d& at, double side, double width, double height) {
    const double across = std::max(0.0, std::abs(at.x() - side) - 0.5 * width);
    return std::hypot(across, std::max(0.0, at.y() - height));
}

CheckDistance between(const std::string& from, const std::string& to, const Eigen::Vector3d& a,
                      const Eigen::Vector3d& b) {
    return {from, to, millimetres((b - a).norm())};
}

}  // namespace

std::vector<Vector2d> datum_rods(const std::vector<Rib>& ribs, const std::vector<Spine>& spines, double pin_mm) {
    if (ribs.empty()) {
        return {};
    }
    std::vector<Points> faces;
    Vector2d low(-std::numeric_limits<double>::max(), 0.0);
    Vector2d high = Vector2d::Constant(std::numeric_limits<double>::max());
    for (const Rib& rib : ribs) {
        for (const geometry::Profile* const face : {&rib.outline, &rib.far_outline}) {
            auto points = geometry::polyline(*face, k_chord);
            if (!points) {
                return {};
            }
            Vector2d least = points.value().front();
            Vector2d most = least;
            for (const Vector2d& p : points.value()) {
                least = least.cwiseMin(p);
                most = most.cwiseMax(p);
            }
            low = low.cwiseMax(least);
            high = high.cwiseMin(most);
            faces.push_back(std::move(points).value());
        }
    }
    const double room = 0.5 * pin_mm + k_wood_about_rod_mm;
    const auto free_of_slots = [&](const Vector2d& at) {
        for (const Spine& spine : spines) {
            double tallest = spine.height_mm;
            double width = spine.thickness_mm;
            for (const Rib& rib : ribs) {
                const Slot& slot = rib.laps[static_cast<std::size_t>(&spine - spines.data())];
                tallest = std::max(tallest, slot.depth_mm);
                width = std::max(width, slot.width_mm);
            }
            if (off_upright(at, spine.side_mm, width, tallest) < room) {
                return false;
            }
        }
        return true;
    };
    std::vector<Vector2d> places;
    const double steps = std::ceil((high - low).maxCoeff() / (k_rod_step_mm * k_most_steps));
    const double step = k_rod_step_mm * std::max(1.0, steps);
    for (double side = std::ceil(low.x() / step) * step; side <= high.x(); side += step) {
        for (double up = std::ceil(low.y() / step) * step; up <= high.y(); up += step) {
            const Vector2d at(side, up);
            if (free_of_slots(at) && std::all_of(faces.begin(), faces.end(), [&](const Points& face) {
                    return has_room(face, at, room + in_mm(k_chord));
                })) {
                places.push_back(at);
            }
        }
    }
    if (places.empty()) {
        return {};
    }
    std::vector<Vector2d> best{places.front()};
    double furthest = k_rods_apart_mm;
    for (std::size_t i = 0; i < places.size(); ++i) {
        for (std::size_t k = i + 1; k < places.size(); ++k) {
            const double apart = (places[k] - places[i]).norm();
            if (apart > furthest) {
                furthest = apart;
                best = {places[i], places[k]};
            }
        }
    }
    return best;
}

double level_height_mm(const std::vector<Rib>& ribs) {
    double lowest = std::numeric_limits<double>::max();
    for (const Rib& rib : ribs) {
        for (const geometry::Profile* const face : {&rib.outline, &rib.far_outline}) {
            double top = 0.0;
            for (const geometry::Segment& segment : face->segments) {
                top = std::max({top, start_point(segment).y(), point_at(segment, 0.5).y()});
            }
            lowest = std::min(lowest, top);
        }
    }
    const double half = 0.5 * lowest;
    return half > k_level_step_mm ? std::round(half / k_level_step_mm) * k_level_step_mm : half;
}

std::vector<CheckDistance> check_distances(const PieceBuck& buck) {
    std::vector<CheckDistance> checks;
    if (buck.ribs.size() < 2) {
        return checks;
    }
    const Rib& first = buck.ribs.front();
    const Rib& last = buck.ribs.back();
    const auto in_space = [](double x, const Vector2d& p) { return Eigen::Vector3d(x, p.x(), p.y()); };
    if (first.pins_mm.size() == 2) {
        for (const std::size_t k : {0U, 1U}) {
            checks.push_back(between(first.label + ", rod hole " + std::to_string(k + 1) + ", face on its place",
                                     last.label + ", rod hole " + std::to_string(2 - k) + ", face on its place",
                                     in_space(first.x_mm, first.pins_mm[k]), in_space(last.x_mm, last.pins_mm[1 - k])));
        }
    }
    if (buck.spines.size() == 2) {
        const Spine& a = buck.spines[0];
        const Spine& b = buck.spines[1];
        checks.push_back(between(a.label + ", front end, middle, on the base",
                                 b.label + ", rear end, middle, on the base", in_space(a.front_mm, {a.side_mm, 0.0}),
                                 in_space(b.rear_mm, {b.side_mm, 0.0})));
        checks.push_back(between(b.label + ", front end, middle, on the base",
                                 a.label + ", rear end, middle, on the base", in_space(b.front_mm, {b.side_mm, 0.0}),
                                 in_space(a.rear_mm, {a.side_mm, 0.0})));
    }
    const auto low = [](const Rib& rib) { return start_point(rib.outline.segments.back()); };
    const auto high = [](const Rib& rib) { return end_point(rib.outline.segments.back()); };
    const std::string on = ", face on its place";
    checks.push_back(between(first.label + ", foot at the low side" + on, last.label + ", foot at the high side" + on,
                             in_space(first.x_mm, low(first)), in_space(last.x_mm, high(last))));
    checks.push_back(between(first.label + ", foot at the high side" + on, last.label + ", foot at the low side" + on,
                             in_space(first.x_mm, high(first)), in_space(last.x_mm, low(last))));
    for (std::size_t i = 0; i + 1 < buck.ribs.size(); ++i) {
        const Rib& a = buck.ribs[i];
        const Rib& b = buck.ribs[i + 1];
        checks.push_back({a.label + on, b.label + on, millimetres(b.x_mm - a.x_mm)});
    }
    if (buck.base) {
        const BaseBoard& base = *buck.base;
        checks.push_back({base.label + ", corner", base.label + ", corner across",
                          millimetres(std::hypot(base.rear_mm - base.front_mm, base.high_mm - base.low_mm))});
    }
    return checks;
}

}  // namespace sillwright::core
