#include "app/window/x11_probe.h"

// In a file of its own: Xlib's macros hide Qt's names and ours.
#include <X11/Xlib.h>

namespace sillwright::app::window {

bool x11_answers() {
    // Stays open until the program ends: a server whose last client leaves may start
    // over, and would then turn away the window that comes next.
    static Display* const display = XOpenDisplay(nullptr);
    return display != nullptr;
}

}  // namespace sillwright::app::window
