#include "app/drawings/flute_drawing.h"

#include <QPainterPath>
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "app/length_words.h"
#include "app/text_of.h"
#include "core/finding_words.h"
#include "core/number_text.h"

namespace sillwright::app {

using geometry::millimetres;

namespace {

constexpr double k_edge = 12.0;
constexpr double k_line = 22.0;
constexpr double k_shelf_high = 80.0;    ///< Of the whole shelf, pixels.
constexpr double k_detail_wide = 190.0;  ///< The least of the base plate's picture.
constexpr double k_column_gap = 10.0;
constexpr int k_faint = 40;  ///< Of 255.
constexpr int k_groove = 150;
constexpr int k_disc = 26;
constexpr double k_detail_air = 1.2;  ///< Seen round the base plate, of its radius.
constexpr int k_arc_points = 24;      ///< Of half an end of a flute.

/// Flutes end in the bit's own half circle.
QPolygonF groove(const FluteRow& row, const std::vector<ShelfPoint>& middle, double along_scale, double across_scale,
                 const QPointF& origin) {
    const double half = row.width_mm / 2.0;
    const auto at = [&](double along_mm, double inward_mm) {
        return origin + QPointF(along_mm * along_scale, -inward_mm * across_scale);
    };
    QPolygonF points;
    const auto end = [&](const ShelfPoint& centre, double from_angle) {
        for (int i = 0; i <= k_arc_points; ++i) {
            const double angle = from_angle + M_PI * i / k_arc_points;
            points << at(centre.along_mm + half * std::cos(angle), centre.inward_mm + half * std::sin(angle));
        }
    };
    if (middle.empty()) {
        return points;
    }
    for (const ShelfPoint& point : middle) {
        points << at(point.along_mm, point.inward_mm - half);
    }
    end(middle.back(), -M_PI / 2.0);
    for (auto point = middle.crbegin(); point != middle.crend(); ++point) {
        points << at(point->along_mm, point->inward_mm + half);
    }
    end(middle.front(), M_PI / 2.0);
    return points;
}

class Sheet {
public:
    Sheet(const FlutePicture& picture, const QSizeF& sheet, looks::Tone tone)
        : picture_{picture}, made_{sheet, tone}, colours_{made_.colours()} {}

    Composition draw() {
        head();
        draw_shelf();
        const bool beside = picture_.plate && table_width() + k_detail_wide + 3.0 * k_edge < made_.sheet().width();
        const double right = made_.sheet().right() - k_edge;
        const double detail = k_edge + table_width() + k_edge;
        draw_table(beside ? detail - k_edge : right);
        if (picture_.plate) {
            const double bottom = made_.sheet().bottom() - k_edge;
            draw_plate(beside ? QRectF(QPointF(detail, shelf_bottom_), QPointF(right, bottom))
                              : QRectF(QPointF(k_edge, table_bottom_), QPointF(right, bottom)));
        }
        made_.place_names(made_.sheet().adjusted(2, 2, -2, -2));
        return std::move(made_);
    }

    /// Least size for what is shown.
    [[nodiscard]] QSize least() const {
        constexpr double k_detail_high = 180.0;
        const double rows = static_cast<double>(picture_.rows.size()) + 1.0;
        double missing = 0.0;
        for (const FluteRow& row : picture_.rows) {
            missing += static_cast<double>(row.missing.size());
        }
        const double table = (rows + missing) * k_line;
        const double detail = picture_.plate ? k_detail_wide + 1.5 * k_edge : 0.0;
        return QSizeF(std::max(table_width() + detail + 2.0 * k_edge, 520.0),
                      40.0 + k_line + k_shelf_high + 34.0 + std::max(table, picture_.plate ? k_detail_high : 0.0))
            .toSize();
    }

private:
    [[nodiscard]] QString number(double mm) const { return text_of(shortest_words(millimetres(mm), picture_.unit)); }

    void head() {
        QString text;
        core::State state = core::State::holds;
        if (picture_.plate) {
            state = picture_.plate->state;
            text = text_of(picture_.plate->words);
        } else if (!picture_.rows.empty()) {
            state = core::State::not_measured;
            text = FluteDrawing::tr("%n flute(s) on the shelf", nullptr, static_cast<int>(picture_.rows.size()));
        }
        const Lettering big = made_.number(state);
        const Lettering usual{big.colour, looks::k_text, true};
        constexpr double k_shape_room = 30.0;
        const bool fits = big.size_of(text).width() + k_shape_room < made_.sheet().width() - 2.0 * k_edge;
        if (fits) {
            head_ = made_.write_state({k_edge, 6.0}, state, text, big).bottom() + 2.0;
        } else {
            const double side = 14.0;
            made_.shape(QRectF(k_edge, 9.0, side, side), state);
            head_ =
                made_.write_wrapped(k_edge + side + 6.0, made_.sheet().right() - k_edge, 6.0, text, usual).bottom() +
                2.0;
        }
    }

