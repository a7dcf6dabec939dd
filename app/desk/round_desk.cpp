#include "app/desk/round_desk.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QPainter>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>
#include <chrono>
#include <utility>

#include "app/drawings/solid_canvas.h"
#include "app/drawings/solid_view.h"
#include "app/link/solids_of_job.h"
#include "app/looks.h"
#include "core/number_text.h"
#include "core/sill_frame.h"

namespace sillwright::app {

namespace {

/// Between two pictures of a skirt that follows the hand: its own rate, so that the section keeps its.
constexpr auto k_rebuild_every = std::chrono::milliseconds(100);

constexpr int k_room_in_button = 24;  ///< Beside its words, both sides together.

SolidPart part_of(const Item& item) {
    switch (item.kind) {
        case Item::Kind::door:
            return {SolidPart::Kind::door, item.id};
        case Item::Kind::mount:
            return {SolidPart::Kind::mount, item.id};
        default:
            return {};
    }
}

Item item_of(const SolidPart& part) {
    switch (part.kind) {
        case SolidPart::Kind::door:
            return {Item::Kind::door, part.name};
        case SolidPart::Kind::mount:
            return {Item::Kind::mount, part.name};
        default:
            return {};
    }
}

const core::Finding* finding_of(const core::Evaluation& evaluation, const Item& item) {
    const auto found = std::find_if(evaluation.findings.begin(), evaluation.findings.end(), [&](const auto& finding) {
        return item.kind == Item::Kind::finding && finding.id == item.id;
    });
    return found == evaluation.findings.end() ? nullptr : &*found;
}

}  // namespace

RoundDesk::RoundDesk(OpenJob& job, Focus& focus, QWidget* parent)
    : QWidget(parent),
      job_{job},
      focus_{focus},
      solid_{new SolidView(this)},
      heading_{new QLabel(tr("in the round"), this)},
      unfold_{new QPushButton(this)} {
    setObjectName(QStringLiteral("roundDesk"));
    setAccessibleName(tr("In the round"));
    heading_->setFont(looks::font(looks::k_text));
    unfold_->setObjectName(QStringLiteral("unfoldRound"));
    unfold_->setFont(looks::font(looks::k_text));
    unfold_->setMinimumHeight(looks::k_target);

    auto* row = new QHBoxLayout;
    row->setContentsMargins(8, 4, 6, 0);
    row->setSpacing(6);
    row->addWidget(heading_);
    row->addStretch(1);
    row->addWidget(solid_->buttons());
    row->addStretch(1);
    row->addWidget(solid_->door_choice());
    row->addWidget(unfold_);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(2, 2, 2, 2);
    column->setSpacing(2);
    column->addLayout(row);
    column->addWidget(solid_, 1);
    show_unfolded(false);

    rebuild_soon_.setSingleShot(true);
    rebuild_soon_.setInterval(k_rebuild_every);
    connect(&rebuild_soon_, &QTimer::timeout, this, &RoundDesk::rebuild);
    connect(unfold_, &QPushButton::clicked, this, [this] { emit unfold_wanted(!unfolded_); });
    connect(&job_, &OpenJob::opened, this, [this] { another_job_ = true; });
    connect(&job_, &OpenJob::results_changed, this, &RoundDesk::follow_results);
    connect(&focus_, &Focus::turned, this,
            [this](const std::string& door) { solid_->turn(door, focus_.opening(door)); });
    connect(&focus_, &Focus::went, this, &RoundDesk::follow_section);
    connect(&focus_, &Focus::chose, this, &RoundDesk::follow_chosen);
    connect(solid_, &SolidView::door_turned, &focus_, &Focus::turn_door);
    connect(solid_, &SolidView::door_chosen, this, &RoundDesk::follow_door);
    connect(solid_, &SolidView::pressed, this, &RoundDesk::press);
    connect(solid_, &SolidView::pointed, this, &RoundDesk::point);
    rebuild();
}

void RoundDesk::show_unfolded(bool unfolded) {
    unfolded_ = unfolded;
    unfold_->setText(unfolded ? tr("fold away") : tr("unfold"));
    unfold_->setAccessibleName(unfolded ? tr("Fold the solid away into the corner") : tr("Unfold the solid"));
    unfold_->setMinimumWidth(unfold_->fontMetrics().horizontalAdvance(unfold_->text()) + k_room_in_button);
    solid_->show_buttons(unfolded);
}

void RoundDesk::show_forming(SectionForming what) {
    if (what != forming_) {
        forming_ = what;
        rebuild();
    }
}

/// A drag changes the results many times a second: what comes meanwhile waits for the timer.
void RoundDesk::follow_results() {
    if (another_job_) {
        rebuild_soon_.stop();
        rebuild();
    } else if (!rebuild_soon_.isActive()) {
        rebuild_soon_.start();
    }
}

void RoundDesk::rebuild() {
    const auto results = job_.results();
    if (!results) {
        made_ = {};
        solid_->show_sentence(job_.failure().isEmpty() ? tr("The solid is shown once the job is computed.")
                                                       : job_.failure());
        return;
    }
    auto made = solids_again(*results, made_, forming_);
    if (!made) {
        solid_->show_sentence(QString::fromStdString(made.error().message));
        return;
    }
    made_ = std::move(made).value();
    if (std::exchange(another_job_, false)) {
        solid_->show_scene(made_.scene);
    } else {
        solid_->update_scene(made_.scene);
    }
    for (const DoorTurn& door : made_.scene.doors) {
        solid_->turn(door.name, focus_.opening(door.name));
    }
    solid_->show_note(job_.current() ? QString() : tr("as it was before the last change"));
    follow_section();
    follow_chosen();
}

void RoundDesk::follow_section() {
    // x of the car is along, from the job's own origin.
    solid_->show_section(focus_.along());
}

void RoundDesk::follow_chosen() {
    const auto results = job_.results();
    solid_->show_chosen(part_of(focus_.chosen()));
    if (focus_.chosen().kind == Item::Kind::door) {
        solid_->choose_door(focus_.chosen().id);
    } else if (const auto* finding = results ? finding_of(*results, focus_.chosen()) : nullptr) {
        if (const auto door = door_of(*finding, results->job)) {
            solid_->choose_door(*door);
        }
    }
    follow_door();
}

/// Marks of the door that is shown; the dimension of the chosen finding, or else of the door's worst.
void RoundDesk::follow_door() {
    const auto results = job_.results();
    const auto shown = solid_->door();
    if (!results || !shown) {
        solid_->show_marks({});
        solid_->show_dimension(std::nullopt);
        return;
    }
    const std::string& door = solid_->scene().doors.at(*shown).name;
    solid_->show_marks(marks_of_door(*results, door));
    const core::Finding* finding = finding_of(*results, focus_.chosen());
    std::optional<SolidDimension> dimension = finding ? dimension_of(*finding, results->job) : std::nullopt;
    if (!dimension) {
        finding = worst_of_door(*results, door);
        dimension = finding ? dimension_of(*finding, results->job) : std::nullopt;
    }
    solid_->show_dimension(dimension);
}

/// A door is chosen; anything else takes the drawings to its place.
void RoundDesk::press(const SolidPart& part, const Eigen::Vector3d& at_mm) {
    if (const Item item = item_of(part)) {
        focus_.choose(item);
    }
    if (part.kind != SolidPart::Kind::door) {
        focus_.go_to(geometry::millimetres(at_mm.x()));
    }
}

void RoundDesk::point(const SolidPart& part, const Eigen::Vector3d& at_mm) {
    focus_.point_at(item_of(part));
    const auto results = job_.results();
    if (part.kind == SolidPart::Kind::none || !results) {
        solid_->show_pointed({});
        return;
    }
    const Eigen::Vector3d place_mm = core::SillFrame(results->job).sill_from_car(at_mm);
    const auto number = [](double mm) { return QString::fromStdString(core::fixed_text(mm, 0)); };
    solid_->show_pointed(
        tr("%1 · along %2 · out %3 · up %4")
            .arg(QString::fromStdString(part.name), number(place_mm.x()), number(place_mm.y()), number(place_mm.z())));
}

QImage RoundDesk::picture(const QSize& pixels) const {
    return solid_->picture(pixels);
}

void RoundDesk::settle() {
    if (rebuild_soon_.isActive()) {
        rebuild_soon_.stop();
        rebuild();
    }
    if (SolidCanvas* canvas = solid_->canvas()) {
        canvas->settle();
    }
}

void RoundDesk::paintEvent(QPaintEvent* /*event*/) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const looks::Colours& colours = looks::colours(looks::tone_of(palette()));
    painter.setPen(QPen(colours.edge, 1.5));
    painter.setBrush(colours.paper);
    painter.drawRoundedRect(QRectF(rect()).adjusted(1, 1, -1, -1), 6, 6);
}

}  // namespace sillwright::app
