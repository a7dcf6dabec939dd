#include "app/drawings/assembly_drawing.h"

#include <QMouseEvent>
#include <algorithm>
#include <cmath>
#include <utility>

#include "app/length_words.h"
#include "app/text_of.h"

namespace sillwright::app {

using Eigen::Vector2d;

namespace {

constexpr double k_edge = 12.0;
constexpr double k_left = 84.0;       ///< For the names of the spines and of the base.
constexpr double k_title = 26.0;      ///< Above a view.
constexpr double k_labels = 24.0;     ///< Above the plan, for the names of the ribs.
constexpr double k_between = 14.0;    ///< Of the two views.
constexpr double k_dimension = 30.0;  ///< Below the side view.
constexpr double k_air = 6.0;         ///< Between names.
constexpr double k_line = 24.0;       ///< Of the list of distances.
constexpr double k_name = 20.0;       ///< Beside a view, of one board.
constexpr double k_least_view = 60.0;
constexpr int k_most_times = 4;  ///< Across by along.
constexpr int k_faint = 56;      ///< Of 255.

struct Extent {
    double front_mm = 0.0, rear_mm = 0.0, low_mm = 0.0, high_mm = 0.0, top_mm = 0.0, foot_mm = 0.0;
};

Extent extent_of(const AssemblyPicture& picture) {
    Extent all{1e9, -1e9, 1e9, -1e9, 0.0, 0.0};
    const auto take = [&](double front, double rear, double low, double high) {
        all.front_mm = std::min(all.front_mm, front);
        all.rear_mm = std::max(all.rear_mm, rear);
        all.low_mm = std::min(all.low_mm, low);
        all.high_mm = std::max(all.high_mm, high);
    };
    for (const AssemblyRib& rib : picture.ribs) {
        take(rib.front_mm, rib.rear_mm, rib.low_mm, rib.high_mm);
        all.top_mm = std::max(all.top_mm, rib.top_mm);
    }
    for (const AssemblySpine& spine : picture.spines) {
        take(spine.front_mm, spine.rear_mm, spine.side_mm, spine.side_mm);
        all.top_mm = std::max(all.top_mm, spine.height_mm);
    }
    if (picture.base) {
        take(picture.base->front_mm, picture.base->rear_mm, picture.base->low_mm, picture.base->high_mm);
        all.foot_mm = -picture.base->thickness_mm;
    }
    return all;
}

/// Where a line of a list stands that is filled row by row.
struct Flowing {
    double left = 0.0;
    int row = 0;
};

std::vector<Flowing> flow_of(const AssemblyPicture& picture, const Lettering& look, double width) {
    std::vector<Flowing> flow;
    double left = 0.0;
    int row = 0;
    for (const AssemblyCheck& check : picture.checks) {
        const double wide = look.size_of(text_of(check.words)).width();
        if (left > 0.0 && left + wide > width) {
            left = 0.0;
            ++row;
        }
        flow.push_back({left, row});
        left += wide + 4.0 * k_air;
    }
    return flow;
}

double list_height(const std::vector<Flowing>& flow) {
    return flow.empty() ? 0.0 : k_title + k_line * (flow.back().row + 1);
}

class Views {
public:
    Views(const AssemblyPicture& picture, const QSizeF& sheet, looks::Tone tone)
        : picture_{picture}, made_{sheet, tone}, colours_{made_.colours()}, all_{extent_of(picture)} {
        head();
        fit();
    }

    [[nodiscard]] int times() const { return times_; }
    [[nodiscard]] double x_at(double x_mm) const { return left_ + (x_mm - all_.front_mm) * pixels_; }

    Composition draw() {
        draw_plan();
        draw_side();
        draw_checks();
        return std::move(made_);
    }

private:
    void head() {
        const QRectF piece = made_.write_state({k_edge, 6.0}, picture_.state, text_of(picture_.piece),
                                               {colours_.graphite, looks::k_number, true});
        const double right = made_.sheet().right() - k_edge;
        const QString about = text_of(picture_.about);
        const QSizeF one_line = made_.plain().size_of(about);
        if (piece.right() + 16.0 + one_line.width() < right) {
            made_.write({piece.right() + 16.0, piece.center().y() - one_line.height() / 2.0}, about, made_.plain());
            head_ = piece.bottom() + 2.0;
        } else {
            head_ = made_.write_wrapped(k_edge, right, piece.bottom() + 2.0, about, made_.plain()).bottom() + 2.0;
        }
        for (const std::string& note : picture_.notes) {
            head_ = made_.write_wrapped(k_edge, right, head_, text_of(note), made_.lesser()).bottom() + 2.0;
        }
    }

