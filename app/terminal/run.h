#pragma once

#include "app/core_link.h"
#include "app/terminal/arguments.h"
#include "app/terminal/exit_code.h"

/// The commands that need no window: results to standard output, errors to
/// standard error.
namespace sillwright::app::terminal {

ExitCode run(const Check& command, const CoreLink& core);
ExitCode run(const HandOver& command, const CoreLink& core);
ExitCode run(const ShowHelp& command);
ExitCode run(const ShowVersion& command);

/// Tells what went wrong, and what that means to the shell.
ExitCode fail(const geometry::Error& error);

}  // namespace sillwright::app::terminal
