#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/job.h"
#include "core/survey/compare.h"
#include "core/survey/hinge_axis.h"
#include "core/survey/solution.h"

namespace sillwright::core::survey {

/// The number that matters of a door's axis: at its lower rear corner, if its outline or a body says where that is.
struct DoorCorner {
    Eigen::Vector3d shut_mm = Eigen::Vector3d::Zero();
    CornerSd worst;
};

/// All that the book of a job says.
struct Results {
    Solution solution;
    std::vector<HingeOutcome> hinges;           ///< One of each hinge set, then doors by their pins.
    std::map<std::string, DoorCorner> corners;  ///< By door.
    std::optional<Comparison> set_ups;
    std::optional<Comparison> other_hand;  ///< By points of both books; too few there: by mounts and body as typed.
    std::string other_hand_lacks;  ///< Why the other side's job could not be compared; empty if there is none to.
};

/// `folder` is where the job file lies; the other hand's job is read from there.
/// Never fails: what is wrong is said in the parts.
Results survey_results(const Job& job, const std::filesystem::path& folder, bool with_next = true);

/// The axis that the book gives a door; null if none.
const HingeAxis* axis_of(const Results& results, const std::string& door);

/// The job with the places of all mounts and hinges that are kept from the book as the book has them now: `at` and `sd`
/// of mounts, both pins of hinges. What the book cannot place keeps what it had. Equal job if nothing moves by more
/// than 1e-9 mm.
Job settled(Job job, const Results& results);

}  // namespace sillwright::core::survey
