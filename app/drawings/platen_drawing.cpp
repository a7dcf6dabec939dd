#include "app/drawings/platen_drawing.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "app/length_words.h"
#include "app/text_of.h"

namespace sillwright::app {

using Eigen::Vector2d;

namespace {

constexpr double k_edge = 12.0;
constexpr double k_above = 26.0;     ///< Between heading and window, for the dimension of what is needed.
constexpr double k_below = 26.0;     ///< For the dimension of the window.
constexpr double k_beside = 78.0;    ///< On either side, for the dimensions across.
constexpr int k_clamp = 60;          ///< Of 255: the clamps' wash below their hatching.
constexpr int k_faint = 46;          ///< Of 255.
constexpr double k_mount = 4.0;      ///< Half of a mount's cross, pixels.
constexpr double k_past = 4.0;       ///< Pixels by which a name may stand out of the plan.
constexpr double k_shown_mm = 0.05;  ///< What is less reads as nothing.

struct Box {
    Vector2d low_mm = Vector2d::Zero(), high_mm = Vector2d::Zero();
};

Box box_of(const std::vector<Vector2d>& points_mm) {
    Box box;
    if (!points_mm.empty()) {
        box = {points_mm.front(), points_mm.front()};
    }
    for (const Vector2d& p_mm : points_mm) {
        box.low_mm = box.low_mm.cwiseMin(p_mm);
        box.high_mm = box.high_mm.cwiseMax(p_mm);
    }
    return box;
}

/// What must be seen: the window, and whatever stands out of it.
Box seen(const PlatenPicture& picture) {
    Box box{-picture.window_mm / 2.0, picture.window_mm / 2.0};
    for (const auto* outline : {&picture.need_mm, &picture.mould_mm, &picture.part_mm}) {
        if (!outline->empty()) {
            const Box one = box_of(*outline);
            box = {box.low_mm.cwiseMin(one.low_mm), box.high_mm.cwiseMax(one.high_mm)};
        }
    }
    return box;
}

class Plan {
public:
    Plan(const PlatenPicture& picture, const QSizeF& sheet, looks::Tone tone)
        : picture_{picture}, made_{sheet, tone}, colours_{made_.colours()} {
        head();
        fit();
    }

    [[nodiscard]] double pixels() const { return pixels_; }

    Composition draw() {
        draw_machine();
        draw_part();
        draw_excess();
        draw_dimensions();
        draw_lines();
        name_outlines();
        // Beside the plan, not among the dimensions above and below it.
        const Box all = seen(picture_);
        made_.place_names(
            QRectF(QPointF(2.0, at(all.high_mm).y()), QPointF(made_.sheet().right() - 2.0, at(all.low_mm).y()))
                .adjusted(0.0, -k_past, 0.0, k_past));
        return std::move(made_);
    }

private:
    void head() {
        const double right = made_.sheet().right() - k_edge;
        const QRectF verdict =
            made_.write_state({k_edge, 6.0}, picture_.state, text_of(picture_.verdict), made_.number(picture_.state));
        const QString machine = PlatenDrawing::tr("%1, clamp opening %2 × %3 %4")
                                    .arg(text_of(picture_.machine), number(picture_.window_mm.x()),
                                         number(picture_.window_mm.y()), text_of(unit_word(picture_.unit)));
        const QString words = machine + QStringLiteral(" · ") + text_of(picture_.set_up);
        const double beside = verdict.right() + 18.0;
        const QSizeF one_line = made_.plain().size_of(words);
        if (one_line.width() < right - beside) {
            made_.write({beside, verdict.center().y() - one_line.height() / 2.0}, words, made_.plain());
            head_ = verdict.bottom();
        } else {
            head_ = made_.write_wrapped(k_edge, right, verdict.bottom() + 2.0, words, made_.plain()).bottom();
        }
    }

