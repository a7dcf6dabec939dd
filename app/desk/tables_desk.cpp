#include "app/desk/tables_desk.h"

#include <QAccessible>
#include <QApplication>
#include <QClipboard>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QStyledItemDelegate>
#include <QTabBar>
#include <QTableView>
#include <QTimer>
#include <QVBoxLayout>
#include <algorithm>
#include <utility>

#include "app/desk/focus.h"
#include "app/desk/job_table_model.h"
#include "app/desk/open_job.h"
#include "app/looks.h"

namespace sillwright::app {

using core::Table;

namespace {

constexpr int k_room_in_cell = 12;  ///< Beside the words, both sides together.
/// A column is no wider than that unless it is drawn wider: names are long, numbers short.
constexpr int k_widest_column = 260;

/// A cell's editor is at least so wide: what is typed may be longer than what was there.
constexpr int k_least_editor = 160;

/// Tabs that can be pressed with gloves on.
class TableChoice : public QTabBar {
protected:
    [[nodiscard]] QSize tabSizeHint(int index) const override {
        return QTabBar::tabSizeHint(index).expandedTo({looks::k_target, looks::k_target});
    }
};

/// Short: all tabs of a stage stand side by side on the smallest screen.
QString name_of(Table table) {
    switch (table) {
        case Table::mounts:
            return TablesDesk::tr("Mounts");
        case Table::stations:
            return TablesDesk::tr("Stations");
        case Table::doors:
            return TablesDesk::tr("Doors");
        case Table::keep_outs:
            return TablesDesk::tr("Keep-outs");
        case Table::drains:
            return TablesDesk::tr("Drains");
        case Table::flutes:
            return TablesDesk::tr("Flutes");
        case Table::recesses:
            return TablesDesk::tr("Recesses");
        case Table::generations:
            return TablesDesk::tr("Moulds");
        case Table::ticks:
            return TablesDesk::tr("Ticks");
        case Table::machines:
            return TablesDesk::tr("Machines");
        case Table::stock:
            return TablesDesk::tr("Stock");
        case Table::bits:
            return TablesDesk::tr("Bits");
        case Table::gauge_points:
            return TablesDesk::tr("Gauge");
        case Table::boards:
            return TablesDesk::tr("Boards");
        case Table::defects:
            break;
    }
    return TablesDesk::tr("Defects");
}

QString help_of(Table table) {
    switch (table) {
        case Table::drains:
            return TablesDesk::tr("Holes that let water out");
        case Table::generations:
            return TablesDesk::tr("Generations: plug, female mould, male mould, formed part");
        case Table::ticks:
            return TablesDesk::tr("Distances between scribed ticks, measured on two generations");
        case Table::machines:
            return TablesDesk::tr("The shop's own machines; those of the program's table need not be written here");
        case Table::stock:
            return TablesDesk::tr("Sizes in which sheet is bought; those of the program's table if there is none");
        case Table::bits:
            return TablesDesk::tr("The shop's own router bits; those of the program's table if there is none");
        case Table::boards:
            return TablesDesk::tr("Sheets that buck parts are cut from, full sizes and off-cuts, as measured");
        case Table::defects:
            return TablesDesk::tr("Places on boards that must not be used: knots, corners knocked off");
        case Table::gauge_points:
            return TablesDesk::tr("Points of the prototype as sculpted, read by a profile gauge at stations");
        default:
            return {};
    }
}

QString bare_unit(core::BareUnit unit) {
    switch (unit) {
        case core::BareUnit::cm:
            return TablesDesk::tr("centimetres");
        case core::BareUnit::in:
            return TablesDesk::tr("inches");
        case core::BareUnit::mm:
            break;
    }
    return TablesDesk::tr("millimetres");
}

QPushButton* button(const QString& text, const QString& name) {
    auto* made = new QPushButton(text);
    made->setObjectName(name);
    made->setAccessibleName(text);
    made->setFont(looks::font(looks::k_text));
    made->setMinimumHeight(looks::k_target);
    return made;
}

}  // namespace

/// Edits a cell in place; a text that was refused is there again.
class TablesDesk::CellEditor : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;

