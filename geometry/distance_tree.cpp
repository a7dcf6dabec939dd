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

/// A surface that rises less than this over its width is halved as a flat one:
/// a tenth of the usual tolerance of a distance.
constexpr double k_flat_mm = 1e-3;

/// Refitting turns the axes of boxes with up to this many triangles; above, the
/// old axes serve, since an edit moves few of their triangles.
constexpr std::int32_t k_turn_axes = 64;

/// Boxes are grown by this part of the greatest coordinate, far above the
/// rounding of the projections and far below any length that matters.
constexpr double k_rounding_growth = 1e-14;

/// Area-weighted moments of a set of triangles: of their normals, and of their
/// points about an origin.
struct Moments {
    double area = 0.0;
    Matrix3d normals = Matrix3d::Zero();
    Vector3d first = Vector3d::Zero();
    Matrix3d second = Matrix3d::Zero();

    void add(const Moments& other) {
        area += other.area;
        normals += other.normals;
        first += other.first;
        second += other.second;
    }
};

/// Source of the second moments of a triangle: S. Gottschalk, M. C. Lin, D. Manocha,
/// OBBTree, SIGGRAPH 1996, section 4.
Moments moments_of(const Corners& t, const Vector3d& origin, double least_area) {
    const Vector3d p = t[0] - origin;
    const Vector3d q = t[1] - origin;
    const Vector3d r = t[2] - origin;
    const Vector3d c = (p + q + r) / 3.0;
    const Vector3d normal = (q - p).cross(r - p);
    const double twice_area = normal.norm();
    Moments m;
    m.area = std::max(0.5 * twice_area, least_area);
    if (twice_area > 0.0) {
        m.normals = (0.5 / twice_area) * normal * normal.transpose();
    }
    m.first = m.area * c;
    m.second = (m.area / 12.0) * (9.0 * c * c.transpose() + p * p.transpose() + q * q.transpose() + r * r.transpose());
    return m;
}

/// The two directions across `third` along which a symmetric matrix has no mixed
/// part, the one with the smaller value first; no value if it is the same all round.
bool planar_axes(const Matrix3d& m, const Vector3d& third, Matrix3d& axes) {
    const Vector3d u = third.unitOrthogonal();
    const Vector3d v = third.cross(u);
    const double difference = u.dot(m * u) - v.dot(m * v);
    const double mixed = 2.0 * u.dot(m * v);
    // Below this part of the whole the directions are rounding.
    constexpr double k_same_all_round = 1e-6;
    if (std::hypot(difference, mixed) <= k_same_all_round * m.trace()) {
        return false;
    }
    const double angle = 0.5 * std::atan2(mixed, difference);
    const Vector3d greater = std::cos(angle) * u + std::sin(angle) * v;
    axes << greater.cross(third), greater, third;
    return true;
}

/// Orthonormal axes of a box about a surface: across its faces rather than along
/// its points, so that flat parts lie flat in it. The last axis is the direction
/// of most normals; the second that of most of the rest.
Matrix3d box_axes(const Moments& m) {
    const Vector3d mean = m.first / m.area;
    const Matrix3d spread = m.second / m.area - mean * mean.transpose();
    const bool has_normals = m.normals.trace() > 0.0;
    Eigen::SelfAdjointEigenSolver<Matrix3d> solver;
    solver.computeDirect(has_normals ? m.normals : spread);
    const Vector3d third = solver.eigenvectors().col(has_normals ? 2 : 0).normalized();
    Matrix3d axes;
    if (!third.allFinite() || !(third.norm() > 0.5)) {
        return Matrix3d::Identity();
    }
    if ((has_normals && planar_axes(m.normals, third, axes)) || planar_axes(spread, third, axes)) {
        return axes;
    }
    const Vector3d first = third.unitOrthogonal();
    axes << first, third.cross(first), third;
    return axes;
}

