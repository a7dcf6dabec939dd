#include "app/desk/forming_desk.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QStackedWidget>
#include <QVBoxLayout>
#include <algorithm>

#include "app/desk/dressed.h"
#include "app/desk/focus.h"
#include "app/desk/open_job.h"
#include "app/desk/page_choice.h"
#include "app/desk/settings_desk.h"
#include "app/desk/tables_desk.h"
#include "app/drawings/flute_drawing.h"
#include "app/drawings/ladder_drawing.h"
#include "app/drawings/platen_drawing.h"
#include "app/drawings/thickness_plot.h"
#include "app/link/flutes_of_job.h"
#include "app/link/forming_of_job.h"
#include "app/link/ladder_of_job.h"
#include "app/link/platen_of_job.h"
#include "app/link/thickness_of_job.h"
#include "app/text_of.h"
#include "core/evaluate.h"

namespace sillwright::app {

namespace {

/// A list of names in a box; what was chosen stays chosen while it is there.
void fill(QComboBox& box, const std::vector<std::string>& names) {
    const QSignalBlocker quiet(&box);
    const QString chosen = box.currentText();
    QStringList texts;
    for (const std::string& name : names) {
        texts << text_of(name);
    }
    QStringList there;
    for (int i = 0; i < box.count(); ++i) {
        there << box.itemText(i);
    }
    if (texts != there) {
        box.clear();
        box.addItems(texts);
        box.setCurrentIndex(std::max(0, static_cast<int>(texts.indexOf(chosen))));
    }
}

}  // namespace

FormingDesk::FormingDesk(OpenJob& open, Focus& focus, QWidget* parent)
    : QWidget(parent),
      open_{open},
      focus_{focus},
      choice_{new PageChoice},
      pieces_{dressed(new QComboBox, QStringLiteral("formedPiece"), tr("Which piece of the skirt"))},
      pages_{new QStackedWidget},
      platen_{new PlatenDrawing},
      thickness_{new ThicknessPlot},
      flutes_{new FluteDrawing},
      ladder_{new LadderDrawing},
      section_shows_{new PageChoice},
      dimensions_{dressed(new QComboBox, QStringLiteral("ladderDimension"), tr("Which dimension"))} {
    setObjectName(QStringLiteral("formingDesk"));
    choice_->setObjectName(QStringLiteral("formingPages"));
    choice_->setAccessibleName(tr("What of the forming is shown"));
    pieces_->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    pieces_->hide();
    add_page(on_paper(platen_, QStringLiteral("platenScroll")), tr("Machine"), QStringLiteral("machinePage"));
    add_page(make_thickness(), tr("Thickness"), QStringLiteral("thicknessPage"));
    add_page(on_paper(flutes_, QStringLiteral("fluteScroll")), tr("Flutes"), QStringLiteral("flutesPage"));
    add_page(make_ladder(), tr("Ladder"), QStringLiteral("ladderPage"));
    add_page(new TablesDesk(open, focus, tables_of(core::Stage::forming)), tr("Lists"), QStringLiteral("formingLists"));
    add_page(new SettingsDesk(open, core::SettingGroup::forming), tr("Settings"), QStringLiteral("formingSettings"));
    add_page(new SettingsDesk(open, core::SettingGroup::router), tr("Router"), QStringLiteral("routerSettings"));
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
        show_results();
        emit in_section_changed();
    });
    connect(section_shows_, &QTabBar::currentChanged, this, &FormingDesk::in_section_changed);
    connect(pieces_, &QComboBox::currentIndexChanged, this, &FormingDesk::show_results);
    connect(dimensions_, &QComboBox::currentIndexChanged, this, &FormingDesk::show_results);
    connect(&open_, &OpenJob::results_changed, this, &FormingDesk::show_results);
    connect(&focus_, &Focus::went, this, &FormingDesk::show_results);
    connect(thickness_, &ThicknessPlot::went, &focus_,
            [this](double along_mm) { focus_.go_to(geometry::millimetres(along_mm)); });
    show_results();
}

void FormingDesk::add_page(QWidget* page, const QString& name, const QString& object_name) {
    page->setObjectName(object_name);
    pages_->addWidget(page);
    choice_->setTabData(choice_->addTab(name), object_name);
}

