#include "geometry/mesh_section.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <iterator>
#include <numeric>
#include <unordered_map>
#include <utility>

namespace sillwright::geometry {

using Eigen::Vector3d;

namespace {

/// Rounding of a coordinate of some kilometres; far below any edge.
constexpr double k_in_plane_mm = 1e-9;

/// An edge of the mesh by its two points, whichever way it is run through.
std::uint64_t edge_key(std::int32_t a, std::int32_t b) {
    const auto [low, high] = std::minmax(a, b);
    return (static_cast<std::uint64_t>(low) << 32U) | static_cast<std::uint64_t>(high);
}

/// The cut through one triangle: from the edge that goes to behind the plane, to
/// the edge that comes to its front, with the material on its left.
struct Step {
    std::uint64_t from = 0, to = 0;
    bool used = false;
};

/// One plane's cut: triangles are given to it, then it gives its chains.
class Cut {
public:
    Cut(const Mesh& mesh, const std::vector<double>& heights, double place)
        : mesh_{mesh}, heights_{heights}, place_{place} {}

    void take(const Triangle& triangle) {
        Step step;
        bool cut = false;
        for (std::size_t i = 0; i < 3; ++i) {
            const std::int32_t a = triangle[i];
            const std::int32_t b = triangle[(i + 1) % 3];
            if (in_front(a) == in_front(b)) {
                continue;
            }
            cut = true;
            (in_front(a) ? step.from : step.to) = edge_key(a, b);
        }
        if (cut) {
            steps_.push_back(step);
        }
    }

    std::vector<CutChain> chains() {
        for (std::size_t i = 0; i < steps_.size(); ++i) {
            starts_.emplace(steps_[i].from, i);
            ++ends_at_[steps_[i].to];
        }
        // Open chains first, each from its own start; what is left runs in rounds.
        for (std::size_t i = 0; i < steps_.size(); ++i) {
            const auto ends = ends_at_.find(steps_[i].from);
            if (ends == ends_at_.end() || ends->second == 0) {
                follow(i);
            }
        }
        for (std::size_t i = 0; i < steps_.size(); ++i) {
            follow(i);
        }
        return std::move(chains_);
    }

private:
    [[nodiscard]] double height(std::size_t point) const {
        const double height = heights_[point] - place_;
        return std::abs(height) < k_in_plane_mm ? 0.0 : height;
    }
    [[nodiscard]] bool in_front(std::int32_t point) const { return height(static_cast<std::size_t>(point)) >= 0.0; }

    /// The point where an edge meets the plane: the same from either triangle.
    [[nodiscard]] Vector3d point_on(std::uint64_t edge) const {
        const auto a = static_cast<std::size_t>(edge >> 32U);
        const auto b = static_cast<std::size_t>(edge & 0xFFFFFFFFU);
        const double height_a = height(a);
        const double height_b = height(b);
        if (height_a == 0.0 || height_b == 0.0) {
            return mesh_.points[height_a == 0.0 ? a : b];
        }
        const double share = height_a / (height_a - height_b);
        return mesh_.points[a] + share * (mesh_.points[b] - mesh_.points[a]);
    }

    void follow(std::size_t first) {
        if (steps_[first].used) {
            return;
        }
        CutChain chain;
        const auto add = [&](std::uint64_t edge) {
            const Vector3d p = point_on(edge);
            if (chain.points_mm.empty() || chain.points_mm.back() != p) {
                chain.points_mm.push_back(p);
            }
        };
        add(steps_[first].from);
        std::uint64_t last = steps_[first].to;
        for (std::size_t at = first;;) {
            steps_[at].used = true;
            last = steps_[at].to;
            add(last);
            if (steps_[at].to == steps_[first].from) {
                chain.closed = true;
                break;
            }
            const auto [begin, end] = starts_.equal_range(steps_[at].to);
            const auto next = std::find_if(begin, end, [&](const auto& start) { return !steps_[start.second].used; });
            if (next == end) {
                break;
            }
            at = next->second;
        }
        if (chain.closed && chain.points_mm.size() > 1 && chain.points_mm.front() == chain.points_mm.back()) {
            chain.points_mm.pop_back();
        }
        if (chain.points_mm.size() > 1) {
            ends_.emplace_back(steps_[first].from, last);
            chains_.push_back(std::move(chain));
        }
    }

public:
    /// The same chains, open ones that end in one edge of the mesh joined. The plain cut does not need it: there an
    /// edge ends a line only if it is a border.
    std::vector<CutChain> joined_chains() {
        std::vector<CutChain> all = chains();
        std::unordered_multimap<std::uint64_t, std::size_t> at_edge;
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (!all[i].closed) {
                at_edge.emplace(ends_[i].first, i);
                at_edge.emplace(ends_[i].second, i);
            }
        }
        std::vector<bool> gone(all.size(), false);
        for (std::size_t i = 0; i < all.size(); ++i) {
            while (!gone[i] && !all[i].closed &&
                   (join(all, gone, at_edge, i, true) || join(all, gone, at_edge, i, false))) {
            }
        }
        std::vector<CutChain> kept;
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (!gone[i]) {
                kept.push_back(std::move(all[i]));
            }
        }
        return kept;
    }

private:
    using AtEdge = std::unordered_multimap<std::uint64_t, std::size_t>;

