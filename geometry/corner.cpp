#include "geometry/corner.h"

#include <algorithm>
#include <cmath>

#include "geometry/text.h"

namespace sillwright::geometry {

namespace {

/// Nodes nearer than this are at one place: far below what is measured, far above rounding.
constexpr double k_same_place_mm = 1e-9;
/// A smaller turn (radians) is a straight: a rounding of 1 m then stands 1e-9 mm off it.
constexpr double k_straight_turn = 1e-7;
/// 1 + cos(turn) below this is a chain that turns back on itself (179.9 degrees).
constexpr double k_turn_back = 1e-6;
/// Roundings may overlap by this: rounding errors, no shape.
constexpr double k_room_slack_mm = 1e-9;

double cross(const Eigen::Vector2d& a, const Eigen::Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

std::string quoted(const std::string& name) {
    return "'" + name + "'";
}

/// Number of the nodes at the place of node `i`, and whether `i` stands for them.
bool stands_for_its_place(const std::vector<ProfileNode>& nodes, bool closed, std::size_t i) {
    const std::size_t n = nodes.size();
    const auto same = [&](std::size_t k) {
        return (nodes[k].p_mm - nodes[i].p_mm).squaredNorm() < k_same_place_mm * k_same_place_mm;
    };
    for (std::size_t step = 1; step < n; ++step) {
        if (!closed && step > i) {
            break;
        }
        const std::size_t k = (i + n - step) % n;
        if (!same(k)) {
            break;
        }
        // Around the end of a closed chain the lower number is still the first.
        if (nodes[k].radius > nodes[i].radius || (nodes[k].radius == nodes[i].radius && k < i)) {
            return false;
        }
    }
    for (std::size_t step = 1; step < n; ++step) {
        if (!closed && i + step >= n) {
            break;
        }
        const std::size_t k = (i + step) % n;
        if (!same(k)) {
            break;
        }
        if (nodes[k].radius > nodes[i].radius || (nodes[k].radius == nodes[i].radius && k < i)) {
            return false;
        }
    }
    return true;
}

/// Unit direction of the straight from node i to the next at another place; zero if none.
Eigen::Vector2d direction_after(const std::vector<ProfileNode>& nodes, bool closed, std::size_t i) {
    const std::size_t n = nodes.size();
    for (std::size_t step = 1; step < n; ++step) {
        if (!closed && i + step >= n) {
            break;
        }
        const Eigen::Vector2d d = nodes[(i + step) % n].p_mm - nodes[i].p_mm;
        const double length = d.norm();
        if (length >= k_same_place_mm) {
            return d / length;
        }
    }
    return Eigen::Vector2d::Zero();
}

Eigen::Vector2d direction_before(const std::vector<ProfileNode>& nodes, bool closed, std::size_t i) {
    const std::size_t n = nodes.size();
    for (std::size_t step = 1; step < n; ++step) {
        if (!closed && step > i) {
            break;
        }
        const Eigen::Vector2d d = nodes[i].p_mm - nodes[(i + n - step) % n].p_mm;
        const double length = d.norm();
        if (length >= k_same_place_mm) {
            return d / length;
        }
    }
    return Eigen::Vector2d::Zero();
}

/// The largest distance (of the sign of `offset_mm`) at which both corners have room, by halving.
double largest_offset(const Corner& a, const Corner& b, double room_mm, double offset_mm) {
    double fits = 0.0;
    double fails = offset_mm;
    constexpr int k_halvings = 40;
    for (int k = 0; k < k_halvings; ++k) {
        const double middle = (fits + fails) / 2.0;
        (a.setback_at(middle) + b.setback_at(middle) <= room_mm ? fits : fails) = middle;
    }
    return std::abs(fits);
}

Error no_room(const Corner& a, const Corner& b, const std::string& name_a, const std::string& name_b, double room_mm,
              double offset_mm) {
    const double need = a.setback_at(offset_mm) + b.setback_at(offset_mm);
    const double at_source = a.setback_at(0.0) + b.setback_at(0.0);
    std::string message = "the straight from " + quoted(name_a) + " to " + quoted(name_b) + " is " +
                          text(millimetres(room_mm)) + " long and its corners need " + text(millimetres(need));
    if (at_source > room_mm) {
        const bool first = a.setback_at(0.0) >= b.setback_at(0.0);
        const Corner& larger = first ? a : b;
        const double rest = room_mm - (first ? b : a).setback_at(0.0);
        if (rest > 0.0) {
            message += "; a radius of " + text(millimetres(rest / larger.tan_half)) + " or less fits at " +
                       quoted(first ? name_a : name_b);
        } else {
            message += "; radii of " + text(millimetres(a.radius_mm * room_mm / at_source)) + " and " +
                       text(millimetres(b.radius_mm * room_mm / at_source)) + " fit";
        }
    } else {
        message += " on the face " + text(millimetres(std::abs(offset_mm))) + " to the " +
                   (offset_mm > 0.0 ? "left" : "right") + "; a distance of " +
                   text(millimetres(largest_offset(a, b, room_mm, offset_mm))) + " or less fits";
    }
    return Error{ErrorCode::does_not_fit, message};
}

}  // namespace

Status find_corners(const std::vector<ProfileNode>& nodes, const std::vector<std::string>& names, bool closed,
                    std::vector<Corner>& corners) {
    corners.resize(nodes.size());
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        Corner& c = corners[i];
        c = Corner{};
        c.p_mm = nodes[i].p_mm;
        c.radius_mm = in_mm(nodes[i].radius);
        c.before = direction_before(nodes, closed, i);
        c.after = direction_after(nodes, closed, i);
        if (c.before.isZero(0.0) && c.after.isZero(0.0)) {
            return Error{ErrorCode::does_not_fit, "all nodes from " + quoted(names.front()) + " to " +
                                                      quoted(names.back()) + " are at one place"};
        }
        if (c.before.isZero(0.0) || c.after.isZero(0.0)) {
            c.kind = CornerKind::end;
            (c.before.isZero(0.0) ? c.before : c.after) = c.before.isZero(0.0) ? c.after : c.before;
            continue;
        }
        const double sine = cross(c.before, c.after);
        const double one_plus_cosine = 1.0 + c.before.dot(c.after);
        if (one_plus_cosine < k_turn_back) {
            return Error{ErrorCode::does_not_fit, "the line turns back on itself at " + quoted(names[i])};
        }
        if ((std::abs(sine) < k_straight_turn && one_plus_cosine > 1.0) || !stands_for_its_place(nodes, closed, i)) {
            continue;
        }
        c.kind = CornerKind::turn;
        c.side = sine > 0.0 ? 1.0 : -1.0;
        c.tan_half = std::abs(sine) / one_plus_cosine;
    }
    return std::monostate{};
}

Status check_room(const std::vector<Corner>& corners, const std::vector<std::string>& names, bool closed,
                  double offset_mm) {
    const std::size_t n = corners.size();
    std::size_t first = 0;
    while (first < n && corners[first].kind == CornerKind::on_straight) {
        ++first;
    }
    std::size_t from = first;
    for (std::size_t step = 1; step <= n && first < n; ++step) {
        const std::size_t to = (first + step) % n;
        if (corners[to].kind == CornerKind::on_straight) {
            continue;
        }
        if (closed || to > from) {
            const double room = (corners[to].p_mm - corners[from].p_mm).norm();
            const double need = corners[from].setback_at(offset_mm) + corners[to].setback_at(offset_mm);
            if (need > room + k_room_slack_mm && to != from) {
                return no_room(corners[from], corners[to], names[from], names[to], room, offset_mm);
            }
        }
        from = to;
    }
    return std::monostate{};
}

}  // namespace sillwright::geometry
