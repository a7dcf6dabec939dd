#include "app/drawings/thickness_plot.h"

#include <QMouseEvent>
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "app/drawings/thickness_tint.h"
#include "app/length_words.h"
#include "app/text_of.h"
#include "core/finding_words.h"
#include "core/number_text.h"

namespace sillwright::app {

using geometry::millimetres;

namespace {

constexpr double k_edge = 12.0;
constexpr double k_left = 58.0;         ///< For the numbers beside the plot.
constexpr double k_line = 21.0;         ///< A line of text.
constexpr double k_between = 8.0;       ///< Two parts' panels.
constexpr double k_course_high = 40.0;  ///< The least height of a part's course.
constexpr double k_above = 8.0;         ///< Between the heading and the plot.
constexpr double k_plot_high = 110.0;   ///< The least height of the plot.
constexpr double k_air = 1.12;          ///< Above the sheet's thickness.
constexpr double k_mark = 16.0;
constexpr int k_most_ticks = 5;

/// The least of 1, 2, 2.5, 5, 10, ... that `count` steps of reach `whole` or more.
double round_step(double whole, int count) {
    const double power = std::pow(10.0, std::floor(std::log10(whole / count)));
    for (const double part : {1.0, 2.0, 2.5, 5.0}) {
        if (part * power * count >= whole) {
            return part * power;
        }
    }
    return 10.0 * power;
}

/// Rows for names that begin at rising places and are led down to: a leader crosses no name.
std::vector<int> rows_of(const std::vector<double>& begins, const std::vector<double>& widths) {
    constexpr double k_apart = 8.0;
    std::vector<int> rows(begins.size(), 0);
    for (std::size_t i = begins.size(); i-- > 0;) {
        for (std::size_t j = i + 1; j < begins.size(); ++j) {
            if (begins[j] < begins[i] + widths[i] + k_apart) {
                rows[i] = std::max(rows[i], rows[j] + 1);
            }
        }
    }
    return rows;
}

class Plot {
public:
    Plot(const ThicknessPicture& picture, const QSizeF& sheet, looks::Tone tone)
        : picture_{picture}, made_{sheet, tone}, colours_{made_.colours()}, tint_{least(), most(), tone} {
        top_mm_ = k_air * in_mm(most());
        for (const ThicknessNeed& need : picture_.needs) {
            top_mm_ = std::max(top_mm_, k_air * need.needed_mm);
        }
    }

    Composition draw() {
        head();
        lay_out();
        draw_round();
        draw_nodes();
        draw_panels();
        made_.place_names(QRectF(QPointF(field_.left(), head_ + k_line - 2.0),
                                 QPointF(made_.sheet().right() - 2.0, field_.bottom())));
        return std::move(made_);
    }

    /// Of the parts' panels, in their order.
    std::vector<QRectF> panels() {
        head();
        lay_out();
        return panels_;
    }

private:
    [[nodiscard]] QString part_words(const ThicknessPart& part) const {
        return QStringLiteral("%1 %2").arg(text_of(part.name), number(part.thickness_mm));
    }
    /// How sure it is, only where there is room for it: the findings say it too.
    [[nodiscard]] QString need_words(const ThicknessPart& part) const {
        return with_sd_ ? ThicknessPlot::tr("± %1, needs %2").arg(number(2.0 * part.sd_mm), number(part.needed_mm))
                        : ThicknessPlot::tr("needs %1").arg(number(part.needed_mm));
    }
    /// A part's panel, so that its words fit.
    [[nodiscard]] double narrowest() const {
        constexpr double k_shape = 20.0;
        const Lettering bold{colours_.graphite, looks::k_text, true};
        double widest = 1.0;
        for (const ThicknessPart& part : picture_.parts) {
            widest = std::max({widest, k_shape + bold.size_of(part_words(part)).width(),
                               made_.plain().size_of(need_words(part)).width()});
        }
        return widest + k_between;
    }
    static double in_mm(geometry::Length length) { return geometry::in_mm(length); }
    [[nodiscard]] geometry::Length least() const {
        double least = picture_.sheet_mm;
        for (const ThicknessPoint& point : picture_.round) {
            least = std::min(least, point.thickness_mm);
        }
        return millimetres(least);
    }
    [[nodiscard]] geometry::Length most() const {
        double most = picture_.sheet_mm;
        for (const ThicknessPoint& point : picture_.round) {
            most = std::max(most, point.thickness_mm);
        }
        return millimetres(most);
    }
    [[nodiscard]] QString number(double mm) const { return text_of(fine_number(millimetres(mm), picture_.unit)); }

    /// The part that is worst off.
    [[nodiscard]] const ThicknessPart* worst() const {
        const auto found = std::min_element(
            picture_.parts.begin(), picture_.parts.end(), [](const ThicknessPart& one, const ThicknessPart& other) {
                return one.sure_mm() - one.needed_mm < other.sure_mm() - other.needed_mm;
            });
        return found == picture_.parts.end() ? nullptr : &*found;
    }

