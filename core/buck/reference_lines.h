#pragma once

#include <vector>

#include "core/buck/inner_room.h"

namespace sillwright::core {

/// The lines by which ribs are lined up on the bench.
/// Units and frame: millimetres, (out, up).
struct ReferenceLines {
    double baseline_up_mm = 0.0;
    double centre_out_mm = 0.0;
};

/// Lines for every rib of one piece, in their order: the same for all where one
/// height lies inside all of them (a quarter up from the lowest that does) and
/// one place across lies inside all of them there; else each rib's own.
/// Whole tens of millimetres where there is room for it, else whole ones.
std::vector<ReferenceLines> reference_lines(const std::vector<InnerRoom>& ribs);

}  // namespace sillwright::core
