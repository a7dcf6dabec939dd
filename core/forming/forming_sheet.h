#pragma once

#include <string>
#include <vector>

#include "core/finding.h"
#include "core/forming/forming_plan.h"
#include "core/job.h"

namespace sillwright::core {

/// A title, lines of a name and its value, and sentences below them, in the order in which they are printed.
struct SheetPart {
    std::string title;
    std::vector<Input> lines;
    std::vector<std::string> notes;
};

/// What moulder, sculptor and router operator are told: sheet and machine, draw direction and draft, thickness, flutes,
/// the ladder of sizes, ticks to be scribed. Lengths in millimetres. What is not decided yet is a note, never a zero.
std::vector<SheetPart> forming_sheet(const Job& job, const FormingPlan& plan);

}  // namespace sillwright::core
