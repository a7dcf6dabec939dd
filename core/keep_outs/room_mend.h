#pragma once

#include <Eigen/Core>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"

namespace sillwright::core {

/// Where a piece is nearest to something that does not move, and what it lacks there.
struct Room {
    double margin = 0.0;  ///< Negative is lacking; where they cross, by more.
    Eigen::Vector3d on_part_mm = Eigen::Vector3d::Zero();
    Eigen::Vector2d away = Eigen::Vector2d::Zero();  ///< In the section, unit: the way in which the gap opens.
    std::int32_t triangle = 0;                       ///< Of the piece's mesh.
};
using RoomOf = std::function<Room(const PieceModel&)>;

/// The move of a piece's named nodes that brings the margin to zero.
///
/// Method: the nodes of the strip that is nearest, at the stations before and behind, move away by what is lacking;
///   this is repeated where the worst place has moved on to, and in the end all moves are scaled together. Every step
///   makes the piece anew, the last ones at full accuracy.
/// Accuracy: `proven_margin` is between 0 and k_room_overshoot_mm.
/// No value: a piece from a file, more lacking than nodes are moved for, or no such move found.
std::optional<Mend> room_mend(const Job& job, std::size_t piece, const PieceModel& as_it_is, const RoomOf& room);

/// Moves of nodes in words: "flange end 2.1 mm further out, stations 3 to 5", the longest of them, each number rounded
/// up to a tenth.
std::string node_move_words(const Job& job, const std::vector<NodeMove>& moves);

constexpr double k_room_overshoot_mm = 0.02;

}  // namespace sillwright::core
