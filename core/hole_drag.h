#pragma once

#include <memory>
#include <string>
#include <vector>

#include "core/evaluate.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

/// A hole of the part while a hand drags it along the flange: prepared once, then answered at every move within a
/// picture's time.
///
/// What follows the hand: reach, edges, and what is asked of every hole and slot. All else stands as it was; mends are
///   those of what follows, where they are found without moving nodes.
/// The same place gives the same numbers, whatever was between.
class HoleDrag {
public:
    /// Errors: invalid_argument if there is no such mount, or the job has no hole in the part for it.
    static geometry::Result<HoleDrag> begin(const std::shared_ptr<const Evaluation>& from, const std::string& mount);

    /// The part's hole put so far rearward of where the mount's axis lands.
    void to(geometry::Length shift);

    /// As it stands now; changed by the next `to`.
    [[nodiscard]] const Evaluation& evaluation() const { return *now_; }

private:
    HoleDrag() = default;
    std::unique_ptr<Evaluation> now_;  ///< Stays in one place: outcomes point into it.
    std::vector<Finding> others_;      ///< That do not follow.
    std::size_t mount_ = 0;
};

}  // namespace sillwright::core
