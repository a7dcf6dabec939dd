#pragma once

#include <vector>

#include "core/job.h"
#include "geometry/area_moments.h"
#include "geometry/loft.h"
#include "geometry/profile.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

struct FormedSheet;

/// What a section does against bending by loads down (or up), or across the car.
///
/// Unsymmetrical bending: a load down bends a skirt's section across too. `second_mm4` is that which its own way feels
///   where the section is free to go the other: (xx yy - xy²) / yy for loads down, (xx yy - xy²) / xx across;
///   `sideways` is how far it goes the other way for each millimetre its own. `modulus_mm3` is moment by greatest
///   stress.
/// Source: Timoshenko, Strength of Materials, unsymmetrical bending (from memory).
struct BendingNumbers {
    double second_mm4 = 0.0, modulus_mm3 = 0.0, sideways = 0.0;
};

/// A stretch of a piece, and the section in its middle.
struct PartSection {
    geometry::Length from, to;
    geometry::AreaMoments moments;    ///< x is out, y is up.
    Eigen::Vector2d low_mm, high_mm;  ///< Bounds of the outline, (out, up).
    BendingNumbers down, across;
};

/// Bending numbers of a region, whose moments are known.
BendingNumbers bending_down(const geometry::AreaMoments& moments, const std::vector<geometry::Profile>& outline);
BendingNumbers bending_across(const geometry::AreaMoments& moments, const std::vector<geometry::Profile>& outline);

enum class Flutes { cut, left_out };

/// Section of a piece's sheet at one place.
/// Thickness: that of the sheet, the same all round; with `formed` as thick as it is formed at each place, by the law
/// of
///   the straight that a flute is cut into for the flute too: its bottom may be thinner.
/// Accuracy: exact for one thickness; for a formed one the outline is a polyline within `k_section_fit` of its faces.
///   Where that has no room in a tight rounding the section has its mean thickness all round.
/// Errors: as fluted_nodes, make_profile and sheet_outline, led by the place. Precondition: the piece has a sheet.
geometry::Result<PartSection> part_section(const Piece& piece, const geometry::Loft& line, geometry::Length along,
                                           Flutes flutes = Flutes::cut, const FormedSheet* formed = nullptr);

/// Sections in the middle of each stretch between neighbouring cuts; stretches with a flute's run-out in them are cut
/// there too.
geometry::Result<std::vector<PartSection>> part_sections(const Piece& piece, const geometry::Loft& line,
                                                         std::vector<geometry::Length> cuts,
                                                         const FormedSheet* formed = nullptr);

/// Of a section whose thickness changes: a thousandth of the sheet or so, far below what it is sure to.
constexpr geometry::Length k_section_fit = geometry::millimetres(0.005);

}  // namespace sillwright::core
