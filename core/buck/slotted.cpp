#include "core/buck/slotted.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>

#include "geometry/segment_intersection.h"
#include "geometry/text.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::Error;
using geometry::ErrorCode;
using geometry::in_mm;
using geometry::LineSegment;
using geometry::millimetres;
using geometry::Profile;
using geometry::Result;
using geometry::Segment;

namespace {

/// A straight is at the edge's height within this: rounding of a plan some metres long.
constexpr double k_level_mm = 1e-6;
/// Slot sides and other edges meet within this.
constexpr geometry::Length k_meeting_slack = millimetres(1e-6);

std::string slot_text(const Slot& slot) {
    return "The slot at " + geometry::text(millimetres(slot.at_mm)) + ", " +
           geometry::text(millimetres(slot.width_mm)) + " wide and " + geometry::text(millimetres(slot.depth_mm)) +
           " deep, ";
}

Error does_not_fit(std::string message) {
    return {ErrorCode::does_not_fit, std::move(message)};
}

const LineSegment* level_line(const Segment& segment, double edge_mm) {
    const auto* line = std::get_if<LineSegment>(&segment.shape);
    const bool level = line != nullptr && std::abs(line->from.y() - edge_mm) < k_level_mm &&
                       std::abs(line->to.y() - edge_mm) < k_level_mm;
    return level ? line : nullptr;
}

/// Straights at the edge's height that follow one another, made one.
Profile with_whole_edges(const Profile& outline, double edge_mm) {
    Profile whole{{}, true};
    for (const Segment& segment : outline.segments) {
        const LineSegment* line = level_line(segment, edge_mm);
        const LineSegment* last = whole.segments.empty() ? nullptr : level_line(whole.segments.back(), edge_mm);
        const bool goes_on = line != nullptr && last != nullptr &&
                             (line->to.x() - line->from.x()) * (last->to.x() - last->from.x()) > 0.0;
        if (goes_on) {
            whole.segments.back().shape = LineSegment{last->from, line->to};
        } else {
            whole.segments.push_back(segment);
        }
    }
    if (whole.segments.size() > 1) {
        const LineSegment* first = level_line(whole.segments.front(), edge_mm);
        const LineSegment* last = level_line(whole.segments.back(), edge_mm);
        if (first != nullptr && last != nullptr &&
            (first->to.x() - first->from.x()) * (last->to.x() - last->from.x()) > 0.0) {
            whole.segments.front().shape = LineSegment{last->from, first->to};
            whole.segments.pop_back();
        }
    }
    return whole;
}

/// Which straight the slot's mouth is on.
std::optional<std::size_t> edge_of(const Profile& outline, const Slot& slot, double edge_mm) {
    const double half = slot.width_mm / 2.0 + in_mm(k_slot_wood);
    for (std::size_t i = 0; i < outline.segments.size(); ++i) {
        if (const LineSegment* line = level_line(outline.segments[i], edge_mm)) {
            const auto [low, high] = std::minmax({line->from.x(), line->to.x()});
            if (low <= slot.at_mm - half && slot.at_mm + half <= high) {
                return i;
            }
        }
    }
    return std::nullopt;
}

/// Where an edge other than the one it is cut from comes into the slot and the wood round it.
bool runs_into_edge(const Profile& outline, const Slot& slot, std::size_t edge) {
    const LineSegment& line = std::get<LineSegment>(outline.segments[edge].shape);
    const double up = line.to.x() > line.from.x() ? 1.0 : -1.0;
    const double half = slot.width_mm / 2.0 + in_mm(k_slot_wood);
    const double top = line.from.y() + up * (slot.depth_mm + in_mm(k_slot_wood));
    const Vector2d a(slot.at_mm - half, line.from.y());
    const Vector2d b(slot.at_mm - half, top);
    const Vector2d c(slot.at_mm + half, top);
    const Vector2d d(slot.at_mm + half, line.from.y());
    if (!contains(outline, b) || !contains(outline, c)) {
        return true;
    }
    for (const Segment& side : {Segment{LineSegment{a, b}, 0}, {LineSegment{b, c}, 0}, {LineSegment{c, d}, 0}}) {
        for (std::size_t i = 0; i < outline.segments.size(); ++i) {
            if (i == edge) {
                continue;
            }
            for (const Vector2d& p : geometry::meeting_points(side, outline.segments[i], k_meeting_slack)) {
                // At the ends of its own edge another one begins: that is no harm.
                if (std::abs(p.y() - line.from.y()) > k_level_mm) {
                    return true;
                }
            }
        }
    }
    return false;
}

}  // namespace

Result<Profile> slotted(const Profile& outline, const std::vector<Slot>& slots, double edge_mm) {
    if (slots.empty()) {
        return outline;
    }
    const Profile whole = with_whole_edges(outline, edge_mm);
    std::vector<std::vector<Slot>> by_edge(whole.segments.size());
    for (const Slot& slot : slots) {
        if (!(slot.width_mm > 0.0) || !(slot.depth_mm > 0.0) || !std::isfinite(slot.at_mm + slot.depth_mm)) {
            return Error{ErrorCode::invalid_argument, slot_text(slot) + "has no size."};
        }
        const auto edge = edge_of(whole, slot, edge_mm);
        if (!edge) {
            return does_not_fit(slot_text(slot) +
                                "does not open on a straight edge with 1 mm of wood on both sides. Move it inward.");
        }
        if (runs_into_edge(whole, slot, *edge)) {
            return does_not_fit(slot_text(slot) +
                                "comes within 1 mm of another edge. Make it less deep, or move it inward.");
        }
        by_edge[*edge].push_back(slot);
    }
    Profile result{{}, true};
    for (std::size_t i = 0; i < whole.segments.size(); ++i) {
        const Segment& segment = whole.segments[i];
        std::vector<Slot>& here = by_edge[i];
        if (here.empty()) {
            result.segments.push_back(segment);
            continue;
        }
        const LineSegment& line = std::get<LineSegment>(segment.shape);
        const double way = line.to.x() > line.from.x() ? 1.0 : -1.0;
        std::sort(here.begin(), here.end(),
                  [&](const Slot& a, const Slot& b) { return way * a.at_mm < way * b.at_mm; });
        Vector2d at = line.from;
        const auto go_to = [&](const Vector2d& p) {
            result.segments.push_back({LineSegment{at, p}, segment.node});
            at = p;
        };
        for (std::size_t k = 0; k < here.size(); ++k) {
            const Slot& slot = here[k];
            const double half = way * slot.width_mm / 2.0;
            if (k > 0 && way * (slot.at_mm - half - at.x()) < in_mm(k_slot_wood)) {
                return does_not_fit(slot_text(slot) + "leaves less than 1 mm of wood to the one at " +
                                    geometry::text(millimetres(here[k - 1].at_mm)) + ". Move them apart.");
            }
            const double y = line.from.y();
            go_to({slot.at_mm - half, y});
            go_to({slot.at_mm - half, y + way * slot.depth_mm});
            go_to({slot.at_mm + half, y + way * slot.depth_mm});
            go_to({slot.at_mm + half, y});
        }
        go_to(line.to);
    }
    return result;
}

}  // namespace sillwright::core
