#pragma once

namespace sillwright::app::window {

/// Whether the X server that DISPLAY names takes a connection.
bool x11_answers();

}  // namespace sillwright::app::window
