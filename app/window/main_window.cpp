#include "app/window/main_window.h"

#include <QAction>
#include <QActionGroup>
#include <QApplication>
#include <QCloseEvent>
#include <QDesktopServices>
#include <QDialog>
#include <QEventLoop>
#include <QFileDialog>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QMenuBar>
#include <QMessageBox>
#include <QPushButton>
#include <QScreen>
#include <QSplitter>
#include <QStackedWidget>
#include <QUrl>
#include <QVBoxLayout>
#include <algorithm>
#include <cstddef>
#include <utility>

#include "app/cautions.h"
#include "app/desk/bench_desk.h"
#include "app/desk/better_desk.h"
#include "app/desk/book_files.h"
#include "app/desk/buck_desk.h"
#include "app/desk/bumps_desk.h"
#include "app/desk/compare_desk.h"
#include "app/desk/findings_desk.h"
#include "app/desk/flange_desk.h"
#include "app/desk/forming_desk.h"
#include "app/desk/handover_desk.h"
#include "app/desk/hinge_desk.h"
#include "app/desk/history_desk.h"
#include "app/desk/matters_desk.h"
#include "app/desk/measure_desk.h"
#include "app/desk/mounts_desk.h"
#include "app/desk/network_desk.h"
#include "app/desk/open_book.h"
#include "app/desk/open_buck.h"
#include "app/desk/photo_desk.h"
#include "app/desk/plot_desk.h"
#include "app/desk/round_desk.h"
#include "app/desk/scan_desk.h"
#include "app/desk/section_desk.h"
#include "app/desk/stage_page.h"
#include "app/desk/stage_rail.h"
#include "app/desk/strip_desk.h"
#include "app/desk/tables_desk.h"
#include "app/desk/underlays.h"
#include "app/drawings/arc_drawing.h"
#include "app/drawings/bars_drawing.h"
#include "app/drawings/clearance_plot.h"
#include "app/drawings/composition.h"
#include "app/drawings/differences_drawing.h"
#include "app/drawings/flange_drawing.h"
#include "app/drawings/network_drawing.h"
#include "app/drawings/paper_copy.h"
#include "app/drawings/section_drawing.h"
#include "app/drawings/strip_drawing.h"
#include "app/looks.h"
#include "app/window/file_questions.h"
#include "app/window/first_start.h"
#include "app/window/folder_writer.h"
#include "app/window/job_files.h"
#include "app/window/job_menu.h"
#include "app/window/note_bar.h"
#include "app/window/section_area.h"
#include "app/window/top_bar.h"
#include "core/job_file.h"
#include "core/stage.h"

