#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/job.h"
#include "geometry/flat_strip.h"
#include "geometry/units.h"

namespace sillwright::core {

/// Which free edge of a piece.
enum class FreeEdge { flange_end, top_return_end };

/// The outside of the strip beside a free edge, laid flat as whoever stands before the outside sees it.
///
/// Near edge: where the outside's straight would meet its neighbour's, if the bend had no rounding; far edge: the free
///   edge. Units and frame: millimetres of the paper. Flange: seen from below, its free edge up. Top return: seen from
///   above, its free edge down. x runs rearward on a right-hand part and forward on a left-hand one, which so is the
///   mirror.
struct OuterStrip {
    std::vector<geometry::Length> along;  ///< Of each row, front to rear; 10 mm apart or less, and at each station.
    std::vector<Eigen::Vector2d> near_mm, far_mm;
    std::vector<double> across_mm;  ///< True width of each row.
    std::vector<geometry::Rung> rungs;
    double misfit_mm = 0.0;  ///< As geometry::FlatStrip.

    /// Where a place on the outside comes to lie.
    [[nodiscard]] Eigen::Vector2d at(const Eigen::Vector3d& p_mm) const;

    std::optional<geometry::FlatStrip> strip;
    Eigen::Vector2d turned{1.0, 1.0};  ///< Of x and y of `strip`: -1 is mirrored.
};

/// The strip, or what must be known first.
struct OuterStripOutcome {
    std::optional<OuterStrip> strip;
    std::string missing;
};
OuterStripOutcome outer_strip(const Job& job, const CarModel& car, std::size_t piece, FreeEdge edge);

/// The outside of a piece's section at a place, (out, up), within 0.02 mm; empty where it has none.
std::vector<std::vector<Eigen::Vector2d>> outside_line(const Job& job, const CarModel& car, std::size_t piece,
                                                       geometry::Length along);

}  // namespace sillwright::core