    void keep(const QModelIndex& cell, const QString& text) {
        cell_ = cell;
        text_ = text;
    }
    void forget() { cell_ = QPersistentModelIndex(); }

    QWidget* createEditor(QWidget* parent, const QStyleOptionViewItem& /*option*/,
                          const QModelIndex& index) const override {
        auto* editor = new QLineEdit(parent);
        editor->setObjectName(QStringLiteral("cellEditor"));
        editor->setAccessibleName(index.model()->headerData(index.column(), Qt::Horizontal).toString());
        editor->setFont(looks::font(looks::k_text));
        editor->setAutoFillBackground(true);
        return editor;
    }
    void updateEditorGeometry(QWidget* editor, const QStyleOptionViewItem& option,
                              const QModelIndex& /*index*/) const override {
        const int right_most = editor->parentWidget()->width();
        QRect box = option.rect;
        box.setWidth(std::max(box.width(), k_least_editor));
        box.moveRight(std::min(box.right(), right_most));
        box.moveLeft(std::max(box.left(), 0));
        editor->setGeometry(box);
    }
    void setEditorData(QWidget* editor, const QModelIndex& index) const override {
        auto* line = qobject_cast<QLineEdit*>(editor);
        line->setText(cell_.isValid() && cell_ == index ? text_ : index.data(Qt::EditRole).toString());
    }

private:
    QPersistentModelIndex cell_;
    QString text_;
};

std::vector<Table> tables_of(core::Stage stage) {
    std::vector<Table> tables{Table::mounts, Table::stations, Table::doors, Table::keep_outs};
    if (stage == core::Stage::mounts) {
        tables.push_back(Table::drains);
    } else if (stage == core::Stage::forming) {
        tables = {Table::flutes,   Table::recesses, Table::generations, Table::ticks,
                  Table::machines, Table::stock,    Table::bits,        Table::gauge_points};
    } else if (stage == core::Stage::buck) {
        tables = {Table::boards, Table::defects};
    }
    return tables;
}

TablesDesk::TablesDesk(OpenJob& open, Focus& focus, std::vector<Table> tables, QWidget* parent)
    : QWidget(parent),
      open_{open},
      focus_{focus},
      tables_{std::move(tables)},
      model_{new JobTableModel(open, tables_.front(), this)},
      choice_{new TableChoice},
      view_{new QTableView},
      editor_{new CellEditor(this)},
      add_{button(tr("Add a row"), QStringLiteral("addRow"))},
      delete_{button(tr("Delete rows"), QStringLiteral("deleteRows"))},
      hint_{new QLabel},
      sentence_{new QLabel} {
    setObjectName(QStringLiteral("tablesDesk"));
    setFont(looks::font(looks::k_text));
    choice_->setObjectName(QStringLiteral("tableChoice"));
    choice_->setAccessibleName(tr("Which table"));
    choice_->setExpanding(false);
    choice_->setUsesScrollButtons(true);
    choice_->setElideMode(Qt::ElideNone);
    for (const Table table : tables_) {
        choice_->setTabToolTip(choice_->addTab(name_of(table)), help_of(table));
    }
    choice_->setMinimumHeight(looks::k_target);
    choice_->setFont(looks::font(looks::k_text));
    make_view();
    hint_->setObjectName(QStringLiteral("tableHint"));
    sentence_->setObjectName(QStringLiteral("tableRefusal"));
    for (QLabel* label : {hint_, sentence_}) {
        label->setFont(looks::font(looks::k_text));
        label->setTextFormat(Qt::PlainText);
        label->setWordWrap(true);
    }

    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(8, 8, 8, 8);
    column->addWidget(choice_);
    column->addWidget(view_, 1);
    column->addWidget(hint_);
    column->addWidget(sentence_);
    column->addWidget(make_buttons());

    connect(choice_, &QTabBar::currentChanged, this, &TablesDesk::take_table);
    connect(model_, &JobTableModel::refused, this, &TablesDesk::say);
    connect(model_, &JobTableModel::cell_refused, this, [this](const QModelIndex& cell, const QString& text) {
        editor_->keep(cell, text);
        QTimer::singleShot(0, this, [this, again = QPersistentModelIndex(cell)] { edit_again(again); });
    });
    connect(&focus_, &Focus::chose, this, &TablesDesk::follow_focus);
    connect(&open_, &OpenJob::job_changed, this, &TablesDesk::follow_name);
    take_table(choice_->currentIndex());
    connect(&open_, &OpenJob::opened, this, &TablesDesk::fit_columns, Qt::QueuedConnection);
    follow_focus();
}