namespace sillwright::app {

using core::Stage;

namespace {

std::size_t number(Stage stage) {
    return static_cast<std::size_t>(stage);
}

/// At first; a person may draw the edges elsewhere.
constexpr int k_findings_width = 370;
constexpr int k_strip_height = 200;
constexpr int k_plot_height = 230;
constexpr int k_below_height = 150;
constexpr int k_stage_height = 400;
constexpr int k_matters_height = 290;
constexpr int k_room_for_table = 1000;

/// Layout and first pictures take some rounds of events.
constexpr int k_rounds = 20;
constexpr int k_wait_ms = 50;

/// Stages whose place is the section; the others have a page of their own.
bool drawn(Stage stage) {
    return stage == Stage::sections || stage == Stage::mounts || stage == Stage::swing || stage == Stage::forming;
}

/// Of those, the stages with a desk of their own below the section: which of `below_`; bumps for the others.
int below(Stage stage) {
    return stage == Stage::mounts ? 1 : stage == Stage::forming ? 2 : 0;
}

}  // namespace

MainWindow::MainWindow(CoreLink core, QWidget* parent)
    : QMainWindow(parent),
      core_{std::move(core)},
      open_{new OpenJob(this)},
      book_{new OpenBook(*open_, this)},
      buck_{new OpenBuck(*open_, this)},
      underlays_{new Underlays(*book_, this)},
      focus_{new Focus(this)},
      questions_{std::make_unique<FileDialogs>(this)},
      files_{new JobFiles(*open_, *questions_, OwnPlaces::usual(), this)},
      looks_{read_look_settings()} {
    setObjectName(QStringLiteral("mainWindow"));
    wear(looks_.tone);
    make_actions();
    menus_ = new QMenuBar;
    top_bar_ = new TopBar(menus_, undo_, print_);
    note_ = new NoteBar;
    rail_ = new StageRail;
    bench_ = new BenchDesk(*open_, *focus_);
    whole_ = new QStackedWidget;
    whole_->addWidget(make_whole());
    whole_->addWidget(bench_);
    setCentralWidget(whole_);
    make_menus();
    connect_all();
    resize(QSize(1480, 940).boundedTo(screen()->availableSize()));
    show_stage(Stage::swing);
}

MainWindow::~MainWindow() = default;

void MainWindow::make_actions() {
    const auto named = [this](QAction* action, const char* name, QKeySequence keys) {
        action->setObjectName(QLatin1String(name));
        action->setShortcut(std::move(keys));
        addAction(action);  // works in the bench look too, where no menu is seen
        return action;
    };
    undo_ = named(open_->history().createUndoAction(this, tr("undo:")), "undo", QKeySequence::Undo);
    redo_ = named(open_->history().createRedoAction(this, tr("redo:")), "redo", QKeySequence::Redo);
    print_ = named(new QAction(tr("&Print the section…"), this), "print", QKeySequence::Print);
    bench_action_ = named(new QAction(tr("&Bench look"), this), "bench", QKeySequence::FullScreen);
    bench_action_->setCheckable(true);
}

QAction* MainWindow::add_action(QMenu* menu, const char* name, const QString& text, const QKeySequence& keys) {
    QAction* action = menu->addAction(text);
    action->setObjectName(QLatin1String(name));
    action->setShortcut(keys);
    return action;
}

void MainWindow::make_menus() {
    setMenuWidget(top_bar_);
    QMenu* job = menus_->addMenu(tr("&Job"));
    add_job_actions(*job, *files_, *this);
    job->addSeparator();
    connect(add_action(job, "handOver", tr("Write the &handover folder…")), &QAction::triggered, this,
            &MainWindow::hand_over);
    job->addAction(print_);
    job->addSeparator();
    connect(add_action(job, "quit", tr("&Quit"), QKeySequence::Quit), &QAction::triggered, this, &QWidget::close);

    QMenu* edit = menus_->addMenu(tr("&Edit"));
    edit->addAction(undo_);
    edit->addAction(redo_);
    connect(add_action(edit, "showHistory", tr("&History…")), &QAction::triggered, this, &MainWindow::show_history);

    make_look_menu(menus_->addMenu(tr("&Look")));

    QMenu* stages = menus_->addMenu(tr("&Stage"));
    for (const Stage stage : core::k_stages) {
        const QString name = QString::fromStdString(core::words(stage).name);
        QAction* action = stages->addAction(name);
        action->setObjectName(QStringLiteral("open") + name);
        action->setShortcut(QKeySequence(Qt::ALT | static_cast<Qt::Key>(Qt::Key_1 + static_cast<int>(number(stage)))));
        connect(action, &QAction::triggered, this, [this, stage] { show_stage(stage); });
    }

    QMenu* help = menus_->addMenu(tr("&Help"));
    connect(add_action(help, "firstSteps", tr("&First steps"), QKeySequence::HelpContents), &QAction::triggered, this,
            &MainWindow::show_first_steps);
    connect(add_action(help, "about", tr("&About and cautions")), &QAction::triggered, this, &MainWindow::show_about);
}

void MainWindow::make_look_menu(QMenu* menu) {
    auto* papers = new QActionGroup(this);
    for (const looks::Tone tone : {looks::Tone::light, looks::Tone::dark}) {
        const bool dark = tone == looks::Tone::dark;
        QAction* paper =
            add_action(menu, dark ? "darkPaper" : "lightPaper", dark ? tr("&Dark paper") : tr("&Light paper"));
        paper->setCheckable(true);
        paper->setChecked(tone == looks_.tone);
        papers->addAction(paper);
        connect(paper, &QAction::triggered, this, [this, tone] { wear_tone(tone); });
    }
    menu->addSeparator();
    const auto add_toggle = [&](const char* name, const QString& text, const QKeySequence& keys,
                                bool LookSettings::*shown) {
        QAction* action = add_action(menu, name, text, keys);
        action->setCheckable(true);
        action->setChecked(looks_.*shown);
        connect(action, &QAction::toggled, this, [this, shown](bool on) {
            looks_.*shown = on;
            keep_look_settings(looks_);
            lay_out();
        });
    };
    add_toggle("showRound", tr("In the &round"), QKeySequence(Qt::CTRL | Qt::Key_R), &LookSettings::round_shown);
    add_toggle("showBelow", tr("&Bumps or table below"), QKeySequence(Qt::CTRL | Qt::Key_B),
               &LookSettings::below_shown);
    menu->addAction(bench_action_);
}

QWidget* MainWindow::make_whole() {
    auto* sides = new QSplitter(Qt::Horizontal);
    sides->setObjectName(QStringLiteral("sides"));
    sides->addWidget(make_middle());
    sides->addWidget(make_right());
    sides->setStretchFactor(0, 1);
    sides->setStretchFactor(1, 0);
    sides->setChildrenCollapsible(false);
    sides->setSizes({1000, k_findings_width});

    auto* desk = new QWidget;
    auto* row = new QHBoxLayout;
    row->setContentsMargins(0, 0, 6, 6);
    row->setSpacing(6);
    row->addWidget(rail_);
    row->addWidget(sides, 1);
    auto* column = new QVBoxLayout(desk);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(2);
    column->addWidget(note_);
    column->addLayout(row, 1);
    return desk;
}

QWidget* MainWindow::make_middle() {
    section_ = new SectionDesk(*open_, *focus_);
    round_ = new RoundDesk(*open_, *focus_, nullptr);
    section_area_ = new SectionArea(section_, round_);
    below_ = new QStackedWidget;
    bumps_ = new BumpsDesk(*open_, *focus_);
    below_->addWidget(bumps_);
    below_->setMinimumHeight(k_below_height);  // a row or two; the rest is scrolled to
    mounts_ = new MountsDesk(*open_, *focus_);
    below_->addWidget(mounts_);
    forming_ = new FormingDesk(*open_, *focus_);
    below_->addWidget(forming_);
    drawing_ = new QSplitter(Qt::Vertical);
    drawing_->addWidget(section_area_);
    drawing_->addWidget(below_);
    drawing_->setStretchFactor(0, 3);
    drawing_->setStretchFactor(1, 1);
    drawing_->setChildrenCollapsible(false);

    middle_ = new QStackedWidget;
    middle_->addWidget(drawing_);
    for (const Stage stage : core::k_stages) {
        if (!app::drawn(stage)) {
            pages_.at(number(stage)) = new StagePage(stage);
            sheets_.at(number(stage)) = make_page(stage);
            middle_->addWidget(sheets_.at(number(stage)));
        }
    }

    auto* column = new QSplitter(Qt::Vertical);
    strip_ = new StripDesk(*open_, *focus_);
    column->addWidget(strip_);
    column->addWidget(middle_);
    column->setStretchFactor(0, 1);
    column->setStretchFactor(1, 3);
    column->setSizes({k_strip_height, 3 * k_strip_height});
    column->setChildrenCollapsible(false);
    return column;
}

QWidget* MainWindow::make_page(Stage stage) {
    StagePage* needs = pages_.at(number(stage));
    if (stage == Stage::measure) {
        return make_measure();
    }
    if (stage == Stage::buck) {
        buck_desk_ = new BuckDesk(*open_, *buck_, *focus_);
        buck_desk_->add_page(needs, tr("Needs"), needs->objectName());
        return buck_desk_;
    }
    handover_ = new HandoverDesk(*open_);
    handover_->add_page(needs, tr("Needs"), needs->objectName());
    return handover_;
}

/// The book with all that comes of it, and as one more tab the lists with what is missing still.
QWidget* MainWindow::make_measure() {
    auto* lists = new QSplitter(Qt::Vertical);
    lists->addWidget(new TablesDesk(*open_, *focus_));
    lists->addWidget(pages_.at(number(Stage::measure)));
    lists->setSizes({3 * k_below_height, 2 * k_below_height});
    lists->setChildrenCollapsible(false);
    measure_ = new MeasureDesk(*book_, *focus_);
    measure_->add_page(lists, tr("Lists"), QStringLiteral("listsPage"));
    add_book_file_actions(measure_->sheets(), *book_, measure_);
    measure_->add_page(new PhotoDesk(*underlays_), tr("Photos"), QStringLiteral("photosPage"));
    measure_->add_page(new ScanDesk(*underlays_), tr("Scans"), QStringLiteral("scansPage"));
    return measure_;
}

QWidget* MainWindow::make_right() {
    findings_ = new FindingsDesk(*open_, *focus_);
    auto* column = new QSplitter(Qt::Vertical);
    column->addWidget(findings_);
    plot_ = new PlotDesk(*open_, *focus_);
    matters_ = new MattersDesk(*book_, *focus_);
    aside_ = new QStackedWidget;
    aside_->addWidget(plot_);
    aside_->addWidget(matters_);
    column->addWidget(aside_);
    column->setStretchFactor(0, 3);
    column->setStretchFactor(1, 1);
    column->setSizes({3 * k_plot_height, k_plot_height});
    column->setChildrenCollapsible(false);
    return column;
}

void MainWindow::connect_all() {
    section_->use(*underlays_);
    connect(underlays_, &Underlays::changed, strip_, [this] { strip_->drawing().show_photos(underlays_->of_side()); });
    connect(forming_, &FormingDesk::in_section_changed, this, &MainWindow::show_forming);
    connect(rail_, &StageRail::stage_chosen, this, &MainWindow::show_stage);
    connect(round_, &RoundDesk::unfold_wanted, this, [this](bool unfolded) {
        section_area_->unfold(unfolded);
        round_->show_unfolded(unfolded);
    });
    connect(section_area_, &SectionArea::covered, &section_->drawing(), &SectionDrawing::keep_corner_free);
    connect(matters_, &MattersDesk::drop_wanted, measure_, &MeasureDesk::drop);
    connect(matters_, &MattersDesk::correct_wanted, measure_, &MeasureDesk::correct);
    connect(open_, &OpenJob::opened, this, [this] {
        placed_ = false;
        focus_->clear();
    });
    connect(open_, &OpenJob::job_changed, this, &MainWindow::follow_job);
    connect(open_, &OpenJob::results_changed, this, &MainWindow::follow_results);
    connect(open_, &OpenJob::refused, note_, &NoteBar::say);
    connect(files_, &JobFiles::warned, note_, &NoteBar::say);
    connect(files_, &JobFiles::title_changed, this, &MainWindow::follow_job);
    files_->show_title_on(this);
    connect(bench_action_, &QAction::toggled, this, &MainWindow::show_bench);
    connect(bench_, &BenchDesk::left, bench_action_, [this] { bench_action_->setChecked(false); });
    connect_handover();
    add_copies();
}

void MainWindow::connect_handover() {
    writer_ = new FolderWriter(core_, this);
    connect(handover_, &HandoverDesk::write_wanted, this, &MainWindow::hand_over);
    connect(handover_, &HandoverDesk::stop_wanted, writer_, [this] {
        handover_->show_stopping();
        writer_->stop();
    });
    connect(handover_, &HandoverDesk::open_wanted, this,
            [](const QString& folder) { QDesktopServices::openUrl(QUrl::fromLocalFile(folder)); });
    connect(writer_, &FolderWriter::progressed, handover_, &HandoverDesk::show_progress);
    connect(writer_, &FolderWriter::written, handover_,
            [this](const HandedOver& made) { handover_->show_written(made.folder, made.notes); });
    connect(writer_, &FolderWriter::failed, handover_, &HandoverDesk::show_failure);
}

/// Every drawing copies, saves and prints as it is seen; the print button is the section's.
void MainWindow::add_copies() {
    const auto heading = [this] { return heading_of(open_->job()); };
    add_copy_actions(section_->drawing(), heading, CopyMenu::its_own);
    add_copy_actions(strip_->drawing(), heading);
    add_copy_actions(plot_->plot(), heading);
    add_copy_actions(mounts_->flange().drawing(), heading);
    for (ComposedPaper* paper : forming_->papers()) {
        add_copy_actions(*paper, heading);
    }
    for (ComposedPaper* paper : buck_desk_->papers()) {
        add_copy_actions(*paper, heading);
    }
    add_copy_actions(measure_->network().drawing(), heading);
    add_copy_actions(measure_->compare().sides(), heading);
    add_copy_actions(measure_->compare().set_ups(), heading);
    add_copy_actions(measure_->hinges().drawing(), heading);
    add_copy_actions(measure_->better().drawing(), heading);
    add_copy_actions(
        *round_,
        [this] { return copy_of(round_->picture(2 * round_->size()), tr("in the round"), QSizeF(round_->size())); },
        heading);
    for (QAction* action : section_->drawing().actions()) {
        if (action->objectName() == QLatin1String("printPicture")) {
            connect(print_, &QAction::triggered, action, &QAction::trigger);
        }
    }
}

geometry::Status MainWindow::open_file(const std::filesystem::path& file) {
    const auto job = core::read_job(file);
    if (!job) {
        note_->say(QString::fromStdString(job.error().message));
        return job.error();
    }
    files_->open(file);
    return std::monostate{};
}

void MainWindow::begin() {
    if (const auto begun = first_start::begin(*files_, first_start::sample_folders()); !begun) {
        note_->say(QString::fromStdString(begun.error().message));
    }
}

void MainWindow::settle() {
    while (open_->computing() || book_->computing()) {
        QApplication::processEvents(QEventLoop::WaitForMoreEvents, k_wait_ms);
    }
    for (int round = 0; round < k_rounds; ++round) {
        QApplication::processEvents();
    }
    if (round_->isVisible()) {
        round_->settle();
    }
    QApplication::processEvents();
}

Stage MainWindow::stage() const {
    return rail_->stage();
}

void MainWindow::show_stage(Stage stage) {
    rail_->show_stage(stage);
    lay_out();
}

void MainWindow::lay_out() {
    const Stage stage = rail_->stage();
    StagePage* page = pages_.at(number(stage));
    const bool measuring = stage == Stage::measure;
    QWidget* const sheet = sheets_.at(number(stage));
    middle_->setCurrentIndex(sheet == nullptr ? 0 : middle_->indexOf(sheet));
    aside_->setCurrentIndex(measuring ? 1 : 0);
    matters_->setMinimumHeight(measuring ? k_matters_height : 0);
    const int desk = app::below(stage);
    // Network, flange, machine and buck show the length of the car too: where there is no room for both they are
    // enough.
    strip_->setVisible((sheet == nullptr && desk == 0) || height() >= k_room_for_table);
    section_area_->show_round(looks_.round_shown);
    const bool other_below = below_->currentIndex() != desk;
    below_->setCurrentIndex(desk);
    below_->setVisible(looks_.below_shown && (desk > 0 || stage == Stage::sections));
    if (other_below || drawing_->sizes().constLast() == 0) {
        drawing_->setSizes(desk > 0 ? QList<int>{2 * k_below_height, k_stage_height}
                                    : QList<int>{4 * k_below_height, k_below_height});
    }
    show_forming();
    if (page != nullptr) {
        page->show_job(open_->job());
    }
}

/// The section and the solid show something of the forming only in that stage.
void MainWindow::show_forming() {
    const bool seen = rail_->stage() == Stage::forming && looks_.below_shown;
    const SectionForming what = seen ? forming_->in_section() : SectionForming::none;
    section_->show_forming(what);
    round_->show_forming(what);
}

void MainWindow::show_bench(bool shown) {
    whole_->setCurrentIndex(shown ? 1 : 0);
    top_bar_->setVisible(!shown);
    setWindowState(shown ? windowState() | Qt::WindowFullScreen : windowState() & ~Qt::WindowFullScreen);
    bench_action_->setChecked(shown);
}

void MainWindow::keyPressEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_Escape && bench_action_->isChecked()) {
        bench_action_->setChecked(false);
        return;
    }
    QMainWindow::keyPressEvent(event);
}

