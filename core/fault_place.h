#pragma once

#include <string>

#include "core/job.h"

namespace sillwright::core {

/// What a place in the job file is to somebody who looks at the job, not at the file: "Skirt at
/// station 4, bead, radius" for /skirt/pieces/0/sections/3/nodes/3/radius, "Mount H3, panel
/// thickness", "Front door, hinge upper along", "Station 4, along".
/// As much of it as the job has: text for any pointer.
std::string fault_place(const Job& job, const std::string& pointer);

}  // namespace sillwright::core
