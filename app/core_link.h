#pragma once

#include <filesystem>
#include <functional>

#include "app/checked_job.h"
#include "geometry/motion_distance.h"
#include "geometry/result.h"

namespace sillwright::app {

/// What the program asks of core. The one place where app meets the pipeline;
/// a test puts its own functions here.
struct CoreLink {
    /// Reads and computes a job. Errors: core's own, fit to be shown.
    std::function<geometry::Result<CheckedJob>(const std::filesystem::path& file)> check;
    /// Writes the handover folder. Errors: core's own, or stopped; nothing was overwritten then.
    std::function<geometry::Result<HandedOver>(const CheckedJob& checked, const std::filesystem::path& folder,
                                               const geometry::Watch& watch)>
        hand_over;
};

CoreLink core_link();

}  // namespace sillwright::app
