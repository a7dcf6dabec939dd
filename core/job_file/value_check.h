#pragma once

#include <optional>

#include "core/job.h"
#include "core/job_file/reader.h"

namespace sillwright::core::job_file {

/// The first value of a job that a job file could not hold: a number that is not finite, a length
/// beyond 1 km, an empty name, text that is not UTF-8, a direction without length. Fields are gone
/// through as they are written; the job is not changed.
std::optional<Misfit> value_fault(Job& job);

}  // namespace sillwright::core::job_file
