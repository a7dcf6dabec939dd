#include "app/desk/scan_desk.h"

#include <QCheckBox>
#include <QComboBox>
#include <QFileDialog>
#include <QLabel>
#include <QLineEdit>
#include <QMessageBox>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "app/desk/dressed.h"
#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/desk/row_layout.h"
#include "app/desk/underlays.h"
#include "app/drawings/scan_drawing.h"
#include "app/looks.h"
#include "app/text_of.h"
#include "core/edit/underlay_edit.h"
#include "core/shape_files.h"
#include "core/typed.h"

namespace sillwright::app {

using core::survey::Scan;
using core::survey::ScanMark;
using Eigen::Vector3d;
using geometry::in_mm;

namespace {

constexpr std::array k_units{core::BareUnit::mm, core::BareUnit::cm, core::BareUnit::in};

bool drawn_at(const core::Job& job, const std::string& station) {
    return std::any_of(job.body.sections.begin(), job.body.sections.end(), [&](const core::Section& section) {
        return section.station == station && !section.nodes.empty();
    });
}

bool may_replace(const QStringList& stations, QWidget* parent) {
    QMessageBox ask(QMessageBox::Question, QObject::tr("Replace drawn sections?"),
                    stations.size() == 1
                        ? QObject::tr("The body is drawn at station %1 already. Replace its section by the scan's?")
                              .arg(stations.front())
                        : QObject::tr("The body is drawn at stations %1 already. Replace their sections by the scan's?")
                              .arg(stations.join(QStringLiteral(", "))),
                    QMessageBox::NoButton, parent);
    ask.setObjectName(QStringLiteral("replaceSections"));
    ask.setFont(looks::font(looks::k_text));
    ask.setInformativeText(QObject::tr("Undo brings them back."));
    auto* replace = ask.addButton(QObject::tr("Replace"), QMessageBox::AcceptRole);
    replace->setObjectName(QStringLiteral("replaceDrawn"));
    replace->setMinimumHeight(looks::k_target);
    auto* leave = ask.addButton(QObject::tr("Leave as it is"), QMessageBox::RejectRole);
    leave->setMinimumHeight(looks::k_target);
    ask.setDefaultButton(leave);
    ask.exec();
    return ask.clickedButton() == replace;
}

}  // namespace

void draw_from_scan(Underlays& underlays, const LaidScan& scan, std::vector<std::string> stations, QWidget* parent) {
    OpenJob& open = underlays.book().job();
    if (!scan.placed.mesh) {
        emit open.refused(text_of(scan.placed.lacks));
        return;
    }
    const core::Job& job = open.job();
    const bool all = stations.empty();
    std::vector<geometry::Length> along;
    std::vector<std::string> names;
    for (const core::Station& station : job.stations) {
        if (all || std::find(stations.begin(), stations.end(), station.name) != stations.end()) {
            names.push_back(station.name);
            along.push_back(station.along.value);
        }
    }
    std::vector<core::ScanProfile> profiles;
    QStringList drawn;
    std::string lacks;
    const auto cuts = core::survey::cut_scan(*scan.placed.mesh, along);
    for (std::size_t i = 0; i < cuts.size(); ++i) {
        if (cuts[i].lines.empty()) {
            lacks = cuts[i].lacks;
            continue;
        }
        profiles.push_back({names[i], cuts[i].lines.front()});
        if (drawn_at(job, names[i])) {
            drawn.push_back(text_of(names[i]));
        }
    }
    if (profiles.empty()) {
        emit open.refused(job.stations.empty() ? QObject::tr("No station is marked yet. Mark stations first.")
                                               : text_of(lacks));
        return;
    }
    if (drawn.isEmpty() || may_replace(drawn, parent)) {
        const geometry::Length deviation =
            scan.scan.deviation ? scan.scan.deviation->value : core::survey::k_scan_deviation;
        open.apply(core::draw_from_scan(open.job(), profiles, deviation, !drawn.isEmpty()));
    }
}

ScanDesk::ScanDesk(Underlays& underlays, QWidget* parent)
    : QWidget(parent), underlays_{underlays}, drawing_{new ScanDrawing} {
    setObjectName(QStringLiteral("scanDesk"));
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(6, 6, 6, 6);
    column->addWidget(make_top());
    column->addWidget(drawing_, 1);
    column->addWidget(make_marks());
    words_ = new QLabel;
    words_->setObjectName(QStringLiteral("scanWords"));
    words_->setFont(looks::font(looks::k_text));
    words_->setWordWrap(true);
    words_->setMargin(4);
    words_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    column->addWidget(words_);
    column->addWidget(make_bottom());
    OpenJob& open = underlays_.book().job();
    connect(&underlays_, &Underlays::changed, this, &ScanDesk::follow);
    connect(&open, &OpenJob::job_changed, this, &ScanDesk::follow);
    connect(&open, &OpenJob::opened, this, &ScanDesk::follow);
    connect(drawing_, &ScanDrawing::picked, this, [this](const Vector3d& at_mm) {
        for (std::size_t i = 0; i < place_.size(); ++i) {
            place_[i]->setText(QString::number(at_mm(static_cast<Eigen::Index>(i)) / unit_mm(), 'f', 3));
        }
        book_point_->setFocus(Qt::OtherFocusReason);
    });
    follow();
}

QWidget* ScanDesk::make_top() {
    auto* top = new QWidget;
    auto* row = new RowLayout(top);
    row->setContentsMargins(0, 0, 0, 4);
    auto* add = dressed(new QPushButton(tr("Add a scan…")), QStringLiteral("addScan"), tr("Add a scan"));
    connect(add, &QPushButton::clicked, this, [this] {
        const QString file = QFileDialog::getOpenFileName(this, tr("Add a scan"), {},
                                                          tr("Meshes (*.stl *.obj *.ply *.STL *.OBJ *.PLY)"));
        if (!file.isEmpty()) {
            this->add(file);
        }
    });
    row->addWidget(add);
    scans_ = dressed(new QComboBox, QStringLiteral("scanChoice"), tr("Scan"));
    scans_->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    connect(scans_, &QComboBox::activated, this, [this](int index) {
        chosen_ = scans_->itemText(index).toStdString();
        follow();
    });
    row->addWidget(scans_);
    row->addWidget(label_beside(tr("its numbers are")));
    unit_ = dressed(new QComboBox, QStringLiteral("scanUnit"), tr("Unit of the scan's numbers"));
    unit_->addItems({tr("mm"), tr("cm"), tr("in")});
    connect(unit_, &QComboBox::activated, this, [this](int index) {
        underlays_.book().job().apply(
            core::set_scan_unit(underlays_.book().job().job(), chosen_, k_units.at(static_cast<std::size_t>(index))));
    });
    row->addWidget(unit_);
    row->addWidget(label_beside(tr("seen")));
    view_ = dressed(new QComboBox, QStringLiteral("scanView"), tr("From where the scan is seen"));
    view_->addItems({tr("along its z"), tr("along its y"), tr("along its x")});
    connect(view_, &QComboBox::activated, this, [this](int index) {
        drawing_->set_view(index == 0 ? ScanView::above : index == 1 ? ScanView::side : ScanView::end);
    });
    row->addWidget(view_);
    auto* fit = dressed(new QPushButton(tr("Fit")), QStringLiteral("fitScan"), tr("Fit the scan to the paper"));
    connect(fit, &QPushButton::clicked, drawing_, &ScanDrawing::fit);
    row->addWidget(fit);
    auto* remove = dressed(new QPushButton(tr("Delete the scan")), QStringLiteral("deleteScan"), tr("Delete the scan"));
    connect(remove, &QPushButton::clicked, this,
            [this] { underlays_.book().job().apply(core::delete_scan(underlays_.book().job().job(), chosen_)); });
    row->addWidget(remove);
    with_scan_ = {scans_, unit_, view_, fit, remove};
    return top;
}

QWidget* ScanDesk::make_marks() {
    auto* marks = new QWidget;
    auto* row = new RowLayout(marks);
    row->setContentsMargins(0, 4, 0, 0);
    row->addWidget(label_beside(tr("Mark")));
    book_point_ = dressed(new QComboBox, QStringLiteral("scanBookPoint"), tr("The measuring book's point"));
    book_point_->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    connect(book_point_, &QComboBox::activated, this, &ScanDesk::fill_mark);
    row->addWidget(book_point_);
    row->addWidget(label_beside(tr("is on the scan at")));
    constexpr std::array k_axes{"x", "y", "z"};
    for (std::size_t i = 0; i < place_.size(); ++i) {
        place_[i] = dressed(new QLineEdit, QStringLiteral("scanMark%1").arg(QLatin1String(k_axes[i])),
                            tr("The mark's %1 on the scan").arg(QLatin1String(k_axes[i])));
        place_[i]->setPlaceholderText(QLatin1String(k_axes[i]));
        place_[i]->setFixedWidth(110);
        connect(place_[i], &QLineEdit::returnPressed, this, &ScanDesk::set_mark);
        row->addWidget(place_[i]);
    }
    auto* set = dressed(new QPushButton(tr("Set the mark")), QStringLiteral("setScanMark"), tr("Set the mark"));
    connect(set, &QPushButton::clicked, this, &ScanDesk::set_mark);
    row->addWidget(set);
    auto* remove =
        dressed(new QPushButton(tr("Delete the mark")), QStringLiteral("deleteScanMark"), tr("Delete the mark"));
    connect(remove, &QPushButton::clicked, this, [this] {
        underlays_.book().job().apply(
            core::delete_scan_mark(underlays_.book().job().job(), chosen_, book_point_->currentText().toStdString()));
    });
    row->addWidget(remove);
    with_scan_.insert(with_scan_.end(), {book_point_, place_[0], place_[1], place_[2], set, remove});
    return marks;
}

QWidget* ScanDesk::make_bottom() {
    auto* bottom = new QWidget;
    auto* row = new RowLayout(bottom);
    row->setContentsMargins(0, 4, 0, 0);
    fitted_ = dressed(new QCheckBox(tr("Fit it to the body as drawn")), QStringLiteral("scanFitted"),
                      tr("Fit the scan to the body as drawn"));
    connect(fitted_, &QCheckBox::clicked, this, [this](bool fitted) {
        underlays_.book().job().apply(core::fit_scan(underlays_.book().job().job(), chosen_, fitted));
    });
    row->addWidget(fitted_);
    row->addWidget(label_beside(tr("Sections within")));
    deviation_ = dressed(new QLineEdit, QStringLiteral("scanDeviation"),
                         tr("Largest distance of a drawn section from the scan"));
    deviation_->setFixedWidth(90);
    deviation_->setPlaceholderText(QStringLiteral("0.2 mm"));
    connect(deviation_, &QLineEdit::editingFinished, this, [this] {
        const Scan* now = scan();
        const core::BareUnit unit = underlays_.book().job().job().unit;
        const std::string typed = deviation_->text().trimmed().toStdString();
        if (now != nullptr && typed != (now->deviation ? core::entry_text(*now->deviation, unit) : std::string())) {
            underlays_.book().job().apply(core::type_scan_deviation(underlays_.book().job().job(), chosen_, typed));
            follow();
        }
    });
    row->addWidget(deviation_);
    draw_ = dressed(new QPushButton(tr("Draw the sections from the scan")), QStringLiteral("drawFromScan"),
                    tr("Draw the body's sections from the scan"));
    connect(draw_, &QPushButton::clicked, this, &ScanDesk::draw_sections);
    row->addWidget(draw_);
    with_scan_.insert(with_scan_.end(), {fitted_, deviation_});
    return bottom;
}

const Scan* ScanDesk::scan() const {
    const auto& scans = underlays_.book().job().job().scans;
    const auto found = std::find_if(scans.begin(), scans.end(), [&](const Scan& one) { return one.name == chosen_; });
    return found == scans.end() ? nullptr : &*found;
}

std::shared_ptr<const LaidScan> ScanDesk::laid() const {
    for (const auto& one : underlays_.laid().scans) {
        if (one->scan.name == chosen_) {
            return one;
        }
    }
    return nullptr;
}

double ScanDesk::unit_mm() const {
    const Scan* now = scan();
    return in_mm(core::from_unit(1.0, now != nullptr ? now->unit : core::BareUnit::mm));
}

void ScanDesk::follow() {
    const core::Job& job = underlays_.book().job().job();
    if (scan() == nullptr) {
        chosen_ = job.scans.empty() ? std::string() : job.scans.front().name;
    }
    const Scan* now = scan();
    scans_->clear();
    for (const Scan& one : job.scans) {
        scans_->addItem(text_of(one.name));
    }
    scans_->setCurrentText(text_of(chosen_));
    const QString point = book_point_->currentText();
    book_point_->clear();
    for (const core::survey::PlacedPoint& placed : underlays_.book().results().solution.points) {
        book_point_->addItem(text_of(placed.name));
    }
    for (std::size_t i = 0; now != nullptr && i < now->marks.size(); ++i) {
        if (book_point_->findText(text_of(now->marks[i].point)) < 0) {
            book_point_->addItem(text_of(now->marks[i].point));
        }
    }
    book_point_->setCurrentIndex(std::max(0, book_point_->findText(point)));
    for (QWidget* widget : with_scan_) {
        widget->setEnabled(now != nullptr);
    }
    const auto found = laid();
    draw_->setEnabled(found && found->placed.mesh);
    if (now == nullptr) {
        drawing_->show_sentence(
            tr("No scan yet. Add a mesh of the real sill (STL, OBJ or PLY): three marks of the measuring book place "
               "it, or it is fitted to the body as drawn; then it is cut at every station."));
        words_->clear();
        return;
    }
    unit_->setCurrentIndex(static_cast<int>(std::find(k_units.begin(), k_units.end(), now->unit) - k_units.begin()));
    fitted_->setChecked(now->fitted);
    deviation_->setText(now->deviation ? text_of(core::entry_text(*now->deviation, job.unit)) : QString());
    if (!found || !found->mesh) {
        drawing_->show_sentence(found && !found->failure.isEmpty() ? found->failure : tr("The scan is being read."));
        words_->clear();
        return;
    }
    std::vector<ScanDot> dots;
    for (std::size_t i = 0; i < now->marks.size(); ++i) {
        const ScanMark& mark = now->marks[i];
        ScanDot dot;
        dot.at_mm = unit_mm() * Vector3d(mark.x, mark.y, mark.z);
        dot.words = text_of(mark.point);
        if (found->scan == *now && found->placed.marks[i].residual_mm) {
            dot.words += tr(" · off by %1 mm").arg(QString::number(found->placed.marks[i].residual_mm->norm(), 'f', 1));
        }
        dots.push_back(std::move(dot));
    }
    drawing_->show_scan(found->mesh, std::move(dots));
    QStringList words;
    words << (found->placed.mesh ? tr("Placed %1.").arg(text_of(found->placed.how)) : text_of(found->placed.lacks));
    for (const std::string& caution : found->placed.cautions) {
        words << text_of(caution);
    }
    if (underlays_.computing()) {
        words << tr("It is being placed anew.");
    }
    words_->setText(words.join(QStringLiteral(" ")));
}

void ScanDesk::fill_mark() {
    const Scan* now = scan();
    for (std::size_t i = 0; now != nullptr && i < now->marks.size(); ++i) {
        const ScanMark& mark = now->marks[i];
        if (text_of(mark.point) == book_point_->currentText()) {
            place_[0]->setText(QString::number(mark.x, 'f', 3));
            place_[1]->setText(QString::number(mark.y, 'f', 3));
            place_[2]->setText(QString::number(mark.z, 'f', 3));
        }
    }
}

void ScanDesk::set_mark() {
    OpenJob& open = underlays_.book().job();
    Vector3d at = Vector3d::Zero();
    for (std::size_t i = 0; i < place_.size(); ++i) {
        bool number = false;
        at(static_cast<Eigen::Index>(i)) = place_[i]->text().trimmed().replace(u',', u'.').toDouble(&number);
        if (!number) {
            emit open.refused(tr("\"%1\" is not a number. Press on the scan, or type the mark's x, y and z in the "
                                 "scan's own unit.")
                                  .arg(place_[i]->text()));
            place_[i]->setFocus(Qt::OtherFocusReason);
            return;
        }
    }
    if (book_point_->currentText().isEmpty()) {
        emit open.refused(tr("The measuring book places no point yet. Write readings into it first."));
        return;
    }
    if (open.apply(core::mark_scan(open.job(), chosen_, book_point_->currentText().toStdString(), at))) {
        drawing_->show_picked(std::nullopt);
    }
}

void ScanDesk::draw_sections() {
    if (const auto found = laid()) {
        draw_from_scan(underlays_, *found, {}, this);
    }
}

void ScanDesk::add(const QString& file) {
    OpenJob& open = underlays_.book().job();
    if (open.file().empty()) {
        emit open.refused(tr("Save the job first: the scan is put beside it."));
        return;
    }
    Scan trial;
    trial.path = QFileInfo(file).fileName().toStdString();
    if (const auto read = core::survey::read_scan(trial, QFileInfo(file).absolutePath().toStdString()); !read) {
        emit open.refused(text_of(read.error().message));
        return;
    }
    const auto brought = core::bring_file(file.toStdString(), open.folder());
    if (!brought) {
        emit open.refused(text_of(brought.error().message));
        return;
    }
    if (open.apply(core::add_scan(open.job(), brought.value(), core::BareUnit::mm))) {
        chosen_ = open.job().scans.back().name;
        follow();
    }
}

}  // namespace sillwright::app