    void fit() {
        const double length = std::max(1.0, all_.rear_mm - all_.front_mm);
        const double width = std::max(1.0, made_.sheet().width() - k_left - 2.0 * k_edge);
        flow_ = flow_of(picture_, made_.plain(), made_.sheet().width() - 2.0 * k_edge);
        const double list = list_height(flow_);
        const double room = made_.sheet().height() - head_ - 2.0 * k_title - k_labels - k_between - k_dimension - list;
        const double across = std::max(1.0, all_.high_mm - all_.low_mm + all_.top_mm - all_.foot_mm);
        pixels_ = std::min(width / length, std::max(2.0 * k_least_view, room) / across);
        times_ = std::clamp(static_cast<int>(std::floor(room / (across * pixels_))), 1, k_most_times);
        left_ = k_left + k_edge + (width - length * pixels_) / 2.0;
        plan_ = head_ + k_title + k_labels;
        const double names = k_name * (static_cast<double>(picture_.spines.size()) + (picture_.base ? 1.0 : 0.0));
        side_ = plan_ + std::max(names, (all_.high_mm - all_.low_mm) * across_pixels()) + k_between + k_title;
        list_ = side_ + std::max(names, (all_.top_mm - all_.foot_mm) * across_pixels()) + k_dimension;
    }

    [[nodiscard]] double across_pixels() const { return pixels_ * times_; }
    [[nodiscard]] QPointF plan(double x_mm, double side_mm) const {
        return {x_at(x_mm), plan_ + (all_.high_mm - side_mm) * across_pixels()};
    }
    [[nodiscard]] QPointF side(double x_mm, double height_mm) const {
        return {x_at(x_mm), side_ + (all_.top_mm - height_mm) * across_pixels()};
    }
    static QPolygonF box(const QPointF& one, const QPointF& other) {
        return QPolygonF({one, QPointF(other.x(), one.y()), other, QPointF(one.x(), other.y())});
    }
    [[nodiscard]] QString number(double mm) const {
        return text_of(shortest_words(geometry::millimetres(mm), picture_.unit));
    }
    [[nodiscard]] QString enlarged() const {
        return times_ == 1 ? AssemblyDrawing::tr("true scale")
                           : AssemblyDrawing::tr("across drawn %1 times").arg(times_);
    }

    void board(const QPolygonF& outline, const QColor& colour, bool chosen) {
        QColor fill = colour;
        fill.setAlpha(chosen ? 255 : k_faint);
        made_.area(outline, fill, QPen(colour, chosen ? 2.2 : 1.2));
    }

    /// Left of the view, at a height; pushed down by the name above it.
    void name_at_left(double y, const QString& words, double& taken) {
        const QSizeF size = made_.plain().size_of(words);
        const double top = std::max(taken, y - size.height() / 2.0);
        made_.write_ending({left_ - 2.0 * k_air, top}, words, made_.plain());
        taken = top + size.height();
    }

    void draw_plan() {
        made_.write({k_edge, head_ + 2.0},
                    AssemblyDrawing::tr("From above, front end at the left · %1").arg(enlarged()), made_.lesser());
        double taken = plan_ - k_title / 2.0;
        if (picture_.base) {
            const AssemblyBase& base = *picture_.base;
            made_.area(box(plan(base.front_mm, base.low_mm), plan(base.rear_mm, base.high_mm)), Qt::NoBrush,
                       QPen(colours_.graphite, 1.4));
        }
        std::vector<AssemblySpine> spines = picture_.spines;
        std::sort(spines.begin(), spines.end(), [](const auto& a, const auto& b) { return a.side_mm > b.side_mm; });
        for (const AssemblySpine& spine : spines) {
            const double half = spine.thickness_mm / 2.0;
            board(box(plan(spine.front_mm, spine.side_mm - half), plan(spine.rear_mm, spine.side_mm + half)),
                  colours_.graphite, false);
            name_at_left(plan(0.0, spine.side_mm).y(), text_of(spine.label), taken);
        }
        double free = 0.0;
        const auto name_rib = [&](const AssemblyRib& rib, bool bold) {
            const Lettering look{colours_.graphite, looks::k_text, bold};
            const QString label = text_of(rib.label);
            const double wide = look.size_of(label).width();
            const double left = x_at((rib.front_mm + rib.rear_mm) / 2.0) - wide / 2.0;
            return QRectF(left, plan_ - k_labels, wide, k_labels);
        };
        std::optional<QRectF> chosen;
        for (const AssemblyRib& rib : picture_.ribs) {
            board(box(plan(rib.front_mm, rib.low_mm), plan(rib.rear_mm, rib.high_mm)), colours_.skirt, rib.chosen);
            if (rib.chosen) {
                chosen = name_rib(rib, true);
            }
        }
        for (const AssemblyRib& rib : picture_.ribs) {
            const QRectF room = name_rib(rib, rib.chosen);
            const bool in_the_way = !rib.chosen && chosen && room.adjusted(-k_air, 0, k_air, 0).intersects(*chosen);
            if ((room.left() < free + k_air && !rib.chosen) || in_the_way) {
                continue;
            }
            made_.write(room.topLeft(), text_of(rib.label), {colours_.graphite, looks::k_text, rib.chosen});
            free = std::max(free, room.right());
        }
        QPen diagonal(colours_.pencil, 1.2);
        diagonal.setDashPattern({6.0, 4.0});
        for (const AssemblyCheck& check : picture_.checks) {
            if (check.from_mm && check.to_mm) {
                made_.line({plan(check.from_mm->x(), check.from_mm->y()), plan(check.to_mm->x(), check.to_mm->y())},
                           diagonal);
            }
        }
    }

