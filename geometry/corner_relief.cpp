#include "geometry/corner_relief.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <string>
#include <utility>

#include "geometry/piece_joining.h"
#include "geometry/segment_intersection.h"
#include "geometry/text.h"

namespace sillwright::geometry {

using Eigen::Vector2d;

namespace {

/// Edges whose lengths differ by less are of one length: rounding of coordinates up to 1 km stays below it.
constexpr double k_same_length_mm = 1e-6;
/// What is left of an edge between two reliefs must be longer than a joint is wide, else they meet.
constexpr double k_least_left_mm = 2.0 * in_mm(k_joint);
/// Segments as near as this meet: the width of a joint.
constexpr Length k_meeting_slack = k_joint;
/// An arc and the edge that it leaves run together about their joint by less than this; a crossing is further away.
constexpr double k_joint_reach_mm = 0.01;
/// A length that no edge has.
constexpr double k_never = std::numeric_limits<double>::infinity();

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}
Vector2d left_of(const Vector2d& direction) {
    return {-direction.y(), direction.x()};
}

std::string place_text(const Vector2d& p) {
    return "at (" + text(millimetres(p.x())) + ", " + text(millimetres(p.y())) + ")";
}

Error does_not_fit(std::string message) {
    return {ErrorCode::does_not_fit, std::move(message)};
}

/// A circle at a corner, and how much of the two edges it takes.
struct Relief {
    Vector2d corner, centre;
    double before_mm = 0.0, after_mm = 0.0;
};

/// How far along the segment from one of its ends, at the corner, the circle about `centre` goes on; k_never if beyond
/// its other end. `guess` is what it would be on a straight.
double reach_along(const Segment& segment, bool from_start, const Relief& relief, double radius, double guess) {
    const double whole = in_mm(length(segment));
    if (guess <= 0.0 || std::holds_alternative<LineSegment>(segment.shape)) {
        return guess < whole ? guess : k_never;
    }
    const Segment circle{ArcSegment{relief.centre, radius, radians(0.0), radians(2.0 * std::numbers::pi)}, 0};
    double nearest = k_never;
    for (const Vector2d& p : meeting_points(segment, circle, k_meeting_slack)) {
        const double fraction = nearest_fraction(segment, p);
        const double along = whole * (from_start ? fraction : 1.0 - fraction);
        // The circle goes through the corner itself; nothing that matters lies within half of what is expected.
        const bool is_crossing = along > 0.5 * guess && along < whole;
        nearest = is_crossing ? std::min(nearest, along) : nearest;
    }
    return nearest;
}

std::optional<Relief> relief_at(const Segment& before, const Segment& after, double radius, ReliefKind kind) {
    const Vector2d in = direction_at(before, 1.0);
    const Vector2d out = direction_at(after, 0.0);
    const double turn = -std::atan2(cross(in, out), in.dot(out));
    if (turn < in_rad(k_relief_turn)) {
        return std::nullopt;
    }
    Relief relief{end_point(before), Vector2d::Zero()};
    const double longer = in_mm(length(before)) - in_mm(length(after));
    double guess_before = 2.0 * radius * std::sin(turn / 2.0);
    double guess_after = guess_before;
    if (kind == ReliefKind::diagonal || std::abs(longer) < k_same_length_mm) {
        // Between the way back and the way on; they are opposite at no corner.
        relief.centre = relief.corner + radius * (out - in).normalized();
    } else {
        // The air is on the right of both edges.
        relief.centre = relief.corner - radius * left_of(longer > 0.0 ? in : out);
        guess_before = longer > 0.0 ? 0.0 : 2.0 * radius * std::sin(turn);
        guess_after = longer > 0.0 ? 2.0 * radius * std::sin(turn) : 0.0;
    }
    relief.before_mm = reach_along(before, false, relief, radius, guess_before);
    relief.after_mm = reach_along(after, true, relief, radius, guess_after);
    return relief;
}

/// Clockwise about the relief's middle.
Segment arc_between(const Relief& relief, double radius, const Vector2d& from, const Vector2d& to, std::size_t node) {
    const Vector2d a = from - relief.centre;
    const Vector2d b = to - relief.centre;
    double sweep = std::atan2(cross(b, a), b.dot(a));
    if (sweep <= 0.0) {
        sweep += 2.0 * std::numbers::pi;
    }
    return {ArcSegment{relief.centre, radius, radians(std::atan2(a.y(), a.x())), radians(-sweep)}, node};
}

/// Where the circles of two reliefs meet beyond the edge between their corners; none if they do not, or if it is not
/// between them.
std::optional<Vector2d> meeting_of(const Relief& first, const Relief& second, double radius) {
    const Vector2d edge = (second.corner - first.corner).normalized();
    const Vector2d apart = second.centre - first.centre;
    const double half = apart.norm() / 2.0;
    if (apart.dot(edge) <= 0.0 || half >= radius) {
        return std::nullopt;
    }
    const Vector2d middle = first.centre + apart / 2.0;
    const Vector2d point = middle + std::sqrt(radius * radius - half * half) * left_of(apart / (2.0 * half));
    return cross(edge, point - first.corner) >= 0.0 ? std::optional(point) : std::nullopt;
}

/// What is left of one segment between the reliefs at its ends.
struct Kept {
    bool gone = false;                  ///< The two reliefs meet there,
    Vector2d point = Vector2d::Zero();  ///< in this point.
    double from = 0.0, to = 1.0;
};

Result<Kept> kept_of(const Segment& segment, const std::optional<Relief>& at_start, const std::optional<Relief>& at_end,
                     double radius) {
    const double whole = in_mm(length(segment));
    const double from = at_start ? at_start->after_mm : 0.0;
    const double to = at_end ? at_end->before_mm : 0.0;
    if (from + to < whole - k_least_left_mm) {
        return Kept{false, Vector2d::Zero(), from / whole, 1.0 - to / whole};
    }
    if (at_start && at_end) {
        if (const auto point = meeting_of(*at_start, *at_end, radius)) {
            return Kept{true, *point, 0.0, 0.0};
        }
        return does_not_fit("The reliefs of the two inside corners " + place_text(at_start->corner) + " and " +
                            place_text(at_end->corner) + " run over one another: the edge between them is " +
                            text(millimetres(whole)) + " long and the bit too wide for it. Take a smaller bit.");
    }
    const Vector2d corner = at_start ? at_start->corner : at_end->corner;
    return does_not_fit("The relief of the inside corner " + place_text(corner) + " takes more than the edge beside " +
                        "it, which is " + text(millimetres(whole)) + " long. Take a smaller bit.");
}

struct Built {
    Profile profile;
    std::vector<std::size_t> arcs;  ///< Which of its segments are reliefs.
};

/// Where a relief runs into something that is not its neighbour.
std::optional<Vector2d> clash(const Built& built) {
    const auto& segments = built.profile.segments;
    const std::size_t n = segments.size();
    for (const std::size_t i : built.arcs) {
        const auto& arc = std::get<ArcSegment>(segments[i].shape);
        for (std::size_t k = 0; k < n; ++k) {
            if (k == i || distance_to(segments[k], arc.centre) > millimetres(arc.radius_mm) + k_meeting_slack) {
                continue;
            }
            for (const Vector2d& p : meeting_points(segments[i], segments[k], k_meeting_slack)) {
                const bool at_start = (k + 1) % n == i && (p - start_point(segments[i])).norm() < k_joint_reach_mm;
                const bool at_end = (i + 1) % n == k && (p - end_point(segments[i])).norm() < k_joint_reach_mm;
                if (!at_start && !at_end) {
                    return p;
                }
            }
        }
    }
    return std::nullopt;
}

}  // namespace

