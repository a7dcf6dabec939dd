#pragma once

#include <QDialog>
#include <optional>

#include "core/edit/edit.h"
#include "core/survey/book_csv.h"

class QLabel;
class QPlainTextEdit;
class QPushButton;

namespace sillwright::app {

/// Rows of a CSV file that were not taken, to be mended in place and tried again, as often as it needs; and what is to
/// be looked at in those that were. Nothing is in the book before all of it is wanted.
class CsvDialog : public QDialog {
    Q_OBJECT

public:
    CsvDialog(core::Job job, const core::survey::CsvBook& csv, QWidget* parent = nullptr);

    /// All rows that were taken, as one change; none if there are none.
    [[nodiscard]] std::optional<core::Edit> edit() const;

private:
    void take(const core::survey::CsvBook& csv);
    void try_again();

    core::Job job_;  ///< With the rows that were taken.
    std::size_t taken_ = 0;
    QLabel* count_;
    QLabel* why_;
    QPlainTextEdit* rows_;
    QPushButton* again_;
    QPushButton* accept_;
};

}  // namespace sillwright::app
