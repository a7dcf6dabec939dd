#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

/// How thick the sheet comes out over one drawn piece.
///
/// Places: `along` the car; round the section by `mark`, the number of a node in the loft's names and the part of the
///   way from its corner to the next one's, so that a mark stays with its strip where nodes move or the section changes
///   along the car. 2.5 is half-way from node 2 to node 3.
struct FormedSheet {
    geometry::Length sheet;  ///< Before it is formed.
    geometry::Angle tilt;    ///< Of the draw direction.
    MouldKind mould = MouldKind::male;
    std::vector<geometry::Length> rows;       ///< Rising.
    std::vector<double> marks;                ///< Rising, the same in every row.
    std::vector<std::vector<double>> shares;  ///< By row and mark: thickness, of the sheet's.

    /// Linear between rows and marks, and beyond them as at the last.
    [[nodiscard]] double share_at(geometry::Length along, double mark) const;
    [[nodiscard]] geometry::Length thickness_at(geometry::Length along, double mark) const;

    friend bool operator==(const FormedSheet&, const FormedSheet&) = default;
};

/// What must be decided before it can be computed; empty if nothing.
std::vector<std::string> lacking_for_formed_sheet(const Job& job, const Piece& piece);

/// The sheet drawn into or over the mould, section by section (geometry/sheet_draping.h). Null if something is lacking.
/// Errors: does_not_fit where a section cannot be draped, led by the place.
geometry::Result<std::shared_ptr<const FormedSheet>> formed_sheet(const Job& job, const Piece& piece,
                                                                  const geometry::Loft& line, geometry::Angle tilt);

}  // namespace sillwright::core
