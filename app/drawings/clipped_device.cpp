#include "app/drawings/clipped_device.h"

#include <QImage>
#include <QPainterPathStroker>
#include <QPixmap>
#include <algorithm>
#include <cmath>
#include <optional>

namespace sillwright::app {

namespace {

/// An image across a clip's edge is cut off in pixels, this many to the device's own.
constexpr double k_image_times = 2.0;
/// What Qt draws for a pen without width.
constexpr double k_hairline = 1.0;

double drawn_width(const QPen& pen) {
    return pen.widthF() > 0.0 ? pen.widthF() : k_hairline;
}

/// The area that a pen inks along a path, in the device's units.
QPainterPath inked(const QPainterPath& path, const QPen& pen, const QTransform& to_device) {
    QPen solid = pen;
    solid.setWidthF(drawn_width(pen));
    const QPainterPathStroker stroker(solid);
    const bool of_device = pen.isCosmetic() || pen.widthF() <= 0.0;
    return of_device ? stroker.createStroke(to_device.map(path)) : to_device.map(stroker.createStroke(path));
}

/// Bounds with all that a pen can ink beyond the path: half its width, more at a mitre.
QRectF inked_bounds(const QPainterPath& path, const QPen& pen, const QTransform& to_device) {
    QRectF bounds = path.controlPointRect();
    if (pen.style() == Qt::NoPen) {
        return to_device.mapRect(bounds);
    }
    const double beyond = drawn_width(pen) * std::max(1.0, pen.joinStyle() == Qt::MiterJoin ? pen.miterLimit() : 0.0);
    bounds = to_device.mapRect(bounds.adjusted(-beyond, -beyond, beyond, beyond));
    return bounds.adjusted(-k_hairline, -k_hairline, k_hairline, k_hairline);
}

}  // namespace

class ClippedDevice::Engine : public QPaintEngine {
public:
    explicit Engine(QPainter& to) : QPaintEngine(AllFeatures), to_{to} {}

    bool begin(QPaintDevice* /*device*/) override {
        clip_.reset();
        enabled_ = true;
        setActive(true);
        return true;
    }
    bool end() override {
        setActive(false);
        return true;
    }
    [[nodiscard]] Type type() const override { return User; }

    void updateState(const QPaintEngineState& now) override {
        if (now.state().testFlag(DirtyClipRegion)) {
            QPainterPath path;
            path.addRegion(now.clipRegion());
            change_clip(path, now);
        }
        if (now.state().testFlag(DirtyClipPath)) {
            change_clip(now.clipPath(), now);
        }
        if (now.state().testFlag(DirtyClipEnabled)) {
            enabled_ = now.isClipEnabled();
        }
    }

    void drawPath(const QPainterPath& path) override { pass_on(path, painter()->pen(), painter()->brush()); }

    void drawPolygon(const QPointF* points, int count, PolygonDrawMode mode) override {
        QPainterPath path;
        path.setFillRule(mode == WindingMode ? Qt::WindingFill : Qt::OddEvenFill);
        path.addPolygon(QPolygonF(QList<QPointF>(points, points + count)));
        if (mode != PolylineMode) {
            path.closeSubpath();
        }
        pass_on(path, painter()->pen(), mode == PolylineMode ? QBrush(Qt::NoBrush) : painter()->brush());
    }
    void drawPolygon(const QPoint* points, int count, PolygonDrawMode mode) override {
        QList<QPointF> exact(points, points + count);
        drawPolygon(exact.constData(), count, mode);
    }

    void drawTextItem(const QPointF& at, const QTextItem& item) override {
        const QRectF box(at.x(), at.y() - item.ascent(), item.width(), item.ascent() + item.descent());
        const QTransform to_device = painter()->combinedTransform();
        if (outside(to_device.mapRect(box))) {
            return;
        }
        if (inside(to_device.mapRect(box))) {
            to_.save();
            to_.setTransform(to_device);
            to_.setOpacity(painter()->opacity());
            to_.setPen(painter()->pen());
            to_.setFont(item.font());
            to_.drawText(at, item.text());
            to_.restore();
            return;
        }
        QPainterPath letters;
        letters.addText(at, item.font(), item.text());
        pass_on(letters, Qt::NoPen, painter()->pen().brush());
    }

    void drawPixmap(const QRectF& target, const QPixmap& pixmap, const QRectF& source) override {
        drawImage(target, pixmap.toImage(), source, Qt::AutoColor);
    }

