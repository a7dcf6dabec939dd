#pragma once

#include "app/terminal/arguments.h"
#include "app/terminal/exit_code.h"

namespace sillwright::app::terminal {

/// Prints what the measuring book says; takes or drops readings before, writes files after. A change is saved as the
/// window saves: the older version stays beside the job. Refused while a window has the job open.
/// Exit: as `check` by the book's findings; bad_input if rows were refused.
ExitCode run(const Survey& command);

}  // namespace sillwright::app::terminal
