#pragma once

#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

/// A length put into a field: a bare number in a job of millimetres, else with its unit, as it would be typed.
FieldChange length_change(const Job& job, const std::string& pointer, geometry::Length value);
/// Words put into a field.
FieldChange word_change(const std::string& pointer, const std::string& word);
/// A plain number put into a field.
FieldChange number_change(const std::string& pointer, double value);

/// The job with fields written anew, as if its file had been edited there; everything else comes back bit for bit.
/// Objects on the way that the file leaves out are made; the last step "-" adds to the end of a list.
/// Errors: invalid_argument for a pointer that leads through something else; what parse_job says of a job that
///   cannot be meant then, without the place in a file.
geometry::Result<Job> with_changes(const Job& job, const std::vector<FieldChange>& changes);

}  // namespace sillwright::core
