#pragma once

#include <string>
#include <vector>

#include "core/finding.h"
#include "core/forming/mould_chain.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"

namespace sillwright::core {

/// By how much a hole of the part comes out beside its mount because the chain is not what the buck was sized by.
struct SlotCover {
    std::string mount;
    std::size_t piece = 0;
    double off_mm = 0.0;     ///< Rearward, along the part.
    double off_sd_mm = 0.0;  ///< Of it.
    double spare_mm = 0.0;   ///< Of the hole as drawn beyond what is needed, on its tighter side, with the hole off.

    [[nodiscard]] double margin_mm() const { return spare_mm - 2.0 * off_sd_mm; }
};

/// For holes whose places come down the chain: marked on the plug or in a mould. (Holes that are drilled into the
/// formed part by a template of its own size do not move; only their template must be made by the measured chain.)
///
/// A hole x from its piece's locator comes out at x F / F0: F the chain as it is used, with measured ticks, F0 as
///   assumed, by which the buck was sized. off = x (F / F0 - 1), sd |x| sd(F) / F0: of measured steps by their ticks,
///   of the others as assumed. spare = (length drawn - length needed)/2 - |shift drawn - shift needed + off|.
/// Only along the part; holes that are not drawn yet are left out. Empty where the chain has something missing.
/// Source: common practice, no source.
std::vector<SlotCover> slot_covers(const Job& job, const std::vector<ChainStep>& chain, const MountPlan& plan);

/// `forming/<piece>/slots`, of each piece with holes: the worst of them. Its mend makes slots longer.
std::vector<Finding> slot_findings(const Job& job, const std::vector<ChainStep>& chain, const MountPlan& plan,
                                   Mends mends);

}  // namespace sillwright::core
