#pragma once

#include <string>

#include "core/job.h"
#include "geometry/result.h"

namespace sillwright::core {

/// What is asked for a new job.
struct NewJob {
    std::string vehicle;
    Side side = Side::right;
    BareUnit unit = BareUnit::mm;
    std::string date;         ///< ISO 8601.
    std::string first, last;  ///< Along of the first and the last station, as typed; empty if not known yet.
    int stations = 0;         ///< How many, evenly between, inner ones at whole units; 0 if not known yet.
    int doors = 0;            ///< How many on this side: front door, rear door; each with a panel to draw.
    std::string sheet;        ///< Thickness as typed; empty if not known yet.
};

/// A job in which nothing is drawn yet: it can be saved, and says of everything that it is not measured.
/// Errors: invalid_argument for a number that cannot be read, in words that say what would be right.
geometry::Result<Job> new_job(const NewJob& answers);

}  // namespace sillwright::core