void TablesDesk::make_view() {
    view_->setObjectName(QStringLiteral("jobTable"));
    view_->setFont(looks::font(looks::k_text));
    // Before the view's own: rows that go must not choose others.
    connect(model_, &JobTableModel::rowsAboutToBeRemoved, this, [this] { following_ = true; });
    connect(model_, &JobTableModel::modelAboutToBeReset, this, [this] { following_ = true; });
    view_->setModel(model_);
    connect(model_, &JobTableModel::rowsRemoved, this, [this] { following_ = false; });
    connect(model_, &JobTableModel::modelReset, this, [this] { following_ = false; });
    view_->setItemDelegate(editor_);
    view_->setSelectionBehavior(QAbstractItemView::SelectItems);
    view_->setSelectionMode(QAbstractItemView::ExtendedSelection);
    view_->setEditTriggers(QAbstractItemView::DoubleClicked | QAbstractItemView::EditKeyPressed |
                           QAbstractItemView::AnyKeyPressed);
    view_->setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
    view_->setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    view_->verticalHeader()->setDefaultSectionSize(looks::k_target);
    view_->verticalHeader()->setSectionResizeMode(QHeaderView::Fixed);
    view_->verticalHeader()->setFont(looks::font(looks::k_text));
    view_->horizontalHeader()->setMinimumHeight(looks::k_target);
    view_->horizontalHeader()->setFont(looks::font(looks::k_text));
    view_->horizontalHeader()->setHighlightSections(false);
    view_->horizontalHeader()->setMaximumSectionSize(k_widest_column);
    view_->installEventFilter(this);
    connect(view_->selectionModel(), &QItemSelectionModel::currentRowChanged, this, &TablesDesk::choose_row);
    connect(view_->selectionModel(), &QItemSelectionModel::selectionChanged, this,
            [this] { delete_->setEnabled(view_->selectionModel()->hasSelection()); });
}

QWidget* TablesDesk::make_buttons() {
    auto* buttons = new QWidget;
    auto* row = new QHBoxLayout(buttons);
    row->setContentsMargins(0, 0, 0, 0);
    row->addWidget(add_);
    row->addWidget(delete_);
    row->addStretch(1);
    delete_->setEnabled(false);
    connect(add_, &QPushButton::clicked, this, &TablesDesk::add_row);
    connect(delete_, &QPushButton::clicked, this, &TablesDesk::delete_rows);
    return buttons;
}

void TablesDesk::show_table(Table table) {
    if (const auto found = std::find(tables_.begin(), tables_.end(), table); found != tables_.end()) {
        choice_->setCurrentIndex(static_cast<int>(found - tables_.begin()));
    }
}

void TablesDesk::take_table(int tab) {
    editor_->forget();
    model_->show(tables_[static_cast<std::size_t>(tab)]);
    view_->setAccessibleName(choice_->tabText(tab));
    fit_columns();
    rows_ = model_->rowCount();
    say({});
    choose_row_of_focus();
}

/// Wide enough for what stands in them, at whatever size the words are shown.
void TablesDesk::fit_columns() {
    view_->ensurePolished();
    view_->resizeColumnsToContents();
    for (int column = 0; column < model_->columnCount(); ++column) {
        view_->setColumnWidth(column, view_->columnWidth(column) + k_room_in_cell);
    }
}

