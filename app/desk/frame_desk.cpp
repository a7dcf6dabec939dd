#include "app/desk/frame_desk.h"

#include <QComboBox>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QStyledItemDelegate>
#include <QTableView>
#include <QVBoxLayout>
#include <algorithm>
#include <optional>

#include "app/desk/book_list_model.h"
#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/link/book_words.h"
#include "app/looks.h"
#include "app/text_of.h"
#include "core/edit/book_edit.h"
#include "core/typed.h"

namespace sillwright::app {

using core::BookList;

namespace {

constexpr int k_room_in_cell = 18;
constexpr int k_most_rows_seen = 5;

QLabel* label(const QString& text, bool bold = false) {
    auto* made = new QLabel(text);
    made->setFont(looks::font(looks::k_text, bold));
    made->setWordWrap(true);
    return made;
}

QPushButton* button(const QString& text, const QString& name) {
    auto* made = new QPushButton(text);
    made->setObjectName(name);
    made->setAccessibleName(text);
    made->setFont(looks::font(looks::k_text));
    made->setMinimumHeight(looks::k_target);
    return made;
}

/// Types a cell; the field says which column it is.
class ListCell : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;
    QWidget* createEditor(QWidget* parent, const QStyleOptionViewItem& /*option*/,
                          const QModelIndex& index) const override {
        auto* editor = new QLineEdit(parent);
        editor->setObjectName(QStringLiteral("listCellEditor"));
        editor->setAccessibleName(index.model()->headerData(index.column(), Qt::Horizontal).toString());
        editor->setFont(looks::font(looks::k_text));
        editor->setAutoFillBackground(true);
        return editor;
    }
};

/// A table as high as its rows, up to some.
class ListView : public QTableView {
public:
    [[nodiscard]] QSize sizeHint() const override {
        const int rows = model() == nullptr ? 0 : std::min(model()->rowCount(), k_most_rows_seen);
        return {QTableView::sizeHint().width(), horizontalHeader()->height() + rows * looks::k_target +
                                                    2 * frameWidth() +
                                                    (horizontalScrollBarPolicy() == Qt::ScrollBarAlwaysOff ? 0 : 16)};
    }
    [[nodiscard]] QSize minimumSizeHint() const override { return {200, sizeHint().height()}; }
};

/// Which marks hold the frame now: by how many coordinates they hold.
std::array<std::string, 3> marks_of(const core::survey::Book& book) {
    std::array<std::string, 3> marks;
    for (const core::survey::Point& point : book.points) {
        const int held = (point.along ? 1 : 0) + (point.out ? 1 : 0) + (point.up ? 1 : 0);
        if (held > 0 && marks.at(static_cast<std::size_t>(3 - held)).empty()) {
            marks.at(static_cast<std::size_t>(3 - held)) = point.name;
        }
    }
    return marks;
}

}  // namespace

FrameDesk::FrameDesk(OpenBook& book, QWidget* parent)
    : QWidget(parent), book_{book}, says_{label({})}, leans_{label({})} {
    setObjectName(QStringLiteral("frameDesk"));
    says_->setObjectName(QStringLiteral("frameSays"));
    leans_->setObjectName(QStringLiteral("frameLeans"));
    auto* sheet = new QWidget;
    auto* column = new QVBoxLayout(sheet);
    column->setContentsMargins(12, 10, 12, 10);
    column->setSpacing(8);
    column->addWidget(make_marks());
    column->addWidget(
        make_list(BookList::points, tr("Points: what is held, what is roughly known"), QStringLiteral("points")));
    column->addWidget(make_list(BookList::set_ups, tr("Set-ups: how the car stood"), QStringLiteral("setUps")));
    column->addWidget(leans_);
    column->addWidget(
        make_list(BookList::instruments, tr("Instruments: how sure they read"), QStringLiteral("instruments")));
    column->addStretch(1);
    auto* scroll = new QScrollArea;
    scroll->setObjectName(QStringLiteral("frameScroll"));
    scroll->setAccessibleName(tr("Frame, set-ups and instruments"));
    scroll->setWidgetResizable(true);
    scroll->setWidget(sheet);
    auto* all = new QVBoxLayout(this);
    all->setContentsMargins(0, 0, 0, 0);
    all->addWidget(scroll);
    connect(&book_, &OpenBook::changed, this, &FrameDesk::follow);
    connect(&book_.job(), &OpenJob::opened, this, [this] {
        says_->clear();
        for (QLineEdit* one : numbers_) {
            one->clear();
        }
    });
    follow();
}

