#pragma once

#include <string>
#include <vector>

#include "core/finding.h"
#include "core/forming/flute_lanes.h"
#include "core/job.h"

namespace sillwright::core {

/// What core/forming/flute_lanes.h says of each lane, without mends.
std::vector<Finding> lane_findings(const Job& job, const Piece& piece, const std::vector<FluteLane>& lanes);

/// "forming/<piece>/flute/<name>/", to which a finding's own name is put.
std::string lane_id(const Piece& piece, const FluteLane& lane);

/// "flute 1", "recess badge": the name alone where it says already what it is.
std::string lane_words(const FluteLane& lane);

/// One rule of what can be formed, millimetres.
struct FormRule {
    std::string name;  ///< "depth", "bottom radius", "corner radius", "width", "seen width"
    geometry::Length found, required;
    bool at_least = true;

    [[nodiscard]] geometry::Length margin() const { return at_least ? found - required : required - found; }
};

/// The rules that a lane is held against; none while mould or sheet is not known.
///
/// Source: depth no more than half the width: thermoprosite.us (ideal width is twice the height); radius no less than
///   the sheet: thermopro.com, design guidelines; width no less than 2 sheets and 2 radii, where the radii leave a
///   straight of wall, and seen no less than 0.6 of that on the mould: common practice, no source. Shops' rules differ
///   by a factor of two to three.
std::vector<FormRule> form_rules(const Piece& piece, const FluteLane& lane, MouldKind mould);

constexpr double k_depth_by_width = 0.5;
constexpr double k_seen_by_mould = 0.6;

}  // namespace sillwright::core
