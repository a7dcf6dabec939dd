#pragma once

#include <vector>

#include "core/finding.h"
#include "core/forming/flute_lanes.h"
#include "core/job.h"

namespace sillwright::core {

/// Puts a mend to every finding of lanes that falls short, and to a bit that is not known.
///
/// A change is offered where the finding holds with it, computed again, and no other finding of the piece's flutes and
/// recesses that held before falls short; but the bit of a groove whose depth or form is changed may. Else words alone.
void add_flute_mends(const Job& job, const Piece& piece, const geometry::Loft& line, const FormedSheet* formed,
                     const std::vector<FluteLane>& lanes, std::vector<Finding>& findings);

}  // namespace sillwright::core
