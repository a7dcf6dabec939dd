#include "geometry/parallel.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <set>
#include <string>

#include "geometry/length_text.h"
#include "geometry/piece_joining.h"
#include "geometry/segment_intersection.h"

// The parallel lies on the border of the band swept by a disc that rolls along
// the profile. That border is made of the raw parallels to both sides and the
// circles about an open chain's ends. So: cut the raw parallel of the asked
// side wherever it meets any of these; then each piece is wholly on the border
// or wholly inside the band, and its middle tells which; keep the ones on the
// border and join them up.

namespace sillwright::geometry {

namespace {

using Eigen::Vector2d;

/// How near to both curves a meeting counts. Too many cuts do no harm, and a
/// grazing meeting is uncertain by 1e-6 mm along the curves at radii of metres.
constexpr double k_meeting_slack_mm = 1e-6;
/// Pieces shorter than this are dropped: a thousandth of the joint.
constexpr double k_shortest_piece_mm = 1e-9;
/// A chain shorter than this is made of the crumbs about one joint.
constexpr double k_shortest_chain_mm = 1e-4;
/// How much nearer than the distance a kept piece may be: ten times the rounding
/// of coordinates of 10 m, a tenth of what the header promises.
constexpr double k_nearer_mm = 1e-8;
/// Half of this turn times the distance is the gap that a joint leaves without
/// an arc: rounding in a tangent joint.
constexpr double k_tangent_rad = 1e-9;
/// Numbers beyond 1 km are slips, and their rounding would show.
constexpr double k_largest_mm = 1e6;
/// A distance must stand clear of the joints, which are 3e-6 mm wide.
constexpr double k_least_distance_mm = 1e-4;

double cross(const Vector2d& a, const Vector2d& b) {
    return a.x() * b.y() - a.y() * b.x();
}
Vector2d left_of(const Vector2d& direction) {
    return {-direction.y(), direction.x()};
}

Error invalid(std::string message) {
    return {ErrorCode::invalid_argument, std::move(message)};
}

// ---- what is refused -------------------------------------------------------

/// False for what is not a number too.
bool within_reach(const Vector2d& p) {
    return p.allFinite() && p.cwiseAbs().maxCoeff() <= 2.0 * k_largest_mm;  // an arc's centre may lie outside
}

bool is_sound(const LineSegment& line) {
    return within_reach(line.from) && within_reach(line.to);
}

bool is_sound(const ArcSegment& arc) {
    return within_reach(arc.centre) && std::isfinite(in_rad(arc.start)) && std::isfinite(in_rad(arc.sweep)) &&
           arc.radius_mm > 0.0 && arc.radius_mm <= 2.0 * k_largest_mm &&
           std::abs(in_rad(arc.sweep)) <= 2.0 * std::numbers::pi * (1.0 + k_tangent_rad);
}

bool is_sound(const Segment& segment) {
    return std::visit([](const auto& shape) { return is_sound(shape); }, segment.shape) &&
           length(segment) >= millimetres(k_shortest_piece_mm);
}

std::optional<Error> refuse_profile(const Profile& profile) {
    const std::size_t n = profile.segments.size();
    if (n == 0) {
        return invalid("An empty profile has no parallel.");
    }
    for (std::size_t i = 0; i < n; ++i) {
        if (!is_sound(profile.segments[i])) {
            return invalid("Segment " + std::to_string(i + 1) +
                           " of the profile has no length, or a number that is not finite or beyond 2 km.");
        }
    }
    for (std::size_t i = 0; i + (profile.closed ? 0 : 1) < n; ++i) {
        const Vector2d gap = start_point(profile.segments[(i + 1) % n]) - end_point(profile.segments[i]);
        if (gap.norm() > in_mm(k_joint)) {
            return invalid("Segment " + std::to_string(i + 1) + " of the profile does not end where the next begins.");
        }
    }
    return std::nullopt;
}

std::optional<Error> refuse_distance(double d) {
    if (!std::isfinite(d) || std::abs(d) > k_largest_mm) {
        return invalid("The distance of a parallel must be a number within 1 km.");
    }
    if (d != 0.0 && std::abs(d) < k_least_distance_mm) {
        return invalid("The distance of a parallel must be 0.0001 mm or more, or zero for the profile itself.");
    }
    return std::nullopt;
}

// ---- the raw parallel ------------------------------------------------------

/// One segment of the raw parallel, and the source arc it comes from, if any.
struct RawSegment {
    Segment segment;
    std::optional<std::size_t> source_arc;
};

std::optional<Segment> shifted(const LineSegment& line, std::size_t node, double d) {
    const Vector2d shift = d * left_of((line.to - line.from).normalized());
    return Segment{LineSegment{line.from + shift, line.to + shift}, node};
}

/// None if the rounding is used up: what would be left lies inside the band.
std::optional<Segment> shifted(const ArcSegment& arc, std::size_t node, double d) {
    ArcSegment moved = arc;
    moved.radius_mm += in_rad(arc.sweep) > 0.0 ? -d : d;
    const double size = moved.radius_mm * std::abs(in_rad(arc.sweep));
    return size < k_shortest_piece_mm ? std::nullopt : std::optional{Segment{moved, node}};
}

/// The arc about the joint of two segments, where the asked side is the outer one.
std::optional<Segment> arc_about_joint(const Segment& before, const Segment& after, double d) {
    const Vector2d in = direction_at(before, 1.0);
    const Vector2d out = direction_at(after, 0.0);
    double turn = std::atan2(cross(in, out), in.dot(out));
    if (std::numbers::pi - std::abs(turn) < k_tangent_rad) {
        turn = -std::copysign(std::numbers::pi, d);  // a cusp is an outer corner to both sides
    }
    const bool outer = d > 0.0 ? turn < 0.0 : turn > 0.0;
    if (!outer || std::abs(turn) < k_tangent_rad) {
        return std::nullopt;
    }
    const Vector2d ray = d * left_of(in);
    const Angle start = radians(std::atan2(ray.y(), ray.x()));
    return Segment{ArcSegment{end_point(before), std::abs(d), start, radians(turn)}, after.node};
}

std::vector<RawSegment> raw_parallel(const Profile& profile, double d) {
    std::vector<RawSegment> raw;
    const std::size_t n = profile.segments.size();
    for (std::size_t i = 0; i < n; ++i) {
        const Segment& segment = profile.segments[i];
        const bool is_arc = std::holds_alternative<ArcSegment>(segment.shape);
        const auto moved =
            std::visit([&](const auto& shape) { return shifted(shape, segment.node, d); }, segment.shape);
        if (moved) {
            raw.push_back({*moved, is_arc ? std::optional{i} : std::nullopt});
        }
        if (profile.closed || i + 1 < n) {
            if (const auto arc = arc_about_joint(segment, profile.segments[(i + 1) % n], d)) {
                raw.push_back({*arc, std::nullopt});
            }
        }
    }
    return raw;
}

Segment circle_about(const Vector2d& centre, double radius) {
    return {ArcSegment{centre, radius, radians(0.0), radians(2.0 * std::numbers::pi)}, 0};
}

/// The rest of what bounds the band: the other side, and the ends of an open chain.
std::vector<Segment> other_borders(const Profile& profile, double d) {
    std::vector<Segment> borders;
    for (const RawSegment& raw : raw_parallel(profile, -d)) {
        borders.push_back(raw.segment);
    }
    if (!profile.closed) {
        borders.push_back(circle_about(start_point(profile.segments.front()), std::abs(d)));
        borders.push_back(circle_about(end_point(profile.segments.back()), std::abs(d)));
    }
    return borders;
}

// ---- cutting ---------------------------------------------------------------

struct Box {
    Vector2d low, high;
};

Box box_about(const Segment& segment) {
    const Vector2d slack = Vector2d::Constant(k_meeting_slack_mm);
    if (const auto* arc = std::get_if<ArcSegment>(&segment.shape)) {
        const Vector2d reach = Vector2d::Constant(arc->radius_mm) + slack;
        return {arc->centre - reach, arc->centre + reach};
    }
    const Vector2d a = start_point(segment);
    const Vector2d b = end_point(segment);
    return {a.cwiseMin(b) - slack, a.cwiseMax(b) + slack};
}

bool apart(const Box& a, const Box& b) {
    return (a.low.array() > b.high.array()).any() || (b.low.array() > a.high.array()).any();
}

/// Fractions at which each raw segment is to be cut.
using Cuts = std::vector<std::vector<double>>;

Cuts find_cuts(const std::vector<RawSegment>& raw, const std::vector<Segment>& borders) {
    std::vector<Segment> all;
    std::transform(raw.begin(), raw.end(), std::back_inserter(all), [](const RawSegment& r) { return r.segment; });
    all.insert(all.end(), borders.begin(), borders.end());
    std::vector<Box> boxes;
    std::transform(all.begin(), all.end(), std::back_inserter(boxes), box_about);
    Cuts cuts(raw.size(), {0.0, 1.0});
    for (std::size_t i = 0; i < raw.size(); ++i) {
        for (std::size_t j = i + 1; j < all.size(); ++j) {
            if (apart(boxes[i], boxes[j])) {
                continue;
            }
            // Both are cut at the same places, found once, so that the pieces fit.
            for (const Vector2d& p : meeting_points(all[i], all[j], millimetres(k_meeting_slack_mm))) {
                cuts[i].push_back(nearest_fraction(all[i], p));
                if (j < raw.size()) {
                    cuts[j].push_back(nearest_fraction(all[j], p));
                }
            }
        }
    }
    return cuts;
}

std::vector<Piece> cut_up(const std::vector<RawSegment>& raw, Cuts cuts) {
    std::vector<Piece> pieces;
    for (std::size_t i = 0; i < raw.size(); ++i) {
        std::sort(cuts[i].begin(), cuts[i].end());
        const double shortest = k_shortest_piece_mm / in_mm(length(raw[i].segment));
        double from = 0.0;
        for (const double cut : cuts[i]) {
            const bool room_after = cut == 1.0 || 1.0 - cut > shortest;
            if (cut - from > shortest && room_after) {
                pieces.push_back(make_piece(raw[i].segment, i, from, cut));
                from = cut;
            }
        }
    }
    return pieces;
}

bool on_border(const Piece& piece, const Profile& profile, double d) {
    const Length least = millimetres(std::abs(d) - k_nearer_mm);
    return std::ranges::all_of(std::array{0.5, 0.25, 0.75}, [&](double fraction) {
        return nearest_point(profile, point_at(piece.segment, fraction)).distance >= least;
    });
}

// ---- sorting out ---------------------------------------------------------------

/// Whether two pieces run the same way over the same ground. Crumbs are let be.
bool are_doubles(const Piece& a, const Piece& b) {
    return meet(a.start, b.start) && meet(a.end, b.end) && length(a.segment) > 2.0 * k_joint &&
           meet(point_at(a.segment, 0.5), point_at(b.segment, 0.5));
}

/// Leaves one of each pair of doubles, the one further from the source: at a very
/// shallow inner corner the stubs lie within tolerance of the parallel itself.
void drop_doubles(std::vector<Piece>& pieces, const Profile& profile) {
    const auto distance = [&](const Piece& p) { return nearest_point(profile, point_at(p.segment, 0.5)).distance; };
    std::vector<bool> dropped(pieces.size(), false);
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        for (std::size_t k = i + 1; k < pieces.size(); ++k) {
            if (!dropped[i] && !dropped[k] && are_doubles(pieces[i], pieces[k])) {
                dropped[distance(pieces[k]) > distance(pieces[i]) ? i : k] = true;
            }
        }
    }
    std::size_t at = 0;
    std::erase_if(pieces, [&](const Piece&) { return dropped[at++]; });
}

/// An end of the result may stand free where another part of the border takes over.
bool may_end_at(const Vector2d& p, const std::vector<Segment>& borders) {
    return std::ranges::any_of(borders, [&](const Segment& b) { return distance_to(b, p) <= k_joint; });
}

std::vector<std::size_t> vanished_nodes(const Profile& profile, const std::set<std::size_t>& surviving_arcs) {
    std::set<std::size_t> gone;
    std::set<std::size_t> left;
    for (std::size_t i = 0; i < profile.segments.size(); ++i) {
        if (std::holds_alternative<ArcSegment>(profile.segments[i].shape)) {
            (surviving_arcs.contains(i) ? left : gone).insert(profile.segments[i].node);
        }
    }
    std::vector<std::size_t> nodes;
    std::set_difference(gone.begin(), gone.end(), left.begin(), left.end(), std::back_inserter(nodes));
    return nodes;
}

/// A stub within tolerance of the border at a corner that turns by t is d t / 2
/// long and d t^2 / 4 inside at its middle; twice that length, for arcs.
Length longest_stub(double d) {
    return millimetres(2.0 * std::sqrt(std::abs(d) * k_nearer_mm) + in_mm(k_joint));
}

}  // namespace

