#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <span>
#include <stop_token>
#include <vector>

#include "geometry/mesh.h"
#include "geometry/result.h"
#include "geometry/triangle_distance.h"

namespace sillwright::geometry {

/// A mesh's triangles in a binary tree of oriented boxes.
///
/// Boxes lie across the faces of the surface inside them, so that a box about a
/// flat patch is flat: a hem that glides along a shelf is told from it by its
/// thinnest direction. Nodes stand in preorder: a node's first child
/// follows it.
class DistanceTree {
public:
    struct Node {
        Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();  ///< Columns, orthonormal.
        Eigen::Vector3d centre = Eigen::Vector3d::Zero();
        Eigen::Vector3d half = Eigen::Vector3d::Zero();  ///< Half extents along the axes.
        double radius = 0.0;                             ///< Half diagonal.
        std::int32_t second = 0;                         ///< Second child; 0 in a leaf.
        std::int32_t parent = -1;                        ///< -1 at the root.
        std::int32_t first_slot = 0;                     ///< The triangles below stand in slots first_slot ..
        std::int32_t slot_count = 0;                     ///< .. first_slot + slot_count.

        [[nodiscard]] bool is_leaf() const { return second == 0; }
    };

    /// Errors: invalid_argument for a mesh without triangles, a corner index out
    ///   of range or a coordinate that is not finite; stopped.
    static Result<DistanceTree> build(const Mesh& mesh, const std::stop_token& stop = {});

    /// Takes over the new places of the given triangles from `mesh`, which has the
    /// same triangles as the one that was built from; boxes above them are fitted
    /// again. Repeated edits loosen the upper boxes, never make them wrong.
    /// Precondition: same number of triangles, indices in range, finite points.
    /// `axes`: which boxes are turned to lie across their new faces. All small ones, which costs most of
    /// the time; or only the leaves, by one of their triangles: boxes above are right too, only
    /// larger where faces have turned much.
    enum class Axes { of_small, of_leaves };
    void refit(const Mesh& mesh, std::span<const std::int32_t> triangles, Axes axes = Axes::of_small);

    [[nodiscard]] const std::vector<Node>& nodes() const { return nodes_; }
    /// Corners of the triangle in a slot.
    [[nodiscard]] const Corners& corners(std::int32_t slot) const { return corners_[static_cast<std::size_t>(slot)]; }
    /// The mesh's triangle in a slot.
    [[nodiscard]] std::int32_t triangle(std::int32_t slot) const { return triangles_[static_cast<std::size_t>(slot)]; }
    [[nodiscard]] std::int32_t slot_count() const { return static_cast<std::int32_t>(corners_.size()); }

    /// Each edge in exactly two triangles: inside and outside have a meaning.
    [[nodiscard]] bool closed() const { return closed_; }
    /// One slot of each connected part.
    [[nodiscard]] const std::vector<std::int32_t>& part_slots() const { return part_slots_; }
    /// The mesh's own greatest deviation from the true surface.
    [[nodiscard]] Length deviation() const { return deviation_; }
    /// Greatest absolute coordinate: the scale of rounding.
    [[nodiscard]] double greatest_coordinate_mm() const { return greatest_coordinate_; }

private:
    void fit_node(std::int32_t index);

    std::vector<Node> nodes_;
    std::vector<Corners> corners_;
    std::vector<std::int32_t> triangles_;
    std::vector<std::int32_t> slot_of_;  // by triangle
    std::vector<std::int32_t> leaf_of_slot_;
    std::vector<Eigen::Vector3d> points_;    // In the order in which the slots meet them.
    std::vector<std::int32_t> slot_points_;  // Three for each slot.
    std::vector<std::int32_t> seen_by_;      // Node that looked at a point last.
    std::vector<std::int32_t> part_slots_;
    bool closed_ = false;
    Length deviation_;
    double greatest_coordinate_ = 0.0;
};

/// For each node of a tree, how far any corner below it has moved at most since `before`, the
/// same tree before it was refitted. Millimetres.
std::vector<double> moved_by_node(const DistanceTree& before, const DistanceTree& after);

/// True if `p_mm` is inside a closed mesh's body (inside any of its parts).
/// By the winding of a ray; a ray that meets an edge is cast anew in another
/// direction. On the surface itself either answer may come.
/// Precondition: tree.closed().
bool inside(const DistanceTree& tree, const Eigen::Vector3d& p_mm);

/// Nearest point of the surface, its distance and the slot of its triangle.
struct NearestOnSurface {
    Eigen::Vector3d p_mm;
    double distance_mm;
    std::int32_t slot;
};
NearestOnSurface nearest_on_surface(const DistanceTree& tree, const Eigen::Vector3d& p_mm);

}  // namespace sillwright::geometry