    void fit() {
        const Box box = seen(picture_);
        const Vector2d size = box.high_mm - box.low_mm;
        const QRectF room(k_beside, head_ + k_above, std::max(1.0, made_.sheet().width() - 2.0 * k_beside),
                          std::max(1.0, made_.sheet().height() - head_ - k_above - k_below));
        pixels_ = size.minCoeff() > 0.0 ? std::min(room.width() / size.x(), room.height() / size.y()) : 1.0;
        const Vector2d middle = (box.low_mm + box.high_mm) / 2.0;
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
    [[nodiscard]] QPolygonF rectangle(const Vector2d& low_mm, const Vector2d& high_mm) const {
        return at(std::vector<Vector2d>{low_mm, {high_mm.x(), low_mm.y()}, high_mm, {low_mm.x(), high_mm.y()}});
    }

    void draw_machine() {
        const Vector2d window = picture_.window_mm / 2.0;
        const Vector2d free = picture_.free_mm / 2.0;
        QColor wash = colours_.edge;
        wash.setAlpha(k_clamp);
        for (const auto& band :
             {rectangle({-window.x(), free.y()}, window), rectangle(-window, {window.x(), -free.y()}),
              rectangle({-window.x(), -free.y()}, {-free.x(), free.y()}),
              rectangle({free.x(), -free.y()}, {window.x(), free.y()})}) {
            made_.area(band, wash);
            made_.area(band, QBrush(colours_.pencil, Qt::BDiagPattern));
        }
        made_.area(rectangle(-window, window), Qt::NoBrush, QPen(colours_.graphite, 2.2));
        made_.area(rectangle(-free, free), Qt::NoBrush, QPen(colours_.graphite, 1.0));
    }

    void draw_part() {
        QPen need(colours_.graphite, 1.4);
        need.setDashPattern({6.0, 3.0, 1.0, 3.0});
        made_.area(at(picture_.need_mm), Qt::NoBrush, need);
        made_.area(at(picture_.mould_mm), Qt::NoBrush, QPen(colours_.skirt, 1.2, Qt::DashLine));
        QColor fill = colours_.skirt;
        fill.setAlpha(k_faint);
        made_.area(at(picture_.part_mm), fill, QPen(colours_.skirt, 2.2));
        for (const PlatenMount& mount : picture_.mounts) {
            const QPointF middle = at(mount.at_mm);
            const QPen pen(colours_.graphite, 1.2);
            made_.line({middle - QPointF(k_mount, 0.0), middle + QPointF(k_mount, 0.0)}, pen);
            made_.line({middle - QPointF(0.0, k_mount), middle + QPointF(0.0, k_mount)}, pen);
        }
    }

    /// What stands out is named first, and has the best places.
    void name_outlines() {
        name_outline(picture_.need_mm, PlatenDrawing::tr("clamp line"), made_.plain(), -1.0, 0.25);
        name_outline(picture_.mould_mm, PlatenDrawing::tr("mould with trim"), {colours_.skirt}, -1.0, 0.5);
        name_outline(picture_.part_mm, text_of(picture_.piece), {colours_.skirt, looks::k_text, true}, 1.0, 0.75);
        const Vector2d free = picture_.free_mm / 2.0;
        made_.name(
            {at({-0.6 * free.x(), -free.y()}), at({0.6 * free.x(), -free.y()}), at({-0.6 * free.x(), free.y()})},
            PlatenDrawing::tr("free window %1 × %2").arg(number(picture_.free_mm.x()), number(picture_.free_mm.y())),
            made_.lesser());
    }

    /// At some places along its upper (1) or lower (-1) edge.
    void name_outline(const std::vector<Vector2d>& outline_mm, const QString& text, const Lettering& look, double side,
                      double share) {
        if (outline_mm.empty()) {
            return;
        }
        const Box box = box_of(outline_mm);
        std::vector<QPointF> places;
        for (const double part : {share, share - 0.12, share + 0.12, share - 0.24, share + 0.24}) {
            const double x = std::lerp(box.low_mm.x(), box.high_mm.x(), std::clamp(part, 0.02, 0.98));
            if (const auto y = edge_at(outline_mm, x, side)) {
                places.push_back(at({x, *y}));
            }
        }
        made_.name(places, text, look);
    }

    static std::optional<double> edge_at(const std::vector<Vector2d>& outline_mm, double x, double side) {
        std::optional<double> best;
        for (std::size_t i = 0; i < outline_mm.size(); ++i) {
            const Vector2d& a = outline_mm[i];
            const Vector2d& b = outline_mm[(i + 1) % outline_mm.size()];
            if ((a.x() <= x) == (b.x() <= x)) {
                continue;
            }
            const double y = a.y() + (b.y() - a.y()) * (x - a.x()) / (b.x() - a.x());
            if (!best || side * y > side * *best) {
                best = y;
            }
        }
        return best;
    }

    /// What stands out of the free window, side by side.
    void draw_excess() {
        const Box need = box_of(picture_.need_mm);
        const Vector2d free = picture_.free_mm / 2.0;
        const QColor colour = looks::text_colour(core::State::falls_short, made_.tone());
        for (const PlatenExcess& excess : picture_.excess) {
            if (excess.mm < k_shown_mm) {
                continue;
            }
            Vector2d low = need.low_mm;
            Vector2d high = need.high_mm;
            switch (excess.side) {
                case PlatenExcess::Side::left:
                    high.x() = -free.x();
                    break;
                case PlatenExcess::Side::right:
                    low.x() = free.x();
                    break;
                case PlatenExcess::Side::upper:
                    low.y() = free.y();
                    break;
                case PlatenExcess::Side::lower:
                    high.y() = -free.y();
                    break;
            }
            const QPolygonF out = at(picture_.need_mm).intersected(rectangle(low, high));
            made_.area(out, QBrush(colour, Qt::FDiagPattern), QPen(colour, 1.8));
            std::vector<QPointF> places(out.begin(), out.end());
            places.push_back(out.boundingRect().center());
            made_.name(places, QStringLiteral("◆ ") + text_of(excess.words), {colour, looks::k_text, true});
        }
    }

    void draw_dimensions() {
        const Vector2d window = picture_.window_mm / 2.0;
        const Box all = seen(picture_);
        const QPointF low = at(all.low_mm);
        const QPointF high = at(all.high_mm);
        const double below = low.y() + k_below / 2.0 + 1.0;
        add_dimension(made_, {at({-window.x(), 0.0}).x(), below}, {at({window.x(), 0.0}).x(), below},
                      PlatenDrawing::tr("opening %1").arg(number(picture_.window_mm.x())), made_.lesser());
        const double beside = high.x() + 12.0;
        add_dimension(made_, {beside, at({0.0, window.y()}).y()}, {beside, at({0.0, -window.y()}).y()},
                      number(picture_.window_mm.y()), made_.lesser());
        if (picture_.need_mm.empty()) {
            return;
        }
        const Box need = box_of(picture_.need_mm);
        const Vector2d size = need.high_mm - need.low_mm;
        const double above = high.y() - k_above / 2.0;
        add_dimension(made_, {at(need.low_mm).x(), above}, {at(need.high_mm).x(), above},
                      PlatenDrawing::tr("needs %1").arg(number(size.x())), made_.plain());
        const double before = low.x() - k_beside + 14.0;
        const QPointF top(before, at(need.high_mm).y());
        const QPointF bottom(before, at(need.low_mm).y());
        add_dimension(made_, top, bottom, number(size.y()), made_.plain());
    }

    void draw_lines() {
        const auto draw = [&](const PlatenLine& one, const QColor& colour) {
            const QLineF line(at(one.from_mm), at(one.to_mm));
            QPen pen(colour, 1.8);
            pen.setDashPattern({5.0, 3.0});
            made_.line(line, pen);
            made_.name({line.p2(), line.p1(), line.center()}, text_of(one.words), {colour});
        };
        for (const PlatenLine& one : picture_.set_backs) {
            draw(one, looks::text_colour(core::State::falls_short, made_.tone()));
        }
        for (const PlatenLine& one : picture_.splits) {
            draw(one, colours_.graphite);
        }
    }

    const PlatenPicture& picture_;
    Composition made_;
    const looks::Colours& colours_;
    double head_ = 0.0;
    double pixels_ = 1.0;
    QPointF origin_;
};

}  // namespace

PlatenDrawing::PlatenDrawing(QWidget* parent) : ComposedPaper(parent) {
    setObjectName(QStringLiteral("platenDrawing"));
    setAccessibleName(tr("The part on the forming machine, from above"));
}

void PlatenDrawing::set_picture(PlatenPicture picture) {
    picture_ = std::move(picture);
    setAccessibleDescription(text_of(
        picture_.words.empty() ? picture_.machine + ": " + picture_.verdict + ". " + picture_.set_up : picture_.words));
    update();
}

QString PlatenDrawing::title() const {
    return picture_.piece.empty() ? tr("on the machine") : tr("%1 on the machine").arg(text_of(picture_.piece));
}

double PlatenDrawing::pixels_for_mm(const QSizeF& sheet) const {
    return picture_.words.empty() ? Plan(picture_, sheet, tone()).pixels() : 0.0;
}

Composition PlatenDrawing::compose(const QSizeF& sheet) const {
    return picture_.words.empty() ? Plan(picture_, sheet, tone()).draw() : sentence(sheet, picture_.words);
}

}  // namespace sillwright::app