Result<Parallel> parallel(const Profile& profile, Length distance) {
    const double d = in_mm(distance);
    if (auto error = refuse_profile(profile)) {
        return *error;
    }
    if (auto error = refuse_distance(d)) {
        return *error;
    }
    if (d == 0.0) {
        return Parallel{{profile}, {}, false};
    }
    const std::vector<RawSegment> raw = raw_parallel(profile, d);
    const std::vector<Segment> borders = other_borders(profile, d);
    std::vector<Piece> pieces = cut_up(raw, find_cuts(raw, borders));

    Parallel result;
    const std::size_t all = pieces.size();
    std::erase_if(pieces, [&](const Piece& piece) { return !on_border(piece, profile, d); });
    drop_doubles(pieces, profile);
    if (prune(pieces, [&](const Vector2d& p) { return may_end_at(p, borders); }) > longest_stub(d)) {
        return Error{ErrorCode::kernel_failure,
                     "The parallel at " + print_length(distance, WrittenUnit::mm, 4) +
                         " could not be joined up; try a distance a little larger or smaller."};
    }
    result.crossings_removed = pieces.size() < all;

    std::vector<std::vector<Piece>> chains = join(pieces);
    std::ranges::sort(chains, {}, [](const std::vector<Piece>& c) { return std::pair{c[0].whole_index, c[0].from}; });
    std::set<std::size_t> surviving_arcs;
    for (const std::vector<Piece>& chain : chains) {
        Profile joined = profile_of(chain);
        if (length(joined) < millimetres(k_shortest_chain_mm)) {
            continue;
        }
        for (const Piece& piece : chain) {
            if (const auto arc = raw[piece.whole_index].source_arc) {
                surviving_arcs.insert(*arc);
            }
        }
        result.chains.push_back(std::move(joined));
    }
    result.vanished = vanished_nodes(profile, surviving_arcs);
    return result;
}

}  // namespace sillwright::geometry
