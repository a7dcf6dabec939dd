#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"
#include "geometry/offset_law.h"
#include "geometry/profile.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

struct CarModel;

/// The shape of the mould face at one station, as a rib's outline.
///
/// Units and frame: `outline` is in (out, up), millimetres, out to the right.
/// Shape: closed, anticlockwise, crosses itself nowhere: the mould face from flange
///   end to top return end, and the straight back (its last segment, unless the two
///   ends meet).
struct StationOutline {
    std::string piece, station;
    geometry::Length along;
    geometry::Profile outline;
};

/// A station that has no outline, or a whole piece (then `station` is empty).
struct NoOutline {
    std::string piece, station;
    std::string why;      ///< One sentence or two: what is wrong, what would be right.
    std::string missing;  ///< What must be measured or drawn; empty if that is not the cause.
};

struct StationOutlines {
    std::vector<StationOutline> outlines;  ///< By piece, then by station, in the job's order.
    std::vector<NoOutline> refused;
};

/// The rib's outline from a section and the distance of the mould face to the left
/// of its drawn line: the exact parallel of lines and arcs, closed by a straight.
///
/// Accuracy: as geometry::parallel. Part size: no shrinkage, no skin.
/// Errors: does_not_fit where the drawn line runs the wrong way round, the parallel
///   comes apart or vanishes, or the closed outline meets itself; invalid_argument
///   or does_not_fit as make_profile and parallel.
geometry::Result<geometry::Profile> mould_outline(const Section& section, geometry::Length mould_face);

/// The same where the mould face's distance changes round the section: `offsets` by mark, one mark for each node.
///
/// Shape: a polyline within `k_outline_fit` of the face, closed by a straight.
/// Errors: as above.
geometry::Result<geometry::Profile> mould_outline(const Section& section, const std::vector<double>& marks,
                                                  const geometry::OffsetRow& offsets);

/// A rib is cut to a tenth of a millimetre.
constexpr geometry::Length k_outline_fit = geometry::millimetres(0.01);

/// One outline for every section of every piece that is drawn by sections. A station
/// without one is listed with its reason: never a wrong outline, never silence. The mould face is the inside on a male
/// mould, the outside in a female one; a male one is taken while that is not decided. With the car's model it lies as
/// far off the drawn line as the sheet is thick there when it is formed; without, as far as the sheet is thick before.
StationOutlines station_outlines(const Job& job, const CarModel* car = nullptr);

/// One finding for every piece: whether all its stations have an outline. Not measured while its
/// sections are not all drawn, unless one that is has no outline.
std::vector<Finding> outline_findings(const Job& job, const StationOutlines& outlines);

}  // namespace sillwright::core
