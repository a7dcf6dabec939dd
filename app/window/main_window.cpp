#include "app/window/main_window.h"

#include <QAction>
#include <QCoreApplication>
#include <QFileDialog>
#include <QGuiApplication>
#include <QHBoxLayout>
#include <QLabel>
#include <QListView>
#include <QMenuBar>
#include <QMessageBox>
#include <QPushButton>
#include <QScreen>
#include <QSplitter>
#include <QVBoxLayout>
#include <algorithm>
#include <utility>

#include "app/cautions.h"
#include "app/drawings/section_drawing.h"
#include "app/drawings/solid_view.h"
#include "app/finding_look.h"
#include "app/looks.h"
#include "app/desk/finding_card.h"
#include "app/desk/findings_model.h"
#include "core/drawn_loft.h"

namespace sillwright::app {

using geometry::in_mm;

namespace {

constexpr int k_text = 16;
constexpr int k_heading_text = 20;
constexpr int k_side_text = 24;
constexpr int k_target = 44;
constexpr int k_findings_width = 430;

QPushButton* step_button(const QString& text, const QString& name, const QString& spoken) {
    auto* button = new QPushButton(text);
    button->setObjectName(name);
    button->setAccessibleName(spoken);
    button->setToolTip(spoken);
    button->setFont(looks::font(k_heading_text, true));
    button->setFixedSize(k_target, k_target);
    return button;
}

QLabel* label(const QString& name, int pixels, bool bold = false) {
    auto* label = new QLabel;
    label->setObjectName(name);
    label->setFont(looks::font(pixels, bold));
    return label;
}

/// "3 · 700 mm" at a station, "3.9 · 700 mm" between two.
QString words(const core::Job& job, geometry::Length along) {
    for (const core::Station& station : job.stations) {
        if (station.along.value == along) {
            return QStringLiteral("%1 · %2 mm")
                .arg(QString::fromStdString(station.name))
                .arg(QString::number(in_mm(along), 'f', 1).remove(QStringLiteral(".0")));
        }
    }
    return QString::fromStdString(core::place_words(job, along));
}

/// The first place that a finding has, from the worst on; else the middle station.
std::optional<geometry::Length> first_place(const FindingsModel& findings, const std::vector<core::Station>& stations) {
    for (int row = 0; row < findings.rowCount(); ++row) {
        if (const auto along = findings.finding(row).place.along) {
            return along;
        }
    }
    return stations.empty() ? std::nullopt : std::optional(stations[stations.size() / 2].along.value);
}

QString path_words(const std::filesystem::path& path) {
    return QString::fromStdString(path.string());
}

void set_paper_palette(QWidget* window) {
    QPalette palette = window->palette();
    palette.setColor(QPalette::Window, looks::colours(looks::Tone::light).desk);
    palette.setColor(QPalette::Base, looks::colours(looks::Tone::light).desk);
    palette.setColor(QPalette::Button, looks::colours(looks::Tone::light).paper);
    for (const auto role : {QPalette::WindowText, QPalette::Text, QPalette::ButtonText}) {
        palette.setColor(role, looks::colours(looks::Tone::light).graphite);
    }
    for (const auto role : {QPalette::WindowText, QPalette::Text, QPalette::ButtonText}) {
        palette.setColor(QPalette::Disabled, role, QColor(0x8A, 0x84, 0x78));
    }
    palette.setColor(QPalette::Highlight, looks::colours(looks::Tone::light).skirt);
    palette.setColor(QPalette::HighlightedText, looks::colours(looks::Tone::light).paper);
    window->setPalette(palette);
}

}  // namespace

MainWindow::MainWindow(CoreLink core, QWidget* parent)
    : QMainWindow(parent),
      core_{std::move(core)},
      model_{new FindingsModel(this)},
      vehicle_{label(QStringLiteral("vehicle"), k_heading_text, true)},
      side_{label(QStringLiteral("side"), k_side_text, true)},
      place_{label(QStringLiteral("station"), k_text, true)},
      before_{step_button(QStringLiteral("−"), QStringLiteral("stationBefore"), tr("Station before"))},
      beyond_{step_button(QStringLiteral("+"), QStringLiteral("stationBeyond"), tr("Next station"))},
      count_{label(QStringLiteral("findingCount"), k_text)},
      drawing_{new SectionDrawing},
      solid_{new SolidView} {
    setFont(looks::font(k_text));
    set_paper_palette(this);
    make_menus();

    auto* drawings = new QSplitter(Qt::Vertical);
    drawings->addWidget(make_section_side());
    drawings->addWidget(solid_);
    drawings->setSizes({600, 260});
    drawings->setStretchFactor(0, 1);
    drawings->setChildrenCollapsible(false);
    auto* sides = new QSplitter(Qt::Horizontal);
    sides->addWidget(drawings);
    sides->addWidget(make_findings_side());
    sides->setStretchFactor(0, 1);
    sides->setChildrenCollapsible(false);

    auto* page = new QWidget;
    auto* column = new QVBoxLayout(page);
    column->addWidget(make_heading());
    column->addWidget(sides, 1);
    setCentralWidget(page);
    resize(QSize(1400, 900).boundedTo(screen()->availableSize()));
    show_failure(tr("No job is open. Choose Open in the menu Job."));
}

void MainWindow::make_menus() {
    menuBar()->setFont(looks::font(k_text));
    menuBar()->setStyleSheet(
        QStringLiteral("QMenuBar { background: %2; }"
                       "QMenuBar::item { padding: 10px 14px; }"
                       "QMenuBar::item:selected { background: %1; }")
            .arg(looks::colours(looks::Tone::light).edge.name(), looks::colours(looks::Tone::light).desk.name()));
    QMenu* job = menuBar()->addMenu(tr("&Job"));
    job->setFont(looks::font(k_text));
    QAction* open = job->addAction(tr("&Open…"));
    open->setObjectName(QStringLiteral("open"));
    open->setShortcut(QKeySequence::Open);
    connect(open, &QAction::triggered, this, &MainWindow::ask_for_job);
    QAction* quit = job->addAction(tr("&Quit"));
    quit->setObjectName(QStringLiteral("quit"));
    quit->setShortcut(QKeySequence::Quit);
    connect(quit, &QAction::triggered, this, &QWidget::close);

    QMenu* help = menuBar()->addMenu(tr("&Help"));
    help->setFont(looks::font(k_text));
    QAction* about = help->addAction(tr("&About and cautions"));
    about->setObjectName(QStringLiteral("about"));
    about->setShortcut(QKeySequence::HelpContents);
    connect(about, &QAction::triggered, this, &MainWindow::show_about);
}

QWidget* MainWindow::make_heading() {
    auto* heading = new QWidget;
    auto* row = new QHBoxLayout(heading);
    row->setContentsMargins(4, 0, 4, 0);
    row->addWidget(vehicle_, 1);
    row->addWidget(side_);
    vehicle_->setTextFormat(Qt::PlainText);
    vehicle_->setWordWrap(true);
    vehicle_->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);  // a long name must not widen the window
    return heading;
}

