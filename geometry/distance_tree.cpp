#include "geometry/distance_tree.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <string>

namespace sillwright::geometry {

using Eigen::Matrix3d;
using Eigen::Vector3d;

namespace {

/// Triangles in a leaf. Measured: fewer makes the tree too large for the
/// cache, more makes too many pairs of triangles.
constexpr std::int32_t k_leaf_slots = 2;

/// Up to this many triangles a box is fitted to the corners themselves; above,
/// to the children's boxes, which costs the same at every level.
constexpr std::int32_t k_fit_to_corners = 16;

/// Boxes are grown by this part of the greatest coordinate, far above the
/// rounding of the projections and far below any length that matters.
constexpr double k_rounding_growth = 1e-14;

/// Area-weighted moments of a set of triangles about the mesh's middle.
struct Moments {
    double area = 0.0;
    Vector3d first = Vector3d::Zero();
    Matrix3d second = Matrix3d::Zero();

    void add(const Moments& other) {
        area += other.area;
        first += other.first;
        second += other.second;
    }
};

/// Source: S. Gottschalk, M. C. Lin, D. Manocha, OBBTree, SIGGRAPH 1996, section 4:
/// second moments of a triangle from its corners and centroid.
Moments moments_of(const Corners& t, const Vector3d& origin, double least_area) {
    const Vector3d p = t[0] - origin;
    const Vector3d q = t[1] - origin;
    const Vector3d r = t[2] - origin;
    const Vector3d c = (p + q + r) / 3.0;
    Moments m;
    m.area = std::max(0.5 * (q - p).cross(r - p).norm(), least_area);
    m.first = m.area * c;
    m.second = (m.area / 12.0) *
               (9.0 * c * c.transpose() + p * p.transpose() + q * q.transpose() + r * r.transpose());
    return m;
}

/// Orthonormal axes, the direction of least spread last.
Matrix3d principal_axes(const Moments& m) {
    const Vector3d mean = m.first / m.area;
    const Matrix3d covariance = m.second / m.area - mean * mean.transpose();
    Eigen::SelfAdjointEigenSolver<Matrix3d> solver;
    solver.computeDirect(covariance);
    // The direct solution may lose orthogonality where spreads are equal.
    const Vector3d thin = solver.eigenvectors().col(0).normalized();
    Vector3d wide = solver.eigenvectors().col(2) - thin * thin.dot(solver.eigenvectors().col(2));
    if (!(wide.norm() > 0.5) || !thin.allFinite()) {
        return Matrix3d::Identity();
    }
    wide.normalize();
    Matrix3d axes;
    axes << wide, thin.cross(wide), thin;
    return axes;
}

Vector3d centroid(const Corners& t) { return (t[0] + t[1] + t[2]) / 3.0; }

/// Smallest box along the node's axes about what `reach` has been shown.
class BoxFit {
public:
    explicit BoxFit(const Matrix3d& axes) : axes_{axes} {}
    void add(const Vector3d& p) {
        const Vector3d along = axes_.transpose() * p;
        low_ = low_.cwiseMin(along);
        high_ = high_.cwiseMax(along);
    }
    void add(const DistanceTree::Node& box) {
        const Vector3d along = axes_.transpose() * box.centre;
        const Vector3d reach = (axes_.transpose() * box.axes).cwiseAbs() * box.half;
        low_ = low_.cwiseMin(along - reach);
        high_ = high_.cwiseMax(along + reach);
    }
    void give(DistanceTree::Node& node, double growth) const {
        node.centre = axes_ * (0.5 * (low_ + high_));
        node.half = 0.5 * (high_ - low_) + Vector3d::Constant(growth);
        node.radius = node.half.norm();
    }

private:
    Matrix3d axes_;
    Vector3d low_ = Vector3d::Constant(std::numeric_limits<double>::infinity());
    Vector3d high_ = Vector3d::Constant(-std::numeric_limits<double>::infinity());
};

/// One slot of each set of triangles that hang together by shared points.
std::vector<std::int32_t> connected_parts(const Mesh& mesh, const std::vector<std::int32_t>& slot_of) {
    std::vector<std::int32_t> root(mesh.points.size());
    std::iota(root.begin(), root.end(), 0);
    const auto find = [&root](std::int32_t i) {
        while (root[static_cast<std::size_t>(i)] != i) {
            auto& up = root[static_cast<std::size_t>(i)];
            up = root[static_cast<std::size_t>(up)];
            i = up;
        }
        return i;
    };
    for (const Triangle& t : mesh.triangles) {
        const auto a = find(t[0]);
        root[static_cast<std::size_t>(find(t[1]))] = a;
        root[static_cast<std::size_t>(find(t[2]))] = a;
    }
    std::vector<bool> seen(mesh.points.size(), false);
    std::vector<std::int32_t> slots;
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        const auto part = static_cast<std::size_t>(find(mesh.triangles[i][0]));
        if (!seen[part]) {
            seen[part] = true;
            slots.push_back(slot_of[i]);
        }
    }
    return slots;
}

}  // namespace

