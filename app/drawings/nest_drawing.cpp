#include "app/drawings/nest_drawing.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "app/drawings/label_layout.h"
#include "app/length_words.h"
#include "app/text_of.h"

namespace sillwright::app {

using Eigen::Vector2d;

namespace {

constexpr double k_edge = 12.0;
constexpr double k_below = 30.0;   ///< For the dimension along.
constexpr double k_beside = 76.0;  ///< For that across.
constexpr int k_faint = 48;        ///< Of 255.
constexpr int k_wash = 60;
constexpr int k_places = 12;  ///< Each way, at which a label is tried inside its part.

class Laid {
public:
    Laid(const NestPicture& picture, const QSizeF& sheet, looks::Tone tone)
        : picture_{picture}, made_{sheet, tone}, colours_{made_.colours()} {
        head();
        fit();
    }

    [[nodiscard]] double pixels() const { return pixels_; }

    Composition draw() {
        draw_board();
        draw_parts();
        draw_dimensions();
        name_all();
        made_.place_names(QRectF(at({0.0, picture_.size_mm.y()}), at({picture_.size_mm.x(), 0.0})));
        return std::move(made_);
    }

private:
    void head() {
        const double right = made_.sheet().right() - k_edge;
        const QRectF verdict =
            made_.write_state({k_edge, 6.0}, picture_.state, text_of(picture_.verdict), made_.number(picture_.state));
        const QString about = text_of(picture_.about);
        const QSizeF one_line = made_.plain().size_of(about);
        const double beside = verdict.right() + 18.0;
        if (one_line.width() < right - beside) {
            made_.write({beside, verdict.center().y() - one_line.height() / 2.0}, about, made_.plain());
            head_ = verdict.bottom();
        } else {
            head_ = made_.write_wrapped(k_edge, right, verdict.bottom() + 2.0, about, made_.plain()).bottom();
        }
    }

