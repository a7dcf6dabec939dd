#include "geometry/tool_path.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "geometry/parallel.h"

namespace sillwright::geometry {

using Eigen::Vector2d;

namespace {

/// How near to one another the places are at which a stretch is looked at: a twelfth of the smallest bit's width.
constexpr double k_look_mm = 0.25;
constexpr int k_least_looks = 8;
/// The deepest place is drawn in to this part of the step: below a millionth of a millimetre of depth.
constexpr int k_halvings = 40;
/// What is left uncovered by less than this is the joint of two pieces.
constexpr double k_crumb_mm = 1e-5;

struct Span {
    double from, to;  ///< Fractions of a segment.
};

/// Outline whose segments carry their own numbers, so that the parallel's say where they come from.
Profile numbered(Profile outline) {
    for (std::size_t i = 0; i < outline.segments.size(); ++i) {
        outline.segments[i].node = i;
    }
    return outline;
}

/// What of each segment a bit on the path touches.
std::vector<std::vector<Span>> covered(const Profile& outline, const std::vector<Profile>& chains) {
    std::vector<std::vector<Span>> spans(outline.segments.size());
    for (const Profile& chain : chains) {
        for (const Segment& piece : chain.segments) {
            const Segment& source = outline.segments[piece.node];
            const double a = nearest_fraction(source, start_point(piece));
            const double b = nearest_fraction(source, end_point(piece));
            spans[piece.node].push_back({std::min(a, b), std::max(a, b)});
        }
    }
    return spans;
}

/// The rest of it, in order.
std::vector<Span> uncovered(std::vector<Span> spans, double length_mm) {
    std::sort(spans.begin(), spans.end(), [](const Span& a, const Span& b) { return a.from < b.from; });
    spans.push_back({1.0, 1.0});
    std::vector<Span> rest;
    double reached = 0.0;
    for (const Span& span : spans) {
        if ((span.from - reached) * length_mm > k_crumb_mm) {
            rest.push_back({reached, span.from});
        }
        reached = std::max(reached, span.to);
    }
    return rest;
}

class Looker {
public:
    Looker(const Profile& outline, const std::vector<Profile>& chains, double radius)
        : outline_{outline}, chains_{chains}, radius_{radius} {}

    [[nodiscard]] double depth(std::size_t segment, double fraction) const {
        const Vector2d p = point_at(outline_.segments[segment], fraction);
        double nearest = std::numeric_limits<double>::infinity();
        for (const Profile& chain : chains_) {
            nearest = std::min(nearest, in_mm(nearest_point(chain, p).distance));
        }
        return nearest - radius_;
    }

    /// The deepest place of a span, and whether its ends are deeper than the tolerance.
    struct Found {
        double fraction = 0.0, depth = 0.0, at_from = 0.0, at_to = 0.0;
    };
    [[nodiscard]] Found deepest(std::size_t segment, const Span& span) const {
        const double length_mm = (span.to - span.from) * in_mm(length(outline_.segments[segment]));
        const int looks = std::max(k_least_looks, static_cast<int>(std::ceil(length_mm / k_look_mm)));
        const auto at = [&](int i) { return span.from + (span.to - span.from) * i / looks; };
        int best = 0;
        double most = -radius_;
        Found found;
        for (int i = 0; i <= looks; ++i) {
            const double here = depth(segment, at(i));
            if (here > most) {
                most = here;
                best = i;
            }
            (i == 0 ? found.at_from : found.at_to) = here;
        }
        double low = at(std::max(0, best - 1));
        double high = at(std::min(looks, best + 1));
        for (int i = 0; i < k_halvings; ++i) {
            const double third = (high - low) / 3.0;
            if (depth(segment, low + third) < depth(segment, high - third)) {
                low += third;
            } else {
                high -= third;
            }
        }
        const double refined = depth(segment, 0.5 * (low + high));
        found.fraction = refined > most ? 0.5 * (low + high) : at(best);
        found.depth = std::max(most, refined);
        return found;
    }

private:
    const Profile& outline_;
    const std::vector<Profile>& chains_;
    double radius_;
};

}  // namespace

Result<ToolPath> tool_path(const Profile& outline, Length bit_radius, CutSide side, Length tolerance) {
    if (!outline.closed || outline.segments.empty() || enclosed_area_mm2(outline) <= 0.0) {
        return Error{ErrorCode::invalid_argument, "A bit is led round a closed outline that runs anticlockwise."};
    }
    if (!(bit_radius > Length{}) || !(tolerance > Length{})) {
        return Error{ErrorCode::invalid_argument, "A bit's radius and the tolerance must be greater than zero."};
    }
    const Profile source = numbered(outline);
    auto rolled = parallel(source, side == CutSide::outside ? -bit_radius : bit_radius);
    if (!rolled) {
        return rolled.error();
    }
    ToolPath path;
    path.chains = std::move(rolled).value().chains;
    if (path.chains.empty()) {
        return path;
    }
    const auto spans = covered(source, path.chains);
    const Looker looker(source, path.chains, in_mm(bit_radius));
    double along = 0.0;
    bool open = false;  // the stretch goes on from the segment before
    bool open_at_start = false;
    for (std::size_t i = 0; i < source.segments.size(); ++i) {
        const double whole = in_mm(length(source.segments[i]));
        const std::vector<Span> rest = uncovered(spans[i], whole);
        bool reaches_end = false;
        for (const Span& span : rest) {
            const auto found = looker.deepest(i, span);
            if (found.depth <= in_mm(tolerance)) {
                continue;
            }
            const UncutPlace place{point_at(source.segments[i], found.fraction), millimetres(found.depth), i,
                                   millimetres(along + found.fraction * whole)};
            const bool from_start = span.from == 0.0 && found.at_from > in_mm(tolerance);
            if (from_start && open) {
                UncutPlace& last = path.uncut.back();
                last = place.depth > last.depth ? place : last;
            } else {
                path.uncut.push_back(place);
            }
            open_at_start = open_at_start || (i == 0 && from_start);
            reaches_end = span.to == 1.0 && found.at_to > in_mm(tolerance);
        }
        open = reaches_end;
        along += whole;
    }
    if (open && open_at_start && path.uncut.size() > 1) {
        UncutPlace& first = path.uncut.front();
        first = path.uncut.back().depth > first.depth ? path.uncut.back() : first;
        path.uncut.pop_back();
    }
    return path;
}

}  // namespace sillwright::geometry
