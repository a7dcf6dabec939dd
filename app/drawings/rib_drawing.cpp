#include "app/drawings/rib_drawing.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "app/length_words.h"
#include "app/text_of.h"

namespace sillwright::app {

using Eigen::Vector2d;

namespace {

constexpr double k_edge = 12.0;
constexpr double k_beside = 150.0;  ///< On either side, for what is said of the edges.
constexpr double k_above = 34.0;    ///< Between heading and rib, for the same.
constexpr double k_below = 62.0;    ///< For slots and the dimension across.
constexpr int k_faint = 40;         ///< Of 255.
constexpr double k_cross = 3.0;     ///< By which a rod's cross stands out of its hole, pixels.
constexpr double k_mouth_mm = 1.0;  ///< By which a slot is cut beyond the edge, so that nothing is left of that.

struct Box {
    Vector2d low_mm = Vector2d::Zero(), high_mm = Vector2d::Zero();
};

Box box_of(const RibPicture& picture) {
    Box box{{0.0, 0.0}, {0.0, 0.0}};
    if (!picture.outline_mm.empty()) {
        box = {picture.outline_mm.front(), picture.outline_mm.front()};
    }
    for (const auto* outline : {&picture.outline_mm, &picture.far_mm}) {
        for (const Vector2d& p_mm : *outline) {
            box.low_mm = box.low_mm.cwiseMin(p_mm);
            box.high_mm = box.high_mm.cwiseMax(p_mm);
        }
    }
    box.low_mm.y() = std::min(box.low_mm.y(), 0.0);
    return box;
}

class RibSheet {
public:
    RibSheet(const RibPicture& picture, const QSizeF& sheet, looks::Tone tone)
        : picture_{picture}, made_{sheet, tone}, colours_{made_.colours()}, box_{box_of(picture)} {
        head();
        fit();
    }

    [[nodiscard]] double pixels() const { return pixels_; }

    Composition draw() {
        draw_faces();
        draw_level();
        draw_pins();
        draw_dimensions();
        name_all();
        made_.place_names(QRectF(QPointF(2.0, head_ + 2.0), made_.sheet().bottomRight() - QPointF(2.0, 2.0)));
        return std::move(made_);
    }

private:
    void head() {
        const double right = made_.sheet().right() - k_edge;
        const QRectF label =
            made_.write({k_edge, 6.0}, text_of(picture_.label), {colours_.graphite, looks::k_number, true});
        const QString where =
            RibDrawing::tr("%1 · rib %2 of %3").arg(text_of(picture_.where)).arg(picture_.number).arg(picture_.count);
        const double beside = label.right() + 14.0;
        made_.write({beside, label.bottom() - made_.plain().size_of(where).height() - 1.0}, where, made_.plain());
        head_ =
            made_.write_wrapped(k_edge, right, label.bottom() + 2.0, text_of(picture_.about), made_.plain()).bottom();
    }

    void fit() {
        const Vector2d size = (box_.high_mm - box_.low_mm).cwiseMax(1.0);
        const QRectF room(k_beside, head_ + k_above, std::max(1.0, made_.sheet().width() - 2.0 * k_beside),
                          std::max(1.0, made_.sheet().height() - head_ - k_above - k_below));
        pixels_ = std::min(room.width() / size.x(), room.height() / size.y());
        const Vector2d middle = (box_.low_mm + box_.high_mm) / 2.0;
        origin_ = room.center() - QPointF(middle.x() * pixels_, -middle.y() * pixels_);
    }

    [[nodiscard]] QString number(double mm) const {
        return text_of(shortest_words(geometry::millimetres(mm), picture_.unit));
    }
    [[nodiscard]] QPointF at(const Vector2d& p_mm) const {
        return origin_ + QPointF(p_mm.x() * pixels_, -p_mm.y() * pixels_);
    }
    [[nodiscard]] QPolygonF at(const std::vector<Vector2d>& points_mm) const {
        QPolygonF points;
        for (const Vector2d& p_mm : points_mm) {
            points << at(p_mm);
        }
        return points;
    }

    /// The outline with its slots cut into it.
    [[nodiscard]] QPolygonF cut(const std::vector<Vector2d>& outline_mm) const {
        QPolygonF left = at(outline_mm);
        for (const RibSlot& slot : picture_.laps) {
            const double half = slot.width_mm / 2.0;
            left = left.subtracted(at(std::vector<Vector2d>{{slot.at_mm - half, -k_mouth_mm},
                                                            {slot.at_mm + half, -k_mouth_mm},
                                                            {slot.at_mm + half, slot.depth_mm},
                                                            {slot.at_mm - half, slot.depth_mm}}));
        }
        return left;
    }

    void draw_faces() {
        QColor fill = colours_.skirt;
        fill.setAlpha(k_faint);
        made_.area(cut(picture_.outline_mm), fill, QPen(colours_.skirt, 2.2));
        QPen far(colours_.graphite, 1.2);
        far.setDashPattern({5.0, 4.0});
        made_.area(at(picture_.far_mm), Qt::NoBrush, far);
        // What it stands on.
        const double base = at({0.0, 0.0}).y();
        made_.line({QPointF(at(box_.low_mm).x() - 24.0, base), QPointF(at(box_.high_mm).x() + 24.0, base)},
                   QPen(colours_.graphite, 1.0));
    }

