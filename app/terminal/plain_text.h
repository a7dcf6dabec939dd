#pragma once

#include "core/plain_text.h"

/// Text for a terminal: see core/plain_text.h.
namespace sillwright::app::terminal {

using core::columns;
using core::in_ascii;
using core::without_controls;
using core::wrapped;

}  // namespace sillwright::app::terminal