void MainWindow::resizeEvent(QResizeEvent* event) {
    QMainWindow::resizeEvent(event);
    lay_out();
}

void MainWindow::closeEvent(QCloseEvent* event) {
    event->setAccepted(files_->close());
}

void MainWindow::follow_job() {
    const core::Job& job = open_->job();
    top_bar_->show_job(files_->title(), job.side == core::Side::right ? tr("RIGHT SIDE") : tr("LEFT SIDE"));
    if (StagePage* page = pages_.at(number(stage()))) {
        page->show_job(job);
    }
}

void MainWindow::follow_results() {
    const auto results = open_->results();
    rail_->show_findings(results ? results->findings : std::vector<core::Finding>{}, !open_->current());
    if (!placed_ && (results || !open_->failure().isEmpty())) {
        placed_ = true;
        go_to_first_place();
    }
}

/// To the worst finding, its stage, door and all; where it has no place, to the middle station.
void MainWindow::go_to_first_place() {
    findings_->go_to_worst();
    if (const auto results = open_->results(); results && !results->findings.empty()) {
        const core::Finding& worst = results->findings.front();
        if (worst.state == core::State::falls_short && app::drawn(worst.stage)) {
            show_stage(worst.stage);
        }
    }
    if (open_->job().body.empty()) {
        show_stage(Stage::sections);  // nothing is drawn yet: that comes first
    }
    const auto& stations = open_->job().stations;
    if (!focus_->along() && !stations.empty()) {
        focus_->go_to(stations[stations.size() / 2].along.value);
    }
}

