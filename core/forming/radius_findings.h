#pragma once

#include <vector>

#include "core/finding.h"
#include "core/forming/formed_sheet.h"
#include "core/forming/mould_chain.h"
#include "core/job.h"
#include "geometry/loft.h"

namespace sillwright::core {

/// `forming/<piece>/radius/<node>`, of every rounded node: whether its rounding lasts down the chain, at the station
/// where it does least.
///
/// A corner that is full on the plug (convex outside) is rounded on the buck too: radius there above zero; else the
/// rib's
///   corner is sharp. One that the mould has hollow (concave outside on a male mould, convex on a female one) takes the
///   sheet into it: the mould's radius is at least the sheet before it is formed; else the sheet bridges it. A hollow
///   of the plug gains by its skin and never vanishes.
/// Source: radius at least the starting sheet: thermopro.com; thermoprosite.us. Above zero on the buck: geometry.
/// Its mend gives the node a greater radius at each station where it falls short.
/// Accuracy: looked at at stations; between them radii follow the guide lines.
std::vector<Finding> radius_findings(const Job& job, const Piece& piece, const geometry::Loft& line,
                                     const FormedSheet* formed, const std::vector<ChainStep>& chain, Mends mends);

}  // namespace sillwright::core
