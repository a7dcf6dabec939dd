#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/job.h"
#include "core/skirt/sheet_body.h"
#include "geometry/distance_tree.h"
#include "geometry/loft.h"
#include "geometry/ring_mesh.h"

namespace sillwright::core {

/// The body of a drawn piece whose node a hand moves: meshed once as it was at the start, coarser
/// than for the full check and with rows enough for moves of `k_near_mm`; then only what
/// has moved is put in its new place.
///
/// Accuracy: `mesh.deviation` is the truth for every place of the node, plus k_drag_margin. Near the
///   start it is about the deviation asked for. Every shape is made from that at the start,
///   so the same place gives the same numbers whatever was between.
/// Thickness: that of the sheet; with `formed` as thick as it was formed at the start: each strip keeps its thickness
///   while its nodes move. The full check drapes the sheet anew, and its outside may then lie elsewhere by as much as
///   the thickness changes by the move; where the node was it says the same.
class DragShape {
public:
    /// Within this of where it was, rows and tree of the start serve.
    static constexpr geometry::Length k_near = geometry::millimetres(5.0);

    /// Errors: as piece_model.
    static geometry::Result<DragShape> begin(const Piece& piece, const geometry::Loft& line, const std::string& name,
                                             std::size_t section, geometry::Length deviation,
                                             std::shared_ptr<const FormedSheet> formed = nullptr);

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

    std::shared_ptr<const FormedSheet> formed_;
    geometry::Length wanted_;
    Eigen::Vector2d start_mm_ = Eigen::Vector2d::Zero();
    SheetLayout layout_;
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
