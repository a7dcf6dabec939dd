#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/forming/formed_sheet.h"
#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

/// Area formed by area clamped: the mould's face with its walls beyond the trim lines and its platen, to the clamp
/// lines.
struct DrawRatio {
    double formed_mm2 = 0.0, clamped_mm2 = 0.0;

    [[nodiscard]] double ratio() const { return formed_mm2 / clamped_mm2; }
    /// Source: mean thickness = that of the sheet by the ratio, rayplastics.com, Designing for thermoforming,
    /// chapter 2.
    [[nodiscard]] geometry::Length mean_thickness(geometry::Length sheet) const { return sheet / ratio(); }
};

/// Over the whole piece between its two ends; the mould's end walls are not counted.
/// Accuracy: by Simpson's rule between stations and run-outs, 1e-4 of the ratio or better for a smooth skirt.
/// Precondition: nothing lacks for a formed sheet. Errors: as mould_section.
geometry::Result<DrawRatio> draw_ratio(const Job& job, const Piece& piece, const geometry::Loft& line,
                                       geometry::Angle tilt);

/// The thinnest place of one part of the section.
struct ThinPlace {
    std::string name;  ///< "flange", "shelf", "bead", "rest", "flute <name>"
    geometry::Length thickness, sd, needed;
    geometry::Length along;
    Eigen::Vector2d at_mm;
    double share = 1.0;             ///< Of the sheet.
    geometry::Length sheet_needed;  ///< With which it would be thick enough less two standard deviations.
};

struct Thinning {
    std::vector<ThinPlace> places;  ///< Of those parts that are drawn.
    double draw_ratio = 1.0;        ///< Area formed, trim allowance too, by area clamped.
    std::vector<std::string> missing;
};

/// The bead goes a quarter of the way to either neighbour; the rest is what is neither flange, shelf nor bead.
/// Standard deviation: half of `k_forming_spread` (core/skirt/thickness.h) of the thickness; the model's own error is
/// not
///   known and not in it.
/// `formed` may be null: then the places are missing.
Thinning thinning(const Job& job, const Piece& piece, const geometry::Loft& line, const FormedSheet* formed);

/// `forming/<piece>/thickness/<place>`, `forming/<piece>/draw ratio`.
std::vector<Finding> thinning_findings(const Job& job, const Piece& piece, const geometry::Loft& line,
                                       const FormedSheet* formed, const Thinning& thinning, Mends mends);

}  // namespace sillwright::core