void TablesDesk::choose_row() {
    const int row = view_->currentIndex().row();
    if (following_ || row < 0) {
        return;
    }
    if (const Item item = model_->item(row)) {
        focus_.choose(item);
        if (const auto along = model_->along(row)) {
            focus_.go_to(along);
        }
    }
}

void TablesDesk::follow_focus() {
    const auto table = table_of(focus_.chosen().kind);
    if (!table) {
        return;
    }
    if (*table != model_->table()) {
        show_table(*table);  // comes back here
        return;
    }
    choose_row_of_focus();
}

void TablesDesk::choose_row_of_focus() {
    const auto row = model_->row_of(focus_.chosen());
    if (row && *row != view_->currentIndex().row()) {
        const bool before = std::exchange(following_, true);
        const QModelIndex cell = model_->index(*row, std::max(0, view_->currentIndex().column()));
        view_->setCurrentIndex(cell);
        view_->scrollTo(cell);
        following_ = before;
    }
}

/// An item that was given another name in its own row stays chosen.
void TablesDesk::follow_name() {
    say({});
    const Item& chosen = focus_.chosen();
    const int before = std::exchange(rows_, model_->rowCount());
    if (rows_ == before && table_of(chosen.kind) == model_->table() && !model_->row_of(chosen)) {
        if (const Item renamed = model_->item(view_->currentIndex().row())) {
            focus_.choose(renamed);
        }
    }
}

void TablesDesk::copy() {
    QApplication::clipboard()->setText(model_->copied(view_->selectionModel()->selectedIndexes()));
}

void TablesDesk::paste() {
    const QString text = QApplication::clipboard()->text();
    if (!text.isEmpty()) {
        model_->paste(view_->currentIndex(), text);
    }
}

void TablesDesk::empty_cells() {
    model_->empty_cells(view_->selectionModel()->selectedIndexes());
}

void TablesDesk::add_row() {
    if (model_->add_row() && model_->rowCount() > 0) {
        const QModelIndex cell = model_->index(model_->rowCount() - 1, 0);
        view_->setCurrentIndex(cell);
        view_->scrollTo(cell);
        view_->setFocus();
    }
}

void TablesDesk::delete_rows() {
    model_->delete_rows(view_->selectionModel()->selectedIndexes());
}

void TablesDesk::say(const QString& sentence) {
    hint_->setText(tr("Double-click a cell or type to change it. A bare number is in %1; others are written with their "
                      "unit. Empty means not measured.")
                       .arg(bare_unit(open_.job().unit)));
    sentence_->setText(sentence);
    hint_->setVisible(sentence.isEmpty());
    sentence_->setVisible(!sentence.isEmpty());
    if (!sentence.isEmpty()) {
        QAccessibleEvent event(sentence_, QAccessible::Alert);
        QAccessible::updateAccessibility(&event);
    }
}

void TablesDesk::edit_again(const QPersistentModelIndex& cell) {
    if (cell.isValid() && view_->isVisible()) {
        view_->setCurrentIndex(cell);
        view_->edit(cell);
    }
    editor_->forget();
}

bool TablesDesk::eventFilter(QObject* watched, QEvent* event) {
    if (watched != view_ || (event->type() != QEvent::KeyPress && event->type() != QEvent::ShortcutOverride)) {
        return QWidget::eventFilter(watched, event);
    }
    const auto* key = static_cast<QKeyEvent*>(event);
    void (TablesDesk::*act)() = nullptr;
    if (key->matches(QKeySequence::Copy)) {
        act = &TablesDesk::copy;
    } else if (key->matches(QKeySequence::Paste)) {
        act = &TablesDesk::paste;
    } else if (key->matches(QKeySequence::Delete)) {
        act = &TablesDesk::empty_cells;
    } else {
        return QWidget::eventFilter(watched, event);
    }
    event->accept();
    if (event->type() == QEvent::KeyPress) {
        (this->*act)();
    }
    return true;
}

}  // namespace sillwright::app