    void draw_shelf() {
        const auto [first, last] = ends();
        double widest = 1.0;
        for (const ShelfPoint& point : picture_.inner) {
            widest = std::max(widest, point.inward_mm);
        }
        const double pixels = (made_.sheet().width() - 2.0 * k_edge) / std::max(1e-9, last - first);
        // A scale that reads well: halves.
        const double times = std::max(1.0, std::floor(2.0 * k_shelf_high / (widest * pixels)) / 2.0);
        const double across = times * pixels;
        const double edge_y = head_ + k_line + 6.0 + widest * across;
        const QPointF origin(k_edge - first * pixels, edge_y);
        made_.write({k_edge, head_},
                    FluteDrawing::tr("the shelf laid straight, across drawn × %1")
                        .arg(text_of(core::fixed_text(times, times == std::floor(times) ? 0 : 1))),
                    made_.lesser());
        QPolygonF shelf;
        shelf << origin + QPointF(first * pixels, 0.0) << origin + QPointF(last * pixels, 0.0);
        QPolygonF inner;
        for (const ShelfPoint& point : picture_.inner) {
            inner << origin + QPointF(point.along_mm * pixels, -point.inward_mm * across);
        }
        for (auto point = inner.crbegin(); point != inner.crend(); ++point) {
            shelf << *point;
        }
        QColor faint = colours_.skirt;
        faint.setAlpha(k_faint);
        made_.area(shelf, faint);
        made_.chain(inner, QPen(colours_.skirt, 1.6));
        made_.line({origin + QPointF(first * pixels, 0.0), origin + QPointF(last * pixels, 0.0)},
                   QPen(colours_.skirt, 2.6));
        for (const FluteRow& row : picture_.rows) {
            draw_groove(row, pixels, across, origin);
        }
        if (picture_.plate && picture_.plate->radius_mm > 0.0) {
            const BasePlate& plate = *picture_.plate;
            const QPointF middle = origin + QPointF(plate.along_mm * pixels, -plate.middle_mm * across);
            QPen pen(looks::text_colour(plate.state, made_.tone()), 1.8);
            made_.line({QPointF(middle.x(), edge_y + 6.0), QPointF(middle.x(), edge_y - widest * across - 4.0)}, pen);
        }
        made_.write({k_edge, edge_y + 5.0}, FluteDrawing::tr("shelf edge · front at the left"), {colours_.skirt});
        shelf_bottom_ = edge_y + k_line + 10.0;
    }

    [[nodiscard]] std::pair<double, double> ends() const {
        double first = 0.0;
        double last = 1.0;
        if (!picture_.inner.empty()) {
            first = picture_.inner.front().along_mm;
            last = picture_.inner.back().along_mm;
        }
        return {first, last};
    }

    void draw_groove(const FluteRow& row, double along_scale, double across_scale, const QPointF& origin) {
        const QPolygonF points = groove(row, row.middle, along_scale, across_scale, origin);
        QColor fill = colours_.skirt;
        fill.setAlpha(k_groove);
        made_.area(points, fill, QPen(colours_.skirt, 1.2));
        if (row.middle.empty()) {
            return;
        }
        // The name stands in the groove where that is high enough, on a plate of paper.
        const ShelfPoint& middle = row.middle[row.middle.size() / 4];
        const Lettering look{colours_.graphite, looks::k_text, true};
        const QSizeF size = look.size_of(text_of(row.name));
        const QPointF at = origin + QPointF(middle.along_mm * along_scale, -middle.inward_mm * across_scale);
        const QRectF plate(at.x() - size.width() / 2.0 - 3.0, at.y() - size.height() / 2.0, size.width() + 6.0,
                           size.height());
        if (row.width_mm * across_scale >= size.height() - 4.0) {
            made_.area(QPolygonF(plate), colours_.paper);
            made_.write(plate.topLeft() + QPointF(3.0, 0.0), text_of(row.name), look);
        } else {
            made_.name({at}, text_of(row.name), look);
        }
    }