    void head() {
        const double right = made_.sheet().right() - k_edge;
        double bottom = 6.0;
        double beside = k_edge;
        double middle = bottom + k_line / 2.0;
        if (const ThicknessPart* part = worst()) {
            const QString text = ThicknessPlot::tr("%1 ± %2 %3, %4")
                                     .arg(number(part->thickness_mm), number(2.0 * part->sd_mm),
                                          text_of(unit_word(picture_.unit)), text_of(part->name));
            const QRectF box = made_.write_state({k_edge, 6.0}, part->state, text, made_.number(part->state));
            bottom = box.bottom();
            beside = box.right() + 16.0;
            middle = box.center().y();
        }
        QString words;
        if (const ThicknessPart* part = worst()) {
            words = ThicknessPlot::tr("%1, needs %2; sheet %3, draw ratio %4")
                        .arg(text_of(core::look(part->state).word), number(part->needed_mm), number(picture_.sheet_mm),
                             text_of(core::fixed_text(picture_.draw_ratio, 2)));
        } else {
            words = ThicknessPlot::tr("sheet %1 %2").arg(number(picture_.sheet_mm), text_of(unit_word(picture_.unit)));
        }
        const QSizeF size = made_.plain().size_of(words);
        if (size.width() <= right - beside) {
            made_.write({beside, middle - size.height() / 2.0}, words, made_.plain());
        } else {
            bottom = made_.write_wrapped(k_edge, right, bottom, words, made_.plain()).bottom();
        }
        const QString limits = text_of(picture_.limits);
        head_ = limits.isEmpty() ? bottom
                                 : made_.write_wrapped(k_edge, right, bottom + 2.0, limits, made_.lesser()).bottom();
    }

    void lay_out() {
        const QRectF& sheet = made_.sheet();
        begins_.clear();
        widths_.clear();
        const Lettering look{colours_.skirt};
        double width = std::max(1.0, sheet.width() - k_left - k_edge);
        round_mm_ = picture_.round.empty() ? 1.0 : std::max(1e-9, picture_.round.back().at_mm);
        for (const ThicknessNode& node : picture_.nodes) {
            widths_.push_back(look.size_of(text_of(node.name)).width() + 4.0);
        }
        // Narrower, until the last names are on the sheet.
        for (std::size_t i = 0; i < widths_.size(); ++i) {
            const double part = picture_.nodes[i].round_mm / round_mm_;
            const double room = sheet.right() - k_edge / 2.0 - k_left - widths_[i];
            if (part > 0.0) {
                width = std::max(1.0, std::min(width, room / part));
            }
        }
        for (const ThicknessNode& node : picture_.nodes) {
            begins_.push_back(k_left + width * node.round_mm / round_mm_);
        }
        rows_ = rows_of(begins_, widths_);
        const int row_count = rows_.empty() ? 0 : *std::max_element(rows_.begin(), rows_.end()) + 1;
        const double names = row_count * k_line + 8.0;

        const double room = sheet.width() - 2.0 * k_edge + k_between;
        with_sd_ = room >= narrowest() * static_cast<double>(picture_.parts.size());
        const double columns = std::max(1.0, std::floor(room / narrowest()));
        const double count = static_cast<double>(picture_.parts.size());
        const double lines = std::ceil(count / columns);
        const double free = sheet.bottom() - k_edge - head_ - k_line - k_above - names - 8.0;
        const double words_high = 2.0 * k_line;
        const double panels = lines > 0.0 ? std::max(lines * (words_high + k_course_high), 0.34 * free) : 0.0;
        field_ = QRectF(k_left, head_ + k_line + k_above, width, std::max(k_plot_high / 2.0, free - panels));
        const double top = field_.bottom() + names + 8.0;
        const double per_line = lines > 0.0 ? std::ceil(count / lines) : 1.0;
        const double wide = room / per_line;
        panels_.clear();
        for (std::size_t i = 0; i < picture_.parts.size(); ++i) {
            const double row = std::floor(static_cast<double>(i) / per_line);
            const double column = static_cast<double>(i) - row * per_line;
            panels_.emplace_back(k_edge + column * wide, top + row * panels / lines, wide - k_between,
                                 panels / lines - 6.0);
        }
    }

    [[nodiscard]] double x(double round_mm) const { return field_.left() + field_.width() * round_mm / round_mm_; }
    [[nodiscard]] double y(double thickness_mm) const {
        return field_.bottom() - field_.height() * thickness_mm / top_mm_;
    }

