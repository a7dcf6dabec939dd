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
/// Ends this near are one joint: twice the slack, as both curves are cut at
/// their own nearest points, and room for a dropped piece.
constexpr double k_join_mm = 3e-6;
/// A gap above this is closed by running a piece on; below it is rounding.
constexpr double k_gap_mm = 1e-10;
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
constexpr double k_largest_mm = 1e6;
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

bool is_sound(const LineSegment& line) {
    return line.from.allFinite() && line.to.allFinite();
}
bool is_sound(const ArcSegment& arc) {
    return arc.centre.allFinite() && std::isfinite(in_rad(arc.start)) && std::isfinite(in_rad(arc.sweep)) &&
           arc.radius_mm > 0.0 && arc.radius_mm <= k_largest_mm &&
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
                           " of the profile has no length, or a number that is not finite or beyond 1 km.");
        }
    }
    for (std::size_t i = 0; i + (profile.closed ? 0 : 1) < n; ++i) {
        const Vector2d gap = start_point(profile.segments[(i + 1) % n]) - end_point(profile.segments[i]);
        if (gap.norm() > k_join_mm) {
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

/// A stretch of a raw segment between two cuts.
struct Piece {
    std::size_t raw;
    double from, to;
    Segment segment;
    Vector2d start, end;
};

Piece make_piece(const std::vector<RawSegment>& raw, std::size_t index, double from, double to) {
    const Segment part = part_of(raw[index].segment, from, to);
    return {index, from, to, part, start_point(part), end_point(part)};
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
                pieces.push_back(make_piece(raw, i, from, cut));
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

// ---- joining ---------------------------------------------------------------

bool meet(const Vector2d& a, const Vector2d& b) {
    return (a - b).squaredNorm() <= k_join_mm * k_join_mm;
}

/// Whether two pieces run the same way over the same ground. Crumbs are let be.
bool are_doubles(const Piece& a, const Piece& b) {
    return meet(a.start, b.start) && meet(a.end, b.end) && length(a.segment) > millimetres(2.0 * k_join_mm) &&
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
    return std::ranges::any_of(borders, [&](const Segment& b) { return distance_to(b, p) <= millimetres(k_join_mm); });
}

bool has_neighbours(const std::vector<Piece>& pieces, std::size_t i, const std::vector<Segment>& borders) {
    const Piece& piece = pieces[i];
    const bool closes_on_itself =
        length(piece.segment) > millimetres(k_shortest_chain_mm) && meet(piece.start, piece.end);
    bool before = closes_on_itself;
    bool after = closes_on_itself;
    for (std::size_t k = 0; k < pieces.size() && !(before && after); ++k) {
        before = before || (k != i && meet(pieces[k].end, piece.start));
        after = after || (k != i && meet(pieces[k].start, piece.end));
    }
    return (before || may_end_at(piece.start, borders)) && (after || may_end_at(piece.end, borders));
}

/// Takes out pieces that lead nowhere: at a shallow inner corner the stubs beyond
/// the crossing are within tolerance of the border. Returns the longest taken out.
Length prune(std::vector<Piece>& pieces, const std::vector<Segment>& borders) {
    Length longest;
    for (bool again = true; again;) {
        again = false;
        for (std::size_t i = pieces.size(); i-- > 0;) {
            if (!has_neighbours(pieces, i, borders)) {
                longest = std::max(longest, length(pieces[i].segment));
                pieces.erase(pieces.begin() + static_cast<std::ptrdiff_t>(i));
                again = true;
            }
        }
    }
    return longest;
}

/// Joins pieces end to end, each used once.
class Joiner {
public:
    explicit Joiner(const std::vector<Piece>& pieces) : pieces_{pieces}, used_(pieces.size(), false) {}

    /// Chains as indices of pieces; those with a free start first from there, then loops.
    std::vector<std::vector<std::size_t>> chains() {
        std::vector<std::vector<std::size_t>> all;
        for (const bool free_start : {true, false}) {
            for (std::size_t i = 0; i < pieces_.size(); ++i) {
                if (!used_[i] && (!free_start || starts_free(i))) {
                    all.push_back(chain_from(i));
                }
            }
        }
        return all;
    }

private:
    [[nodiscard]] bool starts_free(std::size_t i) const {
        return std::ranges::none_of(pieces_, [&](const Piece& other) { return meet(other.end, pieces_[i].start); });
    }

    [[nodiscard]] bool runs_on(std::size_t i) const {
        return i + 1 < pieces_.size() && pieces_[i + 1].raw == pieces_[i].raw && pieces_[i + 1].from == pieces_[i].to;
    }

    /// The same raw segment's next piece if it is there, else the nearest start.
    [[nodiscard]] std::optional<std::size_t> next(std::size_t i) const {
        if (runs_on(i)) {
            return i + 1;
        }
        std::optional<std::size_t> best;
        const auto gap = [&](std::size_t k) { return (pieces_[k].start - pieces_[i].end).squaredNorm(); };
        for (std::size_t k = 0; k < pieces_.size(); ++k) {
            if (!used_[k] && meet(pieces_[k].start, pieces_[i].end) && (!best || gap(k) < gap(*best))) {
                best = k;
            }
        }
        return best;
    }

    std::vector<std::size_t> chain_from(std::size_t first) {
        std::vector<std::size_t> chain;
        Length so_far;
        for (std::optional<std::size_t> i = first; i && !used_[*i]; i = next(*i)) {
            used_[*i] = true;
            chain.push_back(*i);
            so_far = so_far + length(pieces_[*i].segment);
            // Where two loops touch, each is closed by itself.
            const bool back = meet(pieces_[*i].end, pieces_[first].start) && !runs_on(*i);
            if (back && so_far > millimetres(k_shortest_chain_mm)) {
                break;
            }
        }
        return chain;
    }

    const std::vector<Piece>& pieces_;
    std::vector<bool> used_;
};

/// Neighbouring pieces of one raw segment made one again.
std::vector<Piece> merged(const std::vector<RawSegment>& raw, const std::vector<Piece>& pieces,
                          const std::vector<std::size_t>& chain) {
    std::vector<Piece> result;
    for (const std::size_t i : chain) {
        const Piece& piece = pieces[i];
        if (!result.empty() && result.back().raw == piece.raw && result.back().to == piece.from) {
            result.back() = make_piece(raw, piece.raw, result.back().from, piece.to);
        } else {
            result.push_back(piece);
        }
    }
    return result;
}

/// Runs the segment on, or back, along itself to beside `p`.
void end_beside(Segment& segment, const Vector2d& p) {
    if (auto* line = std::get_if<LineSegment>(&segment.shape)) {
        const Vector2d along = (line->to - line->from).normalized();
        line->to += (p - line->to).dot(along) * along;
    } else if (auto* arc = std::get_if<ArcSegment>(&segment.shape)) {
        const Vector2d ray = p - arc->centre;
        const double end = in_rad(arc->start + arc->sweep);
        const double further = std::remainder(std::atan2(ray.y(), ray.x()) - end, 2.0 * std::numbers::pi);
        arc->sweep = arc->sweep + radians(further);
    }
}

void close_gaps(Profile& chain) {
    const std::size_t n = chain.segments.size();
    for (std::size_t i = 0; n > 1 && i + (chain.closed ? 0 : 1) < n; ++i) {
        const Vector2d goal = start_point(chain.segments[(i + 1) % n]);
        Segment& segment = chain.segments[i];
        const double gap = (goal - end_point(segment)).norm();
        // A crumb shorter than its gap could be turned round; the gap is then smaller than the joint.
        if (gap > k_gap_mm && in_mm(length(segment)) > 2.0 * gap) {
            end_beside(segment, goal);
        }
    }
}

Profile profile_of(const std::vector<Piece>& pieces) {
    Profile chain;
    for (const Piece& piece : pieces) {
        chain.segments.push_back(piece.segment);
    }
    chain.closed = meet(pieces.back().end, pieces.front().start);
    close_gaps(chain);
    return chain;
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
    return millimetres(2.0 * std::sqrt(std::abs(d) * k_nearer_mm) + k_join_mm);
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
    if (prune(pieces, borders) > longest_stub(d)) {
        return Error{ErrorCode::kernel_failure,
                     "The parallel at " + print_length(distance, WrittenUnit::mm, 4) +
                         " could not be joined up; try a distance a little larger or smaller."};
    }
    result.crossings_removed = pieces.size() < all;

    std::set<std::size_t> surviving_arcs;
    std::vector<std::pair<std::size_t, Profile>> chains;
    for (const std::vector<std::size_t>& indices : Joiner{pieces}.chains()) {
        const std::vector<Piece> chain = merged(raw, pieces, indices);
        Profile joined = profile_of(chain);
        if (length(joined) < millimetres(k_shortest_chain_mm)) {
            continue;
        }
        for (const Piece& piece : chain) {
            if (raw[piece.raw].source_arc) {
                surviving_arcs.insert(*raw[piece.raw].source_arc);
            }
        }
        chains.emplace_back(indices.front(), std::move(joined));
    }
    std::sort(chains.begin(), chains.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    for (auto& [first, chain] : chains) {
        result.chains.push_back(std::move(chain));
    }
    result.vanished = vanished_nodes(profile, surviving_arcs);
    return result;
}

}  // namespace sillwright::geometry