QWidget* FormingDesk::on_paper(ComposedPaper* paper, const QString& object_name) {
    auto* page = new QWidget;
    auto* scroll = new QScrollArea;
    scroll->setObjectName(object_name);
    scroll->setAccessibleName(paper->accessibleName());
    scroll->setWidget(paper);
    scroll->setWidgetResizable(true);
    scroll->setFocusPolicy(Qt::NoFocus);
    auto* column = new QVBoxLayout(page);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(4);
    column->addWidget(scroll, 1);
    return page;
}

/// Below the plot, what the section above shows of it.
QWidget* FormingDesk::make_thickness() {
    QWidget* page = on_paper(thickness_, QStringLiteral("thicknessScroll"));
    section_shows_->setObjectName(QStringLiteral("sectionShows"));
    section_shows_->setAccessibleName(tr("What the section shows"));
    for (const QString& name : {tr("Thickness"), tr("Draft"), tr("Neither")}) {
        section_shows_->addTab(name);
    }
    auto* row = new QHBoxLayout;
    row->setContentsMargins(8, 0, 8, 0);
    row->addWidget(label_beside(tr("In the section:")));
    row->addWidget(section_shows_);
    row->addStretch(1);
    static_cast<QVBoxLayout*>(page->layout())->addLayout(row);
    return page;
}

QWidget* FormingDesk::make_ladder() {
    QWidget* page = on_paper(ladder_, QStringLiteral("ladderScroll"));
    dimensions_->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    auto* row = new QHBoxLayout;
    row->setContentsMargins(8, 0, 8, 0);
    row->addWidget(label_beside(tr("Dimension:")));
    row->addWidget(dimensions_);
    row->addStretch(1);
    static_cast<QVBoxLayout*>(page->layout())->insertLayout(0, row);
    return page;
}

std::vector<ComposedPaper*> FormingDesk::papers() {
    return {platen_, thickness_, flutes_, ladder_};
}

SectionForming FormingDesk::in_section() const {
    if (pages_->currentWidget()->objectName() != QLatin1String("thicknessPage")) {
        return SectionForming::none;
    }
    switch (section_shows_->currentIndex()) {
        case 0:
            return SectionForming::thickness;
        case 1:
            return SectionForming::draft;
        default:
            return SectionForming::none;
    }
}

void FormingDesk::showEvent(QShowEvent* event) {
    QWidget::showEvent(event);
    show_results();
}

std::size_t FormingDesk::piece() const {
    return static_cast<std::size_t>(std::max(0, pieces_->currentIndex()));
}

void FormingDesk::list_pieces() {
    const auto results = open_.results();
    const std::vector<std::string> names = results ? formed_pieces(*results) : std::vector<std::string>();
    fill(*pieces_, names);
    pieces_->setVisible(names.size() > 1);
}

void FormingDesk::list_dimensions() {
    const auto results = open_.results();
    fill(*dimensions_, results ? ladder_names(*results, piece()) : std::vector<std::string>());
    dimensions_->setEnabled(dimensions_->count() > 0);
}

void FormingDesk::show_results() {
    if (!isVisible() && open_.results()) {
        return;  // shown anew when it is seen again
    }
    if (open_.dragging()) {
        return;  // the plan stands still under the hand
    }
    list_pieces();
    list_dimensions();
    const auto results = open_.results();
    if (!results) {
        const std::string words = tr("Nothing is computed yet.").toStdString();
        PlatenPicture platen;
        ThicknessPicture thickness;
        FlutePicture flutes;
        LadderPicture ladder;
        platen.words = thickness.words = flutes.words = ladder.words = words;
        platen_->set_picture(std::move(platen));
        thickness_->set_picture(std::move(thickness));
        flutes_->set_picture(std::move(flutes));
        ladder_->set_picture(std::move(ladder));
        return;
    }
    const QString page = pages_->currentWidget()->objectName();
    if (page == QLatin1String("machinePage")) {
        platen_->set_picture(platen_of_job(*results, piece()));
    } else if (page == QLatin1String("thicknessPage")) {
        thickness_->set_picture(thickness_of_job(*results, piece(), focus_.along()));
    } else if (page == QLatin1String("flutesPage")) {
        flutes_->set_picture(flutes_of_job(*results, piece()));
    } else if (page == QLatin1String("ladderPage")) {
        const auto dimension = static_cast<std::size_t>(std::max(0, dimensions_->currentIndex()));
        ladder_->set_picture(ladder_of_job(*results, piece(), dimension));
    }
}

}  // namespace sillwright::app