    static constexpr std::size_t k_columns = 8;
    [[nodiscard]] std::array<QString, k_columns> header() const {
        return {FluteDrawing::tr("flute"), FluteDrawing::tr("bit"),  FluteDrawing::tr("depth"),
                FluteDrawing::tr("mould"), FluteDrawing::tr("seen"), FluteDrawing::tr("fence"),
                FluteDrawing::tr("wood"),  FluteDrawing::tr("land")};
    }
    [[nodiscard]] static std::array<QString, k_columns> cells(const FluteRow& row) {
        const auto words = [](const std::string& text) { return text.empty() ? QStringLiteral("–") : text_of(text); };
        // "6 in 2": in so many passes.
        const QString depth = row.passes.empty()
                                  ? words(row.depth)
                                  : FluteDrawing::tr("%1 in %2").arg(text_of(row.depth), text_of(row.passes));
        return {words(row.name),
                row.bit.empty() ? FluteDrawing::tr("none fits") : words(row.bit),
                depth,
                words(row.mould_width),
                words(row.seen),
                words(row.fence),
                words(row.wood_left),
                words(row.land)};
    }
    [[nodiscard]] std::array<double, k_columns> widths() const {
        std::array<double, k_columns> widest{};
        const Lettering bold{colours_.graphite, looks::k_text, true};
        const auto take = [&](const std::array<QString, k_columns>& texts, bool is_header) {
            for (std::size_t i = 0; i < k_columns; ++i) {
                const Lettering look = is_header || i == 0 ? bold : made_.plain();
                widest[i] = std::max(widest[i], look.size_of(texts[i]).width());
            }
        };
        take(header(), true);
        for (const FluteRow& row : picture_.rows) {
            take(cells(row), false);
        }
        widest[0] += k_line;  // The state's shape.
        return widest;
    }
    [[nodiscard]] double table_width() const {
        double sum = 0.0;
        for (const double one : widths()) {
            sum += one + k_column_gap;
        }
        return sum - k_column_gap;
    }

    void draw_table(double right) {
        const std::array<double, k_columns> wide = widths();
        const auto row_of = [&](double top, const std::array<QString, k_columns>& texts, bool is_header) {
            double left = k_edge;
            for (std::size_t i = 0; i < k_columns; ++i) {
                Lettering look = made_.plain();
                look.bold = is_header || i == 0;
                look.colour = is_header ? colours_.pencil : colours_.graphite;
                const bool words = i < 2;
                if (words) {
                    made_.write({left + (i == 0 ? k_line : 0.0), top}, texts[i], look);
                } else {
                    made_.write_ending({left + wide[i], top}, texts[i], look);
                }
                left += wide[i] + k_column_gap;
            }
        };
        double top = shelf_bottom_;
        row_of(top, header(), true);
        top += k_line;
        made_.line({QPointF(k_edge, top - 1.0), QPointF(std::min(right, k_edge + table_width()), top - 1.0)},
                   QPen(colours_.edge, 1.0));
        for (const FluteRow& row : picture_.rows) {
            made_.shape(QRectF(k_edge, top + 3.0, 14.0, 14.0), row.state);
            row_of(top, cells(row), false);
            top += k_line;
            for (const std::string& missing : row.missing) {
                top = made_
                          .write_wrapped(k_edge + k_line, right, top,
                                         FluteDrawing::tr("not decided: %1").arg(text_of(missing)), made_.lesser())
                          .bottom();
            }
        }
        table_bottom_ = top + 6.0;
    }

