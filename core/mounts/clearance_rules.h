#pragma once

#include <optional>

#include "geometry/units.h"

/// Rules for the size of a hole that a fastener goes through with room for both parts' tolerances.
///
/// Units: diameters, and positional tolerances as diameters of the zone that the axis may lie in: twice a half-width.
/// Source: floating and fixed fastener formulas: ASME Y14.5-2009, Appendix B, as quoted in "GD&T Application and
///   Interpretation", 2021, g-wonlinetextbooks.com; the one with tilt: from memory of its B.5. ISO 273 as tabled at
///   engineeringhardware.com.
namespace sillwright::core {

/// Clearance in both parts; the part's tolerance goes into the part's hole: H = F + T.
geometry::Length floating_hole(geometry::Length fastener, geometry::Length tolerance);

/// The other part holds the fastener (nut, thread, stud), within `held`; no tilt (projected zone): H = F + T1 + T2.
geometry::Length fixed_hole(geometry::Length fastener, geometry::Length tolerance, geometry::Length held);

/// The fastener may also lean within its zone: H = F + T1 + T2 (1 + 2 P / D), where it goes through `through` (P)
/// and is held over `depth` (D). Precondition: depth > 0.
geometry::Length fixed_hole(geometry::Length fastener, geometry::Length tolerance, geometry::Length held,
                            geometry::Length through, geometry::Length depth);

/// How close a clearance hole is to its screw.
enum class HoleFit { fine, medium, coarse };

/// Clearance hole for a metric screw M4, M5, M6, M7, M8, M10, M12; none for another. Source: ISO 273.
std::optional<geometry::Length> clearance_hole(geometry::Length screw, HoleFit fit);

/// The close hole for any shank: ISO 273 fine where the table has it, else between its neighbours in the table, by
/// the clearance of the thinner one below M4 and of the thicker one beyond M12.
geometry::Length close_hole(geometry::Length shank);

}  // namespace sillwright::core
