#pragma once

#include <string>
#include <vector>

#include "core/job.h"

namespace sillwright::core {

/// What must still be drawn before a loft goes through all sections of something ("the sections of
/// skirt", "a second section of skirt", "more nodes of skirt at station 4", "bead of skirt at
/// station 5, or where it runs out"); empty if nothing is. `name` is what it is called.
///
/// Where nothing lacks, loft_of (drawn_loft.h) refuses only what cannot be meant.
std::vector<std::string> lacking_for_loft(const Job& job, const Drawn& drawn, bool closed, const std::string& name);

}  // namespace sillwright::core
