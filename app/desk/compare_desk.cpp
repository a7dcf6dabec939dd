#include "app/desk/compare_desk.h"

#include <QFileDialog>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>
#include <filesystem>
#include <system_error>

#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/drawings/differences_drawing.h"
#include "app/link/differences_of_job.h"
#include "app/looks.h"
#include "core/edit/book_edit.h"

namespace sillwright::app {

CompareDesk::CompareDesk(OpenBook& book, QWidget* parent)
    : QWidget(parent),
      book_{book},
      sides_{new DifferencesDrawing},
      set_ups_{new DifferencesDrawing},
      other_{new QLineEdit},
      refusal_{new QLabel} {
    setObjectName(QStringLiteral("compareDesk"));
    sides_->setObjectName(QStringLiteral("sideDifferences"));
    set_ups_->setObjectName(QStringLiteral("setUpDifferences"));
    auto* head = new QLabel(tr("Job of the other side:"));
    head->setFont(looks::font(looks::k_text));
    head->setBuddy(other_);
    other_->setObjectName(QStringLiteral("otherHand"));
    other_->setAccessibleName(tr("Job of the other side"));
    other_->setPlaceholderText(tr("file beside this job, empty for none"));
    other_->setFont(looks::font(looks::k_text));
    other_->setMinimumHeight(looks::k_target);
    auto* choose = new QPushButton(tr("Choose…"));
    choose->setObjectName(QStringLiteral("chooseOtherHand"));
    choose->setAccessibleName(tr("Choose the job of the other side"));
    choose->setFont(looks::font(looks::k_text));
    choose->setMinimumHeight(looks::k_target);
    refusal_->setObjectName(QStringLiteral("otherHandRefusal"));
    refusal_->setFont(looks::font(looks::k_text));
    refusal_->setWordWrap(true);
    refusal_->hide();

    auto* sheet = new QWidget;
    auto* column = new QVBoxLayout(sheet);
    column->setContentsMargins(8, 8, 8, 8);
    column->setSpacing(8);
    auto* row = new QHBoxLayout;
    row->addWidget(head);
    row->addWidget(other_, 1);
    row->addWidget(choose);
    column->addWidget(sides_);
    column->addLayout(row);
    column->addWidget(refusal_);
    column->addWidget(set_ups_);
    column->addStretch(1);
    auto* scroll = new QScrollArea;
    scroll->setObjectName(QStringLiteral("compareScroll"));
    scroll->setAccessibleName(tr("Left against right, wheels against lift"));
    scroll->setWidgetResizable(true);
    scroll->setWidget(sheet);
    auto* all = new QVBoxLayout(this);
    all->setContentsMargins(0, 0, 0, 0);
    all->addWidget(scroll);

    connect(other_, &QLineEdit::editingFinished, this, &CompareDesk::take_other);
    connect(choose, &QPushButton::clicked, this, &CompareDesk::choose_other);
    connect(&book_, &OpenBook::changed, this, &CompareDesk::follow);
    follow();
}

void CompareDesk::follow() {
    sides_->set_picture(side_differences(book_.results()));
    set_ups_->set_picture(set_up_differences(book_.results()));
    if (!other_->hasFocus()) {
        other_->setText(QString::fromStdString(book_.job().job().other_hand));
    }
}

void CompareDesk::choose_other() {
    const std::filesystem::path folder = book_.job().folder();
    const QString file =
        QFileDialog::getOpenFileName(this, tr("The job of the car's other side"),
                                     QString::fromStdString(folder.string()), tr("Sillwright jobs (*.sillwright)"));
    if (!file.isEmpty()) {
        std::error_code none;
        other_->setText(
            QString::fromStdString(std::filesystem::relative(file.toStdString(), folder, none).generic_string()));
        take_other();
    }
}

void CompareDesk::take_other() {
    const std::string path = other_->text().trimmed().toStdString();
    refusal_->hide();
    if (path == book_.job().job().other_hand) {
        return;
    }
    const auto edit = core::set_other_hand(book_.job().job(), path);
    if (!edit) {
        refusal_->setText(QString::fromStdString(edit.error().message));
        refusal_->show();
        return;
    }
    book_.job().apply(edit);
}

}  // namespace sillwright::app