Result<RelievedOutline> relieved(const Profile& outline, Length radius, ReliefKind kind) {
    const double r = in_mm(radius);
    if (!outline.closed || outline.segments.empty() || enclosed_area_mm2(outline) <= 0.0) {
        return Error{ErrorCode::invalid_argument,
                     "Inside corners are relieved on a closed outline that runs anticlockwise."};
    }
    if (!(r > 0.0) || !std::isfinite(r)) {
        return Error{ErrorCode::invalid_argument, "A relief's radius must be a length greater than zero."};
    }
    const std::size_t n = outline.segments.size();
    std::vector<std::optional<Relief>> at_start(n);
    for (std::size_t i = 0; i < n; ++i) {
        at_start[i] = relief_at(outline.segments[(i + n - 1) % n], outline.segments[i], r, kind);
    }
    std::vector<Kept> kept;
    for (std::size_t i = 0; i < n; ++i) {
        auto one = kept_of(outline.segments[i], at_start[i], at_start[(i + 1) % n], r);
        if (!one) {
            return one.error();
        }
        kept.push_back(std::move(one).value());
    }
    Built built{{{}, true}, {}};
    RelievedOutline result;
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t before = (i + n - 1) % n;
        const Segment& segment = outline.segments[i];
        if (at_start[i]) {
            const Kept& arriving = kept[before];
            const Vector2d from = arriving.gone ? arriving.point : point_at(outline.segments[before], arriving.to);
            const Vector2d to = kept[i].gone ? kept[i].point : point_at(segment, kept[i].from);
            built.arcs.push_back(built.profile.segments.size());
            built.profile.segments.push_back(arc_between(*at_start[i], r, from, to, segment.node));
            result.cuts.push_back({at_start[i]->corner, at_start[i]->centre, before});
        }
        if (!kept[i].gone) {
            const bool whole = kept[i].from == 0.0 && kept[i].to == 1.0;
            built.profile.segments.push_back(whole ? segment : part_of(segment, kept[i].from, kept[i].to));
        }
    }
    if (const auto p = clash(built)) {
        return does_not_fit("The relief of an inside corner runs into another edge of the outline " + place_text(*p) +
                            ". Take a smaller bit, or give the corner more room.");
    }
    result.outline = std::move(built.profile);
    return result;
}

}  // namespace sillwright::geometry
