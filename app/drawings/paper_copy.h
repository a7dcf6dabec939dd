#pragma once

#include <QImage>
#include <QPainter>
#include <QSizeF>
#include <QString>
#include <filesystem>
#include <functional>
#include <memory>

#include "core/job.h"
#include "geometry/result.h"

class QMimeData;
class QPagedPaintDevice;
class QWidget;

namespace sillwright::app {

class Paper;

/// Something seen, to be copied, written or printed as it is seen.
struct Copyable {
    QString title;  ///< "section at 3.9 · 700 mm"
    QSizeF size;    ///< In pixels of the screen.
    /// Draws all of it on (0, 0) to `size`.
    std::function<void(QPainter& painter)> draw;
};

Copyable copy_of(const Paper& paper);
/// For what is no paper: the solid view gives the picture it shows. `size`: as large as it is on the screen.
Copyable copy_of(QImage image, const QString& title, const QSizeF& size);

/// By the ending of `file`: .pdf and .svg keep lines and text, .png is twice as fine as the screen.
/// Errors: unreadable_file for another ending, if something stands there already and may not be
///   replaced, or as geometry::write_file.
enum class Standing { keep, replace };
geometry::Status write_copy(const Copyable& copy, const std::filesystem::path& file, Standing standing);

/// A name for it that any file system takes: "section_at_3_9_700_mm".
std::string file_name_of(const Copyable& copy);

/// As SVG and as a picture, for whatever the other program takes.
std::unique_ptr<QMimeData> clipboard_copy(const Copyable& copy);

/// Fills a page with `heading` (job, side, revision, date, units), the title, the drawing as large as fits,
/// and a line that says that the scale is by the scale bar.
/// Errors: unreadable_file if the printer or its file cannot be drawn on.
geometry::Status print_copy(const Copyable& copy, const QString& heading, QPagedPaintDevice& page);

/// Whether a drawing opens a menu of its own, which then takes the widget's actions() too.
enum class CopyMenu { made_here, its_own };

/// Gives a drawing the actions copyPicture, savePicture, printPicture, and a menu with them (right button, menu
/// key). `heading` says what job it is of, asked when it is printed: heading_of(job).
void add_copy_actions(Paper& paper, std::function<QString()> heading, CopyMenu menu = CopyMenu::made_here);
/// The same for what is no paper; `copy` is asked when it is wanted.
void add_copy_actions(QWidget& widget, std::function<Copyable()> copy, std::function<QString()> heading,
                      CopyMenu menu = CopyMenu::made_here);

/// "Estate A · RIGHT SIDE · revision C · 2026-03-02 · numbers in mm"; what is not known is left out.
QString heading_of(const core::Job& job);

}  // namespace sillwright::app
