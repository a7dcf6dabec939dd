#include "geometry/profile.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>

#include "geometry/length_text.h"

namespace sillwright::geometry {

namespace {

using Eigen::Vector2d;

/// Two places nearer than this are one: rounding of coordinates up to 1 km
/// stays below it, and no shop measures it.
constexpr double k_same_place_mm = 1e-9;
/// A turn below this is rounding in the directions, not a corner.
constexpr double k_straight_rad = 1e-9;
/// A corner this near to half a turn has its two straights on top of each other:
/// 1 m away they would be 1 micrometre apart.
constexpr double k_turned_back_rad = 1e-6;
/// Coordinates and radii beyond this (1 km) are slips, and rounding would show.
constexpr double k_largest_mm = 1e6;
/// A finer chord tolerance would ask for millions of points and mean nothing.
constexpr double k_least_chord_tolerance_mm = 1e-7;
/// An arc is cut at least this fine, so that a coarse tolerance leaves a shape.
constexpr double k_widest_chord_rad = std::numbers::pi / 2.0;

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}

std::string millimetre_text(double mm) {
    return print_length(millimetres(mm), WrittenUnit::mm, 3);
}

Error invalid(std::string message) {
    return {ErrorCode::invalid_argument, std::move(message)};
}
Error does_not_fit(std::string message) {
    return {ErrorCode::does_not_fit, std::move(message)};
}

/// A node with what its neighbours make of it.
struct Corner {
    Vector2d p;
    double radius;
    std::size_t node;
    double turn = 0.0;     ///< From the straight before to the one after, anticlockwise.
    double setback = 0.0;  ///< From the corner to where the rounding starts.
};

std::optional<Error> refuse_node(const ProfileNode& node, std::size_t index) {
    const std::string name = "Node " + std::to_string(index + 1);
    const double radius = in_mm(node.radius);
    if (!node.p_mm.allFinite() || node.p_mm.cwiseAbs().maxCoeff() > k_largest_mm) {
        return invalid(name + " has a coordinate that is not a number within 1 km; give its place in millimetres.");
    }
    if (!(radius >= 0.0) || radius > k_largest_mm) {
        return invalid(name + " has a radius that is not a number from 0 to 1 km; use 0 for a sharp corner.");
    }
    return std::nullopt;
}

bool same_place(const Corner& a, const Corner& b) {
    return (a.p - b.p).norm() < k_same_place_mm;
}

/// The nodes with neighbours at one place made one.
std::vector<Corner> distinct_corners(const std::vector<ProfileNode>& nodes, bool closed) {
    std::vector<Corner> corners;
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        const Corner corner{nodes[i].p_mm, in_mm(nodes[i].radius), i};
        if (!corners.empty() && same_place(corners.back(), corner)) {
            corners.back().radius = std::max(corners.back().radius, corner.radius);
        } else {
            corners.push_back(corner);
        }
    }
    while (closed && corners.size() > 1 && same_place(corners.front(), corners.back())) {
        corners.front().radius = std::max(corners.front().radius, corners.back().radius);
        corners.pop_back();
    }
    return corners;
}

/// Fills in turn and setback of the corner between `before` and `after`.
void measure_corner(Corner& corner, const Corner& before, const Corner& after) {
    const Vector2d in = (corner.p - before.p).normalized();
    const Vector2d out = (after.p - corner.p).normalized();
    corner.turn = std::atan2(cross(in, out), in.dot(out));
    if (std::abs(corner.turn) < k_straight_rad) {
        corner.turn = 0.0;
    }
    corner.setback = corner.radius * std::tan(std::abs(corner.turn) / 2.0);
}

bool turns_back(const Corner& corner) {
    return std::abs(corner.turn) > std::numbers::pi - k_turned_back_rad;
}

Error straight_too_short(const Corner& a, const Corner& b, double straight) {
    const Corner& larger = a.setback >= b.setback ? a : b;
    const Corner& other = a.setback >= b.setback ? b : a;
    const double room = straight - other.setback;
    const std::string start = "The radius " + millimetre_text(larger.radius) + " at node " +
                              std::to_string(larger.node + 1) + " does not fit: the straight to node " +
                              std::to_string(other.node + 1) + " is " + millimetre_text(straight) + " long. ";
    // Rounded down, so that the number can be typed in as it stands.
    const auto down = [](double mm) { return millimetre_text(std::floor(mm * 1000.0) / 1000.0); };
    if (room >= 0.0) {
        return does_not_fit(start + "The largest radius that fits is " +
                            down(room / std::tan(std::abs(larger.turn) / 2.0)) + ".");
    }
    const double both = std::tan(std::abs(a.turn) / 2.0) + std::tan(std::abs(b.turn) / 2.0);
    return does_not_fit(start + "The largest radius that fits at both nodes is " + down(straight / both) + ".");
}