    void drawImage(const QRectF& target, const QImage& image, const QRectF& source,
                   Qt::ImageConversionFlags /*flags*/) override {
        const QTransform to_device = painter()->combinedTransform();
        const QRectF box = to_device.mapRect(target);
        if (outside(box)) {
            return;
        }
        to_.save();
        to_.setOpacity(painter()->opacity());
        if (inside(box)) {
            to_.setTransform(to_device);
            to_.drawImage(target, image, source);
        } else {
            const QRectF seen = box.intersected(clip_->boundingRect());
            to_.setTransform({});
            to_.drawImage(seen, cut_off(seen, to_device, target, image, source));
        }
        to_.restore();
    }

private:
    void change_clip(const QPainterPath& path, const QPaintEngineState& now) {
        const QPainterPath on_device = now.transform().map(path);
        switch (now.clipOperation()) {
            case Qt::NoClip:
                clip_.reset();
                break;
            case Qt::ReplaceClip:
                clip_ = on_device;
                break;
            case Qt::IntersectClip:
                clip_ = clip_ ? clip_->intersected(on_device) : on_device;
                break;
        }
        enabled_ = true;
    }

    [[nodiscard]] bool inside(const QRectF& box) const { return !clip_ || !enabled_ || clip_->contains(box); }
    [[nodiscard]] bool outside(const QRectF& box) const {
        return clip_ && enabled_ && !clip_->boundingRect().intersects(box);
    }

    void pass_on(const QPainterPath& path, const QPen& pen, const QBrush& brush) {
        const QTransform to_device = painter()->combinedTransform();
        const QRectF bounds = inked_bounds(path, pen, to_device);
        if (outside(bounds)) {
            return;
        }
        to_.save();
        to_.setOpacity(painter()->opacity());
        to_.setRenderHints(painter()->renderHints());
        if (inside(bounds)) {
            to_.setTransform(to_device);
            to_.setPen(pen);
            to_.setBrush(brush);
            to_.drawPath(path);
        } else {
            to_.setTransform({});
            to_.setPen(Qt::NoPen);
            if (brush.style() != Qt::NoBrush) {
                QBrush on_device = brush;
                on_device.setTransform(brush.transform() * to_device);
                to_.setBrush(on_device);
                to_.drawPath(to_device.map(path).intersected(*clip_));
            }
            if (pen.style() != Qt::NoPen) {
                QPainterPath ink = inked(path, pen, to_device);
                ink.setFillRule(Qt::WindingFill);
                to_.setBrush(pen.brush());
                to_.drawPath(ink.intersected(*clip_));
            }
        }
        to_.restore();
    }

    [[nodiscard]] QImage cut_off(const QRectF& seen, const QTransform& to_device, const QRectF& target,
                                 const QImage& image, const QRectF& source) const {
        QImage cut((seen.size() * k_image_times).toSize().expandedTo({1, 1}), QImage::Format_ARGB32_Premultiplied);
        cut.fill(Qt::transparent);
        QPainter pixels(&cut);
        pixels.setRenderHints(QPainter::Antialiasing | QPainter::SmoothPixmapTransform);
        pixels.scale(cut.width() / seen.width(), cut.height() / seen.height());
        pixels.translate(-seen.topLeft());
        pixels.setClipPath(*clip_);
        pixels.setTransform(to_device, true);
        pixels.drawImage(target, image, source);
        return cut;
    }

    QPainter& to_;
    std::optional<QPainterPath> clip_;  ///< In the device's units.
    bool enabled_ = true;
};

ClippedDevice::ClippedDevice(QPainter& to, const QPaintDevice& device)
    : engine_{std::make_unique<Engine>(to)}, device_{device} {}

ClippedDevice::~ClippedDevice() = default;

QPaintEngine* ClippedDevice::paintEngine() const {
    return engine_.get();
}

int ClippedDevice::metric(PaintDeviceMetric metric) const {
    switch (metric) {
        case PdmWidth:
            return device_.width();
        case PdmHeight:
            return device_.height();
        case PdmWidthMM:
            return device_.widthMM();
        case PdmHeightMM:
            return device_.heightMM();
        case PdmDpiX:
            return device_.logicalDpiX();
        case PdmDpiY:
            return device_.logicalDpiY();
        case PdmPhysicalDpiX:
            return device_.physicalDpiX();
        case PdmPhysicalDpiY:
            return device_.physicalDpiY();
        case PdmDevicePixelRatio:
            return 1;
        case PdmDevicePixelRatioScaled:
            return static_cast<int>(devicePixelRatioFScale());
        case PdmDepth:
            return device_.depth();
        case PdmNumColors:
            return device_.colorCount();
    }
    return 0;
}

}  // namespace sillwright::app
