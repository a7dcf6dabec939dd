#include "geometry/mesh_check.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <charconv>
#include <deque>
#include <numeric>
#include <unordered_map>

namespace sillwright::geometry {

namespace {

/// A face lower than this over its longest side has no area. Rounding leaves
/// about 1e-13 mm in a part of a few metres; nothing that is made is as thin.
constexpr double k_flat_height_mm = 1e-9;

/// How often a face may be turned over to its neighbour before it is left as
/// it is: a row of faces in one line needs a turn for each.
constexpr std::size_t k_turns_a_face = 64;

const Eigen::Vector3d& point(const Mesh& mesh, std::int32_t index) {
    return mesh.points[static_cast<std::size_t>(index)];
}

Eigen::Vector3d middle(const Mesh& mesh, const Triangle& t) {
    return (point(mesh, t[0]) + point(mesh, t[1]) + point(mesh, t[2])) / 3.0;
}

/// k for the side from corner k to the next.
std::size_t longest_side(const Mesh& mesh, const Triangle& t) {
    std::array<double, 3> lengths{};
    for (std::size_t k = 0; k < 3; ++k) {
        lengths[k] = (point(mesh, t[(k + 1) % 3]) - point(mesh, t[k])).squaredNorm();
    }
    return static_cast<std::size_t>(std::max_element(lengths.begin(), lengths.end()) - lengths.begin());
}

bool is_degenerate(const Mesh& mesh, const Triangle& t) {
    const std::size_t k = longest_side(mesh, t);
    const Eigen::Vector3d side = point(mesh, t[(k + 1) % 3]) - point(mesh, t[k]);
    const Eigen::Vector3d to_third = point(mesh, t[(k + 2) % 3]) - point(mesh, t[k]);
    return side.cross(to_third).norm() <= k_flat_height_mm * side.norm();
}

std::string text(std::size_t count, const char* one, const char* many) {
    return std::to_string(count) + " " + (count == 1 ? one : many);
}

/// Digits that are worth reading: a tenth of a millimetre in a car.
constexpr int k_shown_digits = 6;

std::string text_mm(double mm) {
    std::array<char, 64> buffer{};
    const auto end =
        std::to_chars(buffer.data(), buffer.data() + buffer.size(), mm, std::chars_format::general, k_shown_digits).ptr;
    return std::string{buffer.data(), end} + " mm";
}

std::string text_at(const Eigen::Vector3d& p) {
    return "(" + text_mm(p.x()) + ", " + text_mm(p.y()) + ", " + text_mm(p.z()) + ")";
}

/// How the faces use the edges between two different points.
struct EdgeCount {
    std::size_t open = 0;
    std::size_t turned = 0;
    std::optional<Eigen::Vector3d> first_open, first_turned;
};

EdgeCount count_edges(const Mesh& mesh) {
    struct Use {
        std::int32_t low, high;
        int direction;
        auto operator<=>(const Use&) const = default;
    };
    std::vector<Use> uses;
    uses.reserve(3 * mesh.triangles.size());
    for (const Triangle& t : mesh.triangles) {
        for (std::size_t k = 0; k < 3; ++k) {
            const auto a = t[k];
            const auto b = t[(k + 1) % 3];
            if (a != b) {  // a side without length has no rim; the face itself is reported
                uses.push_back({std::min(a, b), std::max(a, b), a < b ? 1 : -1});
            }
        }
    }
    std::sort(uses.begin(), uses.end());
    EdgeCount count;
    for (std::size_t i = 0, j = 0; i < uses.size(); i = j) {
        int balance = 0;
        for (; j < uses.size() && uses[j].low == uses[i].low && uses[j].high == uses[i].high; ++j) {
            balance += uses[j].direction;
        }
        const Eigen::Vector3d at = (point(mesh, uses[i].low) + point(mesh, uses[i].high)) / 2.0;
        if ((j - i) % 2 != 0) {
            ++count.open;
            count.first_open = count.first_open.value_or(at);
        } else if (balance != 0) {
            ++count.turned;
            count.first_turned = count.first_turned.value_or(at);
        }
    }
    return count;
}

void add_edges(std::vector<MeshFinding>& findings, const EdgeCount& edges) {
    if (edges.open > 0) {
        findings.push_back({MeshFault::not_closed,
                            "The mesh is not closed: " + text(edges.open, "edge is", "edges are") +
                                " open, the first at " + text_at(*edges.first_open) +
                                ". Close its holes where it was made, or use it as an open surface.",
                            static_cast<double>(edges.open), edges.first_open});
    }
    if (edges.turned > 0) {
        findings.push_back({MeshFault::not_consistently_turned,
                            "Neighbouring faces look opposite ways at " + text(edges.turned, "edge", "edges") +
                                ", the first at " + text_at(*edges.first_turned) +
                                ". Turn all faces outward where the mesh was made.",
                            static_cast<double>(edges.turned), edges.first_turned});
    }
}

void add_inside_out(std::vector<MeshFinding>& findings, const Mesh& mesh, const EdgeCount& edges) {
    // The sign of the volume means something only for a closed mesh turned one way.
    // Rounding must not make a sheet folded on itself, of no volume, an inside-out one.
    const double volume_of_nothing = k_flat_height_mm * area_mm2(mesh);
    if (edges.open == 0 && edges.turned == 0 && volume_mm3(mesh) < -volume_of_nothing) {
        findings.push_back({MeshFault::inside_out,
                            "The mesh is turned inside out: all " + text(mesh.triangles.size(), "face", "faces") +
                                " look inward. Turn them outward where the mesh was made.",
                            static_cast<double>(mesh.triangles.size()), middle(mesh, mesh.triangles.front())});
    }
}

void add_degenerate(std::vector<MeshFinding>& findings, const Mesh& mesh) {
    std::size_t count = 0;
    std::optional<Eigen::Vector3d> first;
    for (const Triangle& t : mesh.triangles) {
        if (is_degenerate(mesh, t)) {
            ++count;
            first = first.value_or(middle(mesh, t));
        }
    }
    if (count > 0) {
        findings.push_back({MeshFault::degenerate_faces,
                            text(count, "face has", "faces have") + " no area, the first at " + text_at(*first) +
                                ". They can be left out without harm.",
                            static_cast<double>(count), first});
    }
}

/// Of the points that faces use: a stray point does not make a part larger.
double greatest_extent_mm(const Mesh& mesh) {
    Eigen::AlignedBox3d bounds;
    for (const Triangle& t : mesh.triangles) {
        for (const std::int32_t index : t) {
            bounds.extend(point(mesh, index));
        }
    }
    return bounds.sizes().maxCoeff();
}

void add_size(std::vector<MeshFinding>& findings, const Mesh& mesh, const ExpectedSize& size) {
    const double extent = greatest_extent_mm(mesh);
    const bool small = extent < in_mm(size.least);
    if (!small && extent <= in_mm(size.greatest)) {
        return;
    }
    findings.push_back(
        {small ? MeshFault::too_small : MeshFault::too_large,
         "The mesh is " + text_mm(extent) + " long at the most, " +
             (small ? "less than " + text_mm(in_mm(size.least)) : "more than " + text_mm(in_mm(size.greatest))) +
             ". Check the unit of the file (mm, cm or in).",
         extent, std::nullopt});
}

bool has_repeated_corner(const Triangle& t) {
    return t[0] == t[1] || t[1] == t[2] || t[2] == t[0];
}

/// Gives the corners of degenerate faces that stand at one place one index, then drops the faces that have become
/// a line: each took an edge with it once each way.
void join_corners(Mesh& mesh) {
    std::vector<std::int32_t> joined(mesh.points.size());
    std::iota(joined.begin(), joined.end(), 0);
    const auto root = [&joined](std::int32_t i) {
        while (joined[static_cast<std::size_t>(i)] != i) {
            auto& up = joined[static_cast<std::size_t>(i)];
            up = joined[static_cast<std::size_t>(up)];
            i = up;
        }
        return i;
    };
    for (const Triangle& t : mesh.triangles) {
        for (std::size_t k = 0; k < 3; ++k) {
            const auto a = t[k];
            const auto b = t[(k + 1) % 3];
            if (a != b && point(mesh, a) == point(mesh, b)) {
                const std::int32_t ra = root(a);
                const std::int32_t rb = root(b);
                joined[static_cast<std::size_t>(std::max(ra, rb))] = std::min(ra, rb);
            }
        }
    }
    for (Triangle& t : mesh.triangles) {
        for (std::int32_t& index : t) {
            index = root(index);
        }
    }
    std::erase_if(mesh.triangles, has_repeated_corner);
}

/// Which face runs along an edge in a given direction.
class EdgeMap {
public:
    explicit EdgeMap(const std::vector<Triangle>& triangles) {
        faces_.reserve(3 * triangles.size());
        for (std::size_t i = 0; i < triangles.size(); ++i) {
            add(triangles[i], i);
        }
    }
    void add(const Triangle& t, std::size_t face) {
        for (std::size_t k = 0; k < 3; ++k) {
            faces_.emplace(key(t[k], t[(k + 1) % 3]), face);
        }
    }
    void remove(const Triangle& t, std::size_t face) {
        for (std::size_t k = 0; k < 3; ++k) {
            const auto [begin, end] = faces_.equal_range(key(t[k], t[(k + 1) % 3]));
            const auto found = std::find_if(begin, end, [face](const auto& entry) { return entry.second == face; });
            if (found != end) {
                faces_.erase(found);
            }
        }
    }
    [[nodiscard]] bool has(std::int32_t a, std::int32_t b) const { return faces_.contains(key(a, b)); }
    /// The one face along a -> b; nothing if there is none, or more than one.
    [[nodiscard]] std::optional<std::size_t> only_face(std::int32_t a, std::int32_t b) const {
        const auto [begin, end] = faces_.equal_range(key(a, b));
        return begin != end && std::next(begin) == end ? std::optional{begin->second} : std::nullopt;
    }

private:
    static std::uint64_t key(std::int32_t a, std::int32_t b) {
        return (static_cast<std::uint64_t>(a) << 32U) | static_cast<std::uint32_t>(b);
    }
    std::unordered_multimap<std::uint64_t, std::size_t> faces_;
};

/// The corner of `t` that is not on its side a -> b.
std::int32_t third_corner(const Triangle& t, std::int32_t a, std::int32_t b) {
    return *std::find_if(t.begin(), t.end(), [a, b](std::int32_t i) { return i != a && i != b; });
}

/// Turns faces in a line over: such a face a, b, c with b between a and c,
/// and its neighbour c, a, d across the long side, become a, b, d and b, c, d.
class FlatFaces {
public:
    explicit FlatFaces(Mesh& mesh) : mesh_{mesh}, edges_{mesh.triangles}, dropped_(mesh.triangles.size(), false) {
        for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
            if (is_degenerate(mesh, mesh.triangles[i])) {
                waiting_.push_back(i);
            }
        }
        turns_left_ = k_turns_a_face * waiting_.size();
    }

