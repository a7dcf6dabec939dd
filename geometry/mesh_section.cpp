#include "geometry/mesh_section.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
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

class Cut {
public:
    Cut(const Mesh& mesh, const Plane& plane) : mesh_{mesh} {
        height_.reserve(mesh.points.size());
        for (const Vector3d& p : mesh.points) {
            const double height = plane.normal.dot(p - plane.point_mm);
            height_.push_back(std::abs(height) < k_in_plane_mm ? 0.0 : height);
        }
        for (const Triangle& triangle : mesh.triangles) {
            take(triangle);
        }
        for (std::size_t i = 0; i < steps_.size(); ++i) {
            starts_.emplace(steps_[i].from, i);
            ++ends_at_[steps_[i].to];
        }
    }

    std::vector<CutChain> chains() {
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
    [[nodiscard]] bool in_front(std::int32_t point) const { return height_[static_cast<std::size_t>(point)] >= 0.0; }

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

    /// The point where an edge meets the plane: the same from either triangle.
    [[nodiscard]] Vector3d point_on(std::uint64_t edge) const {
        const auto a = static_cast<std::size_t>(edge >> 32U);
        const auto b = static_cast<std::size_t>(edge & 0xFFFFFFFFU);
        if (height_[a] == 0.0 || height_[b] == 0.0) {
            return mesh_.points[height_[a] == 0.0 ? a : b];
        }
        const double share = height_[a] / (height_[a] - height_[b]);
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
        for (std::size_t at = first;;) {
            steps_[at].used = true;
            add(steps_[at].to);
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
            chains_.push_back(std::move(chain));
        }
    }

    const Mesh& mesh_;
    std::vector<double> height_;
    std::vector<Step> steps_;
    std::unordered_multimap<std::uint64_t, std::size_t> starts_;
    std::unordered_map<std::uint64_t, std::size_t> ends_at_;
    std::vector<CutChain> chains_;
};

}  // namespace

std::vector<CutChain> mesh_section(const Mesh& mesh, const Plane& plane) {
    return Cut(mesh, plane).chains();
}

}  // namespace sillwright::geometry