void MainWindow::wear_tone(looks::Tone tone) {
    looks_.tone = tone;
    keep_look_settings(looks_);
    wear(tone);
    lay_out();
}

void MainWindow::show_history() {
    QDialog dialog(this);
    dialog.setObjectName(QStringLiteral("historyDialog"));
    dialog.setWindowTitle(tr("History"));
    auto* column = new QVBoxLayout(&dialog);
    column->addWidget(new HistoryDesk(*open_));
    auto* close = new QPushButton(tr("Close"));
    close->setMinimumHeight(looks::k_target);
    connect(close, &QPushButton::clicked, &dialog, &QDialog::accept);
    column->addWidget(close, 0, Qt::AlignRight);
    dialog.resize(480, 560);
    dialog.exec();
}

void MainWindow::hand_over() {
    if (writer_->writing()) {
        note_->say(tr("The folder is being written."));
        return;
    }
    if (open_->changed() || open_->file().empty()) {
        note_->say(tr("Save the job first: the folder is made from the file."));
        return;
    }
    const QString parent = QFileDialog::getExistingDirectory(this, tr("In which folder is it to be made?"),
                                                             QString::fromStdString(open_->folder().string()));
    if (parent.isEmpty()) {
        return;
    }
    show_stage(Stage::handover);  // where it is seen how far it is
    handover_->show_begun();
    writer_->write(open_->file(),
                   std::filesystem::path(parent.toStdString()) / (open_->file().stem().string() + "-handover"));
}