QWidget* FrameDesk::make_marks() {
    auto* box = new QWidget;
    auto* grid = new QGridLayout(box);
    grid->setContentsMargins(0, 0, 0, 0);
    grid->addWidget(label(tr("The frame by three marks on the body"), true), 0, 0, 1, 4);
    const std::array roles{tr("the origin"), tr("behind it, in line along the car"), tr("beside it, at its height")};
    const std::array names{"originMark", "behindMark", "besideMark"};
    for (std::size_t i = 0; i < roles.size(); ++i) {
        auto* combo = new QComboBox;
        combo->setEditable(true);
        combo->setInsertPolicy(QComboBox::NoInsert);
        combo->setObjectName(QLatin1String(names.at(i)));
        combo->setAccessibleName(tr("Mark: %1").arg(roles.at(i)));
        combo->setFont(looks::font(looks::k_text));
        combo->setMinimumHeight(looks::k_target);
        combo->lineEdit()->setObjectName(QLatin1String(names.at(i)) + QStringLiteral("Text"));
        combo->lineEdit()->setAccessibleName(combo->accessibleName());
        combo->lineEdit()->setMinimumHeight(looks::k_target - 2);
        combo->setMinimumWidth(3 * looks::k_target);
        grid->addWidget(label(roles.at(i)), static_cast<int>(i) + 1, 0);
        grid->addWidget(combo, static_cast<int>(i) + 1, 1);
        marks_.at(i) = combo;
    }
    const std::array fields{tr("along"), tr("out"), tr("up")};
    const std::array field_names{"originAlong", "originOut", "originUp"};
    for (std::size_t i = 0; i < fields.size(); ++i) {
        auto* field = new QLineEdit;
        field->setObjectName(QLatin1String(field_names.at(i)));
        field->setAccessibleName(tr("Origin's %1").arg(fields.at(i)));
        field->setPlaceholderText(tr("0"));
        field->setFont(looks::font(looks::k_text));
        field->setMinimumHeight(looks::k_target);
        auto* head = label(tr("origin's %1").arg(fields.at(i)));
        head->setWordWrap(false);
        grid->addWidget(head, static_cast<int>(i) + 1, 2);
        grid->addWidget(field, static_cast<int>(i) + 1, 3);
        numbers_.at(i) = field;
    }
    grid->setColumnStretch(0, 1);
    auto* take = button(tr("Take these marks"), QStringLiteral("takeMarks"));
    connect(take, &QPushButton::clicked, this, &FrameDesk::take_marks);
    grid->addWidget(says_, 4, 0, 1, 3);
    grid->addWidget(take, 4, 3);
    return box;
}

