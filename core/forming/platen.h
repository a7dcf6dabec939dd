#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/forming/draw.h"
#include "core/forming/mould_chain.h"
#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/units.h"

namespace sillwright::core {

/// By how much the part must be pulled back so that it goes in; at the part's own size, as it is drawn.
///
/// Ends: shared evenly, but none is pulled back to nearer than `k_joint_room` to a mount as long as the other has room.
/// Long edges: a flange that lies on the car stays where it is; else shared evenly.
struct SetBack {
    geometry::Length front, rear;    ///< From its ends.
    geometry::Length shelf, flange;  ///< From its two long edges, across the draw direction: the upper, the lower.
    geometry::Angle yaw;             ///< At which it goes in then.
};

/// The part on the machine, seen along the draw direction.
///
/// Frame: millimetres on the platen; its first axis is the machine's length, the second its width, origin in the
///   window's middle. A part that is not turned has its front at the negative end and what is up on the car at the
///   positive side: as it is seen from outside the car on the left, from inside on the right.
/// Size: the machine holds the mould, not the part. The mould is larger than the cold part by what the sheet shrinks
///   by, and larger still when it is hot: part / ratio of the mould chain's last step · the mould's growth when it runs
///   (mould_size), along, and across and in height, about the part's middle. Trim allowance and clamp distance are
///   decided on the mould and are not scaled. `part_mm`, set-back and splits are told at the part's size. What the
///   chain does not tell is laid at the part's size, and the findings say so.
/// Missing: what is not known counts as nothing, so that the excess is that at least. Without a machine the part lies
///   straight, with no window.
struct Platen {
    std::string machine;
    Eigen::Vector2d window_mm = Eigen::Vector2d::Zero(), free_mm = Eigen::Vector2d::Zero();  ///< Opening; less clamps.
    geometry::Angle tilt;
    geometry::Angle yaw;                    ///< None, or a right angle, where it goes in like that; else the best.
    MouldSize mould_size;                   ///< Of the part.
    std::vector<Eigen::Vector2d> part_mm;   ///< Outline of the finished part, cold.
    std::vector<Eigen::Vector2d> mould_mm;  ///< Of the mould, with the trim allowance beyond ends and long edges.
    std::vector<Eigen::Vector2d> need_mm;   ///< With the clamp distance all round: what must lie inside `free_mm`.
    Eigen::Vector2d size_mm = Eigen::Vector2d::Zero();  ///< Of the need, over all, at `yaw`.
    geometry::Length excess;  ///< By which the need stands out of the free window at `yaw`; negative: to spare.
    geometry::Length height;  ///< Of the mould, along the draw direction: from its foot, the trim allowance below its
                              ///< lowest edge, to its crown.
    std::optional<SetBack> set_back;  ///< If it does not go in, and any does.
    std::vector<geometry::Length>
        split_stations;  ///< Places along the part. Proposed if it does not go in; none: no such split would do.
    std::vector<geometry::Length> split_laps;  ///< To where the next part goes on below each of them.
    std::vector<std::string> missing;
};

/// A joint and a set-back end keep this from a mount's middle. Common practice, no source.
constexpr geometry::Length k_joint_room = geometry::millimetres(30.0);
/// Lap of a split. Common practice, no source: 25 to 40 mm.
constexpr geometry::Length k_joint_lap = geometry::millimetres(30.0);

/// A turned mould is harder to set up than a straight one. Common practice, no source.
constexpr geometry::Length k_turn_worth = geometry::millimetres(5.0);

/// Accuracy: set-backs leave the mould in the window by at most 0.01 mm to spare. They are the least in sum of those
///   that put it in straight, across, or turned with its ends pulled back and its edges by none, or up to what it takes
///   straight; looked at in steps of a quarter of that. A turn that saves less than `k_turn_worth` is not taken.
Platen platen(const Job& job, const Piece& piece, const geometry::Loft& line, const DrawPlan& draw);

/// `forming/<piece>/window`, `forming/<piece>/depth`, `forming/<piece>/oven`, `forming/<piece>/gauge`.
///
/// Mends: the first of a tilt of draw.from to draw.to, a smaller trim allowance or clamp distance, another machine,
/// each
///   proven by laying the part anew; a change by which another of the four would fall short is none. Else words.
///   Tilts looked at are the two ends and those at which the part is narrowest across.
/// Source: common practice, no source, where nothing else is said.
std::vector<Finding> platen_findings(const Job& job, const Piece& piece, const geometry::Loft& line,
                                     const DrawPlan& draw, const Platen& platen, Mends mends);

}  // namespace sillwright::core
