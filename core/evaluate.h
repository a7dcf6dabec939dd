#pragma once

#include <filesystem>
#include <memory>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "core/swing/swing_check.h"
#include "geometry/motion_distance.h"
#include "geometry/result.h"

namespace sillwright::core {

/// A job and all that was computed from it.
struct Evaluation {
    Job job;
    CarModel car;
    std::vector<Finding> findings;          ///< Worst margin first.
    std::vector<SwingOutcome> outcomes;     ///< They point into `car` and `body`.
    std::shared_ptr<const BodyModel> body;  ///< The car's own surface, where a door carries something; else null.
};

/// Computes a job whose mesh and STEP files lie in `folder`: the model, then every
/// finding, then the mends of those that fall short.
/// Errors: as car_model and check_swing; stopped.
geometry::Result<std::shared_ptr<const Evaluation>> evaluate(const Job& job, const std::filesystem::path& folder,
                                                             const geometry::Watch& watch = {});

/// The same for a job that grew out of one that was computed: what a change has not touched is
/// taken over (models of bodies, swings of pairs whose bodies and motion are the same). Equal to
/// evaluate(), number by number.
geometry::Result<std::shared_ptr<const Evaluation>> update(const Job& job, const Evaluation& previous,
                                                           const std::filesystem::path& folder,
                                                           const geometry::Watch& watch = {});

}  // namespace sillwright::core
