#pragma once

#include "app/terminal/arguments.h"
#include "app/terminal/exit_code.h"

namespace sillwright::app::terminal {

/// Writes the other side's job with this job's design in the mirror, and says what it did. Neither file is changed.
/// Exit: done, or bad_input where the sides differ or a file cannot be used.
ExitCode run(const OtherHand& command);

}  // namespace sillwright::app::terminal
