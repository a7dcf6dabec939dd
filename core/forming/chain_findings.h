#pragma once

#include <optional>
#include <vector>

#include "core/finding.h"
#include "core/forming/mould_chain.h"
#include "core/job.h"
#include "geometry/units.h"

namespace sillwright::core {

/// The longest drawn piece, from its first section to its last; none without one. What is said of the chain is said
/// over this length.
std::optional<geometry::Length> part_length(const Job& job);

/// `forming/chain`: every step of the chain can be made and its size is known. Its mend assumes usual values for what
///   is missing, and says so; where there is no list yet, the usual one.
/// `forming/chain/<generation>`, of each generation with ticks: measured against assumed, as millimetres over the
///   part's length: |measured - assumed| at most two standard deviations of the assumed, the worse of the two
///   directions. A tick that does not fit the others (normalised residual above survey::k_blunder_w) comes before that:
///   the finding falls short by it, whatever the ratio is, and asks for the tick to be measured again; of two ticks for
///   both.
std::vector<Finding> chain_findings(const Job& job, const std::vector<ChainStep>& chain, Mends mends);

/// A laminate of polyester and mat shrinks 0.1 to 0.4 %: from memory.
constexpr double k_usual_laminate = 0.002, k_usual_laminate_sd = 0.001;
/// A steel rule, or a tape of class I over two metres (0.4 mm at most), read twice with care: common practice, no
/// source.
constexpr geometry::Length k_usual_tick_sd = geometry::millimetres(0.25);

}  // namespace sillwright::core
