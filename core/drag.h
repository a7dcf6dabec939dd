#pragma once

#include <Eigen/Core>
#include <filesystem>
#include <memory>
#include <string>

#include "core/evaluate.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

/// A node of the skirt while a hand drags it: prepared once, then answered at every
/// move within a picture's time.
///
/// What follows the hand: the piece's line and body, reach and flange of its mounts, and the
///   proven bound of every door to it. Mends are not looked for. All else stands as it was.
/// Accuracy: the piece's mesh holds `deviation`, which is taken off every proven bound; so
///   bounds are smaller than those of evaluate(), never larger by more than its tolerance.
class Drag {
public:
    /// Errors: invalid_argument if no node has that id or it is none of a drawn piece.
    static geometry::Result<Drag> begin(std::shared_ptr<const Evaluation> from, const std::string& node_id,
                                        const std::filesystem::path& folder,
                                        geometry::Length deviation = k_drag_deviation);
    Drag(Drag&&) noexcept;
    Drag& operator=(Drag&&) noexcept;
    ~Drag();

    /// The node put at (out, up). Errors: does_not_fit where the section has no shape so; then
    /// the evaluation is that of the last place that had.
    geometry::Status to(const Eigen::Vector2d& p_mm);

    /// As it stands now; changed by the next `to`.
    [[nodiscard]] const Evaluation& evaluation() const;
    /// Greatest deviation of the piece's mesh, as it is taken off.
    [[nodiscard]] geometry::Length deviation() const;

    static constexpr geometry::Length k_drag_deviation = geometry::millimetres(0.1);

private:
    struct State;
    explicit Drag(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

}  // namespace sillwright::core
