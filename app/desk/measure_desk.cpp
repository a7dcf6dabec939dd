#include "app/desk/measure_desk.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QMenu>
#include <QPushButton>
#include <QResizeEvent>
#include <QScrollArea>
#include <QSplitter>
#include <QStackedWidget>
#include <QTabBar>
#include <QVBoxLayout>

#include "app/desk/better_desk.h"
#include "app/desk/book_desk.h"
#include "app/desk/book_line.h"
#include "app/desk/compare_desk.h"
#include "app/desk/focus.h"
#include "app/desk/frame_desk.h"
#include "app/desk/hinge_desk.h"
#include "app/desk/network_desk.h"
#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/desk/page_choice.h"
#include "app/looks.h"

namespace sillwright::app {

namespace {

/// From here on picture and table stand side by side.
constexpr int k_room_for_two = 1250;
constexpr int k_picture_part = 55;
constexpr int k_table_part = 45;

}  // namespace

MeasureDesk::MeasureDesk(OpenBook& book, Focus& focus, QWidget* parent)
    : QWidget(parent),
      book_{book},
      choice_{new PageChoice},
      pages_{new QStackedWidget},
      sheets_button_{new QPushButton(tr("Sheets"))},
      sheets_{new QMenu(sheets_button_)},
      line_{new BookLine(book)},
      body_{new QStackedWidget},
      halves_{new QSplitter(Qt::Vertical)},
      network_{new NetworkDesk(book, focus)},
      table_{new BookDesk(book, focus)},
      compare_{new CompareDesk(book)},
      hinges_{new HingeDesk(book)},
      better_{new BetterDesk(book.job())} {
    setObjectName(QStringLiteral("measureDesk"));
    choice_->setObjectName(QStringLiteral("measurePages"));
    choice_->setAccessibleName(tr("What of the measuring is shown"));
    sheets_button_->setObjectName(QStringLiteral("bookSheets"));
    sheets_button_->setAccessibleName(tr("Sheets and files of the book"));
    sheets_button_->setFont(looks::font(looks::k_text));
    sheets_button_->setMinimumHeight(looks::k_target);
    sheets_button_->setMenu(sheets_);
    add_page(make_book_page(), tr("Book"), QStringLiteral("bookPage"));
    add_page(new FrameDesk(book), tr("Frame"), QStringLiteral("framePage"));
    add_page(compare_, tr("Compare"), QStringLiteral("comparePage"));
    add_page(hinges_, tr("Hinges"), QStringLiteral("hingePage"));
    add_page(better_, tr("Better first"), QStringLiteral("betterPage"));

    auto* head = new QHBoxLayout;
    head->addWidget(choice_, 1);
    head->addWidget(sheets_button_);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(6, 4, 6, 4);
    column->setSpacing(6);
    column->addLayout(head);
    column->addWidget(pages_, 1);

    connect(choice_, &QTabBar::currentChanged, pages_, &QStackedWidget::setCurrentIndex);
    connect(&book_, &OpenBook::changed, this, &MeasureDesk::follow);
    connect(&book_.job(), &OpenJob::opened, this, &MeasureDesk::begin);
    connect(line_, &BookLine::written, table_, &BookDesk::show_last);
    connect(table_, &BookDesk::correct_wanted, this, &MeasureDesk::correct);
    follow();
}

void MeasureDesk::add_page(QWidget* page, const QString& name, const QString& object_name) {
    pages_->addWidget(page);
    choice_->setTabData(choice_->addTab(name), object_name);
}

QWidget* MeasureDesk::make_book_page() {
    halves_->setObjectName(QStringLiteral("bookHalves"));
    halves_->addWidget(network_);
    halves_->addWidget(table_);
    halves_->setSizes({k_picture_part, k_table_part});
    halves_->setStretchFactor(0, k_picture_part);
    halves_->setStretchFactor(1, k_table_part);
    halves_->setChildrenCollapsible(false);
    body_->addWidget(make_beginning());
    body_->addWidget(halves_);
    auto* page = new QWidget;
    auto* column = new QVBoxLayout(page);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(6);
    column->addWidget(line_);
    column->addWidget(body_, 1);
    return page;
}

/// What an empty book says.
QWidget* MeasureDesk::make_beginning() {
    auto* words = new QLabel(
        tr("<p style=\"margin:10px 0\"><b>The measuring book is empty. So it begins:</b></p>"
           "<p style=\"margin:10px 0\">1. Put marks on the body with short names: A, B, C. Clip holes are H1, H2, …</p>"
           "<p style=\"margin:10px 0\">2. Type each reading above as it is called out, one a line, with Enter: "
           "<b>A H1 1473.5</b> is the tape from A to H1. Tie each hole to three marks or more.</p>"
           "<p style=\"margin:10px 0\">3. Under <b>Frame</b> say which three marks make the car's axes. From then on "
           "each reading is seen in the picture that stands here.</p>"));
    words->setObjectName(QStringLiteral("bookBeginning"));
    words->setFont(looks::font(looks::k_text));
    words->setTextFormat(Qt::RichText);
    words->setWordWrap(true);
    words->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    words->setMargin(16);
    auto* scroll = new QScrollArea;
    scroll->setObjectName(QStringLiteral("beginningScroll"));
    scroll->setAccessibleName(tr("How the book begins"));
    scroll->setWidgetResizable(true);
    scroll->setWidget(words);
    return scroll;
}

void MeasureDesk::follow() {
    body_->setCurrentIndex(book_.job().job().book.readings.empty() ? 0 : 1);
}

void MeasureDesk::begin() {
    const core::Job& job = book_.job().job();
    const bool lists_first = job.book.readings.empty() && !job.mounts.empty();
    show_page(lists_first ? QStringLiteral("listsPage") : QStringLiteral("bookPage"));
}

void MeasureDesk::show_page(const QString& object_name) {
    for (int tab = 0; tab < choice_->count(); ++tab) {
        if (choice_->tabData(tab).toString() == object_name) {
            choice_->setCurrentIndex(tab);
        }
    }
}

void MeasureDesk::drop(const std::string& reading) {
    show_page(QStringLiteral("bookPage"));
    table_->ask_drop(reading);
}

void MeasureDesk::correct(const std::string& reading) {
    show_page(QStringLiteral("bookPage"));
    line_->correct(reading);
}

void MeasureDesk::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    halves_->setOrientation(event->size().width() >= k_room_for_two ? Qt::Horizontal : Qt::Vertical);
}

}  // namespace sillwright::app