Result<DistanceTree> DistanceTree::build(const Mesh& mesh) {
    if (mesh.triangles.empty()) {
        return Error{ErrorCode::invalid_argument, "The mesh has no triangles; at least one is needed."};
    }
    DistanceTree tree;
    for (const Vector3d& p : mesh.points) {
        if (!p.allFinite()) {
            return Error{ErrorCode::invalid_argument, "The mesh has a point whose coordinates are not numbers."};
        }
        tree.greatest_coordinate_ = std::max(tree.greatest_coordinate_, p.cwiseAbs().maxCoeff());
    }
    const auto count = static_cast<std::int32_t>(mesh.triangles.size());
    std::vector<Corners> corners(mesh.triangles.size());
    std::vector<Vector3d> middles(mesh.triangles.size());
    Vector3d origin = Vector3d::Zero();
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        for (std::size_t k = 0; k < 3; ++k) {
            const auto index = mesh.triangles[i][k];
            if (index < 0 || static_cast<std::size_t>(index) >= mesh.points.size()) {
                return Error{ErrorCode::invalid_argument,
                             "Triangle " + std::to_string(i + 1) + " names point " + std::to_string(index) +
                                 "; the mesh has points 0 to " + std::to_string(mesh.points.size()) + " less one."};
            }
            corners[i][k] = mesh.points[static_cast<std::size_t>(index)];
        }
        middles[i] = centroid(corners[i]);
        origin += middles[i] / static_cast<double>(count);
    }

    // Halve by the middle of the longest spread of centroids, down to the leaves; preorder.
    std::vector<std::int32_t> order(mesh.triangles.size());
    std::iota(order.begin(), order.end(), 0);
    tree.nodes_.reserve(2 * mesh.triangles.size() / static_cast<std::size_t>(k_leaf_slots) + 8);
    struct Task {
        std::int32_t first, slots, parent;
        bool second;
    };
    std::vector<Task> tasks{{0, count, -1, false}};
    while (!tasks.empty()) {
        const Task task = tasks.back();
        tasks.pop_back();
        const auto index = static_cast<std::int32_t>(tree.nodes_.size());
        if (task.second) {
            tree.nodes_[static_cast<std::size_t>(task.parent)].second = index;
        }
        Node node{};
        node.parent = task.parent;
        node.first_slot = task.first;
        node.slots = task.slots;
        tree.nodes_.push_back(node);
        if (task.slots <= k_leaf_slots) {
            continue;
        }
        const auto begin = order.begin() + task.first;
        const auto end = begin + task.slots;
        Vector3d low = middles[static_cast<std::size_t>(*begin)];
        Vector3d high = low;
        for (auto it = begin; it != end; ++it) {
            low = low.cwiseMin(middles[static_cast<std::size_t>(*it)]);
            high = high.cwiseMax(middles[static_cast<std::size_t>(*it)]);
        }
        Eigen::Index axis = 0;
        (high - low).maxCoeff(&axis);
        const std::int32_t half = task.slots / 2;
        std::nth_element(begin, begin + half, end, [&](std::int32_t a, std::int32_t b) {
            return middles[static_cast<std::size_t>(a)][axis] < middles[static_cast<std::size_t>(b)][axis];
        });
        tasks.push_back({task.first + half, task.slots - half, index, true});
        tasks.push_back({task.first, half, index, false});
    }

    tree.triangles_ = std::move(order);
    tree.corners_.resize(corners.size());
    tree.slot_of_.resize(corners.size());
    tree.leaf_of_slot_.resize(corners.size());
    for (std::int32_t slot = 0; slot < count; ++slot) {
        const auto triangle = tree.triangles_[static_cast<std::size_t>(slot)];
        tree.corners_[static_cast<std::size_t>(slot)] = corners[static_cast<std::size_t>(triangle)];
        tree.slot_of_[static_cast<std::size_t>(triangle)] = slot;
    }

    // From the leaves up: axes from the moments, then the box.
    const double least_area = 1e-12 * std::max(1.0, tree.greatest_coordinate_);  // Lets points and edges count.
    std::vector<Moments> moments(tree.nodes_.size());
    for (auto i = static_cast<std::int32_t>(tree.nodes_.size()) - 1; i >= 0; --i) {
        Node& node = tree.nodes_[static_cast<std::size_t>(i)];
        Moments& sum = moments[static_cast<std::size_t>(i)];
        if (node.is_leaf()) {
            for (std::int32_t slot = node.first_slot; slot < node.first_slot + node.slots; ++slot) {
                sum.add(moments_of(tree.corners(slot), origin, least_area));
                tree.leaf_of_slot_[static_cast<std::size_t>(slot)] = i;
            }
        } else {
            sum.add(moments[static_cast<std::size_t>(i) + 1]);
            sum.add(moments[static_cast<std::size_t>(node.second)]);
        }
        node.axes = principal_axes(sum);
        tree.fit_node(i);
    }
    tree.closed_ = open_edge_count(mesh) == 0;
    tree.part_slots_ = connected_parts(mesh, tree.slot_of_);
    tree.deviation_ = mesh.deviation;
    return tree;
}

