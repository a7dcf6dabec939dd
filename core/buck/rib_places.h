#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/units.h"

namespace sillwright::core {

struct RibPlace {
    geometry::Length along;
    std::string station;  ///< Empty where none is there.
};

/// Where a piece's ribs stand: at its stations; with `chord_most` evenly from its front to its rear, the fewest (two at
/// least, k_most_ribs at most) with which no chord error is greater.
std::vector<RibPlace> rib_places(const Piece& piece, const geometry::Loft& line,
                                 const std::optional<geometry::Length>& chord_most);

/// How far a skin that is straight from rib to rib stands off the plug.
struct ChordError {
    geometry::Length error, along;
    std::string node;
};
/// The greatest distance, in the section's plane, of a node's guide line from the straight between two places: s² / 8R
/// where it is an arc. Looked at in eight places between the two.
ChordError chord_error(const geometry::Loft& line, geometry::Length from, geometry::Length to);

/// More would not be cut for a skirt: common practice, no source.
constexpr std::size_t k_most_ribs = 80;

}  // namespace sillwright::core
