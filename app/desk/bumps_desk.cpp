#include "app/desk/bumps_desk.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>
#include <cmath>
#include <optional>

#include "app/desk/focus.h"
#include "app/desk/open_job.h"
#include "app/drawings/bumps_drawing.h"
#include "app/link/bumps_of_job.h"
#include "core/edit/node_edit.h"
#include "core/fairness.h"

namespace sillwright::app {

namespace {

/// Less than can be read off the drawing, or typed.
constexpr double k_fair_already_mm = 0.005;

struct ChosenBump {
    core::FairLine line;
    core::Bump bump;
};

std::optional<ChosenBump> bump_of(const core::Job& job, const Item& item) {
    const auto place = item.kind == Item::Kind::node ? core::find_node(job, item.id) : std::nullopt;
    if (place && place->drawn.kind != core::DrawnId::Kind::door_body) {
        for (const core::FairLine& line : core::fair_lines(job, place->drawn)) {
            for (const core::Bump& bump : line.bumps) {
                if (bump.node_id == item.id) {
                    return ChosenBump{line, bump};
                }
            }
        }
    }
    return std::nullopt;
}

QString mm(double number) {
    return QString::number(number, 'f', 2);
}

}  // namespace

BumpsDesk::BumpsDesk(OpenJob& open, Focus& focus, QWidget* parent)
    : QWidget(parent),
      open_{open},
      focus_{focus},
      drawing_{new BumpsDrawing},
      scroll_{new QScrollArea(this)},
      words_{new QLabel(this)},
      fair_{new QPushButton(tr("Fair it"), this)} {
    setObjectName(QStringLiteral("bumpsDesk"));
    words_->setObjectName(QStringLiteral("bumpWords"));
    words_->setFont(looks::font(looks::k_text));
    words_->setWordWrap(true);
    fair_->setObjectName(QStringLiteral("fairIt"));
    fair_->setFont(looks::font(looks::k_text, true));
    fair_->setMinimumSize(2 * looks::k_target, looks::k_target);
    fair_->setAccessibleName(tr("Move the chosen node to its fair place"));
    fair_->setToolTip(tr("Moves the chosen node to its fair place"));
    scroll_->setObjectName(QStringLiteral("bumpsScroll"));
    scroll_->setWidget(drawing_);
    scroll_->setWidgetResizable(true);
    scroll_->setHorizontalScrollBarPolicy(Qt::ScrollBarAsNeeded);
    scroll_->setFocusPolicy(Qt::NoFocus);

    auto* head = new QHBoxLayout;
    head->addWidget(words_, 1);
    head->addWidget(fair_);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addLayout(head);
    column->addWidget(scroll_, 1);

    connect(&open_, &OpenJob::job_changed, this, &BumpsDesk::show_job);
    connect(&focus_, &Focus::chose, this, &BumpsDesk::show_chosen);
    connect(&focus_, &Focus::pointed_on, this, [this] { drawing_->set_marked(focus_.chosen(), focus_.pointed()); });
    connect(&focus_, &Focus::went, this, [this] {
        const auto along = focus_.along();
        drawing_->set_place(along ? std::optional(geometry::in_mm(*along)) : std::nullopt);
    });
    connect(drawing_, &BumpsDrawing::chose, this, [this](const Item& item, double along_mm) {
        focus_.choose(item);
        focus_.go_to(geometry::millimetres(along_mm));
    });
    connect(drawing_, &BumpsDrawing::pointed, &focus_, &Focus::point_at);
    connect(fair_, &QPushButton::clicked, this, &BumpsDesk::fair_it);
    show_job();
}

void BumpsDesk::showEvent(QShowEvent* event) {
    QWidget::showEvent(event);
    show_job();
}

void BumpsDesk::show_job() {
    if (!isVisible() && !drawing_->picture().lines.empty()) {
        return;  // shown anew when it is seen again
    }
    drawing_->set_picture(bumps_of_job(open_.job()));
    const auto along = focus_.along();
    drawing_->set_place(along ? std::optional(geometry::in_mm(*along)) : std::nullopt);
    show_chosen();
}

void BumpsDesk::show_chosen() {
    drawing_->set_marked(focus_.chosen(), focus_.pointed());
    const auto chosen = bump_of(open_.job(), focus_.chosen());
    fair_->setEnabled(false);
    if (!chosen) {
        words_->setText(tr("Choose a bump to see the move that fairs it."));
        return;
    }
    const QRectF strip = drawing_->strip_of(chosen->bump.node_id);
    scroll_->ensureVisible(static_cast<int>(drawing_->place_of(chosen->bump.node_id).x()),
                           static_cast<int>(strip.center().y()), 0, static_cast<int>(strip.height() / 2.0));
    const QString name = QString::fromStdString(chosen->line.name);
    const QString station = QString::fromStdString(chosen->bump.station);
    if (chosen->bump.size_mm() < k_fair_already_mm) {
        words_->setText(tr("%1 is fair at station %2.").arg(name, station));
        return;
    }
    const QString how =
        chosen->bump.proud ? tr("%1 at station %2 stands %3 mm proud.") : tr("%1 at station %2 stands %3 mm inside.");
    QString words = how.arg(name, station, mm(chosen->bump.size_mm()));
    if (const auto after = core::faired(open_.job(), chosen->bump.node_id)) {
        words += QStringLiteral(" ") + tr("Faired, the line's worst is %1 mm.").arg(mm(after->worst()->size_mm()));
    }
    const auto place = core::find_node(open_.job(), chosen->bump.node_id);
    const bool ours = place && place->drawn.kind == core::DrawnId::Kind::piece;
    if (!ours) {
        words = how.arg(name, station, mm(chosen->bump.size_mm())) + QStringLiteral(" ") +
                tr("It is measured on the car: read it again.");
    }
    words_->setText(words);
    fair_->setEnabled(ours && !open_.dragging());
}

void BumpsDesk::fair_it() {
    if (const auto chosen = bump_of(open_.job(), focus_.chosen())) {
        open_.apply(core::move_node(open_.job(), chosen->bump.node_id, chosen->bump.fair_mm));
    }
}

}  // namespace sillwright::app