void DistanceTree::fit_node(std::int32_t index) {
    Node& node = nodes_[static_cast<std::size_t>(index)];
    BoxFit fit(node.axes);
    if (node.slots <= k_fit_to_corners) {
        for (std::int32_t slot = node.first_slot; slot < node.first_slot + node.slots; ++slot) {
            for (const Vector3d& p : corners(slot)) {
                fit.add(p);
            }
        }
    } else {
        fit.add(nodes_[static_cast<std::size_t>(index) + 1]);
        fit.add(nodes_[static_cast<std::size_t>(node.second)]);
    }
    fit.give(node, k_rounding_growth * greatest_coordinate_);
}

void DistanceTree::refit(const Mesh& mesh, std::span<const std::int32_t> triangles) {
    std::vector<bool> stale(nodes_.size(), false);
    for (const std::int32_t triangle : triangles) {
        const auto slot = static_cast<std::size_t>(slot_of_[static_cast<std::size_t>(triangle)]);
        for (std::size_t k = 0; k < 3; ++k) {
            const auto point = static_cast<std::size_t>(mesh.triangles[static_cast<std::size_t>(triangle)][k]);
            corners_[slot][k] = mesh.points[point];
            greatest_coordinate_ = std::max(greatest_coordinate_, mesh.points[point].cwiseAbs().maxCoeff());
        }
        stale[static_cast<std::size_t>(leaf_of_slot_[slot])] = true;
    }
    deviation_ = mesh.deviation;
    for (auto i = static_cast<std::int32_t>(nodes_.size()) - 1; i >= 0; --i) {
        if (!stale[static_cast<std::size_t>(i)]) {
            continue;
        }
        Node& node = nodes_[static_cast<std::size_t>(i)];
        if (node.slots <= k_fit_to_corners) {
            Moments sum;
            for (std::int32_t slot = node.first_slot; slot < node.first_slot + node.slots; ++slot) {
                sum.add(moments_of(corners(slot), node.centre, 1e-12 * std::max(1.0, greatest_coordinate_)));
            }
            node.axes = principal_axes(sum);
        }
        fit_node(i);
        if (node.parent >= 0) {
            stale[static_cast<std::size_t>(node.parent)] = true;
        }
    }
}