/// Turns and setbacks of all corners, or what is wrong with one of them.
std::optional<Error> measure_corners(std::vector<Corner>& corners, bool closed) {
    const std::size_t n = corners.size();
    const std::size_t first = closed ? 0 : 1;
    const std::size_t last = closed ? n : n - 1;
    for (std::size_t i = first; i < last; ++i) {
        measure_corner(corners[i], corners[(i + n - 1) % n], corners[(i + 1) % n]);
        if (turns_back(corners[i])) {
            return does_not_fit("The chain turns back on itself at node " + std::to_string(corners[i].node + 1) +
                                "; move that node, or a neighbour, to one side.");
        }
    }
    for (std::size_t i = 0; i + (closed ? 0 : 1) < n; ++i) {
        const Corner& a = corners[i];
        const Corner& b = corners[(i + 1) % n];
        const double straight = (b.p - a.p).norm();
        if (a.setback + b.setback > straight + k_same_place_mm) {
            return straight_too_short(a, b, straight);
        }
    }
    return std::nullopt;
}

void add_rounding(Profile& profile, const Corner& corner, const Vector2d& in) {
    if (corner.setback < k_same_place_mm) {
        return;
    }
    // The centre lies on the side the chain turns to: left when anticlockwise.
    const double side = corner.turn > 0.0 ? 1.0 : -1.0;
    const Vector2d to_centre = side * Vector2d{-in.y(), in.x()};
    const Vector2d centre = corner.p - corner.setback * in + corner.radius * to_centre;
    const Angle start = radians(std::atan2(-to_centre.y(), -to_centre.x()));
    profile.segments.push_back({ArcSegment{centre, corner.radius, start, radians(corner.turn)}, corner.node});
}

void add_straight(Profile& profile, const Corner& a, const Corner& b) {
    const Vector2d along = (b.p - a.p).normalized();
    const double free = (b.p - a.p).norm() - a.setback - b.setback;
    if (free >= k_same_place_mm) {
        profile.segments.push_back({LineSegment{a.p + a.setback * along, b.p - b.setback * along}, a.node});
    }
}

Vector2d direction(const Corner& a, const Corner& b) {
    return (b.p - a.p).normalized();
}

double chord_step(double radius, double tolerance) {
    // 1 - cos(step / 2) = tolerance / radius, in the form that keeps its digits for small steps.
    const double sine = std::sqrt(std::min(1.0, tolerance / (2.0 * radius)));
    return std::min(4.0 * std::asin(sine), k_widest_chord_rad);
}

std::size_t chord_count(const Segment& segment, double tolerance) {
    const auto* arc = std::get_if<ArcSegment>(&segment.shape);
    if (arc == nullptr) {
        return 1;
    }
    const double steps = std::abs(in_rad(arc->sweep)) / chord_step(arc->radius_mm, tolerance);
    return std::max<std::size_t>(1, static_cast<std::size_t>(std::ceil(steps)));
}

/// Angle through which the ray from `p` to a point running along the segment turns.
double angle_seen(const Segment& segment, const Vector2d& p) {
    const Vector2d a = start_point(segment) - p;
    const Vector2d b = end_point(segment) - p;
    const double side = cross(a, b) + 0.0;  // + 0.0 makes a negative zero positive
    double angle = std::atan2(side, a.dot(b));
    if (const auto* arc = std::get_if<ArcSegment>(&segment.shape)) {
        // Between chord and arc the two run round p on different sides.
        const bool anticlockwise = in_rad(arc->sweep) > 0.0;
        const bool full_circle = (a - b).norm() < k_same_place_mm && std::abs(in_rad(arc->sweep)) > std::numbers::pi;
        const bool beyond_chord = full_circle || (anticlockwise ? side < 0.0 : side >= 0.0);
        if (beyond_chord && (p - arc->centre).norm() < arc->radius_mm) {
            angle += anticlockwise ? 2.0 * std::numbers::pi : -2.0 * std::numbers::pi;
        }
    }
    return angle;
}

}  // namespace

