#include "app/desk/hinge_desk.h"

#include <QComboBox>
#include <QEvent>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QSplitter>
#include <QVBoxLayout>
#include <algorithm>

#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/desk/wrapped_text.h"
#include "app/drawings/arc_drawing.h"
#include "app/finding_look.h"
#include "app/length_words.h"
#include "app/link/arcs_of_hinge.h"
#include "app/looks.h"
#include "app/text_of.h"
#include "core/edit/book_edit.h"
#include "core/number_text.h"

namespace sillwright::app {

using core::State;
using core::survey::HingeAxis;
using core::survey::HingeOutcome;

namespace {

const core::Door* door_named(const core::Job& job, const std::string& name) {
    const auto door =
        std::find_if(job.doors.begin(), job.doors.end(), [&](const auto& one) { return one.name == name; });
    return door == job.doors.end() ? nullptr : &*door;
}

QString paragraph(State state, const QString& words, looks::Tone tone) {
    return QStringLiteral("<p style=\"margin:6px 0\"><span style=\"color:%1\">%2</span> %3</p>")
        .arg(looks::text_colour(state, tone).name(), text_of(look(state).shape), words.toHtmlEscaped());
}

/// "opening 2: 14.20° ± 0.11°"
QString openings_words(const HingeAxis& axis) {
    QStringList words;
    for (std::size_t i = 0; i < axis.openings.size(); ++i) {
        const std::string sd = i < axis.opening_sds.size() ? " ± " + core::degree_text(axis.opening_sds[i]) : "";
        words << HingeDesk::tr("%1: %2").arg(i + 1).arg(text_of(core::degree_text(axis.openings[i], 1) + sd));
    }
    return words.join(QStringLiteral(" · "));
}

QString axis_words(const HingeAxis& axis, looks::Tone tone) {
    QString html;
    if (!axis.openings.empty()) {
        html += QStringLiteral("<p style=\"margin:6px 0\">%1</p>")
                    .arg(HingeDesk::tr("Openings from the first, with sd: %1").arg(openings_words(axis)));
    }
    if (axis.suspect && *axis.suspect < axis.misses.size()) {
        const auto& miss = axis.misses[*axis.suspect];
        html += paragraph(State::falls_short,
                          HingeDesk::tr("%1 at opening %2 misses its arc by %3 mm (w %4): measure it again.")
                              .arg(text_of(miss.target))
                              .arg(miss.opening)
                              .arg(miss.miss_mm.norm(), 0, 'f', 1)
                              .arg(miss.w, 0, 'f', 1),
                          tone);
    } else if (axis.degrees_of_freedom > 0) {
        html += axis.holds ? paragraph(State::holds, HingeDesk::tr("All targets agree with one axis."), tone)
                           : paragraph(State::close,
                                       HingeDesk::tr("The targets agree with one axis worse than they "
                                                     "were measured."),
                                       tone);
    }
    for (const std::string& weakness : axis.weaknesses) {
        html += paragraph(State::close, text_of(weakness), tone);
    }
    return html;
}

}  // namespace

HingeDesk::HingeDesk(OpenBook& book, QWidget* parent)
    : QWidget(parent),
      book_{book},
      doors_{new QComboBox},
      targets_{new QLineEdit},
      keep_{new QPushButton},
      refusal_{new QLabel},
      corner_{new QLabel},
      words_{new WrappedText},
      drawing_{new ArcDrawing} {
    setObjectName(QStringLiteral("hingeDesk"));
    doors_->setObjectName(QStringLiteral("hingeDoor"));
    doors_->setAccessibleName(tr("Which door"));
    targets_->setObjectName(QStringLiteral("hingeTargets"));
    targets_->setAccessibleName(tr("Targets on the door"));
    targets_->setPlaceholderText(tr("targets on it: T1 T2 T3, read as T1/1, T1/2, …"));
    keep_->setObjectName(QStringLiteral("keepHinge"));
    for (QWidget* one : std::initializer_list<QWidget*>{doors_, targets_, keep_}) {
        one->setFont(looks::font(looks::k_text));
        one->setMinimumHeight(looks::k_target);
    }
    refusal_->setObjectName(QStringLiteral("hingeRefusal"));
    refusal_->setFont(looks::font(looks::k_text));
    refusal_->setWordWrap(true);
    refusal_->hide();
    corner_->setObjectName(QStringLiteral("cornerSd"));
    corner_->setFont(looks::font(looks::k_number + 2, true));
    corner_->setWordWrap(true);
    words_->setObjectName(QStringLiteral("hingeWords"));
    words_->setFont(looks::font(looks::k_text));

    auto* row = new QHBoxLayout;
    row->addWidget(doors_);
    row->addWidget(targets_, 1);
    row->addWidget(keep_);
    auto* said = new QWidget;
    auto* said_column = new QVBoxLayout(said);
    said_column->setContentsMargins(10, 8, 10, 8);
    said_column->addWidget(corner_);
    said_column->addWidget(words_);
    said_column->addStretch(1);
    auto* scroll = new QScrollArea;
    scroll->setObjectName(QStringLiteral("hingeScroll"));
    scroll->setAccessibleName(tr("What is known of the hinge axis"));
    scroll->setWidgetResizable(true);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll->setWidget(said);
    auto* sides = new QSplitter;
    sides->addWidget(drawing_);
    sides->addWidget(scroll);
    sides->setSizes({500, 320});
    sides->setChildrenCollapsible(false);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(8, 8, 8, 8);
    column->addLayout(row);
    column->addWidget(refusal_);
    column->addWidget(sides, 1);

    connect(doors_, &QComboBox::currentIndexChanged, this, &HingeDesk::follow);
    connect(targets_, &QLineEdit::returnPressed, this, &HingeDesk::take_targets);
    connect(targets_, &QLineEdit::editingFinished, this, &HingeDesk::take_targets);
    connect(keep_, &QPushButton::clicked, this, &HingeDesk::keep);
    connect(&book_, &OpenBook::changed, this, &HingeDesk::follow_doors);
    follow_doors();
}

std::string HingeDesk::door() const {
    return doors_->currentText().toStdString();
}

void HingeDesk::follow_doors() {
    QStringList names;
    for (const core::Door& one : book_.job().job().doors) {
        names << text_of(one.name);
    }
    QStringList shown;
    for (int i = 0; i < doors_->count(); ++i) {
        shown << doors_->itemText(i);
    }
    if (names != shown) {
        const QSignalBlocker quiet(doors_);
        const QString chosen = doors_->currentText();
        doors_->clear();
        doors_->addItems(names);
        doors_->setCurrentIndex(std::max(0, doors_->findText(chosen)));
    }
    follow();
}

void HingeDesk::follow() {
    const core::Job& job = book_.job().job();
    const core::survey::Results& results = book_.results();
    const looks::Tone tone = looks::tone_of(palette());
    const std::string name = door();
    const core::Door* const here = door_named(job, name);
    for (QWidget* one : std::initializer_list<QWidget*>{doors_, targets_, keep_}) {
        one->setEnabled(here != nullptr);
    }
    const auto outcome = std::find_if(results.hinges.begin(), results.hinges.end(),
                                      [&](const HingeOutcome& one) { return one.door == name; });
    const auto set =
        std::find_if(job.book.hinges.begin(), job.book.hinges.end(), [&](const auto& one) { return one.door == name; });
    if (!targets_->hasFocus()) {
        QStringList targets;
        for (const std::string& target : set == job.book.hinges.end() ? std::vector<std::string>{} : set->targets) {
            targets << text_of(target);
        }
        targets_->setText(targets.join(QLatin1Char(' ')));
    }
    const bool kept = here != nullptr && here->hinge && here->hinge->from_book;
    keep_->setText(kept ? tr("Let it go from the book") : tr("Keep it as the book has it"));
    keep_->setAccessibleName(keep_->text());

    const bool axis = outcome != results.hinges.end() && outcome->axis;
    HingeOutcome none;
    none.door = name;
    none.lacks = here == nullptr
                     ? "The job has no door. Add one under Lists, Doors."
                     : "Stick three targets on " + name +
                           ", spread 400 mm or more, measure each at five openings or more over 50°, as T1/1, T1/2 and "
                           "so on, and name them above. Or measure its two hinge pins as \"" +
                           name + " lower pin\" and \"" + name + " upper pin\".";
    const HingeOutcome& shown = outcome == results.hinges.end() ? none : *outcome;
    ArcPicture arcs = arcs_of_hinge(job.book, results, shown);
    if (!axis) {
        arcs.words = tr("No arc can be drawn yet.").toStdString();  // what lacks is said beside it
    }
    drawing_->set_picture(std::move(arcs));
    const auto corner = results.corners.find(name);
    const auto& worst =
        corner == results.corners.end() ? std::optional<core::survey::CornerSd>{} : std::optional(corner->second.worst);
    corner_->setText(
        worst ? tr("Lower rear corner: sd %1 mm, at %2")
                    .arg(worst->sd_mm, 0, 'f', 1)
                    .arg(text_of(core::degree_text(worst->at, 0)))
        : axis ? tr("The lower rear corner is not known: draw the door's lower edge or its outline, and say how far it "
                    "opens.")
               : tr("No axis yet"));
    words_->set_html(axis ? axis_words(*shown.axis, tone) : paragraph(State::not_measured, text_of(shown.lacks), tone));
}

void HingeDesk::take_targets() {
    const core::Job& job = book_.job().job();
    const std::string name = door();
    refusal_->hide();
    if (door_named(job, name) == nullptr) {
        return;
    }
    core::survey::HingeSet set;
    set.door = name;
    for (const QString& target : targets_->text().split(QLatin1Char(' '), Qt::SkipEmptyParts)) {
        set.targets.push_back(target.toStdString());
    }
    const auto old =
        std::find_if(job.book.hinges.begin(), job.book.hinges.end(), [&](const auto& one) { return one.door == name; });
    if (old == job.book.hinges.end() ? set.targets.empty() : old->targets == set.targets) {
        return;
    }
    const auto edit = set.targets.empty() ? core::delete_hinge_set(job, name) : core::set_hinge_set(job, set);
    if (!edit) {
        refusal_->setText(text_of(edit.error().message));
        refusal_->show();
        return;
    }
    book_.job().apply(edit);
}

void HingeDesk::keep() {
    const core::Job& job = book_.job().job();
    if (const core::Door* const here = door_named(job, door())) {
        const bool kept = here->hinge && here->hinge->from_book;
        refusal_->hide();
        const auto edit = core::keep_hinge_from_book(job, here->name, !kept);
        if (!edit) {
            refusal_->setText(text_of(edit.error().message));
            refusal_->show();
            return;
        }
        book_.job().apply(edit);
    }
}

void HingeDesk::changeEvent(QEvent* event) {
    QWidget::changeEvent(event);
    if (event->type() == QEvent::PaletteChange) {
        follow();  // states have other colours on dark paper
    }
}

}  // namespace sillwright::app