namespace {

/// True if the ray from `p` meets the box.
bool ray_meets(const DistanceTree::Node& box, const Vector3d& p, const Vector3d& direction) {
    const Vector3d from = box.axes.transpose() * (p - box.centre);
    const Vector3d along = box.axes.transpose() * direction;
    double enter = 0.0;
    double leave = std::numeric_limits<double>::infinity();
    for (Eigen::Index k = 0; k < 3; ++k) {
        if (std::abs(along[k]) < std::numeric_limits<double>::min()) {
            if (std::abs(from[k]) > box.half[k]) {
                return false;
            }
            continue;
        }
        const double a = (-box.half[k] - from[k]) / along[k];
        const double b = (box.half[k] - from[k]) / along[k];
        enter = std::max(enter, std::min(a, b));
        leave = std::min(leave, std::max(a, b));
    }
    return enter <= leave;
}

/// Crossings outward less crossings inward along the ray; no value if the ray
/// passes too near an edge to tell.
struct Winding {
    int value = 0;
    bool clear = true;
};
Winding winding(const DistanceTree& tree, const Vector3d& p, const Vector3d& direction) {
    // A volume this small against the product of its edges is a near miss of an edge.
    constexpr double k_near_edge = 1e-11;
    Winding result;
    std::vector<std::int32_t> stack{0};
    while (!stack.empty()) {
        const auto index = stack.back();
        stack.pop_back();
        const auto& node = tree.nodes()[static_cast<std::size_t>(index)];
        if (!ray_meets(node, p, direction)) {
            continue;
        }
        if (!node.is_leaf()) {
            stack.push_back(node.second);
            stack.push_back(index + 1);
            continue;
        }
        for (std::int32_t slot = node.first_slot; slot < node.first_slot + node.slots; ++slot) {
            const Corners& t = tree.corners(slot);
            const Vector3d a = t[0] - p;
            const Vector3d b = t[1] - p;
            const Vector3d c = t[2] - p;
            const std::array<double, 3> volumes{direction.dot(a.cross(b)), direction.dot(b.cross(c)),
                                                direction.dot(c.cross(a))};
            const double scale = std::max({a.squaredNorm(), b.squaredNorm(), c.squaredNorm()});
            const double slack = k_near_edge * scale;
            const double low = std::min({volumes[0], volumes[1], volumes[2]});
            const double high = std::max({volumes[0], volumes[1], volumes[2]});
            if (low < -slack && high > slack) {
                continue;  // Passes outside.
            }
            const Vector3d normal = (b - a).cross(c - a);
            if (low > slack || high < -slack) {
                if (normal.dot(a) / normal.dot(direction) > 0.0) {
                    result.value += low > slack ? 1 : -1;
                }
            } else if (normal.norm() > 0.0) {
                result.clear = false;
                return result;
            }
        }
    }
    return result;
}

}  // namespace

bool inside(const DistanceTree& tree, const Vector3d& p_mm) {
    // Directions without symmetry; a body for which all of them meet an edge is not found in practice.
    static const std::array<Vector3d, 6> directions{
        Vector3d{0.3511, 0.8127, 0.4651}, Vector3d{-0.7193, 0.2417, 0.6512}, Vector3d{0.5113, -0.4231, -0.7481},
        Vector3d{-0.1973, -0.9311, 0.3067}, Vector3d{0.8731, 0.1193, -0.4729}, Vector3d{-0.4129, 0.5407, -0.7328}};
    Winding result;
    for (const Vector3d& direction : directions) {
        result = winding(tree, p_mm, direction.normalized());
        if (result.clear) {
            break;
        }
    }
    return result.value > 0;
}

NearestOnSurface nearest_on_surface(const DistanceTree& tree, const Vector3d& p_mm) {
    NearestOnSurface best{p_mm, std::numeric_limits<double>::infinity(), 0};
    double squared = std::numeric_limits<double>::infinity();
    struct Task {
        std::int32_t index;
        double squared;
    };
    const auto box_squared = [&](std::int32_t index) {
        const auto& node = tree.nodes()[static_cast<std::size_t>(index)];
        const Vector3d from = (node.axes.transpose() * (p_mm - node.centre)).cwiseAbs() - node.half;
        return from.cwiseMax(0.0).squaredNorm();
    };
    std::vector<Task> stack{{0, 0.0}};
    while (!stack.empty()) {
        const Task task = stack.back();
        stack.pop_back();
        if (task.squared >= squared) {
            continue;
        }
        const auto& node = tree.nodes()[static_cast<std::size_t>(task.index)];
        if (!node.is_leaf()) {
            Task near{task.index + 1, box_squared(task.index + 1)};
            Task far{node.second, box_squared(node.second)};
            if (far.squared < near.squared) {
                std::swap(near, far);
            }
            stack.push_back(far);
            stack.push_back(near);
            continue;
        }
        for (std::int32_t slot = node.first_slot; slot < node.first_slot + node.slots; ++slot) {
            const Vector3d q = nearest_on_triangle(p_mm, tree.corners(slot));
            if ((q - p_mm).squaredNorm() < squared) {
                squared = (q - p_mm).squaredNorm();
                best = {q, 0.0, slot};
            }
        }
    }
    best.distance_mm = std::sqrt(squared);
    return best;
}

}  // namespace sillwright::geometry
