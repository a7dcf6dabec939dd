#include "app/drawings/scan_drawing.h"

#include <Eigen/Geometry>
#include <QFontMetricsF>
#include <QMouseEvent>
#include <QWheelEvent>
#include <algorithm>
#include <cmath>
#include <utility>

namespace sillwright::app {

using Eigen::Vector2d;
using Eigen::Vector3d;

namespace {

constexpr double k_reach = 20.0;
constexpr double k_still = 5.0;
constexpr double k_edge = 16.0;
/// A scan seen as a line or a dot still has a scale.
constexpr double k_least_seen_mm = 1e-6;
constexpr double k_arm = 9.0;
/// More dots than that are not told apart on any paper, and take longer than a hand waits.
constexpr std::size_t k_most_dots = 40000;

}  // namespace

ScanDrawing::ScanDrawing(QWidget* parent) : Paper(parent) {
    setObjectName(QStringLiteral("scanDrawing"));
    setAccessibleName(tr("Scan with its marks"));
    setFocusPolicy(Qt::StrongFocus);
}

void ScanDrawing::show_scan(std::shared_ptr<const geometry::Mesh> mesh, std::vector<ScanDot> marks) {
    sentence_.clear();
    marks_ = std::move(marks);
    if (mesh_ != mesh) {
        mesh_ = std::move(mesh);
        picked_.reset();
        fit();
    }
    update();
}

void ScanDrawing::show_sentence(const QString& sentence) {
    mesh_.reset();
    marks_.clear();
    sentence_ = sentence;
    update();
}

void ScanDrawing::set_view(ScanView view) {
    view_ = view;
    fit();
}

void ScanDrawing::show_picked(const std::optional<Vector3d>& at_mm) {
    picked_ = at_mm;
    update();
}

Vector2d ScanDrawing::seen(const Vector3d& p_mm) const {
    switch (view_) {
        case ScanView::side:
            return {p_mm.x(), p_mm.z()};
        case ScanView::end:
            return {p_mm.y(), p_mm.z()};
        case ScanView::above:
            break;
    }
    return {p_mm.x(), p_mm.y()};
}

double ScanDrawing::depth(const Vector3d& p_mm) const {
    return view_ == ScanView::above ? p_mm.z() : view_ == ScanView::side ? -p_mm.y() : p_mm.x();
}

QPointF ScanDrawing::on_paper(const Vector3d& p_mm) const {
    const Vector2d p = seen(p_mm);
    return origin_ + pixels_ * QPointF(p.x(), -p.y());
}

void ScanDrawing::fit() {
    if (!mesh_ || mesh_->points.empty()) {
        return;
    }
    Eigen::AlignedBox2d box;
    for (const Vector3d& p : mesh_->points) {
        box.extend(seen(p));
    }
    for (const ScanDot& mark : marks_) {  // A mark may stand off the scan's own corners.
        box.extend(seen(mark.at_mm));
    }
    const Vector2d size = box.sizes().cwiseMax(k_least_seen_mm);
    pixels_ = std::min((width() - 2.0 * k_edge) / size.x(), (height() - 2.0 * k_edge) / size.y());
    origin_ = QPointF(0.5 * width(), 0.5 * height()) - pixels_ * QPointF(box.center().x(), -box.center().y());
    own_view_ = false;
    update();
}

void ScanDrawing::draw(QPainter& painter, const QSizeF& sheet) const {
    painter.fillRect(QRectF({}, sheet), colours().paper);
    painter.setFont(looks::font(looks::k_text));
    painter.setPen(colours().graphite);
    if (!mesh_) {
        painter.drawText(QRectF({}, sheet).adjusted(20, 20, -20, -20),
                         static_cast<int>(Qt::AlignCenter) | static_cast<int>(Qt::TextWordWrap), sentence_);
        return;
    }
    QPolygonF dots;
    const std::size_t step = std::max<std::size_t>(1, mesh_->points.size() / k_most_dots);
    for (std::size_t i = 0; i < mesh_->points.size(); i += step) {
        dots.push_back(on_paper(mesh_->points[i]));
    }
    painter.setPen(QPen(colours().pencil, 1.0));
    painter.drawPoints(dots);
    painter.setRenderHint(QPainter::Antialiasing);
    std::vector<QRectF> taken;
    const auto mark = [&](const Vector3d& at_mm, const QString& words, bool solid) {
        const QPointF at = on_paper(at_mm);
        painter.setPen(QPen(colours().skirt, 2.5, solid ? Qt::SolidLine : Qt::DotLine));
        painter.setBrush(Qt::NoBrush);
        painter.drawEllipse(at, k_arm, k_arm);
        painter.drawLine(at - QPointF(k_arm, 0), at + QPointF(k_arm, 0));
        painter.drawLine(at - QPointF(0, k_arm), at + QPointF(0, k_arm));
        const QFontMetricsF metrics(painter.font());
        QRectF box(at + QPointF(k_arm + 4.0, -0.5 * metrics.height()),
                   QSizeF(metrics.horizontalAdvance(words) + 8.0, metrics.height()));
        if (box.right() > sheet.width()) {
            box.moveRight(at.x() - k_arm - 4.0);
        }
        while (std::any_of(taken.begin(), taken.end(), [&](const QRectF& other) { return other.intersects(box); })) {
            box.translate(0.0, metrics.height());
        }
        taken.push_back(box);
        painter.setPen(colours().graphite);
        painter.fillRect(box, colours().paper);
        painter.drawText(box, Qt::AlignCenter, words);
    };
    for (const ScanDot& dot : marks_) {
        mark(dot.at_mm, dot.words, true);
    }
    if (picked_) {
        mark(*picked_, tr("picked"), false);
    }
    if (hasFocus()) {
        painter.setPen(QPen(colours().skirt, 2.0));
        painter.drawRect(QRectF({}, sheet).adjusted(1.0, 1.0, -1.0, -1.0));
    }
}

std::optional<Vector3d> ScanDrawing::corner_at(const QPointF& p) const {
    // Nearness counts in pixels; of corners that a hand cannot tell apart the one towards the eye.
    constexpr double k_same = 3.0;
    std::optional<Vector3d> best;
    double least = k_reach;
    if (!mesh_) {
        return best;
    }
    for (const Vector3d& corner : mesh_->points) {
        least = std::min(least, QLineF(on_paper(corner), p).length());
    }
    if (least >= k_reach) {
        return best;
    }
    for (const Vector3d& corner : mesh_->points) {
        if (QLineF(on_paper(corner), p).length() <= least + k_same && (!best || depth(corner) > depth(*best))) {
            best = corner;
        }
    }
    return best;
}

void ScanDrawing::resizeEvent(QResizeEvent* event) {
    Paper::resizeEvent(event);
    if (!own_view_) {
        fit();
    }
}

void ScanDrawing::wheelEvent(QWheelEvent* event) {
    constexpr double k_step = 1.0015;
    const double factor = std::pow(k_step, event->angleDelta().y());
    origin_ = event->position() + factor * (origin_ - event->position());
    pixels_ *= factor;
    own_view_ = true;
    event->accept();
    update();
}

void ScanDrawing::mousePressEvent(QMouseEvent* event) {
    pressed_ = event->button() == Qt::LeftButton;
    moved_ = false;
    pressed_at_ = event->position();
    origin_then_ = origin_;
}

void ScanDrawing::mouseMoveEvent(QMouseEvent* event) {
    if (pressed_ && (moved_ || QLineF(event->position(), pressed_at_).length() > k_still)) {
        moved_ = true;
        own_view_ = true;
        origin_ = origin_then_ + event->position() - pressed_at_;
        update();
    }
}

void ScanDrawing::mouseReleaseEvent(QMouseEvent* event) {
    if (std::exchange(pressed_, false) && !moved_) {
        if (const auto corner = corner_at(event->position())) {
            picked_ = corner;
            update();
            emit picked(*corner);
        }
    }
}

}  // namespace sillwright::app
