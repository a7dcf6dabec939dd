#include "app/window/display.h"

#include <QApplication>

#include "app/window/x11_probe.h"

namespace sillwright::app::window {

using geometry::Error;
using geometry::ErrorCode;

namespace {

bool is_set(const char* variable) {
    return !qEnvironmentVariableIsEmpty(variable);
}

}  // namespace

geometry::Status prepare_display(bool picture_only) {
    // A drawing that is moved to another window would lose its textures else.
    QApplication::setAttribute(Qt::AA_ShareOpenGLContexts);
    // OpenCASCADE draws through GLX and knows no EGL on this system.
    if (!is_set("QT_XCB_GL_INTEGRATION")) {
        qputenv("QT_XCB_GL_INTEGRATION", "xcb_glx");
    }
    if (is_set("QT_QPA_PLATFORM")) {
        return std::monostate{};  // somebody's own choice stays
    }
    // For the same reason X11 is asked for wherever it can be had, on a Wayland desktop too.
    if (is_set("DISPLAY") && x11_answers()) {
        qputenv("QT_QPA_PLATFORM", "xcb");
        return std::monostate{};
    }
    if (is_set("WAYLAND_DISPLAY")) {
        return std::monostate{};  // all but the solid picture works
    }
    if (picture_only) {
        qputenv("QT_QPA_PLATFORM", "offscreen");
        return std::monostate{};
    }
    return Error{ErrorCode::does_not_fit,
                 "There is no display to open the window on. Start it from a desktop, or print the findings, which "
                 "needs none: sillwright check JOB."};
}

}  // namespace sillwright::app::window
