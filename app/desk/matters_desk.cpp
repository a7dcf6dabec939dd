#include "app/desk/matters_desk.h"

#include <QApplication>
#include <QEvent>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>
#include <algorithm>

#include "app/desk/focus.h"
#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/finding_look.h"
#include "app/link/book_words.h"
#include "app/looks.h"
#include "app/text_of.h"
#include "core/edit/book_edit.h"
#include "core/survey/reading_line.h"
#include "core/typed.h"

namespace sillwright::app {

using core::State;
using core::survey::Reading;

namespace {

QLabel* label(const char* name, int pixels, bool bold) {
    auto* made = new QLabel;
    made->setObjectName(QLatin1String(name));
    made->setFont(looks::font(pixels, bold));
    made->setTextFormat(Qt::RichText);
    made->setWordWrap(true);
    return made;
}

/// A state's shape in its colour, then the words.
void show_state(QLabel& label, State state, const std::string& words) {
    const looks::Tone tone = looks::tone_of(QApplication::palette());
    label.setVisible(!words.empty());
    label.setText(
        QStringLiteral("<span style=\"color:%1\">%2</span> %3")
            .arg(looks::text_colour(state, tone).name(), text_of(look(state).shape), text_of(words).toHtmlEscaped()));
}

}  // namespace

MattersDesk::MattersDesk(OpenBook& book, Focus& focus, QWidget* parent)
    : QWidget(parent),
      book_{book},
      focus_{focus},
      head_{label("mattersHead", looks::k_number, true)},
      worst_{label("worstReading", looks::k_text, true)},
      mend_{new QWidget},
      drop_{new QPushButton(tr("Drop it…"))},
      again_{new QLineEdit},
      refusal_{label("againRefusal", looks::k_text, false)},
      global_{label("globalTest", looks::k_text, false)},
      next_{label("nextReading", looks::k_text, true)},
      unchecked_{label("uncheckedReadings", looks::k_text, false)} {
    setObjectName(QStringLiteral("mattersDesk"));
    drop_->setObjectName(QStringLiteral("dropWorst"));
    drop_->setAccessibleName(tr("Drop the worst reading"));
    drop_->setFont(looks::font(looks::k_text));
    drop_->setMinimumHeight(looks::k_target);
    again_->setObjectName(QStringLiteral("measuredAgain"));
    again_->setAccessibleName(tr("What the worst reading was measured again as"));
    again_->setPlaceholderText(tr("measured again"));
    again_->setFont(looks::font(looks::k_text));
    again_->setMinimumHeight(looks::k_target);
    auto* mend_row = new QHBoxLayout(mend_);
    mend_row->setContentsMargins(0, 0, 0, 0);
    mend_row->addWidget(drop_);
    mend_row->addWidget(again_, 1);

    auto* sheet = new QWidget;
    auto* column = new QVBoxLayout(sheet);
    column->setContentsMargins(12, 10, 12, 10);
    column->setSpacing(8);
    for (QWidget* one : std::initializer_list<QWidget*>{head_, worst_, mend_, refusal_, next_, global_, unchecked_}) {
        column->addWidget(one);
    }
    column->addStretch(1);
    auto* scroll = new QScrollArea;
    scroll->setObjectName(QStringLiteral("mattersScroll"));
    scroll->setAccessibleName(tr("What matters of the book"));
    scroll->setWidgetResizable(true);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll->setWidget(sheet);
    auto* all = new QVBoxLayout(this);
    all->setContentsMargins(0, 0, 0, 0);
    all->addWidget(scroll);

    connect(drop_, &QPushButton::clicked, this, [this] {
        focus_.choose({Item::Kind::reading, suspect()});
        emit drop_wanted(suspect());
    });
    connect(again_, &QLineEdit::returnPressed, this, &MattersDesk::measured_again);
    connect(&book_, &OpenBook::changed, this, &MattersDesk::follow);
    follow();
}

std::string MattersDesk::suspect() const {
    const auto& suspect = book_.results().solution.suspect;
    const auto& readings = book_.job().job().book.readings;
    return suspect && book_.current() && suspect->reading < readings.size() ? readings[suspect->reading].id
                                                                            : std::string();
}

void MattersDesk::follow() {
    const core::Job& job = book_.job().job();
    const core::survey::Solution& solution = book_.results().solution;
    const bool any = !job.book.readings.empty();
    refusal_->hide();
    mend_->setVisible(any && !suspect().empty());
    if (!any) {
        show_state(*head_, State::not_measured, "Nothing is measured yet");
        for (QLabel* one : {worst_, global_, next_, unchecked_}) {
            one->hide();
        }
        return;
    }
    if (!book_.current()) {
        head_->setText(tr("Computing…"));
        return;
    }
    const bool placed = !solution.points.empty();
    if (!solution.problems.empty()) {
        show_state(*head_, State::not_measured, placed ? "Parts are not placed" : "No point is placed yet");
        show_state(*worst_, State::not_measured, solution.problems.front());
    } else if (solution.suspect) {
        show_state(*head_, State::falls_short, "One reading is in conflict");
    } else if (!solution.mirrored.empty()) {
        show_state(*head_, State::close, "Two places agree alike");
        show_state(*worst_, State::close, solution.mirrored.front().question);
    } else if (!solution.lacking.empty()) {
        show_state(*head_, State::not_measured,
                   std::to_string(solution.lacking.size()) +
                       (solution.lacking.size() == 1 ? " point lacks readings" : " points lack readings"));
        show_state(*worst_, State::not_measured, solution.lacking.front().lacks);
    } else if (!solution.global.holds) {
        show_state(*head_, State::close, "Readings and instruments disagree");
        worst_->hide();
    } else {
        show_state(*head_, State::holds, "The readings agree");
        worst_->hide();
    }
    if (solution.suspect) {
        show_state(*worst_, State::falls_short, worst_words(job, solution));
    }
    show_state(*global_,
               solution.global.degrees_of_freedom <= 0 ? State::not_measured
               : solution.global.holds                 ? State::holds
                                                       : State::close,
               global_words(solution.global));
    next_->setVisible(solution.next.has_value());
    if (solution.next) {
        next_->setText(tr("Next: %1").arg(text_of(solution.next->words).toHtmlEscaped()));
    }
    show_state(*unchecked_, State::close, unchecked_words(job.book, solution));
}

/// The new value stands behind the old reading, which is dropped and stays. What has other numbers than one length is
/// written again as a line.
void MattersDesk::measured_again() {
    const core::Job& job = book_.job().job();
    const std::string id = suspect();
    const auto& readings = job.book.readings;
    const auto old = std::find_if(readings.begin(), readings.end(), [&](const Reading& one) { return one.id == id; });
    if (old == readings.end() || again_->text().trimmed().isEmpty()) {
        return;
    }
    if (!old->value || old->up || old->angle) {
        again_->clear();
        emit correct_wanted(id);
        return;
    }
    const auto value = core::typed_entry(again_->text().trimmed().toStdString(), job.unit);
    const auto refuse = [this](const std::string& why) {
        show_state(*refusal_, State::falls_short, why);
        again_->setFocus();
    };
    if (!value) {
        refuse(value.error().message);
        return;
    }
    Reading again = *old;
    again.value = value.value();
    const auto edit = core::drop_reading(job, id, "measured again").and_then([&](const core::Edit& dropped) {
        return core::add_reading(dropped.job, core::survey::line_of_reading(again, job.unit))
            .transform([&](core::Edit added) {
                return core::Edit{std::move(added.job), "measure again: " + reading_words(again)};
            });
    });
    if (!edit) {
        refuse(edit.error().message);
        return;
    }
    again_->clear();
    book_.job().apply(edit);
}

void MattersDesk::changeEvent(QEvent* event) {
    QWidget::changeEvent(event);
    if (event->type() == QEvent::PaletteChange) {
        follow();  // states have other colours on dark paper
    }
}

}  // namespace sillwright::app
