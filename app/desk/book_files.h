#pragma once

#include <filesystem>

#include "geometry/result.h"

class QMenu;
class QWidget;

namespace sillwright::app {

class OpenBook;

/// What can be done with the whole book and files: actions readCsv and writeCsv in a menu. Rows that cannot be taken
/// are shown over `over` to be mended. What is wrong with a file is said by OpenJob::refused.
void add_book_file_actions(QMenu& menu, OpenBook& book, QWidget* over);

/// Readings from a file, asking only where rows cannot be taken or are to be looked at.
void read_book_csv(OpenBook& book, const std::filesystem::path& file, QWidget* over);
/// The book's readings to a file; replaces what stands there, so ask before.
void write_book_csv(OpenBook& book, const std::filesystem::path& file);

}  // namespace sillwright::app