    /// The band itself: each stretch in its tint, then its upper edge, what is needed, and the thinnest place.
    void draw_round() {
        const QString unit = text_of(unit_word(picture_.unit));
        made_.write({k_edge, head_ + 1.0},
                    ThicknessPlot::tr("thickness in %1 round the section %2").arg(unit, text_of(picture_.place)),
                    made_.lesser());
        draw_scale();
        draw_band();
        QPolygonF upper;
        for (const ThicknessPoint& point : picture_.round) {
            upper << QPointF(x(point.at_mm), y(point.thickness_mm));
        }
        made_.chain(upper, QPen(colours_.skirt, 2.6));
        QPen sheet(colours_.pencil, 1.2);
        sheet.setDashPattern({1.0, 3.0});
        made_.line({QPointF(field_.left(), y(picture_.sheet_mm)), QPointF(field_.right(), y(picture_.sheet_mm))},
                   sheet);
        for (const ThicknessNeed& need : picture_.needs) {
            const QLineF line(x(need.from_mm), y(need.needed_mm), x(need.to_mm), y(need.needed_mm));
            made_.line(line, QPen(colours_.graphite, 1.8, Qt::DashLine));
        }
        if (picture_.least) {
            const QPointF at(x(picture_.least->at_mm), y(picture_.least->thickness_mm));
            made_.shape(QRectF(at.x() - k_mark / 2.0, at.y() - k_mark / 2.0, k_mark, k_mark), picture_.least_state);
            made_.name({at},
                       ThicknessPlot::tr("least here %1, %2")
                           .arg(number(picture_.least->thickness_mm), text_of(core::look(picture_.least_state).word)),
                       {looks::text_colour(picture_.least_state, made_.tone()), looks::k_text, true});
        }
        for (const ThicknessNeed& need : picture_.needs) {
            const double level = y(need.needed_mm);
            std::vector<QPointF> places;
            for (const double part : {0.5, 0.3, 0.7, 0.15, 0.85}) {
                places.emplace_back(x(std::lerp(need.from_mm, need.to_mm, part)), level);
            }
            made_.name(places, ThicknessPlot::tr("needs %1").arg(number(need.needed_mm)), made_.plain());
        }
        made_.name(
            {QPointF(field_.right() - 40.0, y(picture_.sheet_mm)), QPointF(field_.center().x(), y(picture_.sheet_mm))},
            ThicknessPlot::tr("sheet %1").arg(number(picture_.sheet_mm)), made_.lesser());
    }

    /// Neighbours of one tint are one area: no seam shows between them.
    void draw_band() {
        const auto step_of = [&](std::size_t i) {
            const double thinner = std::min(picture_.round[i - 1].thickness_mm, picture_.round[i].thickness_mm);
            return tint_.step_of(millimetres(thinner));
        };
        for (std::size_t first = 1; first < picture_.round.size();) {
            std::size_t behind = first + 1;
            while (behind < picture_.round.size() && step_of(behind) == step_of(first)) {
                ++behind;
            }
            QPolygonF points{{QPointF(x(picture_.round[first - 1].at_mm), y(0.0))}};
            for (std::size_t i = first - 1; i < behind; ++i) {
                points << QPointF(x(picture_.round[i].at_mm), y(picture_.round[i].thickness_mm));
            }
            points << QPointF(points.back().x(), y(0.0));
            made_.area(points, tint_.of_step(step_of(first)));
            first = behind;
        }
    }

