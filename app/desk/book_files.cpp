#include "app/desk/book_files.h"

#include <QCoreApplication>
#include <QFileDialog>
#include <QMenu>
#include <QPrintDialog>
#include <QPrinter>
#include <QWidget>
#include <string>

#include "app/desk/csv_dialog.h"
#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/drawings/measuring_sheet_print.h"
#include "core/edit/book_edit.h"
#include "core/survey/book_csv.h"
#include "geometry/file_text.h"

namespace sillwright::app {

namespace {

/// A book of some thousand readings is far smaller.
constexpr std::uintmax_t k_most_bytes = 16U * 1024U * 1024U;

QString tr(const char* text) {
    return QCoreApplication::translate("BookFiles", text);
}

QString folder_of(const OpenJob& open) {
    return QString::fromStdString(open.folder().string());
}

void ask_and_print(const core::survey::MeasuringSheet& sheet, const QString& name, QWidget* over) {
    QPrinter printer(QPrinter::HighResolution);
    printer.setDocName(name);
    QPrintDialog dialog(&printer, over);
    dialog.setObjectName(QStringLiteral("printSheetOn"));
    if (dialog.exec() == QDialog::Accepted) {
        print_measuring_sheet(sheet, printer);
    }
}

}  // namespace

void add_book_file_actions(QMenu& menu, OpenBook& book, QWidget* over) {
    QAction* blank = menu.addAction(tr("Print a blank measuring sheet…"));
    blank->setObjectName(QStringLiteral("printBlankSheet"));
    QObject::connect(blank, &QAction::triggered, over, [&book, over] {
        ask_and_print(core::survey::blank_sheet(book.job().job()), tr("measuring sheet"), over);
    });
    QAction* copy = menu.addAction(tr("Print the book…"));
    copy->setObjectName(QStringLiteral("printBook"));
    QObject::connect(copy, &QAction::triggered, over, [&book, over] {
        ask_and_print(core::survey::filled_sheet(book.job().job(), book.results().solution), tr("measuring book"),
                      over);
    });
    menu.addSeparator();
    QAction* read = menu.addAction(tr("Readings from a CSV file…"));
    read->setObjectName(QStringLiteral("readCsv"));
    QObject::connect(read, &QAction::triggered, over, [&book, over] {
        const QString file = QFileDialog::getOpenFileName(over, tr("Readings from a CSV file"), folder_of(book.job()),
                                                          tr("Tables (*.csv *.txt *.tsv);;All files (*)"));
        if (!file.isEmpty()) {
            read_book_csv(book, file.toStdString(), over);
        }
    });
    QAction* write = menu.addAction(tr("The book as a CSV file…"));
    write->setObjectName(QStringLiteral("writeCsv"));
    QObject::connect(write, &QAction::triggered, over, [&book, over] {
        const QString file =
            QFileDialog::getSaveFileName(over, tr("The book as a CSV file"),
                                         folder_of(book.job()) + QStringLiteral("/book.csv"), tr("Tables (*.csv)"));
        if (!file.isEmpty()) {
            write_book_csv(book, file.toStdString());
        }
    });
}

void read_book_csv(OpenBook& book, const std::filesystem::path& file, QWidget* over) {
    OpenJob& open = book.job();
    const auto bytes = geometry::read_file(file, k_most_bytes);
    if (!bytes) {
        emit open.refused(QString::fromStdString(bytes.error().message));
        return;
    }
    const auto csv = core::survey::book_of_csv(bytes.value(), open.job().book, open.job().unit);
    if (!csv) {
        emit open.refused(QString::fromStdString(file.filename().string() + ": " + csv.error().message));
        return;
    }
    if (csv.value().refused.empty() && csv.value().remarks.empty()) {
        open.apply(core::add_from_csv(open.job(), csv.value()));
        return;
    }
    CsvDialog dialog(open.job(), csv.value(), over);
    if (dialog.exec() == QDialog::Accepted) {
        if (const auto edit = dialog.edit()) {
            open.apply(*edit);
        }
    }
}

void write_book_csv(OpenBook& book, const std::filesystem::path& file) {
    const core::Job& job = book.job().job();
    if (const auto written = geometry::write_file(file, core::survey::csv_of_book(job.book, job.unit)); !written) {
        emit book.job().refused(QString::fromStdString(written.error().message));
    }
}

}  // namespace sillwright::app
