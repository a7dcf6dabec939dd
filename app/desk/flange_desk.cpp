#include "app/desk/flange_desk.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QSlider>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include "app/desk/dressed.h"
#include "app/desk/focus.h"
#include "app/desk/open_job.h"
#include "app/drawings/flange_drawing.h"
#include "app/length_words.h"
#include "app/link/flange_of_job.h"
#include "app/text_of.h"
#include "core/edit/mount_edit.h"

namespace sillwright::app {

using core::HolePlan;
using geometry::millimetres;

namespace {

constexpr int k_ends = 100;  ///< Steps of the slider from as drawn to as hot, or as cold, as it gets.
/// A hole moved by hand stays on tenths of a millimetre: nobody marks out finer.
constexpr double k_snap_mm = 0.1;
/// Sizes that agree to less than that are the same.
constexpr double k_same_mm = 1e-6;

core::PartHole cut_of(const HolePlan& plan) {
    return {millimetres(plan.cut.length_mm), millimetres(plan.cut.width_mm), millimetres(plan.shift_mm)};
}

bool as_cut(const HolePlan& plan) {
    return plan.drawn && std::abs(plan.drawn->length_mm - plan.cut.length_mm) < k_same_mm &&
           std::abs(plan.drawn->width_mm - plan.cut.width_mm) < k_same_mm &&
           std::abs(plan.drawn_shift_mm - plan.shift_mm) < k_same_mm;
}

}  // namespace

FlangeDesk::FlangeDesk(OpenJob& open, Focus& focus, QWidget* parent)
    : QWidget(parent),
      open_{open},
      focus_{focus},
      drawing_{new FlangeDrawing},
      scroll_{new QScrollArea},
      warmth_{new QSlider(Qt::Horizontal)},
      warmth_words_{new QLabel},
      words_{new QLabel},
      as_planned_{dressed(new QPushButton(tr("Make it so")), QStringLiteral("makeAsPlanned"),
                          tr("Make the chosen hole as it is needed"))},
      all_{dressed(new QPushButton(tr("Make all so")), QStringLiteral("makeAllAsPlanned"),
                   tr("Make all holes as they are needed"))} {
    setObjectName(QStringLiteral("flangeDesk"));
    scroll_->setObjectName(QStringLiteral("flangeScroll"));
    scroll_->setAccessibleName(tr("The flange laid flat"));
    scroll_->setWidget(drawing_);
    scroll_->setWidgetResizable(true);
    scroll_->setFocusPolicy(Qt::NoFocus);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(4);
    column->addWidget(scroll_, 1);
    column->addWidget(make_slider());
    column->addWidget(make_row());

    connect(&open_, &OpenJob::results_changed, this, &FlangeDesk::show_results);
    connect(&focus_, &Focus::chose, this, &FlangeDesk::show_chosen);
    connect(&focus_, &Focus::pointed_on, this, [this] { drawing_->set_marked(focus_.chosen(), focus_.pointed()); });
    connect(drawing_, &FlangeDrawing::chose, this, [this](const Item& item, double along_mm) {
        focus_.choose(item);
        focus_.go_to(millimetres(along_mm));
    });
    connect(drawing_, &FlangeDrawing::pointed, &focus_, &Focus::point_at);
    connect(drawing_, &FlangeDrawing::taken, &open_,
            [this](const std::string& mount) { open_.begin_hole_drag(mount); });
    connect(drawing_, &FlangeDrawing::dragged, &open_,
            [this](double shift_mm) { open_.drag_hole_to(millimetres(k_snap_mm * std::round(shift_mm / k_snap_mm))); });
    connect(drawing_, &FlangeDrawing::dropped, &open_, &OpenJob::drop);
    connect(drawing_, &FlangeDrawing::put_back, &open_, &OpenJob::put_back);
    connect(as_planned_, &QPushButton::clicked, this, &FlangeDesk::make_as_planned);
    connect(all_, &QPushButton::clicked, this, &FlangeDesk::make_all);
    show_results();
}

QWidget* FlangeDesk::make_slider() {
    auto* row = new QWidget;
    auto* line = new QHBoxLayout(row);
    line->setContentsMargins(8, 0, 8, 0);
    warmth_->setRange(-k_ends, k_ends);
    warmth_->setPageStep(k_ends / 4);
    dressed(warmth_, QStringLiteral("warmthSlider"), tr("From the coldest to the hottest day"));
    warmth_words_->setObjectName(QStringLiteral("warmthWords"));
    warmth_words_->setFont(looks::font(looks::k_text));
    line->addWidget(label_beside(tr("cold")));
    line->addWidget(warmth_, 1);
    line->addWidget(label_beside(tr("hot")));
    line->addWidget(warmth_words_, 1);
    connect(warmth_, &QSlider::valueChanged, this, &FlangeDesk::show_warmth);
    return row;
}

QWidget* FlangeDesk::make_row() {
    auto* row = new QWidget;
    auto* line = new QHBoxLayout(row);
    line->setContentsMargins(8, 0, 8, 4);
    words_->setObjectName(QStringLiteral("holeWords"));
    words_->setFont(looks::font(looks::k_text));
    words_->setTextFormat(Qt::PlainText);
    words_->setWordWrap(true);
    line->addWidget(words_, 1);
    line->addWidget(as_planned_);
    line->addWidget(all_);
    return row;
}

void FlangeDesk::showEvent(QShowEvent* event) {
    QWidget::showEvent(event);
    show_results();
}

void FlangeDesk::show_results() {
    if (!isVisible() && !drawing_->picture().holes.empty()) {
        return;  // shown anew when it is seen again
    }
    const auto results = open_.results();
    if (results) {
        drawing_->set_picture(flange_of_job(*results));
    } else {
        FlangePicture none;
        none.words = tr("Nothing is computed yet.").toStdString();
        drawing_->set_picture(std::move(none));
    }
    warmth_->setEnabled(drawing_->picture().warmth);
    show_warmth(warmth_->value());
    show_chosen();
}

void FlangeDesk::show_warmth(int value) {
    const double part = static_cast<double>(value) / k_ends;
    const FlangePicture& picture = drawing_->picture();
    drawing_->set_warmth(picture.warmth ? part : 0.0);
    if (!picture.warmth) {
        warmth_words_->setText(tr("Give temperatures under Fitting."));
    } else if (value == 0) {
        warmth_words_->setText(tr("as drawn"));
    } else {
        const QString end = text_of(value < 0 ? picture.cold_words : picture.hot_words);
        warmth_words_->setText(std::abs(value) == k_ends ? end : tr("%1 % of: %2").arg(std::abs(value)).arg(end));
    }
}

void FlangeDesk::show_chosen() {
    drawing_->set_marked(focus_.chosen(), focus_.pointed());
    const auto results = open_.results();
    const HolePlan* plan =
        results && focus_.chosen().kind == Item::Kind::mount ? results->plan.find(focus_.chosen().id) : nullptr;
    const bool quiet = results && open_.current() && !open_.dragging();
    as_planned_->setEnabled(quiet && plan != nullptr && !as_cut(*plan));
    all_->setEnabled(quiet && results && !std::all_of(results->plan.holes.begin(), results->plan.holes.end(), as_cut));
    if (plan == nullptr) {
        words_->setText(drawing_->picture().holes.empty() ? QString()
                                                          : tr("Choose a mount to see what its hole needs."));
        return;
    }
    const QRectF pane = drawing_->pane_of(plan->mount);
    scroll_->ensureVisible(static_cast<int>(pane.center().x()), 0, static_cast<int>(pane.width() / 2.0), 0);
    const core::BareUnit unit = open_.job().unit;
    const auto number = [unit](double mm) {
        return text_of(short_number(millimetres(mm), unit)).replace(QLatin1Char('-'), QChar(0x2212));
    };
    const auto size = [&](const core::HoleSize& one) {
        return one.length_mm > one.width_mm + k_same_mm
                   ? number(one.length_mm) + QStringLiteral(" × ") + number(one.width_mm)
                   : QStringLiteral("Ø ") + number(one.width_mm);
    };
    QString words = tr("%1 needs %2 in the worst case, %3 by root of squares; cut %4")
                        .arg(text_of(plan->mount), size(plan->worst), size(plan->rss), size(plan->cut));
    if (std::abs(plan->shift_mm) > k_same_mm) {
        words += plan->shift_mm > 0.0 ? tr(", %1 further rearward").arg(number(plan->shift_mm))
                                      : tr(", %1 further forward").arg(number(-plan->shift_mm));
    }
    if (plan->growth.states.size() > 1) {
        words += tr(". Grows from %1 to %2.").arg(number(plan->growth.least_mm), number(plan->growth.greatest_mm));
    }
    words_->setText(words);
}

void FlangeDesk::make_as_planned() {
    const auto results = open_.results();
    if (const HolePlan* plan = results ? results->plan.find(focus_.chosen().id) : nullptr) {
        open_.apply(core::make_part_hole(open_.job(), plan->mount, cut_of(*plan)));
    }
}

void FlangeDesk::make_all() {
    const auto results = open_.results();
    if (!results) {
        return;
    }
    core::Edit all{open_.job(), "make all holes as needed"};
    for (const HolePlan& plan : results->plan.holes) {
        auto made = core::make_part_hole(all.job, plan.mount, cut_of(plan));
        if (!made) {
            open_.apply(made);
            return;
        }
        all.job = std::move(made).value().job;
    }
    open_.apply(all);
}

}  // namespace sillwright::app
