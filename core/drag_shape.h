#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/job.h"
#include "geometry/distance_tree.h"
#include "geometry/loft.h"
#include "geometry/ring_mesh.h"
#include "geometry/sheet_ring.h"

namespace sillwright::core {

/// The body of a drawn piece whose node a hand moves: meshed once as it was at the start, coarser
/// than for the full check and with rows enough for moves of `k_near_mm`; then only what
/// has moved is put in its new place.
///
/// Accuracy: `mesh.deviation` is the truth for every place of the node, plus k_drag_margin. Near the
///   start it is about the deviation asked for. Every shape is made from that at the start,
///   so the same place gives the same numbers whatever was between.
class DragShape {
public:
    /// Within this of where it was, rows and tree of the start serve.
    static constexpr geometry::Length k_near = geometry::millimetres(5.0);

    /// Errors: as piece_model.
    static geometry::Result<DragShape> begin(const Piece& piece, const geometry::Loft& line, const std::string& name,
                                             std::size_t section, geometry::Length deviation);

    /// The piece's body with the node at a place; `line` is its moved line, other than at the start within `changed`.
    /// The tree stays at one place in memory while `follows`.
    /// Errors: does_not_fit where there is no such body; then all is as before.
    geometry::Status to(const Piece& piece, const geometry::Loft& line, geometry::AlongRange changed,
                        const Eigen::Vector2d& p_mm);

    [[nodiscard]] const BodyModel& body() const { return body_; }
    /// Whether the tree has the nodes that it had at the start.
    [[nodiscard]] bool follows() const { return follows_; }
    /// How far the corners below each of these nodes have moved since the start; while it follows.
    [[nodiscard]] const std::vector<double>& moved() const { return moved_; }
    /// Of the mesh, without the margin.
    [[nodiscard]] geometry::Length deviation() const { return ring_deviation_; }

private:
    DragShape() = default;
    bool follow(const Piece& piece, const geometry::Loft& line, geometry::AlongRange changed);
    geometry::Status make_anew(const Piece& piece, const geometry::Loft& line);

    geometry::SheetFaces faces_;
    geometry::Length wanted_;
    Eigen::Vector2d start_mm_ = Eigen::Vector2d::Zero();
    geometry::RingLayout layout_;
    geometry::RingMesh ring_;  ///< At the start.
    geometry::Mesh mesh_;      ///< With its end caps.
    std::shared_ptr<const geometry::DistanceTree> start_tree_;
    std::shared_ptr<geometry::DistanceTree> tree_;  ///< That follows.

    BodyModel body_;
    std::vector<double> moved_;
    geometry::Length ring_deviation_;
    bool follows_ = true;
};

/// Taken off in a drag besides the mesh's own deviation: what the full check may find less than the
/// truth (its mesh's deviation, which counts twice, and its tolerance). So a drag never says more than the full
/// check will.
constexpr geometry::Length k_drag_margin = 2.0 * k_check_deviation + geometry::millimetres(0.01);

}  // namespace sillwright::core
