#include "app/drawings/solid_canvas.h"

#include <Eigen/Geometry>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPaintEngine>
#include <QPainterPath>
#include <QWheelEvent>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "app/drawings/thickness_tint.h"

namespace sillwright::app {

using Eigen::Vector3d;

namespace {

/// Notches of a wheel come as eighths of a degree, 15 degrees each (Qt's documentation of QWheelEvent).
constexpr double k_notch = 120.0;
constexpr double k_zoom_step = 1.2;   ///< Of a notch or a key.
constexpr double k_key_turn = 5.0;    ///< Degrees of one arrow key.
constexpr int k_hand_shakes = 5;      ///< Pixels that a press may move and still be none.
constexpr double k_mount_reach = 12;  ///< Pixels from a mount's middle where a press means it, over a body.
constexpr double k_print_scale = 3;   ///< Least number of dots to a pixel on paper: some 300 to the inch.
constexpr int k_most_pixels = 4096;   ///< Of a printed picture's side: 350 mm at 300 to the inch.

SolidPart part_of(const SolidBody& body) {
    switch (body.role) {
        case SolidRole::door:
            return {SolidPart::Kind::door, body.part_of};
        case SolidRole::skirt:
            return {SolidPart::Kind::skirt, body.name};
        case SolidRole::body:
            break;
    }
    return {SolidPart::Kind::body, body.name};
}

/// A circle across `axis` as a polygon on the sheet.
QPolygonF disc(const SolidMount& mount, double radius_mm, const SolidLook& look, const QSizeF& sheet) {
    constexpr int corners = 32;
    const Vector3d a = mount.axis.unitOrthogonal();
    const Vector3d b = mount.axis.cross(a);
    QPolygonF polygon;
    for (int i = 0; i < corners; ++i) {
        const double turn = 2.0 * std::numbers::pi * i / corners;
        polygon << look.on_sheet(mount.at_mm + radius_mm * (std::cos(turn) * a + std::sin(turn) * b), sheet);
    }
    return polygon;
}

}  // namespace

SolidCanvas::SolidCanvas(QWidget* parent) : Paper(parent) {
    setObjectName(QStringLiteral("solidCanvas"));
    setAccessibleName(tr("The solid in the round: arrows turn it, plus and minus zoom, Home shows all"));
    setFocusPolicy(Qt::StrongFocus);
    setMouseTracking(true);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
    look_ = looking_from(LookFrom::corner, right_hand_, look_);
    painter_ = std::make_unique<SolidPainter>([this](const PaintedSolid& solid) {
        QMetaObject::invokeMethod(
            this, [this, solid] { take(solid); }, Qt::QueuedConnection);
    });
}

SolidCanvas::~SolidCanvas() = default;

void SolidCanvas::show_bodies(const std::vector<SolidBody>& bodies, const std::vector<SolidMount>& mounts) {
    std::vector<PickedBody> standing;
    for (const SolidBody& body : bodies) {
        const auto known = std::find_if(standing_.begin(), standing_.end(),
                                        [&](const PickedBody& other) { return other.mesh == body.mesh; });
        standing.push_back(
            {body.mesh, known != standing_.end() ? known->bounds : bounds_of(*body.mesh), DoorPose::Identity()});
    }
    bodies_ = bodies;
    standing_ = std::move(standing);
    mounts_ = mounts;
    want();
}

void SolidCanvas::set_pose(std::size_t door, const DoorPose& pose) {
    for (std::size_t i = 0; i < bodies_.size(); ++i) {
        if (bodies_[i].door == door) {
            standing_[i].pose = pose;
        }
    }
    want();
}

void SolidCanvas::show_dimension(const std::optional<SolidDimension>& dimension, bool holds) {
    if (dimension != dimension_ || holds != dimension_holds_) {
        dimension_ = dimension;
        dimension_holds_ = holds;
        update();
    }
}

void SolidCanvas::show_section(std::optional<geometry::Length> x) {
    if (x != section_) {
        section_ = x;
        want();
    }
}

void SolidCanvas::show_chosen(const SolidPart& part) {
    if (part != chosen_) {
        chosen_ = part;
        update();
        want();
    }
}

void SolidCanvas::show_note(const QString& words) {
    note_ = words;
    update();
}

void SolidCanvas::show_tints(const std::vector<std::string>& words) {
    tints_ = words;
    update();
}

void SolidCanvas::show_pointed(const QString& words) {
    pointed_ = words;
    update();
}

void SolidCanvas::set_right_hand(bool right_hand) {
    if (right_hand != right_hand_) {
        right_hand_ = right_hand;
        look_so(looking_from(LookFrom::corner, right_hand_, look_));
        fit();
    }
}

void SolidCanvas::look_from(LookFrom from) {
    look_ = looking_from(from, right_hand_, look_);
    fit();
}

void SolidCanvas::fit() {
    fitted_ = true;
    fitted_about_.clear();
    for (const PickedBody& body : standing_) {
        fitted_about_.push_back(body.bounds);
        fitted_about_.push_back(bounds_of(body.bounds, body.pose));
    }
    refit();
    want();
}

void SolidCanvas::refit() {
    if (fitted_) {
        look_ = fitted(look_, fitted_about_, QSizeF(size()));
    }
}

void SolidCanvas::look_so(const SolidLook& look) {
    if (look != look_) {
        fitted_ = false;
        look_ = look;
        want();
    }
}

SolidPicture SolidCanvas::picture_of(const QSize& pixels, const SolidLook& look, bool fine) const {
    SolidPicture picture;
    for (std::size_t i = 0; i < bodies_.size(); ++i) {
        const bool chosen = chosen_.kind != SolidPart::Kind::none && chosen_ == part_of(bodies_[i]);
        picture.bodies.push_back({bodies_[i].role, bodies_[i].mesh, standing_[i].pose, chosen, bodies_[i].tints});
        picture.about.take_in(standing_[i].bounds);
    }
    for (const SolidMount& mount : mounts_) {
        picture.watched_mm.push_back(mount.at_mm);
    }
    picture.section = section_;
    picture.look = look;
    picture.tone = tone();
    picture.pixels = pixels;
    picture.fine = fine;
    picture.number = number_;
    return picture;
}

/// What changes in one go (bodies, then the poses of their doors) is one picture.
void SolidCanvas::want() {
    ++number_;
    if (!std::exchange(wish_waits_, true)) {
        QMetaObject::invokeMethod(this, &SolidCanvas::send_wish, Qt::QueuedConnection);
    }
}

void SolidCanvas::send_wish() {
    wish_waits_ = false;
    if (isVisible() && !size().isEmpty()) {
        painter_->want(picture_of(size() * devicePixelRatioF(), look_, false));
    }
}

void SolidCanvas::take(const PaintedSolid& solid) {
    const bool older = solid.number < shown_.number;
    const bool rougher = solid.number == shown_.number && shown_.fine && !solid.fine && !shown_.image.isNull();
    if (!older && !rougher) {
        std::vector<bool> hidden = std::move(shown_.hidden);
        shown_ = solid;
        if (!solid.fine) {
            shown_.hidden = std::move(hidden);  // until all is still
        }
        update();
        emit painted();
    }
}

void SolidCanvas::settle() {
    if (!size().isEmpty()) {
        take(painter_->now(picture_of(size() * devicePixelRatioF(), look_, true)));
    }
}

QImage SolidCanvas::picture(const QSize& pixels) const {
    QImage image(pixels, QImage::Format_RGB32);
    image.fill(colours().paper);
    QPainter painter(&image);
    draw(painter, QSizeF(pixels));
    return image;
}

QImage SolidCanvas::turning_picture(const QSize& pixels) const {
    return painter_->now(picture_of(pixels, look_, false)).image;
}

QString SolidCanvas::title() const {
    return tr("in the round");
}

void SolidCanvas::draw(QPainter& painter, const QSizeF& sheet) const {
    painter.fillRect(QRectF(QPointF(0, 0), sheet), colours().paper);
    PaintedSolid shown = shown_;
    const bool pixels = painter.paintEngine()->type() == QPaintEngine::Raster;
    const double scale = std::max(painter.deviceTransform().m11(), pixels ? 0.0 : k_print_scale);
    const bool on_screen = pixels && sheet == QSizeF(size()) && scale <= devicePixelRatioF();
    if (!on_screen) {
        const QSizeF wanted = sheet * scale;
        const double less = std::min(1.0, k_most_pixels / std::max(wanted.width(), wanted.height()));
        shown = painter_->now(picture_of((wanted * less).toSize().expandedTo({1, 1}), look_, true));
    }
    if (!shown.failure.isEmpty()) {
        painter.setPen(colours().graphite);
        painter.setFont(looks::font(looks::k_text));
        painter.drawText(QRectF(QPointF(0, 0), sheet).adjusted(24, 24, -24, -24), Qt::AlignCenter | Qt::TextWordWrap,
                         shown.failure);
        return;
    }
    if (shown.image.isNull()) {
        return;  // the first is being drawn
    }
    // A picture of another size is shown at its own scale until the new one is there.
    const QSizeF had(shown.image.size());
    const double factor = std::min(sheet.width(), sheet.height()) / std::min(had.width(), had.height());
    const QSizeF covered = had * factor;
    painter.save();
    painter.setClipRect(QRectF(QPointF(0, 0), sheet));
    painter.setRenderHint(QPainter::SmoothPixmapTransform, !on_screen);
    painter.drawImage(
        QRectF(QPointF((sheet.width() - covered.width()) / 2, (sheet.height() - covered.height()) / 2), covered),
        shown.image);
    draw_over(painter, sheet, shown);
    painter.setPen(colours().pencil);
    painter.setFont(looks::font(looks::k_text));
    const QRectF inner = QRectF(QPointF(0, 0), sheet).adjusted(8, 4, -8, -4);
    painter.drawText(inner, Qt::AlignLeft | Qt::AlignTop, note_);
    draw_tints(painter, inner.topLeft() + QPointF(0, note_.isEmpty() ? 0 : painter.fontMetrics().height()));
    painter.setPen(colours().pencil);
    painter.drawText(inner, Qt::AlignLeft | Qt::AlignBottom,
                     !pointed_.isEmpty() ? pointed_
                     : shown.in_software ? tr("drawn in software")
                                         : QString());
    painter.restore();
}

void SolidCanvas::draw_over(QPainter& painter, const QSizeF& sheet, const PaintedSolid& shown) const {
    painter.setRenderHint(QPainter::Antialiasing);
    draw_mounts(painter, sheet, shown);
    draw_dimension(painter, sheet, shown.look);
}

/// What the tints mean: a row of patches, and the numbers at their edges below them.
void SolidCanvas::draw_tints(QPainter& painter, const QPointF& corner) const {
    if (tints_.empty()) {
        return;
    }
    constexpr double k_wide = 44.0;
    constexpr double k_high = 10.0;
    const ThicknessTint tint({}, {}, tone());
    const double line = painter.fontMetrics().height();
    const auto count = static_cast<double>(tints_.size());
    painter.fillRect(QRectF(corner, QSizeF(count * k_wide, k_high + line)), colours().paper);
    for (std::size_t i = 0; i < tints_.size(); ++i) {
        const QPointF left = corner + QPointF(static_cast<double>(i) * k_wide, 0.0);
        if (i + 1 < tints_.size()) {
            painter.setPen(QPen(colours().edge, 1.0));
            painter.setBrush(tint.of_step(static_cast<int>(i)));
            painter.drawRect(QRectF(left + QPointF(k_wide / 2.0, 0.0), QSizeF(k_wide, k_high)));
        }
        painter.setPen(colours().graphite);
        painter.drawText(QRectF(left + QPointF(0.0, k_high), QSizeF(k_wide, line)), Qt::AlignCenter,
                         QString::fromStdString(tints_[i]));
    }
    painter.setBrush(Qt::NoBrush);
}

/// What a body hides is dashed, as on any drawing.
void SolidCanvas::draw_mounts(QPainter& painter, const QSizeF& sheet, const PaintedSolid& shown) const {
    constexpr double k_least_radius = 4.0;
    const double mm_per_pixel = shown.look.mm_per_pixel(sheet);
    for (std::size_t i = 0; i < mounts_.size(); ++i) {
        const SolidMount& mount = mounts_[i];
        const bool chosen = chosen_.kind == SolidPart::Kind::mount && chosen_.name == mount.name;
        const bool hidden = i < shown.hidden.size() && shown.hidden[i];
        const double radius_mm =
            std::max(geometry::in_mm(mount.radius), (chosen ? 1.8 : 1.0) * k_least_radius * mm_per_pixel);
        QPen pen(colours().graphite, hidden ? (chosen ? 2.0 : 1.0) : (chosen ? 3.0 : 1.5));
        if (hidden) {
            pen.setDashPattern({2.0, 1.5});
            pen.setCapStyle(Qt::FlatCap);
        }
        painter.setPen(pen);
        painter.setBrush(hidden ? QBrush(Qt::NoBrush) : QBrush(colours().paper));
        painter.drawPolygon(disc(mount, radius_mm, shown.look, sheet));
        if (chosen) {
            const QPointF clear_of =
                dimension_ ? shown.look.on_sheet((dimension_->from_mm + dimension_->to_mm) / 2.0, sheet) : QPointF();
            draw_name(painter, shown.look.on_sheet(mount.at_mm, sheet), QString::fromStdString(mount.name), clear_of);
        }
    }
}

/// Beside a place, on a patch of paper; on its other side if it would cover the dimension, at `clear_of`.
void SolidCanvas::draw_name(QPainter& painter, const QPointF& beside, const QString& name,
                            const QPointF& clear_of) const {
    painter.setFont(looks::font(looks::k_text, true));
    QRectF patch(QPointF(0, 0), QSizeF(painter.fontMetrics().size(0, name)) + QSizeF(10, 2));
    patch.moveBottomLeft(beside + QPointF(10, -8));
    if (dimension_ && patch.adjusted(-14, -14, 14, 14).contains(clear_of)) {
        patch.moveTopRight(beside + QPointF(-10, 8));
    }
    painter.setPen(QPen(colours().edge, 1));
    painter.setBrush(colours().paper);
    painter.drawRoundedRect(patch, 4, 4);
    painter.setPen(colours().graphite);
    painter.drawText(patch, Qt::AlignCenter, name);
}

void SolidCanvas::draw_dimension(QPainter& painter, const QSizeF& sheet, const SolidLook& look) const {
    if (!dimension_) {
        return;
    }
    constexpr double k_ring = 10.0;  // round the place, so that a gap of a pixel is found
    constexpr double k_side = 16.0;  // of the state's shape
    constexpr double k_pad = 6.0;
    const QPointF from = look.on_sheet(dimension_->from_mm, sheet);
    const QPointF to = look.on_sheet(dimension_->to_mm, sheet);
    const QPointF middle = (from + to) / 2.0;
    const QColor colour = dimension_holds_ ? looks::text_colour(dimension_->state, tone()) : colours().pencil;
    const QString opening = QString::number(geometry::in_deg(dimension_->at), 'f', 1) + QChar(0x00B0);
    const QString words = dimension_holds_ ? QString::fromStdString(dimension_->words)
                                           : tr("%1 at %2").arg(QString::fromStdString(dimension_->words), opening);
    painter.setFont(looks::font(dimension_holds_ ? looks::k_number : looks::k_text, dimension_holds_));
    const QSizeF text(painter.fontMetrics().size(0, words));
    QRectF box(QPointF(0, 0), QSizeF(text.width() + k_side + 3 * k_pad, text.height() + k_pad));
    box.moveCenter(middle + QPointF(box.width() / 2 + 18, -box.height() / 2 - 26));
    box.moveLeft(std::clamp(box.left(), 4.0, std::max(4.0, sheet.width() - box.width() - 4)));
    box.moveTop(std::clamp(box.top(), 4.0, std::max(4.0, sheet.height() - box.height() - 4)));

    QPen pen(colour, dimension_holds_ ? 2.5 : 1.5);
    if (!dimension_holds_) {
        pen.setStyle(Qt::DashLine);
    }
    painter.setPen(pen);
    painter.setBrush(Qt::NoBrush);
    painter.drawLine(from, to);
    painter.drawEllipse(middle, std::max(k_ring, QLineF(from, to).length() / 2 + 4),
                        std::max(k_ring, QLineF(from, to).length() / 2 + 4));
    painter.drawLine(middle + QPointF(0.7, -0.7) * k_ring, QPointF(std::clamp(middle.x(), box.left(), box.right()),
                                                                   std::clamp(middle.y(), box.top(), box.bottom())));
    painter.setBrush(colours().paper);
    painter.drawRoundedRect(box, 6, 6);
    looks::draw_shape(painter, QRectF(box.left() + k_pad, box.center().y() - k_side / 2, k_side, k_side),
                      dimension_->state, tone());
    painter.setPen(colour);
    painter.drawText(box.adjusted(k_side + 2 * k_pad, 0, 0, 0), Qt::AlignLeft | Qt::AlignVCenter, words);
}

SolidPart SolidCanvas::part_at(const QPointF& point, Vector3d& at_mm) const {
    const QSizeF sheet(size());
    const auto hit = hit_at(standing_, look_, point, sheet);
    double least = hit ? k_mount_reach : looks::k_target / 2.0;
    SolidPart part;
    for (const SolidMount& mount : mounts_) {
        const double off = QLineF(look_.on_sheet(mount.at_mm, sheet), point).length();
        if (off <= least) {
            least = off;
            part = {SolidPart::Kind::mount, mount.name};
            at_mm = mount.at_mm;
        }
    }
    if (part.kind == SolidPart::Kind::none && hit) {
        at_mm = hit->at_mm;
        part = part_of(bodies_[hit->body]);
    }
    return part;
}

void SolidCanvas::paintEvent(QPaintEvent* event) {
    Paper::paintEvent(event);
    if (hasFocus()) {
        QPainter painter(this);
        painter.setPen(QPen(colours().graphite, 2));
        painter.drawRect(rect().adjusted(1, 1, -1, -1));
    }
}

void SolidCanvas::showEvent(QShowEvent* event) {
    Paper::showEvent(event);
    refit();
    want();
}

void SolidCanvas::resizeEvent(QResizeEvent* event) {
    Paper::resizeEvent(event);
    refit();
    want();
}

void SolidCanvas::changeEvent(QEvent* event) {
    Paper::changeEvent(event);
    if (event->type() == QEvent::PaletteChange) {
        want();
    }
}

void SolidCanvas::focusInEvent(QFocusEvent* /*event*/) {
    update();
}

void SolidCanvas::focusOutEvent(QFocusEvent* /*event*/) {
    update();
}

void SolidCanvas::mousePressEvent(QMouseEvent* event) {
    if (event->buttons() == event->button()) {  // the first that goes down
        pressed_at_ = event->position();
        dragged_ = false;
    } else {
        dragged_ = true;  // two buttons never choose
    }
    last_at_ = event->position();
}

void SolidCanvas::mouseMoveEvent(QMouseEvent* event) {
    const QPointF at = event->position();
    if (event->buttons() == Qt::NoButton) {
        Vector3d at_mm = Vector3d::Zero();
        const SolidPart part = part_at(at, at_mm);
        emit pointed(part, at_mm);
        return;
    }
    if (!dragged_ && QLineF(at, pressed_at_).length() < k_hand_shakes) {
        return;
    }
    dragged_ = true;
    const QPointF by = at - std::exchange(last_at_, at);
    const bool moves = event->buttons() != Qt::LeftButton;
    look_so(moves ? moved(look_, by, QSizeF(size())) : turned(look_, by, QSizeF(size())));
}

void SolidCanvas::mouseReleaseEvent(QMouseEvent* event) {
    last_at_ = event->position();
    if (event->button() == Qt::LeftButton && event->buttons() == Qt::NoButton && !dragged_) {
        Vector3d at_mm = Vector3d::Zero();
        if (const SolidPart part = part_at(event->position(), at_mm); part.kind != SolidPart::Kind::none) {
            emit pressed(part, at_mm);
        }
    }
}

void SolidCanvas::wheelEvent(QWheelEvent* event) {
    const double factor = std::pow(k_zoom_step, event->angleDelta().y() / k_notch);
    look_so(zoomed(look_, factor, event->position(), QSizeF(size())));
    event->accept();
}

void SolidCanvas::leaveEvent(QEvent* event) {
    Paper::leaveEvent(event);
    emit pointed({}, Vector3d::Zero());
}

void SolidCanvas::keyPressEvent(QKeyEvent* event) {
    const QSizeF sheet(size());
    const double step = k_key_turn / 180.0 * std::min(sheet.width(), sheet.height());
    switch (event->key()) {
        case Qt::Key_Left:
            return look_so(turned(look_, {-step, 0}, sheet));
        case Qt::Key_Right:
            return look_so(turned(look_, {step, 0}, sheet));
        case Qt::Key_Up:
            return look_so(turned(look_, {0, -step}, sheet));
        case Qt::Key_Down:
            return look_so(turned(look_, {0, step}, sheet));
        case Qt::Key_Plus:
        case Qt::Key_Equal:
            return look_so(zoomed(look_, k_zoom_step, QRectF(rect()).center(), sheet));
        case Qt::Key_Minus:
            return look_so(zoomed(look_, 1.0 / k_zoom_step, QRectF(rect()).center(), sheet));
        case Qt::Key_Home:
            return fit();
        default:
            Paper::keyPressEvent(event);
    }
}

}  // namespace sillwright::app
