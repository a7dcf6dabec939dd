#pragma once

#include <string>

#include "app/terminal/arguments.h"

namespace sillwright::app::terminal {

/// Help with examples, 80 columns or less, plain ASCII.
std::string help(Topic topic);

/// "sillwright 0.1.0"
std::string version();

}  // namespace sillwright::app::terminal