    /// Puts one more chain behind chain i (or before it); false if none ends there.
    bool join(std::vector<CutChain>& all, std::vector<bool>& gone, const AtEdge& at_edge, std::size_t i, bool behind) {
        const std::uint64_t edge = behind ? ends_[i].second : ends_[i].first;
        const auto [begin, end] = at_edge.equal_range(edge);
        const auto other =
            std::find_if(begin, end, [&](const auto& entry) { return entry.second != i && !gone[entry.second]; });
        auto& points = all[i].points_mm;
        if (other == end) {
            if (ends_[i].first == ends_[i].second && points.size() > 2) {
                all[i].closed = true;
                if (points.front() == points.back()) {
                    points.pop_back();
                }
            }
            return false;
        }
        const std::size_t k = other->second;
        auto& more = all[k].points_mm;
        if ((behind ? ends_[k].first : ends_[k].second) != edge) {
            std::reverse(more.begin(), more.end());
            std::swap(ends_[k].first, ends_[k].second);
        }
        if (behind) {
            points.insert(points.end(), std::next(more.begin()), more.end());
            ends_[i].second = ends_[k].second;
        } else {
            points.insert(points.begin(), more.begin(), std::prev(more.end()));
            ends_[i].first = ends_[k].first;
        }
        gone[k] = true;
        return true;
    }

    const Mesh& mesh_;
    const std::vector<double>& heights_;
    double place_;
    std::vector<Step> steps_;
    std::unordered_multimap<std::uint64_t, std::size_t> starts_;
    std::unordered_map<std::uint64_t, std::size_t> ends_at_;
    std::vector<CutChain> chains_;
    std::vector<std::pair<std::uint64_t, std::uint64_t>> ends_;  ///< Edges where each chain begins and ends.
};

std::vector<double> heights_of(const Mesh& mesh, const Vector3d& normal, const Vector3d& zero_mm) {
    std::vector<double> heights;
    heights.reserve(mesh.points.size());
    for (const Vector3d& p : mesh.points) {
        heights.push_back(normal.dot(p - zero_mm));
    }
    return heights;
}

}  // namespace

std::vector<CutChain> mesh_section(const Mesh& mesh, const Plane& plane) {
    const std::vector<double> heights = heights_of(mesh, plane.normal, plane.point_mm);
    Cut cut(mesh, heights, 0.0);
    for (const Triangle& triangle : mesh.triangles) {
        cut.take(triangle);
    }
    return cut.chains();
}

std::vector<std::vector<CutChain>> mesh_sections(const Mesh& mesh, const Vector3d& normal,
                                                 std::span<const double> places_mm) {
    const std::vector<double> heights = heights_of(mesh, normal, Vector3d::Zero());
    std::vector<std::size_t> order(places_mm.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return places_mm[a] < places_mm[b]; });
    std::vector<Cut> cuts;
    std::vector<double> rising;
    for (const std::size_t i : order) {
        cuts.emplace_back(mesh, heights, places_mm[i]);
        rising.push_back(places_mm[i]);
    }
    for (const Triangle& triangle : mesh.triangles) {
        const auto [low, high] =
            std::minmax({heights[static_cast<std::size_t>(triangle[0])], heights[static_cast<std::size_t>(triangle[1])],
                         heights[static_cast<std::size_t>(triangle[2])]});
        auto at = std::lower_bound(rising.begin(), rising.end(), low - k_in_plane_mm);
        for (; at != rising.end() && *at <= high + k_in_plane_mm; ++at) {
            cuts[static_cast<std::size_t>(at - rising.begin())].take(triangle);
        }
    }
    std::vector<std::vector<CutChain>> sections(places_mm.size());
    for (std::size_t i = 0; i < cuts.size(); ++i) {
        sections[order[i]] = cuts[i].joined_chains();
    }
    return sections;
}

}  // namespace sillwright::geometry