QWidget* MainWindow::make_section_side() {
    auto* widget = new QWidget;
    auto* row = new QHBoxLayout;
    row->addWidget(before_);
    row->addWidget(place_);
    row->addWidget(beyond_);
    row->addStretch(1);
    place_->setTextFormat(Qt::PlainText);
    connect(before_, &QPushButton::clicked, this, [this] { step_station(-1); });
    connect(beyond_, &QPushButton::clicked, this, [this] { step_station(1); });
    auto* column = new QVBoxLayout(widget);
    column->setContentsMargins(0, 0, 0, 0);
    column->addLayout(row);
    column->addWidget(drawing_, 1);
    return widget;
}

QWidget* MainWindow::make_findings_side() {
    auto* list = new QListView;
    list->setObjectName(QStringLiteral("findings"));
    list->setAccessibleName(tr("Findings, worst margin first"));
    list->setModel(model_);
    list->setItemDelegate(new FindingCard(list));
    list->setResizeMode(QListView::Adjust);
    list->setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    list->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    list->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOn);  // so that the cards' width never jumps
    list->setFrameShape(QFrame::NoFrame);
    connect(list, &QListView::clicked, this, [this](const QModelIndex& index) { go_to_finding(index.row()); });
    connect(list, &QListView::activated, this, [this](const QModelIndex& index) { go_to_finding(index.row()); });
    count_->setWordWrap(true);

    auto* widget = new QWidget;
    auto* column = new QVBoxLayout(widget);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(count_);
    column->addWidget(list, 1);
    widget->setMinimumWidth(k_findings_width);
    return widget;
}