/// Axes across the largest of some triangles, along its first side; `old` if none has an area.
Matrix3d axes_of_largest(std::span<const Corners> triangles, const Matrix3d& old) {
    Matrix3d axes = old;
    double largest = 0.0;
    for (const Corners& t : triangles) {
        const Vector3d side = t[1] - t[0];
        const Vector3d normal = side.cross(t[2] - t[0]);
        if (const double area = normal.norm(); area > largest) {
            largest = area;
            const Vector3d third = normal / area;
            const Vector3d first = side.normalized();
            axes << first, third.cross(first), third;
        }
    }
    return axes;
}

/// A triangle as the tree's halving sees it.
struct Facet {
    Vector3d middle;
    Vector3d normal;  // Unit; zero if the triangle has no area.
};
Facet facet_of(const Corners& t) {
    const Vector3d normal = (t[1] - t[0]).cross(t[2] - t[0]);
    const double twice_area = normal.norm();
    return {(t[0] + t[1] + t[2]) / 3.0, twice_area > 0.0 ? Vector3d(normal / twice_area) : Vector3d(Vector3d::Zero())};
}

/// The direction across which to halve: that in which the surface bends most, so
/// that what is left is flat, be it long; the longest if it is flat already.
///
/// Over a width w with curvature k the normals turn by k w, their covariance with
/// the place is k w^2 / 12, and the surface rises by k w^2 / 8.
Eigen::Index split_axis(const std::vector<Facet>& facets, std::span<const std::int32_t> which) {
    Vector3d low = facets[static_cast<std::size_t>(which.front())].middle;
    Vector3d high = low;
    Vector3d middles = Vector3d::Zero();
    Vector3d normals = Vector3d::Zero();
    Matrix3d products = Matrix3d::Zero();
    for (const std::int32_t i : which) {
        const Facet& facet = facets[static_cast<std::size_t>(i)];
        low = low.cwiseMin(facet.middle);
        high = high.cwiseMax(facet.middle);
        middles += facet.middle;
        normals += facet.normal;
        products += facet.normal * facet.middle.transpose();
    }
    const auto count = static_cast<double>(which.size());
    const Matrix3d covariance = products / count - (normals / count) * (middles / count).transpose();
    const Vector3d rise = 1.5 * covariance.colwise().norm().transpose();
    Eigen::Index axis = 0;
    if (rise.maxCoeff(&axis) < k_flat_mm) {
        (high - low).maxCoeff(&axis);
    }
    return axis;
}

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

namespace {

/// Parts of a tree that are made between two looks at the stop token.
constexpr std::size_t k_nodes_between_looks = 1024;

Error stopped_building() {
    return {ErrorCode::stopped, "The computation was stopped while a body was made ready for it."};
}

}  // namespace

