#pragma once

#include "app/core_link.h"
#include "app/terminal/arguments.h"
#include "app/terminal/exit_code.h"

namespace sillwright::app::window {

/// Opens the window and stays until it is closed, or writes its picture or its measures and ends.
/// A job that cannot be opened: where there is a terminal to read it on, or a
///   picture or measures were asked for, the message goes to standard error and the exit code
///   is bad_input; else the window shows it.
terminal::ExitCode show(const terminal::OpenWindow& command, const CoreLink& core, int argc, char** argv);

}  // namespace sillwright::app::window