QWidget* FrameDesk::make_list(BookList list, const QString& heading, const QString& name) {
    auto* box = new QWidget;
    auto* model = new BookListModel(book_.job(), list, this);
    model->setObjectName(name + QStringLiteral("Model"));
    auto* view = new ListView;
    view->setObjectName(name + QStringLiteral("Table"));
    view->setAccessibleName(heading);
    view->setFont(looks::font(looks::k_text));
    view->setModel(model);
    view->setItemDelegate(new ListCell(view));
    view->setEditTriggers(QAbstractItemView::DoubleClicked | QAbstractItemView::EditKeyPressed |
                          QAbstractItemView::AnyKeyPressed);
    view->setSelectionMode(QAbstractItemView::SingleSelection);
    view->setTabKeyNavigation(false);
    view->setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
    view->verticalHeader()->setDefaultSectionSize(looks::k_target);
    view->verticalHeader()->setSectionResizeMode(QHeaderView::Fixed);
    view->verticalHeader()->hide();
    view->horizontalHeader()->setMinimumHeight(looks::k_target);
    view->horizontalHeader()->setFont(looks::font(looks::k_text));
    view->horizontalHeader()->setHighlightSections(false);
    view->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    auto* says = label({});
    says->setObjectName(name + QStringLiteral("Refusal"));
    says->hide();
    auto* add = button(tr("Add a row"), name + QStringLiteral("Add"));
    add->setAccessibleName(tr("Add a row: %1").arg(heading));
    auto* remove = button(tr("Delete the row"), name + QStringLiteral("Delete"));
    remove->setAccessibleName(tr("Delete the row: %1").arg(heading));
    auto* buttons = new QHBoxLayout;
    buttons->addWidget(add);
    buttons->addWidget(remove);
    buttons->addStretch(1);
    auto* column = new QVBoxLayout(box);
    column->setContentsMargins(0, 6, 0, 0);
    column->addWidget(label(heading, true));
    column->addWidget(view);
    column->addWidget(says);
    column->addLayout(buttons);

    // An empty table is no more than a row of heads: it is seen when there is a row.
    const auto fit = [view, model, remove] {
        view->setVisible(model->rowCount() > 0);
        remove->setEnabled(model->rowCount() > 0);
        view->resizeColumnsToContents();
        for (int i = 0; i < model->columnCount(); ++i) {
            view->setColumnWidth(i, view->columnWidth(i) + k_room_in_cell);
        }
        view->updateGeometry();
    };
    connect(model, &BookListModel::modelReset, view, fit);
    connect(model, &BookListModel::dataChanged, view, fit);
    connect(model, &BookListModel::said, says, [says](const QString& sentence) {
        says->setText(sentence);
        says->setVisible(!sentence.isEmpty());
    });
    connect(add, &QPushButton::clicked, this, [view, model] {
        if (model->add_row()) {
            view->setCurrentIndex(model->index(model->rowCount() - 1, 0));
            view->setFocus();
        }
    });
    connect(remove, &QPushButton::clicked, this, [view, model] { model->delete_row(view->currentIndex().row()); });
    fit();
    return box;
}

void FrameDesk::follow() {
    const core::survey::Book& book = book_.job().job().book;
    QStringList names;
    for (const std::string& name : core::names_in_book(book)) {
        names << text_of(name);
    }
    const auto held = marks_of(book);
    for (std::size_t i = 0; i < marks_.size(); ++i) {
        QComboBox& combo = *marks_.at(i);
        const QSignalBlocker quiet(combo);
        const QString typed = combo.currentText();
        combo.clear();
        combo.addItems(names);
        combo.setCurrentText(typed.isEmpty() || !combo.hasFocus() ? text_of(held.at(i)) : typed);
        if (combo.currentText().isEmpty() && !typed.isEmpty()) {
            combo.setCurrentText(typed);
        }
    }
    QStringList leans;
    for (const core::survey::PlacedSetUp& set_up : book_.results().solution.set_ups) {
        leans << text_of(lean_words(set_up));
    }
    leans_->setText(leans.join(QStringLiteral(" · ")));
    leans_->setVisible(!leans.empty());
}

void FrameDesk::take_marks() {
    const core::Job& job = book_.job().job();
    core::FrameMarks marks;
    marks.origin = marks_[0]->currentText().trimmed().toStdString();
    marks.behind = marks_[1]->currentText().trimmed().toStdString();
    marks.beside = marks_[2]->currentText().trimmed().toStdString();
    for (std::size_t i = 0; i < numbers_.size(); ++i) {
        const std::string text = numbers_.at(i)->text().trimmed().toStdString();
        if (text.empty()) {
            continue;
        }
        const auto entry = core::typed_entry(text, job.unit);
        if (!entry) {
            says_->setText(text_of(entry.error().message));
            numbers_.at(i)->setFocus();
            return;
        }
        (i == 0 ? marks.along : i == 1 ? marks.out : marks.up) = entry.value();
    }
    // The other two stand at the origin's out and up, so that the line and the plane run along the job's axes.
    marks.out_2 = marks.out;
    marks.up_2 = marks.up_3 = marks.up;
    const auto edit = core::frame_by_marks(job, marks);
    says_->setText(edit ? tr("Taken.") : text_of(edit.error().message));
    if (edit) {
        book_.job().apply(edit);
    }
}

}  // namespace sillwright::app
