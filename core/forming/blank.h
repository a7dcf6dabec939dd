#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/forming/draw.h"
#include "core/forming/platen.h"
#include "core/job.h"
#include "geometry/units.h"

namespace sillwright::core {

/// The sheet that is cut for one part, and what it costs.
struct Blank {
    geometry::Length length, width, thickness;  ///< Zero: not known.
    std::optional<double> mass_kg;              ///< Of the blank.
    std::string stock;                          ///< Of the sizes known, the one with the best yield; empty if none.
    int parts_per_sheet = 0;
    bool turned = false;                   ///< Its length lies across the stock's.
    std::optional<double> yield;           ///< Area of the blanks, of the stock sheet.
    std::optional<double> price_per_part;  ///< In the shop's own money.
    std::vector<std::string> missing;      ///< What the size of the blank lacks.
};

/// How many blanks a stock sheet gives, cut through in rows, all of them lying the same way.
struct StockYield {
    int parts = 0;
    bool turned = false;
    double yield = 0.0;
};
/// The better of the two ways, of equals the one along the sheet. No saw cut is counted.
/// Precondition: lengths above zero.
StockYield stock_yield(geometry::Length length, geometry::Length width, geometry::Length stock_length,
                       geometry::Length stock_width);

/// The blank: the need, over all, as it lies on the platen, and the clamp margin all round, each rounded up to
/// `k_blank_step`. Its length is along the machine's. Of a part that does not go in it is as if it lay straight.
Blank blank(const Job& job, const Piece& piece, const Platen& platen);
/// Sheet is cut to this. Common practice, no source.
constexpr geometry::Length k_blank_step = geometry::millimetres(5.0);

/// `forming/<piece>/blank`: how many parts a stock sheet gives.
std::vector<Finding> blank_findings(const Job& job, const Piece& piece, const Blank& blank);

/// What a moulder must know to form the part, a line each; "not decided" or "not known" where that is so.
std::vector<Input> moulder_lines(const Job& job, const Piece& piece, const DrawPlan& draw, const Platen& platen,
                                 const Blank& blank);

}  // namespace sillwright::core