    void fit() {
        const Vector2d size = picture_.size_mm.cwiseMax(1.0);
        const QRectF room(k_edge, head_ + k_edge, std::max(1.0, made_.sheet().width() - k_beside - 2.0 * k_edge),
                          std::max(1.0, made_.sheet().height() - head_ - k_edge - k_below));
        pixels_ = std::min(room.width() / size.x(), room.height() / size.y());
        origin_ = QPointF(room.center().x() - size.x() * pixels_ / 2.0, room.center().y() + size.y() * pixels_ / 2.0);
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
    [[nodiscard]] QPolygonF box(const Vector2d& low_mm, const Vector2d& high_mm) const {
        return at({low_mm, {high_mm.x(), low_mm.y()}, high_mm, {low_mm.x(), high_mm.y()}});
    }

    void draw_board() {
        made_.area(box(Vector2d::Zero(), picture_.size_mm), Qt::NoBrush, QPen(colours_.graphite, 2.0));
        const Vector2d margin = Vector2d::Constant(picture_.margin_mm);
        if (picture_.margin_mm > 0.0 && (picture_.size_mm - 2.0 * margin).minCoeff() > 0.0) {
            made_.area(box(margin, picture_.size_mm - margin), Qt::NoBrush, QPen(colours_.edge, 1.0, Qt::DashLine));
        }
        QColor wash = colours_.edge;
        wash.setAlpha(k_wash);
        for (const NestBox& off_cut : picture_.off_cuts) {
            made_.area(box(off_cut.low_mm, off_cut.high_mm), wash, QPen(colours_.pencil, 1.4, Qt::DashLine));
        }
        for (const NestBox& defect : picture_.defects) {
            made_.area(box(defect.low_mm, defect.high_mm), QBrush(colours_.graphite, Qt::BDiagPattern),
                       QPen(colours_.graphite, 1.2));
        }
    }

    void draw_parts() {
        QColor fill = colours_.skirt;
        fill.setAlpha(k_faint);
        const QPen pen(colours_.skirt, 1.4);
        for (const NestPart& part : picture_.parts) {
            made_.area(at(part.outline_mm), fill, pen);
            for (const auto& inside : part.inside_mm) {
                made_.area(at(inside), colours_.paper, pen);
            }
        }
    }

    void draw_dimensions() {
        const double below = at({0.0, 0.0}).y() + k_below / 2.0;
        add_dimension(made_, {at({0.0, 0.0}).x(), below}, {at({picture_.size_mm.x(), 0.0}).x(), below},
                      number(picture_.size_mm.x()), made_.lesser());
        const double beside = at({picture_.size_mm.x(), 0.0}).x() + 12.0;
        add_dimension(made_, {beside, at(picture_.size_mm).y()}, {beside, at({0.0, 0.0}).y()},
                      number(picture_.size_mm.y()), made_.lesser());
    }

    /// Where words of a size stand inside a part, as near to its middle as can be.
    [[nodiscard]] std::optional<QRectF> room_in(const QPolygonF& outline, const NestPart& part,
                                                const QSizeF& size) const {
        const QRectF box = outline.boundingRect();
        std::optional<QRectF> best;
        double best_off = 0.0;
        for (int i = 0; i <= k_places; ++i) {
            for (int k = 0; k <= k_places; ++k) {
                const QPointF middle(std::lerp(box.left(), box.right(), i / double{k_places}),
                                     std::lerp(box.top(), box.bottom(), k / double{k_places}));
                const QRectF room(middle - QPointF(size.width(), size.height()) / 2.0, size);
                const QPointF off = middle - box.center();
                const double far = std::hypot(off.x(), off.y());
                if ((!best || far < best_off) && is_free(room, outline, part)) {
                    best = room;
                    best_off = far;
                }
            }
        }
        return best;
    }

    /// Inside the outline, and on no line of the part.
    [[nodiscard]] bool is_free(const QRectF& room, const QPolygonF& outline, const NestPart& part) const {
        if (!outline.containsPoint(room.center(), Qt::OddEvenFill) || touches(outline, room)) {
            return false;
        }
        return std::none_of(part.inside_mm.begin(), part.inside_mm.end(), [&](const auto& inside) {
            const QPolygonF hole = at(inside);
            return touches(hole, room) || hole.containsPoint(room.center(), Qt::OddEvenFill);
        });
    }

    static bool touches(const QPolygonF& outline, const QRectF& room) {
        for (qsizetype i = 0; i < outline.size(); ++i) {
            if (crosses(QLineF(outline[i], outline[(i + 1) % outline.size()]), room)) {
                return true;
            }
        }
        return false;
    }

    void name_all() {
        const Lettering look{colours_.graphite, looks::k_text, true};
        for (const NestPart& part : picture_.parts) {
            const QString label = text_of(part.label);
            const QPolygonF outline = at(part.outline_mm);
            if (const auto room = room_in(outline, part, look.size_of(label))) {
                made_.write(room->topLeft(), label, look);
            } else {
                made_.name({outline.boundingRect().center()}, label, look);
            }
        }
        for (const auto* boxes : {&picture_.defects, &picture_.off_cuts}) {
            for (const NestBox& one : *boxes) {
                const Vector2d middle = (one.low_mm + one.high_mm) / 2.0;
                made_.name({at(middle), at(one.high_mm), at(one.low_mm)}, text_of(one.words), made_.plain());
            }
        }
    }

    const NestPicture& picture_;
    Composition made_;
    const looks::Colours& colours_;
    double head_ = 0.0, pixels_ = 1.0;
    QPointF origin_;
};

}  // namespace

NestDrawing::NestDrawing(QWidget* parent) : ComposedPaper(parent) {
    setObjectName(QStringLiteral("nestDrawing"));
    setAccessibleName(tr("A sheet of board with its parts"));
}

void NestDrawing::set_picture(NestPicture picture) {
    picture_ = std::move(picture);
    setAccessibleDescription(
        text_of(picture_.words.empty() ? picture_.verdict + ". " + picture_.about : picture_.words));
    update();
}

QString NestDrawing::title() const {
    return picture_.board.empty()
               ? tr("sheet")
               : tr("sheet %1 of %2, %3").arg(picture_.number).arg(picture_.count).arg(text_of(picture_.board));
}

double NestDrawing::pixels_for_mm(const QSizeF& sheet) const {
    return picture_.words.empty() ? Laid(picture_, sheet, tone()).pixels() : 0.0;
}

Composition NestDrawing::compose(const QSizeF& sheet) const {
    return picture_.words.empty() ? Laid(picture_, sheet, tone()).draw() : sentence(sheet, picture_.words);
}

}  // namespace sillwright::app
