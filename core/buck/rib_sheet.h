#pragma once

#include <string>
#include <vector>

#include "core/buck/station_outline.h"
#include "core/job.h"
#include "geometry/drawing.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

/// What every sheet says until shrinkage and skin are known.
inline constexpr const char* k_part_size_warning = "PART SIZE - NO SHRINKAGE, NO SKIN - DO NOT CUT A BUCK FROM THIS";

/// What is said of a piece whose flange is bent after forming: its outlines show it bent.
inline constexpr const char* k_bent_after_note =
    "the flange is drawn as bent after forming; the mould carries it flat.";

/// Room between two ribs on a sheet of several: a bit of 12 mm goes round both
/// with 6 mm left between (common practice, no source).
inline constexpr geometry::Length k_rib_gap = geometry::millimetres(30.0);

/// A drawing for the router, and what its reader must be told.
///
/// Units and frame: millimetres. One station: x is out, y is up. Out is to the right
///   for either side of the car, so a right-hand rib is seen looking forward (its
///   rear face shows) and a left-hand one looking rearward (its front face shows);
///   the label says so.
/// Layers: CUT_OUTSIDE the outline; ENGRAVE baseline, ticks and label; NOTE all that
///   the machine must leave alone.
struct RibSheet {
    std::string stem;  ///< Safe and unique in any file system: "station_3".
    geometry::Drawing drawing;
    std::vector<std::string> notes;
};

/// A sheet for each outline.
///
/// The baseline is at one height for all ribs of a piece where one lies inside all
///   of them, in their lower part, so that they line up on the bench; so is the centre
///   line's tick. Both are written on the rib, to 10 mm where there is room.
/// The label stands inside the rib, in letters of 6 mm down to 2.5 mm; where even that
///   has no room it stands beside it on NOTE, and a note says so.
/// Errors: as geometry::polyline and geometry::shape_of.
geometry::Result<std::vector<RibSheet>> rib_sheets(const Job& job, const std::vector<StationOutline>& outlines);

/// All outlines side by side on one sheet, k_rib_gap apart, in their order; y is up.
geometry::Result<RibSheet> all_ribs_sheet(const Job& job, const std::vector<StationOutline>& outlines);

}  // namespace sillwright::core
