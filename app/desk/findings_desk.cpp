#include "app/desk/findings_desk.h"

#include <QCheckBox>
#include <QComboBox>
#include <QHBoxLayout>
#include <QItemSelectionModel>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QResizeEvent>
#include <QScopedValueRollback>
#include <QVBoxLayout>
#include <algorithm>
#include <chrono>

#include "app/desk/finding_list.h"
#include "app/desk/finding_sheet.h"
#include "app/desk/findings_model.h"
#include "app/desk/focus.h"
#include "app/desk/item.h"
#include "app/desk/mend_trial.h"
#include "app/desk/open_job.h"
#include "app/desk/wrapped_text.h"
#include "app/looks.h"
#include "core/finding_about.h"
#include "core/number_text.h"
#include "core/stage.h"
#include "core/typed.h"

namespace sillwright::app {

using core::Finding;
using core::Stage;

namespace {

using namespace std::chrono_literals;

/// What is done sooner needs no word.
constexpr auto k_slow = 300ms;
/// As often as words that change can be read.
constexpr auto k_read = 100ms;
constexpr int k_least_list = 40;  ///< Left of the list where a mend that is tried needs the room.
constexpr int k_bar_height = 10;
constexpr int k_whole = 1000;  ///< Steps of the progress bar.

QPushButton* button(const QString& text, const QString& name, const QString& spoken) {
    auto* made = new QPushButton(text);
    made->setObjectName(name);
    made->setAccessibleName(spoken);
    made->setToolTip(spoken);
    made->setFont(looks::font(looks::k_text));
    made->setMinimumHeight(looks::k_target);
    made->setSizePolicy(QSizePolicy::MinimumExpanding, QSizePolicy::Fixed);
    return made;
}

QHBoxLayout* row_in(QWidget* widget) {
    auto* row = new QHBoxLayout(widget);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(6);
    return row;
}

/// "within 0.1 mm", as the coarser mesh is known to be.
QString within_words(geometry::Length deviation, core::BareUnit unit) {
    constexpr int k_inch_decimals = 3;
    constexpr int k_mm_decimals = 1;
    const std::string number =
        unit == core::BareUnit::in
            ? core::fixed_text(core::to_unit(deviation, core::BareUnit::in), k_inch_decimals) + " in"
            : core::mm_text(deviation, k_mm_decimals);
    return QString::fromStdString(number);
}

}  // namespace

FindingsDesk::FindingsDesk(OpenJob& open, Focus& focus, QWidget* parent)
    : QWidget(parent),
      open_{open},
      focus_{focus},
      model_{new FindingsModel(this)},
      count_{new QLabel},
      status_{new WrappedText},
      stages_{new QComboBox},
      hide_holding_{new QCheckBox(tr("Hide what holds"))},
      progress_{new QProgressBar},
      stop_{button(tr("Stop"), QStringLiteral("stopComputing"), tr("Stop computing"))},
      compute_{button(tr("Compute"), QStringLiteral("computeAgain"), tr("Compute the job as it is now"))},
      list_{new FindingList(*model_)},
      trial_{new MendTrial(open)} {
    count_->setObjectName(QStringLiteral("findingCount"));
    count_->setFont(looks::font(looks::k_text, true));
    count_->setWordWrap(true);
    count_->setTextFormat(Qt::PlainText);
    status_->setObjectName(QStringLiteral("findingStatus"));
    list_->setMinimumHeight(k_least_list);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(6, 6, 6, 6);
    column->setSpacing(6);
    column->addWidget(make_head());
    filters_ = make_filters();
    column->addWidget(filters_);
    column->addWidget(make_steps());
    column->addWidget(list_, 1);
    column->addWidget(trial_);
    connect_all();
    take_results();
}

QWidget* FindingsDesk::make_filters() {
    stages_->setObjectName(QStringLiteral("stageFilter"));
    stages_->setAccessibleName(tr("Findings of which stage"));
    stages_->setToolTip(tr("Show the findings of one stage only"));
    stages_->setFont(looks::font(looks::k_text));
    stages_->setMinimumHeight(looks::k_target);
    stages_->addItem(tr("All stages"));
    for (const Stage stage : core::k_stages) {
        stages_->addItem(QString::fromStdString(core::words(stage).name), static_cast<int>(stage));
    }
    hide_holding_->setObjectName(QStringLiteral("hideHolding"));
    hide_holding_->setAccessibleName(tr("Hide what holds"));
    hide_holding_->setToolTip(tr("Show only what falls short, is close or is not measured"));
    hide_holding_->setFont(looks::font(looks::k_text));
    hide_holding_->setMinimumHeight(looks::k_target);
    connect(stages_, &QComboBox::currentIndexChanged, this, [this](int index) {
        const QVariant stage = stages_->itemData(index);
        show_stage(stage.isValid() ? std::optional(static_cast<Stage>(stage.toInt())) : std::nullopt);
    });
    connect(hide_holding_, &QCheckBox::toggled, this, [this](bool hide) {
        const QScopedValueRollback guard(updating_, true);
        model_->hide_holding(hide);
    });
    auto* widget = new QWidget;
    auto* row = row_in(widget);
    row->addWidget(stages_, 1);
    row->addWidget(hide_holding_, 1);
    return widget;
}

QWidget* FindingsDesk::make_steps() {
    auto* worst = button(tr("Go to worst"), QStringLiteral("goToWorst"), tr("Go to the worst finding (Alt+Home)"));
    auto* previous = button(tr("Previous"), QStringLiteral("previousFinding"), tr("Go to the finding above (Alt+Up)"));
    auto* next = button(tr("Next"), QStringLiteral("nextFinding"), tr("Go to the finding below (Alt+Down)"));
    worst->setShortcut(QKeySequence(Qt::ALT | Qt::Key_Home));
    previous->setShortcut(QKeySequence(Qt::ALT | Qt::Key_Up));
    next->setShortcut(QKeySequence(Qt::ALT | Qt::Key_Down));
    connect(worst, &QPushButton::clicked, this, &FindingsDesk::go_to_worst);
    connect(previous, &QPushButton::clicked, this, &FindingsDesk::go_to_previous);
    connect(next, &QPushButton::clicked, this, &FindingsDesk::go_to_next);
    auto* widget = new QWidget;
    auto* row = row_in(widget);
    row->addWidget(worst);
    row->addWidget(previous);
    row->addWidget(next);
    return widget;
}

QWidget* FindingsDesk::make_head() {
    progress_->setObjectName(QStringLiteral("progress"));
    progress_->setAccessibleName(tr("Part computed"));
    progress_->setRange(0, k_whole);
    progress_->setTextVisible(false);
    progress_->setFixedHeight(k_bar_height);
    connect(stop_, &QPushButton::clicked, &open_, &OpenJob::stop_computing);
    connect(compute_, &QPushButton::clicked, &open_, [this] { open_.compute(); });
    auto* words = new QVBoxLayout;
    words->setSpacing(0);
    words->addWidget(count_);
    words->addWidget(status_);
    words->addWidget(progress_);
    words->addStretch(1);
    auto* head = new QWidget;
    // Two lines, so that the list does not jump when there is something to be said.
    head->setMinimumHeight(2 * QFontMetrics(looks::font(looks::k_text)).height());
    auto* row = row_in(head);
    row->addLayout(words, 1);
    for (QPushButton* button : {stop_, compute_}) {
        button->setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
        row->addWidget(button, 0, Qt::AlignTop);
        button->hide();
    }
    progress_->hide();
    return head;
}

void FindingsDesk::connect_all() {
    slow_.setSingleShot(true);
    slow_.setInterval(k_slow);
    connect(&slow_, &QTimer::timeout, this, &FindingsDesk::say_status);
    sheet_.setSingleShot(true);
    sheet_.setInterval(k_read);
    connect(&sheet_, &QTimer::timeout, this, &FindingsDesk::read_open_finding);

    connect(&open_, &OpenJob::opened, this, [this] {
        first_results_ = true;
        list_->fold();
    });
    connect(&open_, &OpenJob::results_changed, this, &FindingsDesk::take_results);
    connect(&open_, &OpenJob::progressed, this, [this](double part) {
        progress_->setValue(static_cast<int>(part * k_whole));
        watch_progress();
    });
    connect(trial_, &MendTrial::changed, this, &FindingsDesk::make_room);
    connect(&focus_, &Focus::chose, this, &FindingsDesk::follow);
    connect(list_, &FindingList::pressed_on, this, [this](const std::string& id) {
        if (const auto row = model_->row_of(id)) {
            choose(*row);
        }
    });
    connect(list_->selectionModel(), &QItemSelectionModel::currentChanged, this, [this](const QModelIndex& current) {
        if (!updating_ && current.isValid()) {
            choose(current.row());
        }
    });
    connect(&list_->sheet(), &FindingSheet::wants_try, this, &FindingsDesk::try_mend);
    setTabOrder(list_, list_->sheet().findChild<QPushButton*>(QStringLiteral("tryIt")));
}

core::StateCounts FindingsDesk::counts(std::optional<Stage> stage) const {
    return core::count_states(model_->all(), stage);
}

std::optional<Stage> FindingsDesk::stage() const {
    return model_->stage();
}

void FindingsDesk::show_stage(std::optional<Stage> stage) {
    if (stage == model_->stage()) {
        return;
    }
    {
        const QScopedValueRollback guard(updating_, true);
        model_->show_stage(stage);
    }
    stages_->setCurrentIndex(stage ? stages_->findData(static_cast<int>(*stage)) : 0);
    emit stage_shown(stage);
}

void FindingsDesk::make_room() {
    const bool running = trial_->running();
    filters_->setVisible(!running);
    const int least = running ? layout()->minimumHeightForWidth(width()) : 0;
    if (least != minimumHeight()) {
        setMinimumHeight(least);
    }
}

void FindingsDesk::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    if (event->size().width() != event->oldSize().width()) {
        make_room();
    }
}