    void draw_scale() {
        const bool inches = picture_.unit == core::BareUnit::in;
        const double for_unit = inches ? 25.4 : picture_.unit == core::BareUnit::cm ? 10.0 : 1.0;
        const int count = std::clamp(static_cast<int>(field_.height() / (1.3 * k_line)), 2, k_most_ticks);
        const double step = round_step(top_mm_ / for_unit, count);
        const int decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9))) +
                             (std::abs(step * std::pow(10.0, -std::floor(std::log10(step))) - 2.5) < 1e-9 ? 1 : 0);
        for (int i = 0; i * step * for_unit <= top_mm_; ++i) {
            const double level = y(i * step * for_unit);
            made_.line({QPointF(field_.left(), level), QPointF(field_.right(), level)}, QPen(colours_.edge, 1.0));
            const Lettering look = made_.lesser();
            const QString text = text_of(core::fixed_text(i * step, decimals));
            made_.write_ending({field_.left() - 6.0, level - look.size_of(text).height() / 2.0}, text, look);
        }
    }

    void draw_nodes() {
        const Lettering look{colours_.skirt};
        for (std::size_t i = 0; i < picture_.nodes.size(); ++i) {
            const double at = x(picture_.nodes[i].round_mm);
            const double top = field_.bottom() + 6.0 + rows_[i] * k_line;
            const QString name = text_of(picture_.nodes[i].name);
            const QSizeF size = look.size_of(name);
            made_.line({QPointF(at, field_.bottom() - 5.0), QPointF(at, top + size.height() - 2.0)},
                       QPen(colours_.skirt, 1.2));
            made_.write({at + 4.0, top}, name, look);
        }
    }

    void draw_panels() {
        for (std::size_t i = 0; i < panels_.size(); ++i) {
            draw_panel(panels_[i], picture_.parts[i]);
        }
    }

    void draw_panel(const QRectF& box, const ThicknessPart& part) {
        const QColor colour = looks::text_colour(part.state, made_.tone());
        made_.write_state(box.topLeft(), part.state, part_words(part), {colour, looks::k_text, true});
        made_.write({box.left(), box.top() + k_line}, need_words(part), made_.plain());
        const QRectF course(box.left(), box.top() + 2.0 * k_line + 2.0, box.width(),
                            std::max(8.0, box.height() - 2.0 * k_line - 2.0));
        const double length = std::max(1e-9, picture_.rear_mm - picture_.front_mm);
        const auto at = [&](double along_mm, double thickness_mm) {
            return QPointF(course.left() + course.width() * (along_mm - picture_.front_mm) / length,
                           course.bottom() - course.height() * std::min(1.0, thickness_mm / top_mm_));
        };
        made_.area(QPolygonF({course.topLeft(), course.topRight(), course.bottomRight(), course.bottomLeft()}),
                   Qt::NoBrush, QPen(colours_.edge, 1.0));
        QPolygonF line;
        for (const ThicknessPoint& point : part.course) {
            line << at(point.at_mm, point.thickness_mm);
        }
        if (line.size() > 1) {
            QPolygonF under = line;
            under << QPointF(line.back().x(), course.bottom()) << QPointF(line.front().x(), course.bottom());
            made_.area(under, tint_.at(millimetres(part.thickness_mm)));
            made_.chain(line, QPen(colours_.skirt, 1.8));
        }
        const double level = at(picture_.front_mm, part.needed_mm).y();
        made_.line({QPointF(course.left(), level), QPointF(course.right(), level)},
                   QPen(colours_.graphite, 1.4, Qt::DashLine));
        const double here = at(picture_.along_mm, 0.0).x();
        made_.line({QPointF(here, course.top()), QPointF(here, course.bottom())}, QPen(colours_.graphite, 1.2));
        const QPointF thinnest = at(part.along_mm, part.thickness_mm);
        constexpr double k_small = 11.0;
        made_.shape(QRectF(thinnest.x() - k_small / 2.0, thinnest.y() - k_small / 2.0, k_small, k_small), part.state);
    }

    const ThicknessPicture& picture_;
    Composition made_;
    const looks::Colours& colours_;
    ThicknessTint tint_;
    bool with_sd_ = true;
    double head_ = 0.0, top_mm_ = 1.0, round_mm_ = 1.0;
    QRectF field_;
    std::vector<double> begins_, widths_;
    std::vector<int> rows_;
    std::vector<QRectF> panels_;
};

}  // namespace

ThicknessPlot::ThicknessPlot(QWidget* parent) : ComposedPaper(parent) {
    setObjectName(QStringLiteral("thicknessPlot"));
    setAccessibleName(tr("Thickness of the formed sheet"));
}

void ThicknessPlot::set_picture(ThicknessPicture picture) {
    picture_ = std::move(picture);
    QString said = text_of(picture_.words);
    for (const ThicknessPart& part : picture_.parts) {
        said += tr("%1 %2 at %3, needs %4, %5. ")
                    .arg(text_of(part.name), text_of(fine_number(millimetres(part.thickness_mm), picture_.unit)),
                         text_of(part.place), text_of(fine_number(millimetres(part.needed_mm), picture_.unit)),
                         text_of(core::look(part.state).word));
    }
    setAccessibleDescription(said);
    updateGeometry();
    update();
}

QString ThicknessPlot::title() const {
    return tr("thickness of %1 %2").arg(text_of(picture_.piece), text_of(picture_.place)).simplified();
}

QSize ThicknessPlot::minimumSizeHint() const {
    return {480, 366};
}

Composition ThicknessPlot::compose(const QSizeF& sheet) const {
    return picture_.words.empty() ? Plot(picture_, sheet, tone()).draw() : sentence(sheet, picture_.words);
}

void ThicknessPlot::mousePressEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton || !picture_.words.empty()) {
        Paper::mousePressEvent(event);
        return;
    }
    const std::vector<QRectF> panels = Plot(picture_, QSizeF(size()), tone()).panels();
    for (const QRectF& panel : panels) {
        if (panel.contains(event->position())) {
            const double part = (event->position().x() - panel.left()) / panel.width();
            emit went(std::lerp(picture_.front_mm, picture_.rear_mm, part));
            return;
        }
    }
}

}  // namespace sillwright::app
