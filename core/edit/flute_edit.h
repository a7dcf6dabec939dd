#pragma once

#include <optional>
#include <vector>

#include "core/edit/edit.h"
#include "geometry/units.h"

/// Changes of a piece's flutes.
namespace sillwright::core {

/// Flutes side by side along the shelf, from its edge inward.
struct FluteRow {
    std::vector<geometry::Length> widths;           ///< Graduated: the first lies at the edge.
    geometry::Length depth, land;                   ///< Of each, and from mouth to mouth.
    geometry::Length first_offset;                  ///< Of the first one's middle from the shelf edge.
    std::optional<geometry::Length> bottom_radius;  ///< None: one single rounding, as a round nose cuts it.
    std::optional<geometry::Length> front, rear;    ///< Where all run out; none: they go through.
};

/// The row put to a piece beside the flutes that it has, each with a name of its own.
/// Errors: invalid_argument if there is no such piece, no width, or a number that no flute can have; does_not_fit where
///   a flute does not go on the shelf or into its neighbour (core/skirt/fluted_section.h), at one of the places where
///   the piece is drawn.
geometry::Result<Edit> lay_flutes(const Job& job, std::size_t piece, const FluteRow& row);

}  // namespace sillwright::core