void MainWindow::show_job(CheckedJob checked) {
    checked_ = std::move(checked);
    const core::Job& job = checked_->job;
    QString title = QString::fromStdString(job.vehicle);
    if (!job.revision.empty()) {
        title += tr(" · revision %1").arg(QString::fromStdString(job.revision));
    }
    vehicle_->setText(title);
    side_->setText(job.side == core::Side::right ? tr("RIGHT SIDE") : tr("LEFT SIDE"));
    setWindowTitle(title + QStringLiteral(" · ") + side_->text() + QStringLiteral(" · Sillwright"));
    count_->setText(QString::fromStdString(count_sentence(checked_->findings)));
    model_->set_findings(checked_->findings);
    show_solids();
    stations_ = job.stations;
    std::stable_sort(stations_.begin(), stations_.end(),
                     [](const auto& a, const auto& b) { return a.along.value < b.along.value; });
    along_ = first_place(*model_, stations_);
    show_section();
}

void MainWindow::show_failure(const QString& sentence) {
    checked_.reset();
    stations_.clear();
    along_.reset();
    vehicle_->setText(QStringLiteral("Sillwright"));
    side_->clear();
    count_->clear();
    setWindowTitle(QStringLiteral("Sillwright"));
    model_->set_findings({});
    solid_->show_scene({});
    show_section();
    drawing_->show_sentence(sentence);
}

geometry::Status MainWindow::open_job(const std::filesystem::path& file) {
    QGuiApplication::setOverrideCursor(Qt::WaitCursor);
    auto checked = core_.check(file);
    QGuiApplication::restoreOverrideCursor();
    if (!checked) {
        show_failure(QString::fromStdString(checked.error().message));
        return checked.error();
    }
    show_job(std::move(checked).value());
    return std::monostate{};
}

void MainWindow::ask_for_job() {
    const QString folder = checked_ ? path_words(checked_->file.parent_path()) : QString();
    const QString file =
        QFileDialog::getOpenFileName(this, tr("Open a job"), folder, tr("Jobs (*.sillwright);;All files (*)"));
    if (!file.isEmpty()) {
        // A failure is on the paper already.
        static_cast<void>(open_job(QFile::encodeName(file).toStdString()));
    }
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
    box.setFont(looks::font(k_text));
    box.exec();
}

const core::Station* MainWindow::station_beyond(int by) const {
    const core::Station* beyond = nullptr;
    for (const core::Station& station : stations_) {
        const bool before = along_ && station.along.value < *along_;
        const bool behind = along_ && station.along.value > *along_;
        if (by < 0 && before) {
            beyond = &station;  // the last of those before
        } else if (by > 0 && behind) {
            return &station;
        }
    }
    return beyond;
}

void MainWindow::step_station(int by) {
    if (const core::Station* station = station_beyond(by)) {
        along_ = station->along.value;
        show_section();
    }
}

void MainWindow::go_to_finding(int row) {
    if (const auto along = model_->finding(row).place.along) {
        along_ = along;
        show_section();
    }
}

void MainWindow::show_solids() {
    auto solids = checked_->solids();
    if (solids) {
        solid_->show_scene(std::move(solids).value());
    } else {
        solid_->show_sentence(QString::fromStdString(solids.error().message));
    }
}

void MainWindow::show_section() {
    before_->setEnabled(station_beyond(-1) != nullptr);
    beyond_->setEnabled(station_beyond(1) != nullptr);
    if (!checked_ || !along_) {
        place_->setText(tr("no station"));
        drawing_->show_sentence(tr("No station is marked along the car, so there is no section to show."));
        return;
    }
    place_->setText(words(checked_->job, *along_));
    auto section = checked_->section_at(*along_);
    if (section) {
        drawing_->show_section(std::move(section).value());
    } else {
        drawing_->show_sentence(QString::fromStdString(section.error().message));
    }
}

}  // namespace sillwright::app
