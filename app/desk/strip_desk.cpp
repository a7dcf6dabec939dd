#include "app/desk/strip_desk.h"

#include <QVBoxLayout>
#include <algorithm>

#include "app/desk/focus.h"
#include "app/desk/open_job.h"
#include "app/desk/plumb_place.h"
#include "app/drawings/strip_drawing.h"
#include "app/link/strip_of_job.h"
#include "app/text_of.h"
#include "core/drawn_loft.h"
#include "core/edit/drawn_id.h"
#include "core/number_text.h"
#include "core/typed_place.h"

namespace sillwright::app {

using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

/// Where to look first: at the worst finding that has a place, else in the middle of what is drawn.
std::optional<Length> first_place(const core::Evaluation& evaluation, const StripPicture& picture) {
    for (const core::Finding& finding : evaluation.findings) {
        if (finding.place.along) {
            return finding.place.along;
        }
    }
    if (picture.empty()) {
        return std::nullopt;
    }
    return millimetres((picture.ground.front_mm + picture.ground.rear_mm) / 2.0);
}

}  // namespace

StripDesk::StripDesk(OpenJob& open, Focus& focus, QWidget* parent)
    : QWidget(parent), open_{open}, focus_{focus}, drawing_{new StripDrawing(this)}, place_{new PlumbPlace(drawing_)} {
    setObjectName(QStringLiteral("stripDesk"));
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(drawing_);

    connect(&open_, &OpenJob::results_changed, this, &StripDesk::show_job);
    connect(&open_, &OpenJob::progressed, this, [this] {  // it has begun
        if (drawing_->picture().note != note().toStdString()) {
            show_job();
        }
    });
    connect(&focus_, &Focus::went, this, &StripDesk::show_place);
    connect(&focus_, &Focus::chose, this, &StripDesk::show_marks);
    connect(&focus_, &Focus::pointed_on, this, &StripDesk::show_marks);

    connect(drawing_, &StripDrawing::went, this, [this](double along_mm) { focus_.go_to(millimetres(along_mm)); });
    connect(drawing_, &StripDrawing::stepped, this, &StripDesk::step);
    connect(drawing_, &StripDrawing::chose, this, [this](const Item& item, double along_mm) {
        focus_.choose(item);
        focus_.go_to(millimetres(along_mm));
    });
    connect(drawing_, &StripDrawing::pointed, this, &StripDesk::say_pointed);
    connect(drawing_, &StripDrawing::pointer_left, this, [this] {
        focus_.point_at({});
        drawing_->say({});
    });
    connect(drawing_, &StripDrawing::place_moved, this, &StripDesk::place_the_place);
    connect(place_, &PlumbPlace::stepped, this, &StripDesk::step);
    connect(place_, &PlumbPlace::typed, this, &StripDesk::go_to_typed);
    show_job();
}

void StripDesk::show_job() {
    const auto results = open_.results();
    StripPicture picture;
    if (results) {
        picture = strip_of_job(*results);
    } else {
        core::Evaluation none;
        none.job = open_.job();
        picture = strip_of_job(none);
    }
    picture.note = note().toStdString();
    drawing_->set_picture(std::move(picture));
    if (results && !focus_.along()) {
        focus_.go_to(first_place(*results, drawing_->picture()));
    }
    show_place();
    show_marks();
}

QString StripDesk::note() const {
    if (open_.results() && open_.current()) {
        return {};
    }
    return open_.computing() ? tr("being computed") : tr("not computed");
}

void StripDesk::show_place() {
    const std::optional<Length> along = focus_.along();
    const QString words = along ? text_of(core::place_words(open_.job(), *along)) : QString();
    drawing_->set_place(along ? std::optional(in_mm(*along)) : std::nullopt, words);
    place_->set_words(words);
    place_->set_steps(along && core::station_ahead(open_.job(), *along),
                      along && core::station_behind(open_.job(), *along));
    place_the_place();
}

void StripDesk::show_marks() {
    drawing_->set_marked(focus_.chosen(), focus_.pointed());
}

void StripDesk::step(int by) {
    if (const std::optional<Length> along = focus_.along()) {
        const auto station =
            by < 0 ? core::station_ahead(open_.job(), *along) : core::station_behind(open_.job(), *along);
        if (station) {
            focus_.go_to(station);
        }
    }
}

void StripDesk::go_to_typed(const QString& text) {
    const auto along = core::typed_place(open_.job(), text.toStdString());
    if (!along) {
        drawing_->say(text_of(along.error().message));
        return;
    }
    const StripGround& ground = drawing_->picture().ground;
    const double wished = in_mm(along.value());
    if (wished < ground.front_mm || wished > ground.rear_mm) {
        drawing_->say(tr("%1 is off the strip, which runs from %2 to %3.")
                          .arg(text_of(core::mm_text(along.value(), 0)),
                               text_of(core::mm_text(millimetres(ground.front_mm), 0)),
                               text_of(core::mm_text(millimetres(ground.rear_mm), 0))));
        return;
    }
    drawing_->say({});
    focus_.go_to(along.value());
    place_->set_words(text_of(core::place_words(open_.job(), along.value())));
    place_->put_back();
}

QString StripDesk::words_of(const Item& item) const {
    switch (item.kind) {
        case Item::Kind::node: {
            const auto place = core::find_node(open_.job(), item.id);
            if (!place) {
                return {};
            }
            const core::Section& section = core::drawn(open_.job(), place->drawn).sections[place->section];
            return tr("%1, station %2").arg(text_of(section.nodes[place->node].name), text_of(section.station));
        }
        case Item::Kind::mount:
            for (const StripMount& mount : drawing_->picture().mounts) {
                if (mount.name == item.id) {
                    return text_of(mount.words);
                }
            }
            return {};
        case Item::Kind::station:
            return tr("station %1").arg(text_of(item.id));
        case Item::Kind::keep_out:
            return tr("keep clear: %1").arg(text_of(item.id));
        case Item::Kind::door:
            return text_of(item.id);
        case Item::Kind::none:
        case Item::Kind::finding:
        case Item::Kind::point:
        case Item::Kind::reading:
            break;
    }
    return {};
}

void StripDesk::say_pointed(const Item& item, double along_mm, double height_mm) {
    focus_.point_at(item);
    const Length along = millimetres(along_mm);
    core::Evaluation none;
    const auto results = open_.results();
    const core::UnrolledSection section = unrolling_at(results ? *results : none, along).at(along);
    QString words = text_of(core::place_words(open_.job(), along)) + QStringLiteral(" · ");
    if (height_mm >= section.fold_mm()) {
        words += tr("up %1").arg(text_of(core::mm_text(millimetres(height_mm), 0)));
    } else {
        const Eigen::Vector2d at_mm = section.place_at(height_mm);
        words += tr("underside, out %1, %2 from the fold")
                     .arg(text_of(core::mm_text(millimetres(at_mm.x()), 0)),
                          text_of(core::mm_text(millimetres(section.fold_mm() - height_mm), 0)));
    }
    const QString what = words_of(item);
    drawing_->say(what.isEmpty() ? words : words + QStringLiteral(" · ") + what);
}

void StripDesk::place_the_place() {
    const QRectF box = drawing_->place_box(QSizeF(drawing_->size()));
    place_->setVisible(!box.isEmpty());
    if (!box.isEmpty()) {
        place_->setGeometry(box.toRect());
    }
}

void StripDesk::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    place_the_place();
}

}  // namespace sillwright::app
