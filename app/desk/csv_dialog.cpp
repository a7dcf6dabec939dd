#include "app/desk/csv_dialog.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>
#include <utility>

#include "app/finding_look.h"
#include "app/looks.h"
#include "app/text_of.h"
#include "core/edit/book_edit.h"

namespace sillwright::app {

using core::survey::CsvBook;

namespace {

QPushButton* button(const QString& text, const char* name) {
    auto* made = new QPushButton(text);
    made->setObjectName(QLatin1String(name));
    made->setAccessibleName(text);
    made->setFont(looks::font(looks::k_text));
    made->setMinimumHeight(looks::k_target);
    made->setAutoDefault(false);
    return made;
}

}  // namespace

CsvDialog::CsvDialog(core::Job job, const CsvBook& csv, QWidget* parent)
    : QDialog(parent),
      job_{std::move(job)},
      count_{new QLabel},
      why_{new QLabel},
      rows_{new QPlainTextEdit},
      again_{button(tr("Try these rows again"), "tryRowsAgain")},
      accept_{button(tr("Write them into the book"), "takeRows")} {
    setObjectName(QStringLiteral("csvDialog"));
    setWindowTitle(tr("Readings from a CSV file"));
    count_->setObjectName(QStringLiteral("csvCount"));
    count_->setFont(looks::font(looks::k_text, true));
    count_->setWordWrap(true);
    why_->setObjectName(QStringLiteral("csvWhy"));
    why_->setFont(looks::font(looks::k_text));
    why_->setTextFormat(Qt::RichText);
    why_->setWordWrap(true);
    why_->setAlignment(Qt::AlignTop);
    auto* scroll = new QScrollArea;
    scroll->setObjectName(QStringLiteral("csvScroll"));
    scroll->setAccessibleName(tr("Why rows were not taken"));
    scroll->setWidgetResizable(true);
    scroll->setWidget(why_);
    rows_->setObjectName(QStringLiteral("csvRows"));
    rows_->setAccessibleName(tr("Rows that were not taken; mend them here"));
    rows_->setFont(looks::font(looks::k_text));
    rows_->setLineWrapMode(QPlainTextEdit::NoWrap);
    rows_->setTabChangesFocus(true);
    auto* leave = button(tr("Leave the book as it is"), "leaveRows");
    auto* buttons = new QHBoxLayout;
    buttons->addWidget(again_);
    buttons->addStretch(1);
    buttons->addWidget(accept_);
    buttons->addWidget(leave);
    auto* column = new QVBoxLayout(this);
    column->addWidget(count_);
    column->addWidget(scroll, 1);
    column->addWidget(rows_, 1);
    column->addLayout(buttons);
    connect(again_, &QPushButton::clicked, this, &CsvDialog::try_again);
    connect(accept_, &QPushButton::clicked, this, &QDialog::accept);
    connect(leave, &QPushButton::clicked, this, &QDialog::reject);
    resize(760, 520);
    take(csv);
}

void CsvDialog::take(const CsvBook& csv) {
    const looks::Tone tone = looks::tone_of(palette());
    QString why;
    const auto say = [&](core::State state, const std::string& words) {
        why += QStringLiteral("<p style=\"margin:4px 0\"><span style=\"color:%1\">%2</span> %3</p>")
                   .arg(looks::text_colour(state, tone).name(), text_of(look(state).shape),
                        text_of(words).toHtmlEscaped());
    };
    if (!csv.readings.empty()) {
        if (const auto edit = core::add_from_csv(job_, csv)) {
            job_ = edit.value().job;
            taken_ += csv.readings.size();
        } else {
            say(core::State::falls_short, edit.error().message);
        }
    }
    for (const auto& refusal : csv.refused) {
        say(core::State::falls_short, core::survey::words_of(refusal));
    }
    for (const auto& remark : csv.remarks) {
        say(core::State::close, core::survey::words_of(remark));
    }
    why_->setText(why);
    count_->setText(tr("%n row(s) can be taken", nullptr, static_cast<int>(taken_)) + QStringLiteral(", ") +
                    tr("%n cannot yet.", nullptr, static_cast<int>(csv.refused.size())) +
                    (csv.refused.empty() ? QString() : QStringLiteral(" ") + tr("Mend them below and try again.")));
    rows_->setPlainText(text_of(core::survey::refused_csv(csv)));
    rows_->setVisible(!csv.refused.empty());
    again_->setVisible(!csv.refused.empty());
    accept_->setEnabled(taken_ > 0);
}

void CsvDialog::try_again() {
    const auto csv = core::survey::book_of_csv(rows_->toPlainText().toStdString(), job_.book, job_.unit);
    if (!csv) {
        why_->setText(text_of(csv.error().message).toHtmlEscaped());
        return;
    }
    take(csv.value());
}

std::optional<core::Edit> CsvDialog::edit() const {
    return taken_ == 0 ? std::nullopt
                       : std::optional(core::Edit{job_, "take " + std::to_string(taken_) + " readings from CSV"});
}

}  // namespace sillwright::app
