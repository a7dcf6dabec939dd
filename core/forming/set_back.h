#pragma once

#include <optional>
#include <vector>

#include "core/forming/laying.h"
#include "core/forming/platen.h"
#include "core/forming/silhouette.h"
#include "core/job.h"
#include "geometry/units.h"

namespace sillwright::core {

/// Places along at which a piece is held, rising.
std::vector<geometry::Length> held_at(const Job& job, const Piece& piece, const Silhouette& part);

/// What is left of a part that is pulled back; none if nothing is.
std::optional<Silhouette> pulled_back(const Silhouette& part, const SetBack& by);

/// The least set-back, at the part's size, with which a part goes into a room, all zero if it goes in; no value if none
/// does. See platen().
std::optional<SetBack> set_back(const Job& job, const Piece& piece, const Silhouette& part, const Room& room);

/// A joint: seen at one place, lapped to another; either may be ahead of the other.
struct Joint {
    geometry::Length seen, lap_to;
};

/// The fewest joints that make parts of which each goes into a room with its lap, of the equally few those whose
/// longest part is the shortest; empty if none do, or none are needed.
///
/// Joints stand on shut lines, the front and the rear end of a door's outline, where the eye expects a line. A lap lies
///   to the front of its line if it can, so that the part ahead covers the one behind, else to the rear. It keeps
///   k_joint_room from mounts, and lies nowhere in the middle half of a door opening, where feet stand.
/// Source: common practice, no source.
std::vector<Joint> joints(const Job& job, const Piece& piece, const Silhouette& part, const Room& room);
constexpr std::size_t k_most_joints = 3;

}  // namespace sillwright::core
