#include "app/window/show.h"

#include <unistd.h>

#include <QApplication>
#include <QFile>
#include <QPixmap>
#include <clocale>
#include <filesystem>
#include <system_error>

#include "app/terminal/run.h"
#include "app/window/display.h"
#include "app/window/frame_measure.h"
#include "app/window/main_window.h"

namespace sillwright::app::window {

using terminal::ExitCode;

namespace {

ExitCode write_picture(MainWindow& window, const std::filesystem::path& file) {
    window.settle();
    const QString name = QFile::decodeName(file.c_str());
    if (std::error_code unknown; std::filesystem::exists(file, unknown)) {
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
    if (const auto ready = prepare_display(command.picture.has_value()); !ready) {
        return terminal::fail(ready.error());
    }
    const QApplication application(argc, argv);
    // QApplication takes the desktop's locale; numbers are written with a point all the same.
    std::setlocale(LC_NUMERIC, "C");
    QApplication::setApplicationName(QStringLiteral("Sillwright"));
    QApplication::setOrganizationName(QStringLiteral("Sillwright"));
    QApplication::setDesktopFileName(QStringLiteral("sillwright"));

    MainWindow window(core);
    if (command.job) {
        const auto opened = window.open_file(*command.job);
        if (!opened && (command.picture || command.measures || isatty(STDERR_FILENO) == 1)) {
            return terminal::fail(opened.error());
        }
    }
    window.show();
    if (!command.job) {
        window.begin();
    }
    if (command.picture) {
        return write_picture(window, *command.picture);
    }
    if (command.measures) {
        const auto measured = measure_frames(window, *command.measures);
        return measured ? ExitCode::all_hold : terminal::fail(measured.error());
    }
    QApplication::exec();
    return ExitCode::all_hold;
}

}  // namespace sillwright::app::window
