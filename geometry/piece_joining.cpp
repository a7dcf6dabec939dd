#include "geometry/piece_joining.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

namespace sillwright::geometry {

namespace {

using Eigen::Vector2d;

/// A gap above this is closed by running a piece on; below it is rounding.
constexpr double k_gap_mm = 1e-10;
/// A way back to its start shorter than this is the crumbs about one joint, no loop.
constexpr Length k_shortest_loop = millimetres(1e-4);

bool has_neighbours(const std::vector<Piece>& pieces, std::size_t i,
                    const std::function<bool(const Vector2d&)>& may_end_at) {
    const Piece& piece = pieces[i];
    const bool closes_on_itself = length(piece.segment) > k_shortest_loop && meet(piece.start, piece.end);
    bool before = closes_on_itself;
    bool after = closes_on_itself;
    for (std::size_t k = 0; k < pieces.size() && !(before && after); ++k) {
        before = before || (k != i && meet(pieces[k].end, piece.start));
        after = after || (k != i && meet(pieces[k].start, piece.end));
    }
    return (before || may_end_at(piece.start)) && (after || may_end_at(piece.end));
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
        return i + 1 < pieces_.size() && pieces_[i + 1].whole_index == pieces_[i].whole_index &&
               pieces_[i + 1].from == pieces_[i].to;
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
            if (back && so_far > k_shortest_loop) {
                break;
            }
        }
        return chain;
    }

    const std::vector<Piece>& pieces_;
    std::vector<bool> used_;
};

/// The pieces of a chain, neighbouring ones of one whole made one again.
std::vector<Piece> merged(const std::vector<Piece>& pieces, const std::vector<std::size_t>& chain) {
    std::vector<Piece> result;
    for (const std::size_t i : chain) {
        const Piece& piece = pieces[i];
        if (!result.empty() && result.back().whole_index == piece.whole_index && result.back().to == piece.from) {
            result.back() = make_piece(piece.whole, piece.whole_index, result.back().from, piece.to);
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

}  // namespace

Piece make_piece(const Segment& whole, std::size_t whole_index, double from, double to) {
    const Segment part = part_of(whole, from, to);
    return {whole_index, whole, from, to, part, start_point(part), end_point(part)};
}

bool meet(const Vector2d& a, const Vector2d& b) {
    return millimetres((a - b).norm()) <= k_joint;
}

Length prune(std::vector<Piece>& pieces, const std::function<bool(const Vector2d&)>& may_end_at) {
    Length longest;
    for (bool again = true; again;) {
        again = false;
        for (std::size_t i = pieces.size(); i-- > 0;) {
            if (!has_neighbours(pieces, i, may_end_at)) {
                longest = std::max(longest, length(pieces[i].segment));
                pieces.erase(pieces.begin() + static_cast<std::ptrdiff_t>(i));
                again = true;
            }
        }
    }
    return longest;
}

std::vector<std::vector<Piece>> join(const std::vector<Piece>& pieces) {
    std::vector<std::vector<Piece>> chains;
    for (const std::vector<std::size_t>& chain : Joiner{pieces}.chains()) {
        chains.push_back(merged(pieces, chain));
    }
    return chains;
}

Profile profile_of(const std::vector<Piece>& chain) {
    Profile profile;
    for (const Piece& piece : chain) {
        profile.segments.push_back(piece.segment);
    }
    profile.closed = meet(chain.back().end, chain.front().start);
    close_gaps(profile);
    return profile;
}

}  // namespace sillwright::geometry
