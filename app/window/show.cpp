#include "app/window/show.h"

#include <unistd.h>

#include <QApplication>
#include <QPixmap>
#include <clocale>

#include "app/terminal/run.h"
#include "app/window/main_window.h"

namespace sillwright::app::window {

using terminal::ExitCode;

namespace {

/// What must be settled before there is a QApplication.
void prepare_platform() {
    // The solid picture is drawn through X11's GLX, so X11 is asked for wherever
    // it can be had, on a Wayland desktop too; what a person has set stays.
    if (!qEnvironmentVariableIsEmpty("DISPLAY") && qEnvironmentVariableIsEmpty("QT_QPA_PLATFORM")) {
        qputenv("QT_QPA_PLATFORM", "xcb");
    }
    // OpenCASCADE has no EGL here.
    if (qEnvironmentVariableIsEmpty("QT_XCB_GL_INTEGRATION")) {
        qputenv("QT_XCB_GL_INTEGRATION", "xcb_glx");
    }
    // Else a drawing that moves to another window loses its textures.
    QApplication::setAttribute(Qt::AA_ShareOpenGLContexts);
}

ExitCode write_picture(MainWindow& window, const std::filesystem::path& file) {
    // Layout and the first frame of the solid take a few rounds of events.
    for (int round = 0; round < 10; ++round) {
        QApplication::processEvents();
    }
    const QString name = QString::fromStdString(file.string());
    if (std::filesystem::exists(file)) {
        return terminal::fail(
            {geometry::ErrorCode::unreadable_file,
             "The picture " + file.string() + " exists already, and nothing is overwritten. Name a new file."});
    }
    if (!window.grab().save(name, "PNG")) {
        return terminal::fail(
            {geometry::ErrorCode::unreadable_file, "The picture could not be written to " + file.string() +
                                                       ". Name a file in a folder that exists and may be written to."});
    }
    return ExitCode::all_hold;
}

}  // namespace

ExitCode show(const terminal::OpenWindow& command, const CoreLink& core, int argc, char** argv) {
    prepare_platform();
    const QApplication application(argc, argv);
    // QApplication takes the desktop's locale; numbers are written with a point all the same.
    std::setlocale(LC_NUMERIC, "C");
    QApplication::setApplicationName(QStringLiteral("Sillwright"));
    QApplication::setDesktopFileName(QStringLiteral("sillwright"));

    MainWindow window(core);
    if (command.job) {
        const auto opened = window.open_job(*command.job);
        if (!opened && (command.picture || isatty(STDERR_FILENO) == 1)) {
            return terminal::fail(opened.error());
        }
    }
    window.show();
    if (command.picture) {
        return write_picture(window, *command.picture);
    }
    QApplication::exec();
    return ExitCode::all_hold;
}

}  // namespace sillwright::app::window