    void draw_side() {
        made_.write({k_edge, side_ - k_title + 2.0}, AssemblyDrawing::tr("From the side, standing on its base"),
                    made_.lesser());
        if (picture_.base) {
            const AssemblyBase& base = *picture_.base;
            board(box(side(base.front_mm, -base.thickness_mm), side(base.rear_mm, 0.0)), colours_.graphite, false);
        }
        double taken = side_;
        bool first = true;
        for (const AssemblySpine& spine : picture_.spines) {
            // One stands before the other.
            const QPolygonF outline = box(side(spine.front_mm, 0.0), side(spine.rear_mm, spine.height_mm));
            if (std::exchange(first, false)) {
                board(outline, colours_.graphite, false);
            } else {
                made_.area(outline, Qt::NoBrush, QPen(colours_.graphite, 1.2));
            }
            name_at_left(side(0.0, spine.height_mm).y() + k_line / 2.0, text_of(spine.label), taken);
        }
        if (picture_.base) {
            name_at_left(side(0.0, -picture_.base->thickness_mm / 2.0).y(), text_of(picture_.base->label), taken);
        }
        for (const AssemblyRib& rib : picture_.ribs) {
            board(box(side(rib.front_mm, 0.0), side(rib.rear_mm, rib.top_mm)), colours_.skirt, rib.chosen);
        }
        const double below = side(0.0, all_.foot_mm).y() + k_dimension / 2.0;
        add_dimension(made_, {x_at(all_.front_mm), below}, {x_at(all_.rear_mm), below},
                      number(all_.rear_mm - all_.front_mm), made_.plain());
    }

    void draw_checks() {
        if (flow_.empty()) {
            return;
        }
        made_.write({k_edge, list_},
                    AssemblyDrawing::tr("When it stands, measure (%1):").arg(text_of(unit_word(picture_.unit))),
                    {colours_.graphite, looks::k_text, true});
        for (std::size_t i = 0; i < flow_.size(); ++i) {
            made_.write({k_edge + flow_[i].left, list_ + k_title + k_line * flow_[i].row},
                        text_of(picture_.checks[i].words), made_.plain());
        }
    }

    const AssemblyPicture& picture_;
    Composition made_;
    const looks::Colours& colours_;
    Extent all_;
    double head_ = 0.0, pixels_ = 1.0, left_ = 0.0, plan_ = 0.0, side_ = 0.0, list_ = 0.0;
    int times_ = 1;
    std::vector<Flowing> flow_;
};

}  // namespace

AssemblyDrawing::AssemblyDrawing(QWidget* parent) : ComposedPaper(parent) {
    setObjectName(QStringLiteral("assemblyDrawing"));
    setAccessibleName(tr("The buck put together, from above and from the side"));
}

void AssemblyDrawing::set_picture(AssemblyPicture picture) {
    picture_ = std::move(picture);
    QString said = text_of(picture_.words.empty() ? picture_.piece + ": " + picture_.about : picture_.words);
    for (const AssemblyCheck& check : picture_.checks) {
        said += QStringLiteral("; ") + text_of(check.words);
    }
    setAccessibleDescription(said);
    updateGeometry();
    update();
}

QString AssemblyDrawing::title() const {
    return picture_.piece.empty() ? tr("buck") : tr("buck of %1").arg(text_of(picture_.piece));
}

QSize AssemblyDrawing::minimumSizeHint() const {
    constexpr int k_narrow = 560;
    constexpr int k_views = 380;
    if (!picture_.words.empty()) {
        return {k_narrow, 120};
    }
    const Lettering look{colours().graphite};
    return {k_narrow, k_views + static_cast<int>(list_height(flow_of(picture_, look, k_narrow - 2.0 * k_edge)))};
}

std::optional<std::size_t> AssemblyDrawing::rib_at(const QPointF& at, const QSizeF& sheet) const {
    if (!picture_.words.empty() || picture_.ribs.empty()) {
        return std::nullopt;
    }
    const Views views(picture_, sheet, tone());
    const auto off = [&](const AssemblyRib& rib) {
        return std::abs(views.x_at((rib.front_mm + rib.rear_mm) / 2.0) - at.x());
    };
    const auto nearest = std::min_element(picture_.ribs.begin(), picture_.ribs.end(),
                                          [&](const auto& a, const auto& b) { return off(a) < off(b); });
    return static_cast<std::size_t>(nearest - picture_.ribs.begin());
}

int AssemblyDrawing::times_across(const QSizeF& sheet) const {
    return picture_.words.empty() && !picture_.ribs.empty() ? Views(picture_, sheet, tone()).times() : 0;
}

void AssemblyDrawing::mousePressEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton) {
        ComposedPaper::mousePressEvent(event);
        return;
    }
    if (const auto rib = rib_at(event->position(), QSizeF(size()))) {
        emit chose(*rib);
    }
}

Composition AssemblyDrawing::compose(const QSizeF& sheet) const {
    return picture_.words.empty() && !picture_.ribs.empty() ? Views(picture_, sheet, tone()).draw()
                                                            : sentence(sheet, picture_.words);
}

}  // namespace sillwright::app
