#pragma once

#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"
#include "core/survey/results.h"

namespace sillwright::core {

/// What the measuring book lets be said, as findings of the stage Measure; none of a job whose book is empty.
///
/// Ids: "measure/book/agreement" (global test), "measure/book/worst reading", "measure/book/unchecked",
///   "measure/book/points", "measure/book/frame", "measure/book/mirrored/H3", "measure/H3/placed", "measure/H3/place",
///   "measure/front door/axis", "measure/front door/targets", "measure/front door/corner", "measure/set-ups",
///   "measure/other hand".
std::vector<Finding> survey_findings(const Job& job, const survey::Results& results);

/// "Put the tape again on E-H1: expected 1473.9 mm, the book says 1484.0.": the suspect in one or two sentences, with
/// the readings that it cannot be told from. `results` are of this job.
std::string suspect_words(const Job& job, const survey::Solution& solution);

}  // namespace sillwright::core
