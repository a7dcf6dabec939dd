#pragma once

#include "app/core_link.h"
#include "app/terminal/arguments.h"
#include "app/terminal/exit_code.h"

namespace sillwright::app::terminal {

/// Prints what moulder, sculptor and router operator are told, and what of it falls short.
/// Exit: as `check`, by the findings of the stage Forming alone.
ExitCode run(const FormingSheet& command, const CoreLink& core);

}  // namespace sillwright::app::terminal
