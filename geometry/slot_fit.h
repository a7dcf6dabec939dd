#pragma once

#include <Eigen/Core>
#include <array>
#include <cstddef>
#include <optional>
#include <span>

namespace sillwright::geometry {

/// A place that must come into a slot with round ends once the body it is on is shifted and turned.
///
/// Units and frame: millimetres in one plane. The room is that of the fastener's centre: all points within `radius_mm`
///   of the straight from `from_mm` to `to_mm` (one point for a round hole).
struct SlotTask {
    Eigen::Vector2d place_mm = Eigen::Vector2d::Zero();
    Eigen::Vector2d from_mm = Eigen::Vector2d::Zero(), to_mm = Eigen::Vector2d::Zero();
    double radius_mm = 0.0;
};

/// A small motion of the body: p goes to p + shift + turn · (-(p.y), p.x).
struct SmallMotion {
    Eigen::Vector2d shift_mm = Eigen::Vector2d::Zero();
    double turn_rad = 0.0;
};

/// One of the slots that together let no motion through.
struct SlotBar {
    std::size_t task = 0;
    Eigen::Vector2d out = Eigen::Vector2d::Zero();  ///< Unit direction in which its place would have to leave the slot.
    double weight = 0.0;                            ///< Not negative.
};

/// Whether there is a motion, with what proves it.
struct SlotFit {
    /// Brings every place into its slot.
    std::optional<SmallMotion> motion;
    /// If there is none: up to four slots that nothing can satisfy together (Helly in three numbers), each once. With
    /// weights w, directions u and places p: sum w u = 0 and sum w u · (-(p.y), p.x) = 0, so no motion changes
    /// sum w u · p; and this is above what the slots allow, sum w (u · far end + radius), by `excess_mm`. A slot of
    /// negative radius stands alone, without a direction.
    std::array<SlotBar, 4> bars{};
    std::size_t bar_count = 0;
    /// Above zero where there is no motion (at the border within the tolerance of zero): each slot would have to be
    /// wider by that all round, at least.
    double excess_mm = 0.0;
    int steps = 0;  ///< Exchanges that it took.
};

/// A motion that brings every place into its slot, or the proof that there is none.
///
/// Exact: the set of such motions is convex in the three numbers; the answer can only be wrong where the least radius
///   that would have to be added to all slots, which may be negative, is within `k_slot_fit_tolerance_mm` of zero.
///   A motion may leave a place outside its slot by that. Turns are small: the turn's square is left out, which at
///   1 m and 1 mrad is 0.0005 mm; slots do not turn.
/// Cost: for nine tasks 0.1 microseconds where no motion is needed, one or two else, below ten within the tolerance of
///   the border; no memory is asked for up to 32 tasks.
/// Precondition: all numbers are finite. No task: fits.
/// Source: minimax by exchange of tangents: E. W. Cheney, A. A. Goldstein, Numer. Math. 1 (1959) 253, and J. E. Kelley,
///   J. SIAM 8 (1960) 703 (from memory); each tangent bounds its slot from outside, so that the best motion of four
///   tangents proves a bound.
SlotFit slot_fit_proof(std::span<const SlotTask> tasks);

/// The motion alone.
std::optional<SmallMotion> slot_fit(std::span<const SlotTask> tasks);

constexpr double k_slot_fit_tolerance_mm = 1e-9;

}  // namespace sillwright::geometry