    void take_out() {
        while (!waiting_.empty() && turns_left_ > 0) {
            --turns_left_;
            const std::size_t face = waiting_.front();
            waiting_.pop_front();
            if (!dropped_[face] && is_degenerate(mesh_, mesh_.triangles[face])) {
                take_out(face);
            }
        }
        std::size_t next = 0;
        std::erase_if(mesh_.triangles, [this, &next](const Triangle& /*t*/) { return dropped_[next++]; });
    }

private:
    void take_out(std::size_t face) {
        const Triangle t = mesh_.triangles[face];
        const std::size_t k = longest_side(mesh_, t);
        const std::int32_t c = t[k];
        const std::int32_t a = t[(k + 1) % 3];
        const std::int32_t b = t[(k + 2) % 3];
        const auto neighbour = edges_.only_face(a, c);
        if (!neighbour || edges_.only_face(c, a) != face) {
            return;
        }
        const Triangle other = mesh_.triangles[*neighbour];
        const std::int32_t d = third_corner(other, a, c);
        if (d != b && (edges_.has(b, d) || edges_.has(d, b))) {
            return;  // a second edge from b to d would be one of four faces
        }
        edges_.remove(t, face);
        edges_.remove(other, *neighbour);
        if (d == b) {  // the two lie back to back; their four other sides pair up
            dropped_[face] = dropped_[*neighbour] = true;
            return;
        }
        put(face, {a, b, d});
        put(*neighbour, {b, c, d});
    }

