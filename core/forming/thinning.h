#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/forming/formed_sheet.h"
#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/units.h"

namespace sillwright::core {

/// The thinnest place of one part of the section.
struct ThinPlace {
    std::string name;  ///< "flange", "shelf", "bead", "flute 1", "rest"
    geometry::Length thickness, sd, needed;
    geometry::Length along;
    Eigen::Vector2d at_mm;
    double share = 1.0;             ///< Of the sheet.
    geometry::Length sheet_needed;  ///< With which it would be thick enough.
};

struct Thinning {
    std::vector<ThinPlace> places;
    double draw_ratio = 1.0;  ///< Area formed, trim allowance too, by area clamped.
    std::vector<std::string> missing;
};

Thinning thinning(const Job& job, const Piece& piece, const geometry::Loft& line, const FormedSheet* formed);

/// `forming/<piece>/thickness/<place>`, `forming/<piece>/draw ratio`.
std::vector<Finding> thinning_findings(const Job& job, const Piece& piece, const geometry::Loft& line,
                                       const FormedSheet* formed, const Thinning& thinning, Mends mends);

}  // namespace sillwright::core
