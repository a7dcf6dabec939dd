#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/forming/platen.h"
#include "core/job.h"
#include "geometry/units.h"

namespace sillwright::core {

/// The sheet that is cut for one part, and what it costs.
struct Blank {
    geometry::Length length, width, thickness;
    std::optional<double> mass_kg;  ///< Of the blank.
    std::string stock;              ///< Of the sizes known, the one with the best yield.
    int parts_per_sheet = 0;
    bool turned = false;                   ///< Its length lies across the stock's.
    std::optional<double> yield;           ///< Area of the blanks, of the stock sheet.
    std::optional<double> price_per_part;  ///< In the shop's own money.
    std::vector<std::string> missing;
};

Blank blank(const Job& job, const Piece& piece, const Platen& platen);

/// `forming/<piece>/blank`.
std::vector<Finding> blank_findings(const Job& job, const Piece& piece, const Blank& blank);

}  // namespace sillwright::core
