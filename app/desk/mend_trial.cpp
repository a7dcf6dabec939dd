#include "app/desk/mend_trial.h"

#include <QHBoxLayout>
#include <QPushButton>
#include <QUndoStack>
#include <QVBoxLayout>
#include <algorithm>

#include "app/desk/margin_note.h"
#include "app/desk/open_job.h"
#include "app/desk/wrapped_text.h"
#include "app/looks.h"
#include "core/edit/mend_edit.h"
#include "core/finding_about.h"

namespace sillwright::app {

using core::Finding;

namespace {

/// More names than these would fill the window.
constexpr std::size_t k_most_named = 4;

QPushButton* button(const QString& text, const QString& name, const QString& spoken) {
    auto* made = new QPushButton(text);
    made->setObjectName(name);
    made->setAccessibleName(spoken);
    made->setToolTip(spoken);
    made->setFont(looks::font(looks::k_text, true));
    made->setMinimumHeight(looks::k_target);
    return made;
}

const Finding* with_id(const std::vector<Finding>& findings, const std::string& id) {
    const auto found = std::find_if(findings.begin(), findings.end(), [&](const Finding& f) { return f.id == id; });
    return found == findings.end() ? nullptr : &*found;
}

}  // namespace

QString effect_words(const std::vector<Finding>& newly_short) {
    if (newly_short.empty()) {
        return QObject::tr("Nothing else falls short because of it.");
    }
    QStringList names;
    for (std::size_t i = 0; i < std::min(newly_short.size(), k_most_named); ++i) {
        names += QString::fromStdString(newly_short[i].title);
    }
    QString words = newly_short.size() == 1
                        ? QObject::tr("This makes 1 finding fall short: ")
                        : QObject::tr("This makes %1 findings fall short: ").arg(newly_short.size());
    words += names.join(QStringLiteral("; "));
    if (newly_short.size() > k_most_named) {
        words += QObject::tr("; and %1 more").arg(newly_short.size() - k_most_named);
    }
    return words + QStringLiteral(".");
}

MendTrial::MendTrial(OpenJob& open, QWidget* parent)
    : QFrame(parent),
      open_{open},
      heading_{new WrappedText},
      note_before_{new MarginNote(tr("margin before"))},
      note_after_{new MarginNote(tr("margin after"))},
      effect_{new WrappedText},
      keep_{button(tr("Keep"), QStringLiteral("keepMend"), tr("Keep the mend"))},
      put_back_{button(tr("Put back"), QStringLiteral("putBackMend"), tr("Put back what was before the mend"))} {
    setObjectName(QStringLiteral("mendTrial"));
    setFrameShape(QFrame::StyledPanel);
    setAutoFillBackground(true);
    setBackgroundRole(QPalette::Base);
    note_before_->setObjectName(QStringLiteral("marginBefore"));
    note_after_->setObjectName(QStringLiteral("marginAfter"));
    effect_->setObjectName(QStringLiteral("mendEffect"));
    auto* notes = new QHBoxLayout;
    notes->addWidget(note_before_);
    notes->addWidget(note_after_);
    auto* buttons = new QHBoxLayout;
    buttons->addWidget(keep_);
    buttons->addWidget(put_back_);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(12, 8, 12, 8);
    column->setSpacing(6);
    column->addWidget(heading_);
    column->addLayout(notes);
    column->addWidget(effect_);
    column->addLayout(buttons);
    hide();

    connect(keep_, &QPushButton::clicked, this, &MendTrial::keep);
    connect(put_back_, &QPushButton::clicked, this, &MendTrial::put_back);
    connect(&open_, &OpenJob::results_changed, this, &MendTrial::show_results);
    connect(&open_, &OpenJob::opened, this, &MendTrial::end);
    connect(&open_.history(), &QUndoStack::indexChanged, this, [this](int index) {
        if (running_ && index != step_) {
            end();
        }
    });
}

bool MendTrial::begin(const Finding& finding) {
    const auto results = open_.results();
    if (!results || !open_.current() || !finding.mend || !finding.mend->can_be_taken()) {
        return false;
    }
    end();
    const Finding tried = finding;
    const std::vector<Finding> before = results->findings;
    const int index = open_.history().index();
    if (!open_.apply(core::take_mend(open_.job(), tried)) || open_.history().index() == index) {
        return false;
    }
    finding_ = tried;
    before_ = before;
    step_ = open_.history().index();
    running_ = true;
    heading_->set_html(tr("<b>Tried:</b> %1").arg(QString::fromStdString(finding_.mend->words).toHtmlEscaped()));
    setAccessibleName(tr("Mend tried: %1").arg(QString::fromStdString(finding_.title)));
    note_before_->show_finding(finding_, open_.job().unit);
    show_results();
    show();
    emit changed();
    return true;
}

void MendTrial::keep() {
    end();
}

void MendTrial::put_back() {
    if (running_ && open_.history().index() == step_) {
        open_.history().undo();  // which ends it
    }
}

void MendTrial::end() {
    if (running_) {
        running_ = false;
        hide();
        emit changed();
    }
}

void MendTrial::show_results() {
    if (!running_) {
        return;
    }
    const auto results = open_.results();
    if (results && open_.current() && !open_.drag_deviation()) {
        show_after(results->findings);
        return;
    }
    const QString words = !open_.failure().isEmpty() ? tr("cannot be computed")
                          : open_.computing()        ? tr("being computed …")
                                                     : tr("not computed");
    note_after_->show_words(words);
    effect_->set_html(open_.failure().toHtmlEscaped());
}

void MendTrial::show_after(const std::vector<Finding>& after) {
    if (const Finding* now = with_id(after, finding_.id)) {
        note_after_->show_finding(*now, open_.job().unit);
    } else {
        note_after_->show_words(tr("the question does not arise any more"));
    }
    effect_->set_html(effect_words(core::newly_falling_short(before_, after)).toHtmlEscaped());
}

}  // namespace sillwright::app
