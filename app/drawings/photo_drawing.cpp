#include "app/drawings/photo_drawing.h"

#include <QFontMetricsF>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QWheelEvent>
#include <algorithm>
#include <cmath>
#include <utility>

namespace sillwright::app {

using Eigen::Vector2d;

namespace {

constexpr double k_reach = 20.0;  ///< A mark is taken within this of its middle: gloves on.
constexpr double k_still = 5.0;   ///< A hand that presses moves by less than this.
constexpr double k_arm = 11.0;
constexpr double k_gap = 3.0;
constexpr double k_edge = 10.0;
constexpr double k_most_zoom = 40.0;
constexpr double k_least_zoom = 0.01;

/// A text on a piece of paper, so that it reads on any photo.
void write(QPainter& painter, const QRectF& box, const QString& words, const looks::Colours& colours, bool bold) {
    painter.setFont(looks::font(looks::k_text, bold));
    painter.setPen(Qt::NoPen);
    painter.setBrush(colours.paper);
    painter.drawRoundedRect(box, 3.0, 3.0);
    painter.setPen(colours.graphite);
    painter.drawText(box, static_cast<int>(Qt::AlignCenter) | static_cast<int>(Qt::TextWordWrap), words);
}

QSizeF size_of(const QString& words, bool bold) {
    const QFontMetricsF metrics(looks::font(looks::k_text, bold));
    return {metrics.horizontalAdvance(words) + 12.0, metrics.height() + 6.0};
}

}  // namespace

PhotoDrawing::PhotoDrawing(QWidget* parent) : Paper(parent) {
    setObjectName(QStringLiteral("photoDrawing"));
    setAccessibleName(tr("Photo with its known points"));
    setFocusPolicy(Qt::StrongFocus);
    setMouseTracking(true);
}

void PhotoDrawing::show_photo(const QImage& picture, double photo_per_picture, std::vector<PhotoMark> marks) {
    sentence_.clear();
    marks_ = std::move(marks);
    if (chosen_ && *chosen_ >= marks_.size()) {
        chosen_.reset();
    }
    if (key_ != picture.cacheKey()) {
        key_ = picture.cacheKey();
        picture_ = QPixmap::fromImage(picture);
        photo_per_picture_ = photo_per_picture;
        fit();
    }
    update();
}

void PhotoDrawing::show_sentence(const QString& sentence) {
    picture_ = {};
    key_ = 0;
    marks_.clear();
    said_.clear();
    sentence_ = sentence;
    update();
}

void PhotoDrawing::choose(std::optional<std::size_t> mark) {
    chosen_ = mark;
    update();
}

void PhotoDrawing::say(const QString& words) {
    if (said_ != words) {
        said_ = words;
        update();
    }
}

QPointF PhotoDrawing::on_paper(const Vector2d& p_px) const {
    return origin_ + pixels_ * QPointF(p_px.x(), p_px.y());
}

Vector2d PhotoDrawing::from_paper(const QPointF& p) const {
    const QPointF at = (p - origin_) / pixels_;
    return {at.x(), at.y()};
}

void PhotoDrawing::fit() {
    if (picture_.isNull()) {
        return;
    }
    const QSizeF photo = photo_per_picture_ * QSizeF(picture_.size());
    pixels_ = std::min((width() - 2.0 * k_edge) / photo.width(), (height() - 2.0 * k_edge) / photo.height());
    pixels_ = std::clamp(pixels_, k_least_zoom, k_most_zoom);
    origin_ = QPointF(0.5 * (width() - pixels_ * photo.width()), 0.5 * (height() - pixels_ * photo.height()));
    own_view_ = false;
    update();
}

void PhotoDrawing::draw(QPainter& painter, const QSizeF& sheet) const {
    painter.fillRect(QRectF({}, sheet), colours().paper);
    painter.setRenderHint(QPainter::Antialiasing);
    if (!sentence_.isEmpty()) {
        painter.setFont(looks::font(looks::k_text));
        painter.setPen(colours().graphite);
        painter.drawText(QRectF({}, sheet).adjusted(20, 20, -20, -20),
                         static_cast<int>(Qt::AlignCenter) | static_cast<int>(Qt::TextWordWrap), sentence_);
        return;
    }
    painter.setRenderHint(QPainter::SmoothPixmapTransform);
    painter.drawPixmap(QRectF(origin_, pixels_ * photo_per_picture_ * QSizeF(picture_.size())), picture_,
                       QRectF(picture_.rect()));
    for (std::size_t i = 0; i < marks_.size(); ++i) {
        const QPointF at = on_paper(marks_[i].at_px);
        const bool chosen = chosen_ == i;
        // Paper under graphite: seen on any photo.
        for (const auto& [ink, width] : {std::pair{colours().paper, 5.0}, std::pair{colours().graphite, 2.0}}) {
            painter.setPen(QPen(ink, width + (chosen ? 1.5 : 0.0), marks_[i].known ? Qt::SolidLine : Qt::DotLine));
            painter.setBrush(Qt::NoBrush);
            for (const QPointF& arm : {QPointF(1, 0), QPointF(-1, 0), QPointF(0, 1), QPointF(0, -1)}) {
                painter.drawLine(at + k_gap * arm, at + k_arm * arm);
            }
            painter.drawEllipse(at, k_arm, k_arm);
        }
    }
    std::vector<QRectF> taken;
    for (std::size_t i = 0; i < marks_.size(); ++i) {
        const QPointF at = on_paper(marks_[i].at_px);
        const QSizeF size = size_of(marks_[i].words, chosen_ == i);
        QRectF box(at + QPointF(k_arm + 4.0, -0.5 * size.height()), size);
        if (box.right() > sheet.width()) {
            box.moveRight(at.x() - k_arm - 4.0);
        }
        while (std::any_of(taken.begin(), taken.end(), [&](const QRectF& other) { return other.intersects(box); })) {
            box.translate(0.0, size.height());
        }
        taken.push_back(box);
        write(painter, box, marks_[i].words, colours(), chosen_ == i);
    }
    if (!said_.isEmpty()) {
        const QSizeF size = size_of(said_, true);
        write(painter, QRectF(QPointF(k_edge, sheet.height() - size.height() - k_edge), size), said_, colours(), true);
    }
    if (hasFocus()) {
        painter.setPen(QPen(colours().skirt, 2.0));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(QRectF({}, sheet).adjusted(1.0, 1.0, -1.0, -1.0));
    }
}

std::optional<std::size_t> PhotoDrawing::mark_at(const QPointF& p) const {
    std::optional<std::size_t> nearest;
    double least = k_reach;
    for (std::size_t i = 0; i < marks_.size(); ++i) {
        const double distance = QLineF(on_paper(marks_[i].at_px), p).length();
        if (distance <= least) {
            least = distance;
            nearest = i;
        }
    }
    return nearest;
}

void PhotoDrawing::resizeEvent(QResizeEvent* event) {
    Paper::resizeEvent(event);
    if (!own_view_) {
        fit();
    }
}

void PhotoDrawing::wheelEvent(QWheelEvent* event) {
    constexpr double k_step = 1.0015;
    const Vector2d still = from_paper(event->position());
    pixels_ = std::clamp(pixels_ * std::pow(k_step, event->angleDelta().y()), k_least_zoom, k_most_zoom);
    origin_ += event->position() - on_paper(still);
    own_view_ = true;
    event->accept();
    update();
}

void PhotoDrawing::mousePressEvent(QMouseEvent* event) {
    if (picture_.isNull() || event->button() != Qt::LeftButton) {
        return;
    }
    pressed_at_ = event->position();
    origin_then_ = origin_;
    press_ = Press::waiting;
    if (const auto mark = mark_at(pressed_at_)) {
        press_ = Press::mark;
        held_ = *mark;
        emit chose(held_);
    }
}

void PhotoDrawing::mouseMoveEvent(QMouseEvent* event) {
    if (picture_.isNull()) {
        return;
    }
    const QPointF at = event->position();
    if (press_ == Press::waiting && QLineF(at, pressed_at_).length() > k_still) {
        press_ = Press::paper;
    }
    if (press_ == Press::paper) {
        origin_ = origin_then_ + at - pressed_at_;
        own_view_ = true;
        update();
    } else if (press_ == Press::mark && held_ < marks_.size() && QLineF(at, pressed_at_).length() > k_still) {
        marks_[held_].at_px = from_paper(at);
        update();
    }
    emit pointed(from_paper(at));
}

void PhotoDrawing::mouseReleaseEvent(QMouseEvent* event) {
    const Press was = std::exchange(press_, Press::none);
    const bool still = QLineF(event->position(), pressed_at_).length() <= k_still;
    if (was == Press::waiting && still) {
        emit picked(from_paper(event->position()));
    } else if (was == Press::mark && !still) {
        emit moved(held_, from_paper(event->position()));
    }
}

void PhotoDrawing::keyPressEvent(QKeyEvent* event) {
    constexpr double k_coarse = 10.0;
    const double by = event->modifiers().testFlag(Qt::ShiftModifier) ? k_coarse : 1.0;
    Vector2d step = Vector2d::Zero();
    switch (event->key()) {
        case Qt::Key_Left:
            step.x() = -by;
            break;
        case Qt::Key_Right:
            step.x() = by;
            break;
        case Qt::Key_Up:
            step.y() = -by;
            break;
        case Qt::Key_Down:
            step.y() = by;
            break;
        case Qt::Key_Delete:
            if (chosen_) {
                emit delete_wished(*chosen_);
            }
            return;
        default:
            Paper::keyPressEvent(event);
            return;
    }
    if (chosen_ && *chosen_ < marks_.size()) {
        emit moved(*chosen_, marks_[*chosen_].at_px + step);
    }
}

}  // namespace sillwright::app
