#include "app/drawings/paper_copy.h"

#include <QAction>
#include <QApplication>
#include <QBuffer>
#include <QClipboard>
#include <QFile>
#include <QFileDialog>
#include <QMenu>
#include <QMessageBox>
#include <QMimeData>
#include <QPdfWriter>
#include <QPrintDialog>
#include <QPrinter>
#include <QPushButton>
#include <QStandardPaths>
#include <QSvgGenerator>
#include <algorithm>
#include <cmath>
#include <system_error>
#include <utility>

#include "app/drawings/clipped_device.h"
#include "app/drawings/paper.h"
#include "app/looks.h"
#include "core/file_name.h"
#include "geometry/file_text.h"

namespace sillwright::app {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Status;

namespace fs = std::filesystem;

namespace {

/// CSS and Qt take a screen's pixel to be 1/96 in.
constexpr double k_pixels_per_inch = 96.0;
/// Finer than any printer; coordinates in the file are rounded to it.
constexpr int k_pdf_dots_per_inch = 1200;
/// A picture stands well on a screen of twice the pixels and on paper.
constexpr int k_png_times = 2;
constexpr double k_page_text_points = 10.0;
constexpr double k_points_per_inch = 72.0;

QString tr(const char* text) {
    return QCoreApplication::translate("PaperCopy", text);
}

QSize whole_pixels(const QSizeF& size) {
    return {static_cast<int>(std::ceil(size.width())), static_cast<int>(std::ceil(size.height()))};
}

QByteArray pdf(const Copyable& copy) {
    QBuffer bytes;
    bytes.open(QIODevice::WriteOnly);
    QPdfWriter writer(&bytes);
    writer.setTitle(copy.title);
    writer.setCreator(QStringLiteral("Sillwright"));
    writer.setResolution(k_pdf_dots_per_inch);
    writer.setPageMargins(QMarginsF());
    writer.setPageSize(QPageSize(copy.size / k_pixels_per_inch, QPageSize::Inch, copy.title, QPageSize::ExactMatch));
    QPainter painter(&writer);
    painter.scale(k_pdf_dots_per_inch / k_pixels_per_inch, k_pdf_dots_per_inch / k_pixels_per_inch);
    copy.draw(painter);
    painter.end();
    return bytes.data();
}

QByteArray svg(const Copyable& copy) {
    QBuffer bytes;
    bytes.open(QIODevice::WriteOnly);
    QSvgGenerator writer;
    writer.setOutputDevice(&bytes);
    writer.setResolution(static_cast<int>(k_pixels_per_inch));
    writer.setSize(whole_pixels(copy.size));
    writer.setViewBox(QRectF(QPointF(), copy.size));
    writer.setTitle(copy.title);
    QPainter on_file(&writer);
    ClippedDevice clipped(on_file, writer);
    QPainter painter(&clipped);
    copy.draw(painter);
    painter.end();
    on_file.end();
    return bytes.data();
}

QImage image(const Copyable& copy) {
    QImage image(whole_pixels(copy.size) * k_png_times, QImage::Format_ARGB32_Premultiplied);
    image.setDevicePixelRatio(k_png_times);
    image.fill(Qt::transparent);
    QPainter painter(&image);
    copy.draw(painter);
    painter.end();
    return image;
}

QByteArray png(const Copyable& copy) {
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    image(copy).save(&buffer, "PNG");
    return bytes;
}

/// Over the widget, in the window's own sizes.
void say(QWidget* over, const QString& sentence) {
    QMessageBox box(QMessageBox::NoIcon, QStringLiteral("Sillwright"), sentence, QMessageBox::NoButton, over);
    box.setObjectName(QStringLiteral("copySaid"));
    box.setTextFormat(Qt::PlainText);
    box.setFont(looks::font(looks::k_text));
    box.addButton(tr("Go on"), QMessageBox::AcceptRole)->setMinimumHeight(looks::k_target);
    box.exec();
}

void ask_and_save(QWidget* over, const Copyable& copy) {
    static QString folder = QStandardPaths::writableLocation(QStandardPaths::DocumentsLocation);
    QFileDialog dialog(over, tr("Save picture"), folder, tr("PDF (*.pdf);;SVG (*.svg);;PNG (*.png)"));
    dialog.setObjectName(QStringLiteral("savePictureAs"));
    dialog.setAcceptMode(QFileDialog::AcceptSave);  // asks before a file is replaced
    dialog.setDefaultSuffix(QStringLiteral("pdf"));
    QObject::connect(&dialog, &QFileDialog::filterSelected, &dialog,
                     [&dialog](const QString& filter) { dialog.setDefaultSuffix(filter.left(3).toLower()); });
    dialog.selectFile(QString::fromStdString(file_name_of(copy)));
    if (dialog.exec() != QDialog::Accepted || dialog.selectedFiles().isEmpty()) {
        return;
    }
    folder = dialog.directory().absolutePath();
    const fs::path file = QFile::encodeName(dialog.selectedFiles().constFirst()).toStdString();
    if (const auto written = write_copy(copy, file, Standing::replace); !written) {
        say(over, QString::fromStdString(written.error().message));
    }
}

void ask_and_print(QWidget* over, const Copyable& copy, const QString& heading) {
    QPrinter printer(QPrinter::HighResolution);
    printer.setDocName(copy.title);
    printer.setPageOrientation(copy.size.width() > copy.size.height() ? QPageLayout::Landscape : QPageLayout::Portrait);
    QPrintDialog dialog(&printer, over);
    dialog.setObjectName(QStringLiteral("printPictureOn"));
    if (dialog.exec() != QDialog::Accepted) {
        return;
    }
    if (const auto printed = print_copy(copy, heading, printer); !printed) {
        say(over, QString::fromStdString(printed.error().message));
    }
}

void open_menu(QWidget& widget, const QPoint& global) {
    auto* menu = new QMenu(&widget);
    menu->setObjectName(QStringLiteral("copyMenu"));
    menu->setAttribute(Qt::WA_DeleteOnClose);
    menu->setFont(looks::font(looks::k_text));
    // 40 px with a line of text 18 px high.
    menu->setStyleSheet(
        QStringLiteral("QMenu::item { padding: 11px 28px; }"
                       "QMenu::item:selected { background: palette(highlight); color: palette(highlighted-text); }"));
    menu->addActions(widget.actions());
    menu->popup(global);
}

QAction* action(QWidget& widget, const QString& text, const QString& name) {
    auto* made = new QAction(text, &widget);
    made->setObjectName(name);
    widget.addAction(made);
    return made;
}

}  // namespace

Copyable copy_of(const Paper& paper) {
    const QSizeF size = paper.size();
    return {paper.title(), size, [&paper, size](QPainter& painter) {
                painter.setFont(paper.font());
                paper.draw(painter, size);
            }};
}

Copyable copy_of(QImage image, const QString& title, const QSizeF& size) {
    return {title, size, [image = std::move(image), size](QPainter& painter) {
                painter.setRenderHint(QPainter::SmoothPixmapTransform);
                painter.drawImage(QRectF(QPointF(), size), image);
            }};
}

Status write_copy(const Copyable& copy, const fs::path& file, Standing standing) {
    const QString ending = QFile::decodeName(file.extension().c_str()).toLower();
    std::error_code none;
    if (standing == Standing::keep && fs::exists(fs::symlink_status(file, none))) {
        return Error{ErrorCode::unreadable_file,
                     "\"" + file.string() + "\" exists already, and is not overwritten. Choose another name."};
    }
    QByteArray bytes;
    if (ending == QStringLiteral(".pdf")) {
        bytes = pdf(copy);
    } else if (ending == QStringLiteral(".svg")) {
        bytes = svg(copy);
    } else if (ending == QStringLiteral(".png")) {
        bytes = png(copy);
    } else {
        return Error{ErrorCode::unreadable_file, "\"" + file.string() +
                                                     "\" does not say what kind of picture is wanted. End the name "
                                                     "with .pdf, .svg or .png."};
    }
    return geometry::write_file(file, {bytes.constData(), static_cast<std::size_t>(bytes.size())});
}

std::string file_name_of(const Copyable& copy) {
    return core::safe_file_name(copy.title.toStdString());
}

std::unique_ptr<QMimeData> clipboard_copy(const Copyable& copy) {
    auto data = std::make_unique<QMimeData>();
    data->setData(QStringLiteral("image/svg+xml"), svg(copy));
    data->setImageData(image(copy));
    return data;
}

Status print_copy(const Copyable& copy, const QString& heading, QPagedPaintDevice& page) {
    QPainter painter;
    if (copy.size.isEmpty() || !painter.begin(&page)) {
        return Error{ErrorCode::unreadable_file,
                     "The page cannot be drawn on. Check the printer, or print to a file in a folder that may be "
                     "written to."};
    }
    const QRectF sheet(QPointF(), QSizeF(page.width(), page.height()));
    const double dots_per_point = page.logicalDpiY() / k_points_per_inch;
    QFont font;
    font.setPixelSize(static_cast<int>(std::lround(k_page_text_points * dots_per_point)));
    painter.setFont(font);
    painter.setPen(Qt::black);  // ink on the printer's paper, whatever the screen's tone is
    const double line = 1.6 * painter.fontMetrics().height();
    const QRectF head(sheet.left(), sheet.top(), sheet.width(), 2.0 * line);
    painter.drawText(head, Qt::AlignLeft | Qt::AlignTop | Qt::TextWordWrap,
                     heading.isEmpty() ? copy.title : heading + QStringLiteral("\n") + copy.title);
    const QRectF foot(sheet.left(), sheet.bottom() - line, sheet.width(), line);
    painter.drawText(foot, Qt::AlignLeft | Qt::AlignBottom,
                     tr("Drawn to fit the page: not to scale, see the scale bar "
                        "or the rulers on the drawing."));
    const QRectF field = sheet.adjusted(0.0, 2.0 * line, 0.0, -1.5 * line);
    const double scale = std::min(field.width() / copy.size.width(), field.height() / copy.size.height());
    painter.translate(field.center().x() - 0.5 * scale * copy.size.width(), field.top());
    painter.scale(scale, scale);
    painter.setClipRect(QRectF(QPointF(), copy.size));
    copy.draw(painter);
    if (!painter.end()) {
        return Error{ErrorCode::unreadable_file, "The page could not be finished. Check the printer and the disk."};
    }
    return std::monostate{};
}

QString heading_of(const core::Job& job) {
    QStringList parts;
    if (!job.vehicle.empty()) {
        parts << QString::fromStdString(job.vehicle);
    }
    parts << (job.side == core::Side::right ? tr("RIGHT SIDE") : tr("LEFT SIDE"));
    if (!job.revision.empty()) {
        parts << tr("revision %1").arg(QString::fromStdString(job.revision));
    }
    if (!job.date.empty()) {
        parts << QString::fromStdString(job.date);
    }
    parts << tr("numbers in %1")
                 .arg(job.unit == core::BareUnit::mm   ? QStringLiteral("mm")
                      : job.unit == core::BareUnit::cm ? QStringLiteral("cm")
                                                       : QStringLiteral("inches"));
    return parts.join(QStringLiteral(" · "));
}

void add_copy_actions(Paper& paper, std::function<QString()> heading, CopyMenu menu) {
    add_copy_actions(
        paper, [&paper] { return copy_of(paper); }, std::move(heading), menu);
}

void add_copy_actions(QWidget& widget, std::function<Copyable()> copy, std::function<QString()> heading,
                      CopyMenu menu) {
    QAction* to_clipboard = action(widget, tr("Copy picture"), QStringLiteral("copyPicture"));
    QObject::connect(to_clipboard, &QAction::triggered, &widget,
                     [copy] { QApplication::clipboard()->setMimeData(clipboard_copy(copy()).release()); });
    QAction* to_file = action(widget, tr("Save picture…"), QStringLiteral("savePicture"));
    QObject::connect(to_file, &QAction::triggered, &widget, [&widget, copy] { ask_and_save(&widget, copy()); });
    QAction* to_printer = action(widget, tr("Print…"), QStringLiteral("printPicture"));
    QObject::connect(to_printer, &QAction::triggered, &widget, [&widget, copy, heading = std::move(heading)] {
        ask_and_print(&widget, copy(), heading ? heading() : QString());
    });
    if (menu == CopyMenu::made_here) {
        widget.setContextMenuPolicy(Qt::CustomContextMenu);
        QObject::connect(&widget, &QWidget::customContextMenuRequested, &widget, [&widget](const QPoint& at) {
            if (!QApplication::mouseButtons().testFlag(Qt::LeftButton)) {  // else two buttons move what is drawn
                open_menu(widget, widget.mapToGlobal(at));
            }
        });
    }
}

}  // namespace sillwright::app