void MainWindow::show_first_steps() {
    QMessageBox box(QMessageBox::NoIcon, tr("First steps"),
                    tr("<p><b>Measure:</b> type each reading as it is called out, <b>A H1 1473.5</b> with Enter; the "
                       "picture shows where it puts the hole and how sure that is.</p>"
                       "<p><b>Try the door:</b> turn it with the slider in the round; the section follows.</p>"
                       "<p><b>Look along the car:</b> drag the plumb line on the strip, or press − and +.</p>"
                       "<p><b>Move a node:</b> drag it in the section. Type a number while you hold it, and it is "
                       "written on the paper's edge.</p>"
                       "<p><b>Place a clip hole:</b> press “Place a mount”, then the rocker's line.</p>"
                       "<p><b>Mend:</b> press a finding, then “Try it”; keep it, or put it back.</p>"
                       "<p><b>Undo</b> takes back any step, one by one.</p>"),
                    QMessageBox::Close, this);
    box.setObjectName(QStringLiteral("firstStepsBox"));
    box.setTextFormat(Qt::RichText);
    box.exec();
}

void MainWindow::show_about() {
    QString text = QStringLiteral("<p><b>Sillwright %1</b></p><p>%2</p><ul>")
                       .arg(QStringLiteral(SILLWRIGHT_VERSION),
                            tr("Checks a car side skirt against the sill and the doors that it was measured for."));
    for (const std::string& caution : cautions()) {
        text += QStringLiteral("<li>") + QString::fromStdString(caution).toHtmlEscaped() + QStringLiteral("</li>");
    }
    QMessageBox box(QMessageBox::NoIcon, tr("About Sillwright"), text + QStringLiteral("</ul>"), QMessageBox::Close,
                    this);
    box.setObjectName(QStringLiteral("aboutBox"));
    box.setTextFormat(Qt::RichText);
    box.exec();
}

}  // namespace sillwright::app
