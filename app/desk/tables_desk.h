#pragma once

#include <QWidget>
#include <vector>

#include "core/edit/table.h"
#include "core/finding.h"

class QLabel;
class QPushButton;
class QTabBar;
class QTableView;

namespace sillwright::app {

class Focus;
class JobTableModel;
class OpenJob;

/// The tables that a stage asks for: those of what is measured everywhere, with drains where the skirt is held; those
/// of moulds, machines and flutes where it is formed.
std::vector<core::Table> tables_of(core::Stage stage);

/// Lists of a job as tables, such as mounts, stations, doors and keep-outs: typed into in place, copied to and pasted
/// from a spreadsheet. A row that is chosen is chosen on every drawing, and the other way round. A text that is refused
/// stays in the cell's editor, with the reason below the table.
class TablesDesk : public QWidget {
    Q_OBJECT

public:
    /// `tables`: those among which it lets choose, at least one.
    TablesDesk(OpenJob& open, Focus& focus, std::vector<core::Table> tables = tables_of(core::Stage::measure),
               QWidget* parent = nullptr);

    /// Nothing is changed if it does not let choose that one.
    void show_table(core::Table table);

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void make_view();
    [[nodiscard]] QWidget* make_buttons();
    void take_table(int tab);
    void fit_columns();
    void choose_row();
    void follow_focus();
    /// If it is in the table that is shown.
    void choose_row_of_focus();
    void follow_name();
    void copy();
    void paste();
    void empty_cells();
    void add_row();
    void delete_rows();
    void say(const QString& sentence);
    void edit_again(const QPersistentModelIndex& cell);

    class CellEditor;

    OpenJob& open_;
    Focus& focus_;
    std::vector<core::Table> tables_;
    JobTableModel* model_;
    QTabBar* choice_;
    QTableView* view_;
    CellEditor* editor_;
    QPushButton* add_;
    QPushButton* delete_;
    QLabel* hint_;
    QLabel* sentence_;  ///< Why a text was refused.
    int rows_ = 0;
    bool following_ = false;  ///< The row is chosen by the focus, not the other way round.
};

}  // namespace sillwright::app