    void draw_plate(const QRectF& box) {
        const BasePlate& plate = *picture_.plate;
        if (plate.radius_mm <= 0.0 || box.height() < 90.0 || box.width() < 120.0) {
            return;
        }
        const QColor colour = looks::text_colour(plate.state, made_.tone());
        const double reach = k_detail_air * std::max(plate.radius_mm, plate.needed_mm);
        const QString upstand = !plate.room_mm ? QString()
                                : plate.inner  ? FluteDrawing::tr("inner upstand, ")
                                               : FluteDrawing::tr("outer upstand, ");
        const QRectF caption = made_.write_wrapped(box.left(), box.right(), box.top(),
                                                   FluteDrawing::tr("%1: plate radius %2, %3true scale")
                                                       .arg(text_of(plate.flute), number(plate.radius_mm), upstand),
                                                   made_.lesser());
        const QRectF view(QPointF(box.left(), caption.bottom() + 4.0), box.bottomRight());
        const double pixels = std::min(view.width(), view.height()) / (2.0 * reach);
        const QPointF middle = view.center();
        const auto y_of = [&](double inward_mm) {
            return std::clamp(middle.y() - (inward_mm - plate.middle_mm) * pixels, view.top(), view.bottom());
        };
        const auto band = [&](double from_mm, double to_mm) {
            return QPolygonF(QRectF(QPointF(view.left(), y_of(to_mm)), QPointF(view.right(), y_of(from_mm))));
        };
        QColor faint = colours_.skirt;
        faint.setAlpha(k_faint);
        made_.area(band(0.0, plate.shelf_mm), faint);
        for (const FluteRow& row : picture_.rows) {
            if (plate.along_mm < row.front_mm || plate.along_mm > row.rear_mm) {
                continue;
            }
            const auto near = std::min_element(row.middle.begin(), row.middle.end(), [&](const auto& a, const auto& b) {
                return std::abs(a.along_mm - plate.along_mm) < std::abs(b.along_mm - plate.along_mm);
            });
            if (near == row.middle.end()) {
                continue;
            }
            QColor fill = colours_.skirt;
            fill.setAlpha(row.name == plate.flute ? k_groove : k_groove / 2);
            made_.area(band(near->inward_mm - row.width_mm / 2.0, near->inward_mm + row.width_mm / 2.0), fill);
        }
        QColor wash = colours_.graphite;
        wash.setAlpha(k_disc);
        const auto disc = [&](double radius_mm) {
            QPainterPath path;
            path.addEllipse(middle, radius_mm * pixels, radius_mm * pixels);
            return path.toFillPolygon();
        };
        made_.area(disc(plate.radius_mm), wash, QPen(colours_.graphite, 2.0));
        if (plate.needed_mm > plate.radius_mm) {
            made_.area(disc(plate.needed_mm), Qt::NoBrush, QPen(colours_.graphite, 1.0, Qt::DashLine));
        }
        const double shelf_edge = y_of(0.0);
        made_.line({QPointF(view.left(), shelf_edge), QPointF(view.right(), shelf_edge)}, QPen(colours_.skirt, 2.4));
        if (plate.room_mm) {
            const double at = plate.middle_mm + (plate.inner ? *plate.room_mm : -*plate.room_mm);
            const double y = y_of(at);
            const double wall = plate.inner ? std::max(view.top(), y - 14.0) : std::min(view.bottom(), y + 14.0);
            made_.area(
                QPolygonF(QRectF(QPointF(view.left(), std::min(y, wall)), QPointF(view.right(), std::max(y, wall)))),
                QBrush(colours_.graphite, Qt::BDiagPattern));
            made_.line({QPointF(view.left(), y), QPointF(view.right(), y)}, QPen(colour, 2.4));
            add_dimension(made_, middle, {middle.x(), y}, number(*plate.room_mm), {colour, looks::k_text, true});
        }
    }

    const FlutePicture& picture_;
    Composition made_;
    const looks::Colours& colours_;
    double head_ = 0.0, shelf_bottom_ = 0.0, table_bottom_ = 0.0;
};

}  // namespace

FluteDrawing::FluteDrawing(QWidget* parent) : ComposedPaper(parent) {
    setObjectName(QStringLiteral("fluteDrawing"));
    setAccessibleName(tr("Flutes on the shelf, laid straight"));
}

void FluteDrawing::set_picture(FlutePicture picture) {
    picture_ = std::move(picture);
    QString said = text_of(picture_.words);
    for (const FluteRow& row : picture_.rows) {
        said += tr("%1: bit %2, depth %3, on the part %4 wide, %5. ")
                    .arg(text_of(row.name), text_of(row.bit), text_of(row.depth), text_of(row.seen),
                         text_of(core::look(row.state).word));
    }
    setAccessibleDescription(said);
    updateGeometry();
    update();
}

QString FluteDrawing::title() const {
    return tr("flutes of %1").arg(text_of(picture_.piece));
}

QSize FluteDrawing::minimumSizeHint() const {
    return picture_.words.empty() ? Sheet(picture_, QSizeF(600, 400), tone()).least() : QSize(400, 120);
}

Composition FluteDrawing::compose(const QSizeF& sheet) const {
    return picture_.words.empty() ? Sheet(picture_, sheet, tone()).draw() : sentence(sheet, picture_.words);
}

}  // namespace sillwright::app