void FindingsDesk::take_results() {
    const auto results = open_.results();
    {
        const QScopedValueRollback guard(updating_, true);
        model_->set_findings(results ? results->findings : std::vector<Finding>{}, open_.job().unit);
        model_->set_stale(results != nullptr && !open_.current());
    }
    count_->setText(results ? QString::fromStdString(core::count_sentence(model_->all())) : tr("No findings yet"));
    list_->sheet().set_ready(open_.current() && !open_.dragging());
    if (!open_.dragging()) {
        read_open_finding();
    } else if (!sheet_.isActive()) {
        sheet_.start();
    }
    watch_progress();
    make_room();
    if (results && first_results_) {
        first_results_ = false;
        // A job opens where its worst finding is.
        const auto placed = std::find_if(model_->all().begin(), model_->all().end(),
                                         [](const Finding& finding) { return finding.place.along.has_value(); });
        if (!focus_.along() && placed != model_->all().end()) {
            focus_.go_to(placed->place.along);
        }
    }
    emit counted();
}

void FindingsDesk::read_open_finding() {
    if (!list_->open_id().empty()) {
        list_->read_again();
    }
}

void FindingsDesk::watch_progress() {
    if (!open_.computing()) {
        slow_.stop();
    } else if (!slow_.isActive() && progress_->isHidden()) {
        slow_.start();
    }
    say_status();
}