Result<DistanceTree> DistanceTree::build(const Mesh& mesh, const std::stop_token& stop) {
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
    std::vector<Facet> facets(mesh.triangles.size());
    Vector3d origin = Vector3d::Zero();
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        for (std::size_t k = 0; k < 3; ++k) {
            const auto index = mesh.triangles[i][k];
            if (index < 0 || static_cast<std::size_t>(index) >= mesh.points.size()) {
                return Error{ErrorCode::invalid_argument, "Triangle " + std::to_string(i + 1) + " names point " +
                                                              std::to_string(index) + "; the mesh has points 0 to " +
                                                              std::to_string(mesh.points.size()) + " less one."};
            }
            corners[i][k] = mesh.points[static_cast<std::size_t>(index)];
        }
        facets[i] = facet_of(corners[i]);
        origin += facets[i].middle / static_cast<double>(count);
    }

    // Halve by the middle of the centroids, down to the leaves; preorder.
    std::vector<std::int32_t> order(mesh.triangles.size());
    std::iota(order.begin(), order.end(), 0);
    tree.nodes_.reserve(2 * mesh.triangles.size() / static_cast<std::size_t>(k_leaf_slots) + 8);
    struct Task {
        std::int32_t first, slot_count, parent;
        bool second;
    };
    std::vector<Task> tasks{{0, count, -1, false}};
    while (!tasks.empty()) {
        if (tree.nodes_.size() % k_nodes_between_looks == 0 && stop.stop_requested()) {
            return stopped_building();
        }
        const Task task = tasks.back();
        tasks.pop_back();
        const auto index = static_cast<std::int32_t>(tree.nodes_.size());
        if (task.second) {
            tree.nodes_[static_cast<std::size_t>(task.parent)].second = index;
        }
        Node node;
        node.parent = task.parent;
        node.first_slot = task.first;
        node.slot_count = task.slot_count;
        tree.nodes_.push_back(node);
        if (task.slot_count <= k_leaf_slots) {
            continue;
        }
        const auto begin = order.begin() + task.first;
        const auto end = begin + task.slot_count;
        const Eigen::Index axis = split_axis(facets, {begin, end});
        const std::int32_t half = task.slot_count / 2;
        std::nth_element(begin, begin + half, end, [&](std::int32_t a, std::int32_t b) {
            return facets[static_cast<std::size_t>(a)].middle[axis] < facets[static_cast<std::size_t>(b)].middle[axis];
        });
        tasks.push_back({task.first + half, task.slot_count - half, index, true});
        tasks.push_back({task.first, half, index, false});
    }

    tree.triangles_ = std::move(order);
    tree.corners_.resize(corners.size());
    tree.slot_of_.resize(corners.size());
    tree.leaf_of_slot_.resize(corners.size());
    tree.slot_points_.reserve(3 * corners.size());
    std::vector<std::int32_t> new_number(mesh.points.size(), -1);  // Points in the order in which slots meet them.
    for (std::int32_t slot = 0; slot < count; ++slot) {
        const auto triangle = static_cast<std::size_t>(tree.triangles_[static_cast<std::size_t>(slot)]);
        tree.corners_[static_cast<std::size_t>(slot)] = corners[triangle];
        tree.slot_of_[triangle] = slot;
        for (const std::int32_t old : mesh.triangles[triangle]) {
            std::int32_t& number = new_number[static_cast<std::size_t>(old)];
            if (number < 0) {
                number = static_cast<std::int32_t>(tree.points_.size());
                tree.points_.push_back(mesh.points[static_cast<std::size_t>(old)]);
            }
            tree.slot_points_.push_back(number);
        }
    }
    tree.seen_by_.assign(tree.points_.size(), -1);

    // From the leaves up: axes from the moments, then the box.
    const double least_area = 1e-12 * std::max(1.0, tree.greatest_coordinate_);  // Lets points and edges count.
    std::vector<Moments> moments(tree.nodes_.size());
    for (auto i = static_cast<std::int32_t>(tree.nodes_.size()) - 1; i >= 0; --i) {
        if (static_cast<std::size_t>(i) % k_nodes_between_looks == 0 && stop.stop_requested()) {
            return stopped_building();
        }
        Node& node = tree.nodes_[static_cast<std::size_t>(i)];
        Moments& sum = moments[static_cast<std::size_t>(i)];
        if (node.is_leaf()) {
            for (std::int32_t slot = node.first_slot; slot < node.first_slot + node.slot_count; ++slot) {
                sum.add(moments_of(tree.corners(slot), origin, least_area));
                tree.leaf_of_slot_[static_cast<std::size_t>(slot)] = i;
            }
        } else {
            sum.add(moments[static_cast<std::size_t>(i) + 1]);
            sum.add(moments[static_cast<std::size_t>(node.second)]);
        }
        node.axes = box_axes(sum);
        tree.fit_node(i);
    }
    tree.closed_ = open_edge_count(mesh) == 0;
    tree.part_slots_ = connected_parts(mesh, tree.slot_of_);
    tree.deviation_ = mesh.deviation;
    return tree;
}