    void put(std::size_t face, const Triangle& t) {
        mesh_.triangles[face] = t;
        edges_.add(t, face);
        if (is_degenerate(mesh_, t)) {
            waiting_.push_back(face);
        }
    }

    Mesh& mesh_;
    EdgeMap edges_;
    std::vector<bool> dropped_;
    std::deque<std::size_t> waiting_;
    std::size_t turns_left_ = 0;
};

}  // namespace

std::vector<MeshFinding> check_mesh(const Mesh& mesh, const ExpectedSize& size) {
    if (mesh.triangles.empty()) {
        return {{MeshFault::empty, "The mesh has no face. Export it again as a mesh of triangles.", 0.0, std::nullopt}};
    }
    std::vector<MeshFinding> findings;
    const EdgeCount edges = count_edges(mesh);
    add_edges(findings, edges);
    add_inside_out(findings, mesh, edges);
    add_degenerate(findings, mesh);
    add_size(findings, mesh, size);
    return findings;
}

Mesh cleaned(const Mesh& mesh) {
    const auto degenerate = [&mesh](const Triangle& t) { return is_degenerate(mesh, t); };
    if (std::none_of(mesh.triangles.begin(), mesh.triangles.end(), degenerate)) {
        return mesh;
    }
    Mesh clean = mesh;
    join_corners(clean);
    FlatFaces{clean}.take_out();
    return clean;
}

}  // namespace sillwright::geometry
