#include "app/desk/photo_desk.h"

#include <QComboBox>
#include <QFileDialog>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QVBoxLayout>
#include <algorithm>

#include "app/desk/dressed.h"
#include "app/desk/open_book.h"
#include "app/desk/open_job.h"
#include "app/desk/photo_bar.h"
#include "app/desk/row_layout.h"
#include "app/desk/underlays.h"
#include "app/drawings/photo_drawing.h"
#include "app/looks.h"
#include "app/text_of.h"
#include "core/edit/underlay_edit.h"
#include "core/shape_files.h"
#include "core/typed.h"

namespace sillwright::app {

using core::survey::Photo;
using core::survey::PhotoPlane;
using core::survey::PhotoPoint;
using Eigen::Vector2d;

namespace {

QString mm_words(double mm) {
    return QString::number(mm, 'f', 1);
}

}  // namespace

PhotoDesk::PhotoDesk(Underlays& underlays, QWidget* parent)
    : QWidget(parent), underlays_{underlays}, drawing_{new PhotoDrawing} {
    setObjectName(QStringLiteral("photoDesk"));
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(6, 6, 6, 6);
    column->addWidget(make_top());
    column->addWidget(drawing_, 1);
    column->addWidget(make_point());
    words_ = new QLabel;
    words_->setObjectName(QStringLiteral("photoWords"));
    words_->setFont(looks::font(looks::k_text));
    words_->setWordWrap(true);
    words_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    words_->setMargin(4);
    column->addWidget(words_);

    OpenJob& open = underlays_.book().job();
    connect(&underlays_, &Underlays::changed, this, &PhotoDesk::follow);
    connect(&open, &OpenJob::job_changed, this, &PhotoDesk::follow);
    connect(&open, &OpenJob::opened, this, &PhotoDesk::follow);
    connect(drawing_, &PhotoDrawing::picked, this, [this](const Vector2d& at_px) {
        if (const Photo* now = photo()) {
            const std::size_t count = now->points.size();
            if (underlays_.book().job().apply(core::pick_photo_point(underlays_.book().job().job(), chosen_, at_px))) {
                point_ = count;
                follow();
                book_point_->setFocus(Qt::OtherFocusReason);
            }
        }
    });
    connect(drawing_, &PhotoDrawing::chose, this, [this](std::size_t mark) {
        point_ = mark;
        show_point();
    });
    connect(drawing_, &PhotoDrawing::moved, this, [this](std::size_t mark, const Vector2d& to_px) {
        underlays_.book().job().apply(core::move_photo_point(underlays_.book().job().job(), chosen_, mark, to_px));
    });
    const auto remove = [this](std::size_t mark) {
        underlays_.book().job().apply(core::delete_photo_point(underlays_.book().job().job(), chosen_, mark));
    };
    connect(drawing_, &PhotoDrawing::delete_wished, this, remove);
    connect(delete_point_, &QPushButton::clicked, this, [this, remove] {
        if (point_) {
            remove(*point_);
        }
    });
    connect(drawing_, &PhotoDrawing::pointed, this, &PhotoDesk::point);
    follow();
}

QWidget* PhotoDesk::make_top() {
    auto* top = new QWidget;
    auto* row = new RowLayout(top);
    row->setContentsMargins(0, 0, 0, 4);
    auto* add = dressed(new QPushButton(tr("Add a photo…")), QStringLiteral("addPhoto"), tr("Add a photo"));
    connect(add, &QPushButton::clicked, this, &PhotoDesk::ask_for_photo);
    row->addWidget(add);
    photos_ = dressed(new QComboBox, QStringLiteral("photoChoice"), tr("Photo"));
    photos_->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    connect(photos_, &QComboBox::activated, this, [this](int index) {
        chosen_ = photos_->itemText(index).toStdString();
        point_.reset();
        follow();
    });
    row->addWidget(photos_);
    auto* shows = label_beside(tr("shows"));
    row->addWidget(shows);
    plane_ = dressed(new QComboBox, QStringLiteral("photoPlane"), tr("What the photo shows"));
    plane_->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    shows->setBuddy(plane_);
    connect(plane_, &QComboBox::activated, this, &PhotoDesk::set_plane);
    row->addWidget(plane_);
    auto* pick = dressed(new QPushButton(tr("Add a point")), QStringLiteral("addPhotoPoint"), tr("Add a point"));
    pick->setToolTip(tr("<p>A point in the middle of what is seen; arrow keys move it. Or press on the photo.</p>"));
    connect(pick, &QPushButton::clicked, this, [this] {
        emit drawing_->picked(drawing_->from_paper(QRectF(drawing_->rect()).center()));
        drawing_->setFocus(Qt::OtherFocusReason);
    });
    row->addWidget(pick);
    auto* fit = dressed(new QPushButton(tr("Fit")), QStringLiteral("fitPhoto"), tr("Fit the photo to the paper"));
    connect(fit, &QPushButton::clicked, drawing_, &PhotoDrawing::fit);
    row->addWidget(fit);
    delete_photo_ =
        dressed(new QPushButton(tr("Delete the photo")), QStringLiteral("deletePhoto"), tr("Delete the photo"));
    connect(delete_photo_, &QPushButton::clicked, this,
            [this] { underlays_.book().job().apply(core::delete_photo(underlays_.book().job().job(), chosen_)); });
    row->addWidget(delete_photo_);
    return top;
}

QWidget* PhotoDesk::make_point() {
    point_row_ = new QWidget;
    auto* row = new RowLayout(point_row_);
    row->setContentsMargins(0, 4, 0, 0);
    which_ = label_beside({});
    row->addWidget(which_);
    book_point_ = dressed(new QComboBox, QStringLiteral("photoBookPoint"), tr("The measuring book's point"));
    book_point_->setSizeAdjustPolicy(QComboBox::AdjustToContents);
    connect(book_point_, &QComboBox::activated, this, [this](int index) {
        if (point_) {
            underlays_.book().job().apply(
                core::name_photo_point(underlays_.book().job().job(), chosen_, *point_,
                                       index == 0 ? std::string() : book_point_->itemText(index).toStdString()));
        }
    });
    row->addWidget(book_point_);
    const auto field = [&](const QString& name, const QString& accessible, bool across) {
        auto* edit = dressed(new QLineEdit, name, accessible);
        edit->setFixedWidth(120);
        connect(edit, &QLineEdit::editingFinished, this, [this, edit, across] { type(across, edit); });
        return edit;
    };
    across_name_ = label_beside({});
    row->addWidget(across_name_);
    across_ = field(QStringLiteral("photoAcross"), tr("The point's place across"), true);
    row->addWidget(across_);
    row->addWidget(label_beside(tr("up")));
    up_ = field(QStringLiteral("photoUp"), tr("The point's height"), false);
    row->addWidget(up_);
    delete_point_ =
        dressed(new QPushButton(tr("Delete the point")), QStringLiteral("deletePhotoPoint"), tr("Delete the point"));
    row->addWidget(delete_point_);
    return point_row_;
}

const Photo* PhotoDesk::photo() const {
    const auto& photos = underlays_.book().job().job().photos;
    const auto found = std::find_if(photos.begin(), photos.end(), [&](const Photo& p) { return p.name == chosen_; });
    return found == photos.end() ? nullptr : &*found;
}

std::shared_ptr<const LaidPhoto> PhotoDesk::laid() const {
    for (const auto& one : underlays_.laid().photos) {
        if (one->photo.name == chosen_) {
            return one;
        }
    }
    return nullptr;
}

void PhotoDesk::follow() {
    const core::Job& job = underlays_.book().job().job();
    if (photo() == nullptr) {
        chosen_ = job.photos.empty() ? std::string() : job.photos.front().name;
        point_.reset();
    }
    photos_->clear();
    for (const Photo& one : job.photos) {
        photos_->addItem(text_of(one.name));
    }
    photos_->setCurrentText(text_of(chosen_));
    plane_->clear();
    plane_->addItem(tr("the car's side"));
    for (const core::Station& station : job.stations) {
        plane_->addItem(tr("the section at station %1").arg(text_of(station.name)), text_of(station.name));
    }
    const Photo* now = photo();
    for (QWidget* widget : std::initializer_list<QWidget*>{photos_, plane_, delete_photo_,
                                                           findChild<QWidget*>(QStringLiteral("addPhotoPoint")),
                                                           findChild<QWidget*>(QStringLiteral("fitPhoto"))}) {
        if (widget != nullptr) {
            widget->setEnabled(now != nullptr);
        }
    }
    if (now == nullptr) {
        drawing_->show_sentence(
            tr("No photo yet. Take one of a section or of the car's side with four measured marks in it, near the "
               "corners of what matters and in its plane, and add it here: it is straightened by them and lies in "
               "true scale under the drawing."));
        words_->clear();
        show_point();
        return;
    }
    const int index = plane_->findData(text_of(now->station));
    plane_->setCurrentIndex(now->plane == PhotoPlane::elevation ? 0 : index);
    const auto found = laid();
    if (!found || found->picture.isNull()) {
        drawing_->show_sentence(found && !found->failure.isEmpty() ? found->failure : tr("The photo is being read."));
        words_->clear();
        show_point();
        return;
    }
    std::vector<PhotoMark> marks;
    for (std::size_t i = 0; i < now->points.size(); ++i) {
        const PhotoPoint& p = now->points[i];
        PhotoMark mark;
        mark.at_px = Vector2d(p.right_px, p.down_px);
        mark.words = p.point.empty() ? QString::number(i + 1) : text_of(p.point);
        const bool of_now = found->photo == *now;
        if (of_now && found->rectified.points[i].known_mm) {
            mark.known = true;
            const auto& residual = found->rectified.points[i].residual_mm;
            if (residual && found->rectified.map->degrees_of_freedom() > 0) {
                mark.words += tr(" · off by %1 mm").arg(mm_words(residual->norm()));
            }
        } else if (of_now) {
            mark.words += tr(" · place not known");
        }
        marks.push_back(std::move(mark));
    }
    drawing_->show_photo(found->picture, found->photo_per_picture, std::move(marks));
    QStringList words;
    if (!found->rectified.lacks.empty()) {
        words << text_of(found->rectified.lacks);
    } else if (found->rectified.map) {
        words << (found->rectified.map->degrees_of_freedom() > 0
                      ? tr("Straightened by %1 points, %2 mm rms off.")
                            .arg(found->rectified.map->residuals().size())
                            .arg(mm_words(found->rectified.rms_mm))
                      : tr("Straightened by 4 points; a fifth would check them."));
        words << (now->plane == PhotoPlane::section ? tr("It lies under the section of its station.")
                                                    : tr("It lies under the side of the strip."));
        words << tr("Hatched there: less sure than %1 mm. What the lens bends is left in.")
                     .arg(geometry::in_mm(core::survey::k_trace_limit));
    }
    for (const std::string& caution : found->rectified.cautions) {
        words << text_of(caution);
    }
    words_->setText(words.join(QStringLiteral(" ")));
    show_point();
}

void PhotoDesk::show_point() {
    const Photo* now = photo();
    if (now == nullptr || (point_ && *point_ >= now->points.size())) {
        point_.reset();
    }
    drawing_->choose(point_);
    point_row_->setEnabled(point_.has_value());
    book_point_->clear();
    book_point_->addItem(tr("is at the typed place"));
    for (const core::survey::PlacedPoint& placed : underlays_.book().results().solution.points) {
        book_point_->addItem(text_of(placed.name));
    }
    const bool side = now != nullptr && now->plane == PhotoPlane::elevation;
    across_name_->setText(side ? tr("along") : tr("out"));
    which_->setText(point_ ? tr("Point %1").arg(*point_ + 1) : tr("No point chosen"));
    const QSignalBlocker no_across(across_);
    const QSignalBlocker no_up(up_);
    across_->clear();
    up_->clear();
    if (!point_) {
        return;
    }
    const PhotoPoint& p = now->points[*point_];
    if (!p.point.empty()) {
        if (book_point_->findText(text_of(p.point)) < 0) {
            book_point_->addItem(text_of(p.point));
        }
        book_point_->setCurrentText(text_of(p.point));
    }
    const core::BareUnit unit = underlays_.book().job().job().unit;
    across_->setText(p.across ? text_of(core::entry_text(*p.across, unit)) : QString());
    up_->setText(p.up ? text_of(core::entry_text(*p.up, unit)) : QString());
}

void PhotoDesk::type(bool across, QLineEdit* field) {
    const Photo* now = photo();
    if (now == nullptr || !point_ || *point_ >= now->points.size()) {
        return;
    }
    const OpenJob& open = underlays_.book().job();
    const auto& entry = across ? now->points[*point_].across : now->points[*point_].up;
    const std::string before = entry ? core::entry_text(*entry, open.job().unit) : std::string();
    const std::string typed = field->text().trimmed().toStdString();
    if (typed != before) {
        underlays_.book().job().apply(core::type_photo_point(
            open.job(), chosen_, *point_, across ? core::PhotoNumber::across : core::PhotoNumber::up, typed));
        show_point();
    }
}

void PhotoDesk::point(const Vector2d& at_px) {
    const auto found = laid();
    const Photo* now = photo();
    const auto at = found && found->rectified.map ? found->rectified.map->map(at_px) : std::nullopt;
    const auto sd = at ? found->rectified.sd_at(at_px) : std::nullopt;
    if (!at || !sd || now == nullptr) {
        drawing_->say({});
        return;
    }
    const QString place = (now->plane == PhotoPlane::section ? tr("out %1 · up %2") : tr("along %1 · up %2"))
                              .arg(mm_words(at->x()), mm_words(at->y()));
    const double mm = geometry::in_mm(*sd);
    drawing_->say(*sd > core::survey::k_trace_limit
                      ? tr("%1 · sd %2 mm: not sure enough to trace").arg(place, mm_words(mm))
                      : tr("%1 · sd %2 mm").arg(place, mm_words(mm)));
}

void PhotoDesk::set_plane() {
    const QString station = plane_->currentData().toString();
    underlays_.book().job().apply(core::set_photo_plane(
        underlays_.book().job().job(), chosen_,
        plane_->currentIndex() == 0 ? PhotoPlane::elevation : PhotoPlane::section, station.toStdString()));
}

void PhotoDesk::ask_for_photo() {
    const QString file = QFileDialog::getOpenFileName(this, tr("Add a photo"), {}, tr("Photos (*.png *.jpg *.jpeg)"));
    if (!file.isEmpty()) {
        add(file);
    }
}

void PhotoDesk::add(const QString& file) {
    OpenJob& open = underlays_.book().job();
    if (open.file().empty()) {
        emit open.refused(tr("Save the job first: the photo is put beside it."));
        return;
    }
    if (const auto read = read_picture(file); !read) {
        emit open.refused(text_of(read.error().message));
        return;
    }
    const auto brought = core::bring_file(file.toStdString(), open.folder());
    if (!brought) {
        emit open.refused(text_of(brought.error().message));
        return;
    }
    const core::Job& job = open.job();
    const bool section = !job.stations.empty();
    if (open.apply(core::add_photo(job, brought.value(), section ? PhotoPlane::section : PhotoPlane::elevation,
                                   section ? job.stations.front().name : std::string()))) {
        chosen_ = open.job().photos.back().name;
        point_.reset();
        follow();
    }
}

}  // namespace sillwright::app
