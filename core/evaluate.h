#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"
#include "core/mounts/line_up.h"
#include "core/survey/results.h"
#include "core/swing/swing_check.h"
#include "geometry/motion_distance.h"
#include "geometry/result.h"

namespace sillwright::core {

struct BuckPlan;
struct FormingPlan;
struct SculptedScan;

/// A file of a job as it was when it was read.
struct FileStamp {
    std::string path;  ///< As in the job.
    std::uintmax_t size = 0;
    std::filesystem::file_time_type written;

    friend bool operator==(const FileStamp&, const FileStamp&) = default;
};

/// A job and all that was computed from it. A copy's outcomes point into the copy.
struct Evaluation {
    Evaluation() = default;
    Evaluation(const Evaluation& other);
    Evaluation(Evaluation&&) = default;
    Evaluation& operator=(const Evaluation& other);
    Evaluation& operator=(Evaluation&&) = default;
    ~Evaluation() = default;

    Job job;  ///< With its prototype in the place of its drawing, if it says so.
    CarModel car;
    std::vector<Finding> findings;          ///< Worst margin first.
    std::vector<SwingOutcome> outcomes;     ///< They point into `car` and `body`.
    std::shared_ptr<const BodyModel> body;  ///< The car's own surface, where a door carries something; else null.
    std::shared_ptr<const survey::Results> survey;  ///< What the measuring book says; never null once computed.
    MountPlan plan;                                 ///< What to make in the flange for each mount.
    LineUp line_up;                                 ///< Whether all fasteners go home.
    std::shared_ptr<const FormingPlan> forming;     ///< How its pieces are formed; never null once computed.
    std::shared_ptr<const BuckPlan> buck;           ///< Its buck; never null once computed.
    /// The scan of the prototype, or why there is none; null if the job names none.
    std::shared_ptr<const geometry::Result<SculptedScan>> prototype;
    std::vector<Finding> standing;  ///< Those of `findings` on line-up, holding, keep-outs and forming, without order.

    std::filesystem::path folder;
    std::vector<FileStamp> files;       ///< All that it was read from.
    std::vector<std::string> unmended;  ///< Ids of findings whose mends have not been looked for yet.
};

/// Computes a job whose mesh and STEP files lie in `folder`: the model, then every
/// finding, then the mends of those that fall short, unless they are to be left for `with_mends`.
/// Progress rises over all of it; a stop is heeded within some hundredths of a second, but for the
/// reading of a file.
/// Errors: as car_model and check_swing; stopped.
geometry::Result<std::shared_ptr<const Evaluation>> evaluate(const Job& job, const std::filesystem::path& folder,
                                                             const geometry::Watch& watch = {},
                                                             Mends mends = Mends::look_for);

/// The same for a job that grew out of one that was computed: what a change has not touched is
/// taken over (models of bodies, swings of pairs whose bodies and motion are the same, mends of
/// questions in which nothing is another). Equal to evaluate(), number by number.
/// `previous` comes from evaluate, update or with_mends, at any number of changes before; not from a drag.
geometry::Result<std::shared_ptr<const Evaluation>> update(const Job& job, const Evaluation& previous,
                                                           const std::filesystem::path& folder,
                                                           const geometry::Watch& watch = {},
                                                           Mends mends = Mends::look_for);

/// An evaluation whose mends were left, with them; itself if none is lacking.
/// Errors: as swing_mend; stopped.
geometry::Result<std::shared_ptr<const Evaluation>> with_mends(const std::shared_ptr<const Evaluation>& of,
                                                               const geometry::Watch& watch = {});

}  // namespace sillwright::core