void FindingsDesk::say_status() {
    const bool long_since = open_.computing() && !slow_.isActive();
    const bool stopped = open_.results() != nullptr && !open_.current() && !open_.computing() && !open_.dragging() &&
                         open_.failure().isEmpty();
    progress_->setVisible(long_since);
    stop_->setVisible(long_since);
    compute_->setVisible(stopped);
    count_->setVisible(!long_since);  // It is not known now, and the list stays where it is.
    const QString words = status_words();
    status_->set_html(words.toHtmlEscaped());
    status_->setVisible(!words.isEmpty());
}

QString FindingsDesk::status_words() const {
    if (!open_.failure().isEmpty()) {
        return open_.results()
                   ? open_.failure() + tr(" The findings below are of the last state that could be computed.")
                   : open_.failure();
    }
    if (open_.computing() && !open_.current()) {
        return tr("being computed …");
    }
    if (open_.current() && open_.drag_deviation()) {
        return tr("within %1 while dragging").arg(within_words(*open_.drag_deviation(), open_.job().unit));
    }
    if (open_.results() && !open_.current()) {
        return open_.dragging() ? tr("computed when you let go; these are of an earlier state")
                                : tr("stopped; these are of an earlier state");
    }
    return {};
}

void FindingsDesk::choose(int row) {
    const Finding finding = model_->finding(row);  // A copy: what follows may change the model.
    {
        const QScopedValueRollback guard(updating_, true);
        list_->take_in_hand(row);
    }
    focus_.choose({Item::Kind::finding, finding.id});
    go_to_place(finding);
}

void FindingsDesk::go_to_place(const Finding& finding) {
    if (finding.place.along) {
        focus_.go_to(finding.place.along);
    }
    if (!finding.place.door.empty() && finding.place.door_angle) {
        focus_.turn_door(finding.place.door, *finding.place.door_angle);
    }
}

void FindingsDesk::go_to_worst() {
    if (model_->rowCount() > 0) {
        choose(0);
        if (const Finding& worst = model_->finding(0); worst.state == core::State::falls_short) {
            list_->open(worst.id);  // its mend is what is wanted next
        }
    }
}

void FindingsDesk::go_to_previous() {
    step(-1);
}

void FindingsDesk::go_to_next() {
    step(1);
}

void FindingsDesk::step(int by) {
    const int last = model_->rowCount() - 1;
    if (last >= 0) {
        const auto row = list_->current_row();
        choose(row ? std::clamp(*row + by, 0, last) : 0);
    }
}

void FindingsDesk::try_mend() {
    if (const auto row = model_->row_of(list_->open_id())) {
        static_cast<void>(trial_->begin(Finding(model_->finding(*row))));  // Refused in words by the job.
    }
}

void FindingsDesk::follow() {
    const Item& item = focus_.chosen();
    const std::optional<std::string> id = first_about(item);
    if (!id) {
        return;
    }
    if (item.kind == Item::Kind::finding && !model_->row_of(*id)) {  // A filter hides it.
        show_stage(std::nullopt);
        hide_holding_->setChecked(false);
    }
    if (const auto row = model_->row_of(*id)) {
        const QScopedValueRollback guard(updating_, true);
        list_->take_in_hand(*row);
    }
}

std::optional<std::string> FindingsDesk::first_about(const Item& item) const {
    const auto about = [&](const Finding& finding) {
        switch (item.kind) {
            case Item::Kind::finding:
                return finding.id == item.id;
            case Item::Kind::mount:
                return core::is_about_mount(finding, item.id);
            case Item::Kind::node:
                return core::is_about_node(finding, item.id);
            case Item::Kind::door:
                return core::is_about_door(finding, item.id);
            default:
                return false;
        }
    };
    const auto found = std::find_if(model_->all().begin(), model_->all().end(), about);
    return found == model_->all().end() ? std::nullopt : std::optional(found->id);
}

}  // namespace sillwright::app