Result<Profile> make_profile(const std::vector<ProfileNode>& nodes, bool closed) {
    const std::size_t least = closed ? 3 : 2;
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        if (auto error = refuse_node(nodes[i], i)) {
            return *error;
        }
    }
    std::vector<Corner> corners = distinct_corners(nodes, closed);
    if (corners.size() < least) {
        return invalid(std::string{closed ? "A closed" : "An open"} + " profile needs at least " +
                       std::to_string(least) + " nodes in different places; this one has " +
                       std::to_string(corners.size()) + ".");
    }
    if (auto error = measure_corners(corners, closed)) {
        return *error;
    }
    Profile profile{{}, closed};
    const std::size_t n = corners.size();
    for (std::size_t i = 0; i < n; ++i) {
        const bool inner = closed || (i > 0 && i + 1 < n);
        if (inner) {
            add_rounding(profile, corners[i], direction(corners[(i + n - 1) % n], corners[i]));
        }
        if (closed || i + 1 < n) {
            add_straight(profile, corners[i], corners[(i + 1) % n]);
        }
    }
    return profile;
}

Length length(const Profile& profile) {
    Length sum;
    for (const Segment& segment : profile.segments) {
        sum = sum + length(segment);
    }
    return sum;
}

double enclosed_area_mm2(const Profile& profile) {
    if (profile.segments.empty()) {
        return 0.0;
    }
    // About the first point, so that a profile far from the origin keeps its digits.
    const Vector2d base = start_point(profile.segments.front());
    double twice = 0.0;
    for (const Segment& segment : profile.segments) {
        twice += cross(start_point(segment) - base, end_point(segment) - base);
        if (const auto* arc = std::get_if<ArcSegment>(&segment.shape)) {
            const double sweep = in_rad(arc->sweep);
            twice += arc->radius_mm * arc->radius_mm * (sweep - std::sin(sweep));
        }
    }
    return twice / 2.0;
}

NearestOnProfile nearest_point(const Profile& profile, const Vector2d& p_mm) {
    assert(!profile.segments.empty());
    std::optional<NearestOnProfile> best;
    Length before;
    for (std::size_t i = 0; i < profile.segments.size(); ++i) {
        const Segment& segment = profile.segments[i];
        const double fraction = nearest_fraction(segment, p_mm);
        const Vector2d foot = point_at(segment, fraction);
        const Length distance = millimetres((foot - p_mm).norm());
        if (!best || distance < best->distance) {
            best = NearestOnProfile{foot, distance, i, before + fraction * length(segment)};
        }
        before = before + length(segment);
    }
    return *best;
}

bool contains(const Profile& closed, const Vector2d& p_mm) {
    assert(closed.closed && !closed.segments.empty());
    if (nearest_point(closed, p_mm).distance <= millimetres(k_same_place_mm)) {
        return true;
    }
    double angle = 0.0;
    for (const Segment& segment : closed.segments) {
        angle += angle_seen(segment, p_mm);
    }
    return std::abs(angle) > std::numbers::pi;  // whole turns: 0 outside, one or more inside
}

Profile reversed(const Profile& profile) {
    Profile back{{}, profile.closed};
    for (auto segment = profile.segments.rbegin(); segment != profile.segments.rend(); ++segment) {
        back.segments.push_back(reversed(*segment));
    }
    return back;
}

Result<std::vector<Vector2d>> polyline(const Profile& profile, Length chord_tolerance) {
    const double tolerance = in_mm(chord_tolerance);
    if (profile.segments.empty()) {
        return invalid("An empty profile has no points.");
    }
    if (!(tolerance >= k_least_chord_tolerance_mm) || !std::isfinite(tolerance)) {
        return invalid("The chord tolerance must be a length of 0.0000001 mm or more.");
    }
    std::vector<Vector2d> points{start_point(profile.segments.front())};
    for (const Segment& segment : profile.segments) {
        const std::size_t chords = chord_count(segment, tolerance);
        for (std::size_t k = 1; k <= chords; ++k) {
            points.push_back(point_at(segment, static_cast<double>(k) / static_cast<double>(chords)));
        }
    }
    if (profile.closed) {
        points.back() = points.front();
    }
    return points;
}

}  // namespace sillwright::geometry
