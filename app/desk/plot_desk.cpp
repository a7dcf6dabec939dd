#include "app/desk/plot_desk.h"

#include <QComboBox>
#include <QSignalBlocker>
#include <QVBoxLayout>
#include <algorithm>

#include "app/desk/focus.h"
#include "app/desk/item.h"
#include "app/desk/open_job.h"
#include "app/drawings/clearance_plot.h"
#include "app/link/clearance_curves.h"
#include "app/looks.h"

namespace sillwright::app {

using geometry::Result;

namespace {

const core::DoorModel* model_of(const core::Evaluation* results, const std::string& door) {
    if (results == nullptr) {
        return nullptr;
    }
    const auto& doors = results->car.doors;
    const auto found = std::find_if(doors.begin(), doors.end(), [&](const auto& one) { return one.name == door; });
    return found == doors.end() ? nullptr : &*found;
}

bool has_door(const core::Job& job, const std::string& name) {
    return std::any_of(job.doors.begin(), job.doors.end(), [&](const core::Door& door) { return door.name == name; });
}

/// The door of the worst finding about one; else the first.
std::string first_door(const core::Job& job, const core::Evaluation* results) {
    if (results != nullptr) {
        for (const core::Finding& finding : results->findings) {
            if (has_door(job, finding.place.door)) {
                return finding.place.door;
            }
        }
    }
    return job.doors.empty() ? std::string() : job.doors.front().name;
}

}  // namespace

PlotDesk::PlotDesk(OpenJob& open, Focus& focus, QWidget* parent)
    : QWidget(parent), open_{open}, focus_{focus}, doors_{new QComboBox}, plot_{new ClearancePlot} {
    threads_.setMaxThreadCount(1);
    doors_->setObjectName(QStringLiteral("plotDoor"));
    doors_->setAccessibleName(tr("Clearance of which door"));
    doors_->setToolTip(tr("The door whose clearance is plotted"));
    doors_->setFont(looks::font(looks::k_text));
    doors_->setMinimumHeight(looks::k_target);
    doors_->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Fixed);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(6, 6, 6, 6);
    column->setSpacing(6);
    column->addWidget(doors_);
    column->addWidget(plot_, 1);

    connect(doors_, &QComboBox::currentTextChanged, this,
            [this](const QString& name) { show_door(name.toStdString()); });
    connect(plot_, &ClearancePlot::wants_opening, &focus_,
            [this](geometry::Angle opening) { focus_.turn_door(door_, opening); });
    connect(&open_, &OpenJob::opened, this, [this] { door_.clear(); });
    connect(&open_, &OpenJob::results_changed, this, &PlotDesk::take_results);
    connect(&focus_, &Focus::chose, this, &PlotDesk::follow_chosen);
    connect(&focus_, &Focus::turned, this, [this](const std::string& door) {
        if (door == door_) {
            plot_->show_opening(focus_.opening(door));
        } else if (has_door(open_.job(), door) && focus_.openings().contains(door)) {
            show_door(door);
        }
    });
    take_results();
}

PlotDesk::~PlotDesk() {
    stop_.request_stop();
    threads_.waitForDone();
}

void PlotDesk::show_door(const std::string& door) {
    if (door == door_ || !has_door(open_.job(), door)) {
        return;
    }
    door_ = door;
    {
        const QSignalBlocker quiet(doors_);
        doors_->setCurrentText(QString::fromStdString(door));
    }
    compute();
    show_picture();
}

void PlotDesk::follow_chosen() {
    const Item& item = focus_.chosen();
    const auto results = open_.results();
    if (item.kind == Item::Kind::door) {
        show_door(item.id);
    } else if (item.kind == Item::Kind::finding && results) {
        for (const core::Finding& finding : results->findings) {
            if (finding.id == item.id) {
                show_door(finding.place.door);
                return;
            }
        }
    }
}

void PlotDesk::take_results() {
    const auto results = open_.results();
    list_doors();
    if (!has_door(open_.job(), door_)) {
        door_ = first_door(open_.job(), results.get());
        const QSignalBlocker quiet(doors_);
        doors_->setCurrentText(QString::fromStdString(door_));
    }
    compute();
    show_picture();
}

void PlotDesk::list_doors() {
    QStringList names;
    for (const core::Door& door : open_.job().doors) {
        names += QString::fromStdString(door.name);
    }
    QStringList shown;
    for (int i = 0; i < doors_->count(); ++i) {
        shown += doors_->itemText(i);
    }
    if (names != shown) {
        const QSignalBlocker quiet(doors_);
        doors_->clear();
        doors_->addItems(names);
        doors_->setCurrentText(QString::fromStdString(door_));
    }
    doors_->setVisible(names.size() > 1);
}

void PlotDesk::compute() {
    const Results results = open_.results();
    // Results of a drag change in place, and better ones follow it.
    const bool lasting = results && open_.current() && !open_.dragging() && !open_.drag_deviation();
    if (!lasting) {
        return;
    }
    if ((lines_of_ == results && lines_door_ == door_) || (asked_of_ == results && asked_door_ == door_)) {
        return;
    }
    stop_.request_stop();
    stop_ = {};
    asked_of_ = results;
    asked_door_ = door_;
    failure_.clear();
    threads_.start([this, run = ++run_, results, door = door_, watch = geometry::Watch{stop_.get_token(), {}}] {
        const auto curves = clearance_curves(*results, door, watch);
        const Result<std::vector<ClearanceLine>> lines =
            curves ? Result<std::vector<ClearanceLine>>(clearance_lines(curves.value()))
                   : Result<std::vector<ClearanceLine>>(curves.error());
        QMetaObject::invokeMethod(
            this, [this, run, lines] { take_lines(run, lines); }, Qt::QueuedConnection);
    });
}

void PlotDesk::take_lines(std::uint64_t run, const Result<std::vector<ClearanceLine>>& lines) {
    if (run != run_) {
        return;
    }
    if (lines) {
        lines_ = lines.value();
        lines_door_ = asked_door_;
        lines_of_ = asked_of_;
    } else {
        failure_ = lines.error().message;
    }
    asked_of_.reset();
    asked_door_.clear();
    show_picture();
}

std::string PlotDesk::sentence(const core::DoorModel* door) const {
    if (door_.empty()) {
        return tr("No door is measured yet.").toStdString();
    }
    if (!failure_.empty()) {
        return failure_;
    }
    if (door == nullptr) {
        return tr("being computed …").toStdString();
    }
    if (!door->opening) {
        return tr("How this door moves is not measured yet: its hinge axis or its full opening is missing.")
            .toStdString();
    }
    return {};
}

void PlotDesk::show_picture() {
    const Results results = open_.results();
    const core::DoorModel* door = model_of(results.get(), door_);
    ClearancePicture picture;
    picture.door = door_;
    picture.unit = open_.job().unit;
    picture.opening = focus_.opening(door_);
    picture.sentence = sentence(door);
    if (picture.sentence.empty()) {
        picture.stop = *door->opening;
        picture.marks = clearance_marks(results->findings, door_, picture.unit);
        picture.old_marks = !open_.current();
        if (lines_door_ == door_) {
            picture.lines = lines_;
            picture.old_lines = !open_.current() || lines_of_ != results;
        }
    }
    plot_->show_picture(std::move(picture));
}

}  // namespace sillwright::app
