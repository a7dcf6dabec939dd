#include "geometry/trim.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "geometry/polygon_triangles.h"

namespace sillwright::geometry {

namespace {

/// Corners nearer to the plane than this lie in it: rounding, no shape.
constexpr double k_in_plane_mm = 1e-9;
/// A loop of the cut with less area (mm2) is a mere line and is closed as it stands.
constexpr double k_no_area_mm2 = 1e-9;

using Index = std::int32_t;
using Edge = std::pair<Index, Index>;

const Eigen::Vector3d& point(const Mesh& mesh, Index i) {
    return mesh.points[static_cast<std::size_t>(i)];
}

/// Builds the kept part of a mesh; the cut is left open.
class Cutter {
public:
    Cutter(const Mesh& mesh, const Eigen::Vector3d& normal, double height_mm) : mesh_{mesh} {
        kept_.assign(mesh.points.size(), -1);
        for (const Eigen::Vector3d& p : mesh.points) {
            const double d = normal.dot(p) - height_mm;
            above_.push_back(std::abs(d) < k_in_plane_mm ? 0.0 : d);
        }
        result_.deviation = mesh.deviation;
    }

    Mesh cut() {
        for (const Triangle& t : mesh_.triangles) {
            add(t);
        }
        return std::move(result_);
    }

private:
    [[nodiscard]] double above(Index i) const { return above_[static_cast<std::size_t>(i)]; }

    Index keep(Index i) {
        Index& kept = kept_[static_cast<std::size_t>(i)];
        if (kept < 0) {
            kept = static_cast<Index>(result_.points.size());
            result_.points.push_back(point(mesh_, i));
        }
        return kept;
    }

    /// Where the edge between an inside and an outside corner meets the plane.
    Index crossing(Index inside, Index outside) {
        if (above(inside) == 0.0) {
            return keep(inside);
        }
        const auto [entry, fresh] = crossings_.try_emplace(std::minmax(inside, outside), 0);
        if (fresh) {
            const double t = above(inside) / (above(inside) - above(outside));
            entry->second = static_cast<Index>(result_.points.size());
            result_.points.emplace_back((1.0 - t) * point(mesh_, inside) + t * point(mesh_, outside));
        }
        return entry->second;
    }

    void add(const Triangle& t) {
        std::vector<Index> corners;
        const auto push = [&](Index i) {
            if (corners.empty() || (corners.back() != i && corners.front() != i)) {
                corners.push_back(i);
            }
        };
        for (std::size_t k = 0; k < 3; ++k) {
            const Index a = t[k];
            const Index b = t[(k + 1) % 3];
            if (above(a) <= 0.0) {
                push(keep(a));
            }
            if (above(a) <= 0.0 && above(b) > 0.0) {
                push(crossing(a, b));
            } else if (above(a) > 0.0 && above(b) <= 0.0) {
                push(crossing(b, a));
            }
        }
        for (std::size_t k = 1; k + 1 < corners.size(); ++k) {
            result_.triangles.push_back({corners[0], corners[k], corners[k + 1]});
        }
    }