    void draw_level() {
        QPen pen(colours_.graphite, 1.0);
        pen.setDashPattern({10.0, 3.0, 2.0, 3.0});
        level_ = QLineF(at({box_.low_mm.x(), picture_.level_mm}), at({box_.high_mm.x(), picture_.level_mm}));
        made_.line(level_, pen);
    }

    void draw_pins() {
        const double radius = picture_.pin_mm / 2.0 * pixels_;
        const QPen pen(colours_.graphite, 1.4);
        for (const Vector2d& pin_mm : picture_.pins_mm) {
            const QPointF middle = at(pin_mm);
            QPolygonF hole;
            constexpr int k_corners = 32;
            for (int i = 0; i < k_corners; ++i) {
                const double angle = 2.0 * M_PI * i / k_corners;
                hole << middle + radius * QPointF(std::cos(angle), std::sin(angle));
            }
            made_.area(hole, colours_.paper, pen);
            const double arm = radius + k_cross;
            made_.line({middle - QPointF(arm, 0.0), middle + QPointF(arm, 0.0)}, pen);
            made_.line({middle - QPointF(0.0, arm), middle + QPointF(0.0, arm)}, pen);
        }
    }

    void draw_dimensions() {
        const double below = made_.sheet().bottom() - 14.0;
        add_dimension(made_, {at(box_.low_mm).x(), below}, {at(box_.high_mm).x(), below},
                      number(box_.high_mm.x() - box_.low_mm.x()), made_.plain());
        const double beside = at(box_.low_mm).x() - 34.0;
        double top = 0.0;
        for (const Vector2d& p_mm : picture_.outline_mm) {
            top = std::max(top, p_mm.y());
        }
        const QPointF high(beside, at({0.0, top}).y());
        const QPointF low(beside, at({0.0, 0.0}).y());
        const QPen pen(made_.plain().colour, 1.0);
        constexpr double k_witness = 5.0;
        made_.line({high, low}, pen);
        for (const QPointF& end : {high, low}) {
            made_.line({end - QPointF(k_witness, 0.0), end + QPointF(k_witness, 0.0)}, pen);
        }
        const QString height = number(top);
        const QSizeF size = made_.plain().size_of(height);
        made_.write_ending({beside - 6.0, (high.y() + low.y() - size.height()) / 2.0}, height, made_.plain());
    }

    void name_all() {
        for (const RibSlot& slot : picture_.laps) {
            const QPointF foot = at({slot.at_mm, 0.0});
            const double outward = foot.x() < made_.sheet().center().x() ? -1.0 : 1.0;  // Clear of its neighbour's.
            made_.name(
                {foot + QPointF(60.0 * outward, 6.0), foot + QPointF(110.0 * outward, 6.0), foot + QPointF(0.0, 6.0)},
                text_of(slot.words), made_.plain());
        }
        for (const RibEdge& edge : picture_.edges) {
            made_.name({at(edge.at_mm)}, text_of(edge.words), edge.gap ? made_.lesser() : made_.plain());
        }
        made_.name({level_.p2(), level_.p1(), level_.center()},
                   RibDrawing::tr("level line, %1 above the base").arg(number(picture_.level_mm)), made_.lesser());
        if (!picture_.pins_mm.empty()) {
            std::vector<QPointF> places;
            for (const Vector2d& pin_mm : picture_.pins_mm) {
                places.push_back(at(pin_mm));
            }
            made_.name(places, RibDrawing::tr("rods %1").arg(number(picture_.pin_mm)), made_.lesser());
        }
    }

    const RibPicture& picture_;
    Composition made_;
    const looks::Colours& colours_;
    Box box_;
    double head_ = 0.0;
    double pixels_ = 1.0;
    QPointF origin_;
    QLineF level_;
};

}  // namespace

RibDrawing::RibDrawing(QWidget* parent) : ComposedPaper(parent) {
    setObjectName(QStringLiteral("ribDrawing"));
    setAccessibleName(tr("A rib of the buck"));
}

void RibDrawing::set_picture(RibPicture picture) {
    picture_ = std::move(picture);
    QString said = text_of(picture_.words.empty() ? picture_.label + ", " + picture_.where + ". " + picture_.about
                                                  : picture_.words);
    for (const RibEdge& edge : picture_.edges) {
        said += QStringLiteral("; ") + text_of(edge.words);
    }
    setAccessibleDescription(said);
    update();
}

QString RibDrawing::title() const {
    return picture_.label.empty() ? tr("rib") : tr("rib %1").arg(text_of(picture_.label));
}

double RibDrawing::pixels_for_mm(const QSizeF& sheet) const {
    return picture_.words.empty() ? RibSheet(picture_, sheet, tone()).pixels() : 0.0;
}

Composition RibDrawing::compose(const QSizeF& sheet) const {
    return picture_.words.empty() ? RibSheet(picture_, sheet, tone()).draw() : sentence(sheet, picture_.words);
}

}  // namespace sillwright::app
