#include "app/desk/buck_desk.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QStackedWidget>
#include <QToolButton>
#include <QVBoxLayout>
#include <algorithm>

#include "app/desk/dressed.h"
#include "app/desk/focus.h"
#include "app/desk/open_buck.h"
#include "app/desk/open_job.h"
#include "app/desk/page_choice.h"
#include "app/desk/settings_desk.h"
#include "app/desk/tables_desk.h"
#include "app/drawings/assembly_drawing.h"
#include "app/drawings/nest_drawing.h"
#include "app/drawings/rib_drawing.h"
#include "app/text_of.h"
#include "core/evaluate.h"

namespace sillwright::app {

namespace {

constexpr int k_whole = 1000;     ///< Steps of the progress bar.
constexpr int k_bar_height = 12;  ///< Pixels.
constexpr int k_least_list = 220;

/// A list in a box; what was chosen stays chosen by its number while it is there.
void fill(QComboBox& box, const QStringList& texts) {
    const QSignalBlocker quiet(&box);
    QStringList there;
    for (int i = 0; i < box.count(); ++i) {
        there << box.itemText(i);
    }
    if (texts != there) {
        const int chosen = box.currentIndex();
        box.clear();
        box.addItems(texts);
        box.setCurrentIndex(std::clamp(chosen, texts.isEmpty() ? -1 : 0, static_cast<int>(texts.size()) - 1));
    }
}

QWidget* on_paper(QWidget* paper, const QString& object_name) {
    auto* scroll = new QScrollArea;
    scroll->setObjectName(object_name);
    scroll->setAccessibleName(paper->accessibleName());
    scroll->setWidget(paper);
    scroll->setWidgetResizable(true);
    scroll->setFocusPolicy(Qt::NoFocus);
    return scroll;
}

QWidget* below(QLayout* row, QWidget* sheet) {
    auto* page = new QWidget;
    auto* column = new QVBoxLayout(page);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(4);
    column->addLayout(row);
    column->addWidget(sheet, 1);
    return page;
}

}  // namespace

BuckDesk::BuckDesk(OpenJob& open, OpenBuck& buck, Focus& focus, QWidget* parent)
    : QWidget(parent),
      open_{open},
      buck_{buck},
      focus_{focus},
      choice_{new PageChoice},
      pieces_{dressed(new QComboBox, QStringLiteral("buckPiece"), tr("Which piece of the skirt"))},
      pages_{new QStackedWidget},
      rib_{new RibDrawing},
      assembly_{new AssemblyDrawing},
      nest_{new NestDrawing},
      nest_words_{label_beside({})},
      progress_{new QProgressBar},
      stop_{dressed(new QPushButton(tr("Stop")), QStringLiteral("stopNesting"), tr("Stop laying parts on sheets"))} {
    setObjectName(QStringLiteral("buckDesk"));
    choice_->setObjectName(QStringLiteral("buckPages"));
    choice_->setAccessibleName(tr("What of the buck is shown"));
    pieces_->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    pieces_->hide();
    add_page(make_ribs(), tr("Ribs"), QStringLiteral("ribsPage"));
    add_page(on_paper(assembly_, QStringLiteral("assemblyScroll")), tr("Assembly"), QStringLiteral("assemblyPage"));
    add_page(make_sheets(), tr("Sheets"), QStringLiteral("sheetsPage"));
    add_page(new TablesDesk(open, focus, tables_of(core::Stage::buck)), tr("Boards"), QStringLiteral("boardsPage"));
    add_page(new SettingsDesk(open, core::SettingGroup::buck), tr("Settings"), QStringLiteral("buckSettings"));
    auto* head = new QHBoxLayout;
    head->setContentsMargins(0, 0, 8, 0);
    head->addWidget(choice_, 1);
    head->addWidget(pieces_);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(4);
    column->addLayout(head);
    column->addWidget(pages_, 1);

    connect(choice_, &QTabBar::currentChanged, this, [this](int page) {
        pages_->setCurrentIndex(page);
        look();
        show_results();
    });
    connect(pieces_, &QComboBox::currentIndexChanged, this, &BuckDesk::show_results);
    connect(&open_, &OpenJob::results_changed, this, &BuckDesk::show_results);
    connect(&buck_, &OpenBuck::changed, this, &BuckDesk::show_nest);
    connect(&buck_, &OpenBuck::progressed, this,
            [this](double part) { progress_->setValue(static_cast<int>(part * k_whole)); });
    connect(&focus_, &Focus::went, this, &BuckDesk::follow_focus);
    connect(assembly_, &AssemblyDrawing::chose, this, [this](std::size_t rib) { choose_rib(static_cast<int>(rib)); });
    show_results();
}

void BuckDesk::add_page(QWidget* page, const QString& name, const QString& object_name) {
    page->setObjectName(object_name);
    pages_->addWidget(page);
    choice_->setTabData(choice_->addTab(name), object_name);
}

BuckDesk::Stepped BuckDesk::make_steps(const QString& name, const QString& what) {
    const auto step = [&](const QString& sign, const QString& end, const QString& said) {
        auto* button = dressed(new QToolButton, name + end, said);
        button->setText(sign);
        button->setMinimumWidth(looks::k_target);
        button->setFocusPolicy(Qt::StrongFocus);
        button->setToolTip(said);
        return button;
    };
    const Stepped made{step(QStringLiteral("−"), QStringLiteral("Before"), tr("The %1 before").arg(what)),
                       dressed(new QComboBox, name, tr("Which %1").arg(what)),
                       step(QStringLiteral("+"), QStringLiteral("Beyond"), tr("The next %1").arg(what))};
    made.list->setMinimumWidth(k_least_list);
    made.list->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    const auto go = [list = made.list](int by) {
        const int to = list->currentIndex() + by;
        if (to >= 0 && to < list->count()) {
            list->setCurrentIndex(to);
        }
    };
    connect(made.before, &QToolButton::clicked, this, [go] { go(-1); });
    connect(made.beyond, &QToolButton::clicked, this, [go] { go(1); });
    return made;
}

QWidget* BuckDesk::make_ribs() {
    ribs_ = make_steps(QStringLiteral("rib"), tr("rib"));
    auto* row = new QHBoxLayout;
    row->setContentsMargins(8, 0, 8, 0);
    row->addWidget(ribs_.before);
    row->addWidget(ribs_.list);
    row->addWidget(ribs_.beyond);
    row->addStretch(1);
    connect(ribs_.list, &QComboBox::currentIndexChanged, this, &BuckDesk::choose_rib);
    return below(row, on_paper(rib_, QStringLiteral("ribScroll")));
}

QWidget* BuckDesk::make_sheets() {
    sheets_ = make_steps(QStringLiteral("sheet"), tr("sheet"));
    nest_words_->setObjectName(QStringLiteral("nestWords"));
    progress_->setObjectName(QStringLiteral("nestProgress"));
    progress_->setAccessibleName(tr("Part of the tries made"));
    progress_->setRange(0, k_whole);
    progress_->setTextVisible(false);
    progress_->setFixedHeight(k_bar_height);
    auto* row = new QHBoxLayout;
    row->setContentsMargins(8, 0, 8, 0);
    row->addWidget(sheets_.before);
    row->addWidget(sheets_.list);
    row->addWidget(sheets_.beyond);
    row->addWidget(nest_words_);
    row->addWidget(progress_, 1);
    row->addStretch(1);
    row->addWidget(stop_);
    connect(stop_, &QPushButton::clicked, this, [this] { buck_.computing() ? buck_.stop() : buck_.go_on(); });
    connect(sheets_.list, &QComboBox::currentIndexChanged, this, &BuckDesk::show_nest);
    return below(row, on_paper(nest_, QStringLiteral("nestScroll")));
}

std::vector<ComposedPaper*> BuckDesk::papers() {
    return {rib_, assembly_, nest_};
}

void BuckDesk::showEvent(QShowEvent* event) {
    QWidget::showEvent(event);
    look();
    show_results();
}

void BuckDesk::hideEvent(QHideEvent* event) {
    QWidget::hideEvent(event);
    look();
}

/// Sheets are computed while they are seen.
void BuckDesk::look() {
    buck_.want(isVisible() && on_page("sheetsPage"));
}

bool BuckDesk::on_page(const char* name) const {
    return pages_->currentWidget()->objectName() == QLatin1String(name);
}

std::size_t BuckDesk::piece() const {
    return static_cast<std::size_t>(std::max(0, pieces_->currentIndex()));
}

std::optional<std::size_t> BuckDesk::chosen_rib() const {
    const int rib = ribs_.list->currentIndex();
    return rib < 0 ? std::nullopt : std::optional(static_cast<std::size_t>(rib));
}

void BuckDesk::choose_rib(int rib) {
    if (rib < 0 || rib >= static_cast<int>(rib_choices_.size())) {
        return;
    }
    {
        const QSignalBlocker quiet(ribs_.list);
        ribs_.list->setCurrentIndex(rib);
    }
    focus_.go_to(rib_choices_[static_cast<std::size_t>(rib)].along);
    show_results();
}

/// The rib nearest to the plumb line. One that stands at the same place as another stays where it was chosen.
void BuckDesk::follow_focus() {
    const auto along = focus_.along();
    const auto chosen = chosen_rib();
    if (!along || (chosen && rib_choices_[*chosen].along == *along)) {
        return;
    }
    if (const auto nearest = nearest_rib(rib_choices_, *along)) {
        const QSignalBlocker quiet(ribs_.list);
        ribs_.list->setCurrentIndex(static_cast<int>(*nearest));
    }
    show_results();
}

void BuckDesk::show_results() {
    if (!isVisible() && open_.results()) {
        return;  // shown anew when it is seen again
    }
    if (open_.dragging()) {
        return;  // the plan stands still under the hand
    }
    const auto results = open_.results();
    QStringList names;
    QStringList ribs;
    std::vector<RibChoice> choices;
    if (results) {
        for (const std::string& name : buck_pieces(*results)) {
            names << text_of(name);
        }
        fill(*pieces_, names);
        choices = ribs_of(*results, piece());
    }
    for (const RibChoice& rib : choices) {
        ribs << text_of(rib.words);
    }
    const bool other = choices.size() != rib_choices_.size();
    rib_choices_ = std::move(choices);
    pieces_->setVisible(names.size() > 1);
    fill(*ribs_.list, ribs);
    if (other && focus_.along()) {
        if (const auto nearest = nearest_rib(rib_choices_, *focus_.along())) {
            const QSignalBlocker quiet(ribs_.list);
            ribs_.list->setCurrentIndex(static_cast<int>(*nearest));
        }
    }
    const int rib = ribs_.list->currentIndex();
    ribs_.list->setEnabled(!ribs.isEmpty());
    ribs_.before->setEnabled(rib > 0);
    ribs_.beyond->setEnabled(rib + 1 < ribs.size());
    if (!results) {
        RibPicture picture;
        AssemblyPicture assembly;
        picture.words = assembly.words = tr("Nothing is computed yet.").toStdString();
        rib_->set_picture(std::move(picture));
        assembly_->set_picture(std::move(assembly));
    } else if (on_page("ribsPage")) {
        rib_->set_picture(rib_of_job(*results, piece(), chosen_rib().value_or(0)));
    } else if (on_page("assemblyPage")) {
        assembly_->set_picture(assembly_of_job(*results, piece(), chosen_rib()));
    }
    show_nest();
}

void BuckDesk::show_nest() {
    const auto results = open_.results();
    const SharedWork& work = buck_.work();
    QStringList sheets;
    const int count = work ? static_cast<int>(sheet_count(*work)) : 0;
    for (int i = 1; i <= count; ++i) {
        sheets << tr("sheet %1 of %2").arg(i).arg(count);
    }
    fill(*sheets_.list, sheets);
    const int sheet = sheets_.list->currentIndex();
    sheets_.list->setEnabled(count > 0);
    sheets_.before->setEnabled(sheet > 0);
    sheets_.beyond->setEnabled(sheet + 1 < count);
    progress_->setVisible(buck_.computing());
    stop_->setVisible(buck_.computing() || buck_.stopped());
    stop_->setText(buck_.computing() ? tr("Stop") : tr("Look for a better one"));
    stop_->setAccessibleName(stop_->text());
    nest_words_->setText(work ? text_of(nest_words(*work)) : QString());
    if (!on_page("sheetsPage")) {
        return;
    }
    NestPicture picture;
    if (results && work) {
        picture = nest_of_job(*results, *work, static_cast<std::size_t>(std::max(0, sheet)));
    } else if (!buck_.failure().isEmpty()) {
        picture.words = buck_.failure().toStdString();
    } else {
        picture.words = (buck_.computing() ? tr("Parts are being laid on sheets …")
                         : buck_.stopped() ? tr("Stopped before there was a first sheet.")
                                           : tr("Nothing is computed yet."))
                            .toStdString();
    }
    nest_->set_picture(std::move(picture));
}

}  // namespace sillwright::app