    const Mesh& mesh_;
    Mesh result_;
    std::vector<double> above_;
    std::vector<Index> kept_;
    std::map<Edge, Index> crossings_;
};

/// Closed loops of edges that close the mesh's open ones.
std::vector<std::vector<Index>> open_loops(const Mesh& mesh) {
    std::vector<Edge> edges;
    for (const Triangle& t : mesh.triangles) {
        for (std::size_t k = 0; k < 3; ++k) {
            edges.emplace_back(t[k], t[(k + 1) % 3]);
        }
    }
    std::sort(edges.begin(), edges.end());
    std::multimap<Index, Index> next;
    for (const Edge& e : edges) {
        if (!std::binary_search(edges.begin(), edges.end(), Edge{e.second, e.first})) {
            next.emplace(e.second, e.first);
        }
    }
    std::vector<std::vector<Index>> loops;
    while (!next.empty()) {
        std::vector<Index>& loop = loops.emplace_back();
        Index at = next.begin()->first;
        for (auto step = next.find(at); step != next.end(); step = next.find(at)) {
            loop.push_back(at);
            at = step->second;
            next.erase(step);
        }
    }
    return loops;
}

/// Closes one loop by triangles in the plane.
Status close_loop(Mesh& mesh, const std::vector<Index>& loop, const Eigen::Vector3d& u, const Eigen::Vector3d& v) {
    std::vector<Eigen::Vector2d> corners;
    corners.reserve(loop.size());
    for (const Index i : loop) {
        corners.emplace_back(u.dot(point(mesh, i)), v.dot(point(mesh, i)));
    }
    if (std::abs(polygon_area(corners)) < k_no_area_mm2) {
        for (std::size_t k = 1; k + 1 < loop.size(); ++k) {
            mesh.triangles.push_back({loop[0], loop[k], loop[k + 1]});
        }
        return std::monostate{};
    }
    const auto triangles = polygon_triangles(corners);
    if (!triangles) {
        return Error{ErrorCode::does_not_fit, "The cut through the body cannot be closed: " +
                                                  triangles.error().message + "; a hollow body cannot be trimmed."};
    }
    for (const Triangle& t : triangles.value()) {
        mesh.triangles.push_back({loop[static_cast<std::size_t>(t[0])], loop[static_cast<std::size_t>(t[1])],
                                  loop[static_cast<std::size_t>(t[2])]});
    }
    return std::monostate{};
}

}  // namespace

Result<Mesh> cut_off(const Mesh& mesh, const Eigen::Vector3d& normal, double height_mm) {
    Mesh kept = Cutter(mesh, normal, height_mm).cut();
    const Eigen::Vector3d u = normal.unitOrthogonal();
    const Eigen::Vector3d v = normal.cross(u);
    for (const auto& loop : open_loops(kept)) {
        if (auto status = close_loop(kept, loop, u, v); !status) {
            return status.error();
        }
    }
    return kept;
}

namespace {

/// A convex part of an outline, anticlockwise, by corner numbers.
using Part = std::vector<std::size_t>;

double turn(const std::vector<Eigen::Vector2d>& p, std::size_t a, std::size_t b, std::size_t c) {
    return (p[b].x() - p[a].x()) * (p[c].y() - p[a].y()) - (p[b].y() - p[a].y()) * (p[c].x() - p[a].x());
}

bool is_convex(const std::vector<Eigen::Vector2d>& p, const Part& part) {
    const std::size_t n = part.size();
    for (std::size_t i = 0; i < n; ++i) {
        if (turn(p, part[i], part[(i + 1) % n], part[(i + 2) % n]) < 0.0) {
            return false;
        }
    }
    return true;
}

/// The two parts as one, if they share an edge and make a convex whole.
bool merge(const std::vector<Eigen::Vector2d>& p, Part& part, const Part& other) {
    for (std::size_t i = 0; i < part.size(); ++i) {
        const std::size_t from = part[i];
        const std::size_t to = part[(i + 1) % part.size()];
        const auto at = std::find(other.begin(), other.end(), to);
        if (at == other.end()) {
            continue;
        }
        const auto k = static_cast<std::size_t>(at - other.begin());
        if (other[(k + 1) % other.size()] != from) {
            continue;
        }
        Part whole;
        for (std::size_t step = 1; step <= part.size(); ++step) {
            whole.push_back(part[(i + step) % part.size()]);  // from `to` round to `from`
        }
        for (std::size_t step = 2; step < other.size(); ++step) {
            whole.push_back(other[(k + step) % other.size()]);
        }
        if (is_convex(p, whole)) {
            part = whole;
            return true;
        }
    }
    return false;
}

/// Few convex parts: triangles, joined while they stay convex (Hertel and Mehlhorn's way).
std::vector<Part> convex_parts(const std::vector<Eigen::Vector2d>& p, const std::vector<Triangle>& triangles) {
    std::vector<Part> parts;
    for (const Triangle& t : triangles) {
        const Part part{static_cast<std::size_t>(t[0]), static_cast<std::size_t>(t[1]), static_cast<std::size_t>(t[2])};
        if (turn(p, part[0], part[1], part[2]) > 0.0) {
            parts.push_back(part);
        }
    }
    for (std::size_t i = 0; i < parts.size(); ++i) {
        for (std::size_t k = i + 1; k < parts.size();) {
            if (merge(p, parts[i], parts[k])) {
                parts.erase(parts.begin() + static_cast<std::ptrdiff_t>(k));
                k = i + 1;
            } else {
                ++k;
            }
        }
    }
    return parts;
}

Result<Mesh> trimmed_to_part(const Mesh& mesh, const std::vector<Eigen::Vector2d>& p, const Part& part) {
    Mesh result = mesh;
    for (std::size_t i = 0; i < part.size(); ++i) {
        const std::size_t a = part[i];
        const std::size_t b = part[(i + 1) % part.size()];
        const Eigen::Vector2d d = (p[b] - p[a]).normalized();
        const Eigen::Vector3d normal(d.y(), 0.0, -d.x());  // away from the part
        // Only the outline's own edges move outward, not the cuts between parts.
        const double grown = b == (a + 1) % p.size() ? in_mm(mesh.deviation) : 0.0;
        auto cut = cut_off(result, normal, d.y() * p[a].x() - d.x() * p[a].y() + grown);
        if (!cut) {
            return cut;
        }
        result = std::move(cut).value();
    }
    return result;
}

}  // namespace

Result<Mesh> trimmed_to_outline(const Mesh& mesh, const std::vector<Eigen::Vector2d>& outline_mm) {
    const bool finite =
        std::all_of(outline_mm.begin(), outline_mm.end(), [](const Eigen::Vector2d& p) { return p.allFinite(); });
    if (outline_mm.size() < 3 || !finite) {
        return Error{ErrorCode::invalid_argument,
                     "A side outline needs three or more corners with finite along and up; it has " +
                         std::to_string(outline_mm.size()) + "."};
    }
    std::vector<Eigen::Vector2d> corners = outline_mm;
    if (polygon_area(corners) < 0.0) {
        std::reverse(corners.begin(), corners.end());
    }
    const auto triangles = polygon_triangles(corners);
    if (!triangles) {
        return Error{ErrorCode::invalid_argument,
                     "The side outline crosses itself or has no area; put its corners in "
                     "order round the outline."};
    }
    Mesh result;
    result.deviation = mesh.deviation;
    for (const Part& part : convex_parts(corners, triangles.value())) {
        auto trimmed = trimmed_to_part(mesh, corners, part);
        if (!trimmed) {
            return trimmed;
        }
        append(result, trimmed.value());
    }
    if (result.triangles.empty()) {
        return Error{
            ErrorCode::does_not_fit,
            "The side outline leaves nothing of the body; it must overlap the body's sections seen from the side."};
    }
    return result;
}

}  // namespace sillwright::geometry