void DistanceTree::fit_node(std::int32_t index) {
    // All corners at every level: a box fitted to its children's boxes would
    // inherit the corners of those that lie askew. Each point is looked at once.
    Node& node = nodes_[static_cast<std::size_t>(index)];
    const Matrix3d to_axes = node.axes.transpose();
    Vector3d low = Vector3d::Constant(std::numeric_limits<double>::infinity());
    Vector3d high = -low;
    const auto* point = slot_points_.data() + 3 * static_cast<std::size_t>(node.first_slot);
    const auto* const end = point + 3 * static_cast<std::size_t>(node.slot_count);
    for (; point != end; ++point) {
        const auto p = static_cast<std::size_t>(*point);
        if (seen_by_[p] == index) {
            continue;
        }
        seen_by_[p] = index;
        const Vector3d along = to_axes * points_[p];
        low = low.cwiseMin(along);
        high = high.cwiseMax(along);
    }
    node.centre = node.axes * (0.5 * (low + high));
    node.half = 0.5 * (high - low) + Vector3d::Constant(k_rounding_growth * greatest_coordinate_);
    node.radius = node.half.norm();
}

void DistanceTree::refit(const Mesh& mesh, std::span<const std::int32_t> triangles, Axes axes) {
    std::vector<bool> stale(nodes_.size(), false);
    for (const std::int32_t triangle : triangles) {
        const auto slot = static_cast<std::size_t>(slot_of_[static_cast<std::size_t>(triangle)]);
        for (std::size_t k = 0; k < 3; ++k) {
            const auto point = static_cast<std::size_t>(mesh.triangles[static_cast<std::size_t>(triangle)][k]);
            corners_[slot][k] = mesh.points[point];
            points_[static_cast<std::size_t>(slot_points_[3 * slot + k])] = mesh.points[point];
            greatest_coordinate_ = std::max(greatest_coordinate_, mesh.points[point].cwiseAbs().maxCoeff());
        }
        stale[static_cast<std::size_t>(leaf_of_slot_[slot])] = true;
    }
    deviation_ = mesh.deviation;
    std::fill(seen_by_.begin(), seen_by_.end(), -1);
    for (auto i = static_cast<std::int32_t>(nodes_.size()) - 1; i >= 0; --i) {
        if (!stale[static_cast<std::size_t>(i)]) {
            continue;
        }
        Node& node = nodes_[static_cast<std::size_t>(i)];
        if (axes == Axes::of_leaves) {
            if (node.is_leaf()) {
                node.axes = axes_of_largest(
                    {corners_.data() + node.first_slot, static_cast<std::size_t>(node.slot_count)}, node.axes);
            }
        } else if (node.slot_count <= k_turn_axes) {
            Moments sum;
            for (std::int32_t slot = node.first_slot; slot < node.first_slot + node.slot_count; ++slot) {
                sum.add(moments_of(corners(slot), node.centre, 1e-12 * std::max(1.0, greatest_coordinate_)));
            }
            node.axes = box_axes(sum);
        }
        fit_node(i);
        if (node.parent >= 0) {
            stale[static_cast<std::size_t>(node.parent)] = true;
        }
    }
}

std::vector<double> moved_by_node(const DistanceTree& before, const DistanceTree& after) {
    const auto& nodes = after.nodes();
    std::vector<double> moved(nodes.size(), 0.0);
    for (std::size_t i = nodes.size(); i-- > 0;) {
        const DistanceTree::Node& node = nodes[i];
        if (!node.is_leaf()) {
            moved[i] = std::max(moved[i + 1], moved[static_cast<std::size_t>(node.second)]);
            continue;
        }
        double squared = 0.0;
        for (std::int32_t slot = node.first_slot; slot < node.first_slot + node.slot_count; ++slot) {
            for (std::size_t k = 0; k < 3; ++k) {
                squared = std::max(squared, (after.corners(slot)[k] - before.corners(slot)[k]).squaredNorm());
            }
        }
        moved[i] = std::sqrt(squared);
    }
    return moved;
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
        for (std::int32_t slot = node.first_slot; slot < node.first_slot + node.slot_count; ++slot) {
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
        Vector3d{0.3511, 0.8127, 0.4651},   Vector3d{-0.7193, 0.2417, 0.6512}, Vector3d{0.5113, -0.4231, -0.7481},
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
        for (std::int32_t slot = node.first_slot; slot < node.first_slot + node.slot_count; ++slot) {
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
