#include "app/window/x11_probe.h"

// In a file of its own: Xlib's macros hide Qt's names and ours.
#include <X11/Xlib.h>

#include <memory>

namespace sillwright::app::window {

bool x11_answers() {
    const std::unique_ptr<Display, int (*)(Display*)> display(XOpenDisplay(nullptr), XCloseDisplay);
    return display != nullptr;
}

}  // namespace sillwright::app::window
