#pragma once

#include <Eigen/Core>
#include <memory>
#include <string>

#include "core/evaluate.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

/// A node of the skirt while a hand drags it: prepared once, then answered at every
/// move within a picture's time.
///
/// What follows the hand: the piece's line and body with its end caps, reach and flange of all
///   mounts, what to make in the flange for each, the road, the proven bound of every door to the piece (carried pieces
///   too), and the buck's outlines. Mends are not looked for. All else stands as it was, how
///   thick the sheet comes out too: each strip keeps the thickness that it had at the start.
/// Accuracy: the numbers of reach are those of evaluate(). Of the swing, `deviation` is taken off every
///   proven bound; it holds the deviation of the coarser mesh, and so much more (k_drag_margin) that no
///   bound is above that of evaluate() for a sheet as thick as it was at the start. It is not further below it than
///   twice `deviation` and k_drag_tolerance.
/// Where a door touches the piece, that is said with one angle; how deep, and from where to where, evaluate() tells.
/// The same place gives the same numbers, whatever was between: each is made from the start.
class Drag {
public:
    /// Errors: invalid_argument if no node has that id or it is none of a drawn piece; else as piece_model.
    static geometry::Result<Drag> begin(std::shared_ptr<const Evaluation> from, const std::string& node_id,
                                        geometry::Length deviation = k_drag_deviation);
    Drag(Drag&&) noexcept;
    Drag& operator=(Drag&&) noexcept;
    ~Drag();

    /// The node put at (out, up). Errors: does_not_fit where the section has no shape so; then
    /// the evaluation is that of the last place that had.
    /// Errors also: invalid_argument as move_node.
    geometry::Status to(const Eigen::Vector2d& p_mm);

    /// As it stands now; changed by the next `to`.
    [[nodiscard]] const Evaluation& evaluation() const;
    /// What is taken off every bound of the dragged piece now; zero while it has no body.
    [[nodiscard]] geometry::Length deviation() const;

    static constexpr geometry::Length k_drag_deviation = geometry::millimetres(0.1);

private:
    struct State;
    explicit Drag(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

}  // namespace sillwright::core
