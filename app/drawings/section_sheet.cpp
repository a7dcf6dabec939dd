#include "app/drawings/section_sheet.h"

#include <QCoreApplication>
#include <QFontMetricsF>
#include <algorithm>
#include <utility>

#include "app/drawings/dimension.h"
#include "app/drawings/paper_ruler.h"
#include "app/drawings/thickness_tint.h"

namespace sillwright::app {

namespace {

constexpr double k_left_ruler = 64.0;
constexpr double k_bottom_ruler = 44.0;
constexpr double k_beside = 16.0;  ///< Between heading and the paper's sides.
constexpr double k_above = 8.0;
constexpr double k_between = 24.0;  ///< Least between the heading's two parts.
/// Free space round the picture, for names beside its outermost lines.
constexpr double k_margin = 44.0;
constexpr double k_covered_px = 10.0;  ///< Less than the height of any label.
constexpr QSizeF k_corner{330.0, 34.0};
constexpr double k_pale = 0.45;

QString words(const char* text) {
    return QCoreApplication::translate("SectionDrawing", text);
}

/// A box as lines that a label must not cross.
void add_box(std::vector<QLineF>& lines, const QRectF& box) {
    lines.insert(lines.end(), {QLineF(box.topLeft(), box.topRight()), QLineF(box.bottomLeft(), box.bottomRight()),
                               QLineF(box.topLeft(), box.bottomLeft()), QLineF(box.topRight(), box.bottomRight()),
                               QLineF(box.topLeft(), box.bottomRight()), QLineF(box.bottomLeft(), box.topRight())});
}

QRectF note_box(const SectionSheet& sheet, const SectionPicture& picture) {
    const QFontMetricsF metrics(looks::font(looks::k_text));
    const QRectF room(sheet.heading.left(), sheet.field.top() + 4.0, sheet.heading.width(), sheet.field.height());
    QRectF box = metrics.boundingRect(room, Qt::TextWordWrap, QString::fromStdString(picture.note));
    return box.adjusted(-6.0, -2.0, 6.0, 2.0);
}

void draw_heading(QPainter& painter, const SectionSheet& sheet, const SectionPicture& picture,
                  const looks::Colours& colours) {
    painter.setFont(looks::font(looks::k_text));
    painter.setPen(colours.graphite);
    const QFontMetricsF metrics(painter.font());
    painter.drawText(sheet.heading, Qt::AlignLeft | Qt::AlignTop,
                     metrics.elidedText(sheet.title, Qt::ElideRight, sheet.heading.width()));
    painter.setPen(colours.pencil);
    painter.drawText(sheet.heading, Qt::AlignRight | (sheet.two_lines ? Qt::AlignBottom : Qt::AlignTop), sheet.frame);
    if (!picture.note.empty()) {
        const QRectF box = note_box(sheet, picture);
        painter.setPen(QPen(colours.edge, 1.0));
        painter.setBrush(colours.paper);
        painter.drawRoundedRect(box, 4.0, 4.0);
        painter.setPen(colours.graphite);
        painter.drawText(box, Qt::AlignCenter | Qt::TextWordWrap, QString::fromStdString(picture.note));
    }
}

/// Everything above the ground that labels keep clear of, and the labels.
class OnGround {
public:
    OnGround(QPainter& painter, const SectionSheet& sheet, const SectionPicture& picture, const SectionScale& scale,
             const SectionSurroundings& ground, const SectionLook& look, SectionMemory& memory)
        : painter_{painter},
          sheet_{sheet},
          picture_{picture},
          scale_{scale},
          look_{look},
          colours_{looks::colours(look.tone)},
          memory_{memory},
          around_{surroundings_of(picture, scale, sheet.field)} {
        around_.lines.insert(around_.lines.end(), ground.lines.begin(), ground.lines.end());
        around_.labels.insert(around_.labels.end(), ground.labels.begin(), ground.labels.end());
        // What needs most room first; a line can be named anywhere along it.
        const auto rank = [](const SectionLabel& label) {
            return label.text.contains('\n') ? 0 : label.at.size() == 1 ? 1 : 2;
        };
        std::stable_sort(around_.labels.begin(), around_.labels.end(),
                         [&](const SectionLabel& one, const SectionLabel& other) { return rank(one) < rank(other); });
    }

    void draw() {
        draw_heading(painter_, sheet_, picture_, colours_);
        if (!picture_.note.empty()) {
            take(note_box(sheet_, picture_));
        }
        painter_.setClipRect(sheet_.field);
        draw_bands();
        ink(painter_, picture_, scale_, colours_);
        ink_item(painter_, picture_, scale_, look_.pointed, colours_);
        ink_item(painter_, picture_, scale_, look_.chosen, colours_);
        place_magnifier_if_wanted();
        draw_gap_line();
        draw_dimensions();
        draw_labels();
        if (memory_.magnifier) {
            draw_magnifier(painter_, *memory_.magnifier, picture_, scale_, look_.tone);
        }
        painter_.setClipping(false);
    }

private:
    void take(const QRectF& box) {
        taken_.push_back(box);
        add_box(around_.lines, box);
    }

    /// Formed sheet in its tints, and what they mean.
    void draw_bands() {
        const ThicknessTint tint({}, {}, look_.tone);
        painter_.setPen(Qt::NoPen);
        for (const SectionBand& band : picture_.bands) {
            QPolygonF points;
            for (const Eigen::Vector2d& p_mm : band.points_mm) {
                points << scale_.on_sheet(p_mm);
            }
            painter_.setBrush(tint.of_step(band.step));
            painter_.drawPolygon(points);
        }
        painter_.setBrush(Qt::NoBrush);
        if (picture_.tints.empty()) {
            return;
        }
        constexpr double k_step = 46.0;
        constexpr double k_high = 12.0;
        const double line = QFontMetricsF(looks::font(looks::k_text)).height();
        const double top = picture_.note.empty() ? sheet_.field.top() + 6.0 : note_box(sheet_, picture_).bottom() + 6.0;
        const double left = sheet_.field.left() + k_step / 2.0;
        const auto steps = static_cast<double>(picture_.tints.size()) - 1.0;
        const QRectF box(left - k_step / 2.0, top, (steps + 1.0) * k_step, k_high + line);
        painter_.fillRect(box, colours_.paper);
        painter_.setFont(looks::font(looks::k_text));
        for (std::size_t i = 0; i < picture_.tints.size(); ++i) {
            const double x = left + static_cast<double>(i) * k_step;
            if (i + 1 < picture_.tints.size()) {
                painter_.setPen(QPen(colours_.edge, 1.0));
                painter_.setBrush(tint.of_step(static_cast<int>(i)));
                painter_.drawRect(QRectF(x, top, k_step, k_high));
            }
            painter_.setPen(colours_.graphite);
            painter_.drawText(QRectF(x - k_step / 2.0, top + k_high, k_step, line), Qt::AlignCenter,
                              QString::fromStdString(picture_.tints[i]));
        }
        painter_.setBrush(Qt::NoBrush);
        take(box);
    }

    [[nodiscard]] bool gap_in_sight() const {
        return picture_.gap && sheet_.field.contains(scale_.on_sheet(picture_.gap->on_part_mm));
    }

    void place_magnifier_if_wanted() {
        if (!gap_in_sight() || !picture_.gap->small || sheet_.field.width() < 360.0 || sheet_.field.height() < 260.0) {
            memory_.magnifier.reset();
            return;
        }
        if (memory_.magnifier && memory_.keep_magnifier) {
            memory_.magnifier = moved_to(*memory_.magnifier, *picture_.gap);
        } else {
            std::vector<QRectF> taken = taken_;
            taken.push_back(sheet_.corner);
            taken.push_back(sheet_.covered);
            memory_.magnifier = place_magnifier(*picture_.gap, scale_, sheet_.field, around_.lines, taken);
        }
        take(memory_.magnifier->box());
        // Names stand outside the ring round what is magnified.
        const QPointF at = scale_.on_sheet(0.5 * (picture_.gap->on_part_mm + picture_.gap->on_other_mm));
        const double reach = spot_radius(*memory_.magnifier, scale_);
        add_box(around_.lines, QRectF(at.x() - reach, at.y() - reach, 2.0 * reach, 2.0 * reach));
    }

    void draw_gap_line() {
        if (!gap_in_sight()) {
            return;
        }
        const SectionGap& gap = *picture_.gap;
        const QColor colour = gap.state ? looks::text_colour(*gap.state, look_.tone) : colours_.graphite;
        const QLineF line(scale_.on_sheet(gap.on_part_mm), scale_.on_sheet(gap.on_other_mm));
        painter_.setPen(QPen(colour, 2.0, Qt::SolidLine, Qt::RoundCap));
        painter_.drawLine(line);
        around_.lines.push_back(line);
        if (!memory_.magnifier) {
            const QString text = QString::fromStdString(gap.number + " · " + gap.words).replace('\n', " · ");
            around_.labels.insert(around_.labels.begin(),
                                  {QStringLiteral("gap"), text, {line.center()}, SectionRole::body});
        }
    }

    void draw_dimensions() {
        for (const SectionDimension& dimension : picture_.dimensions) {
            const auto place = place_dimension(dimension, scale_, sheet_.field, around_.lines, taken_);
            if (place) {
                draw_dimension(painter_, dimension, *place, colours_);
                around_.lines.insert(around_.lines.end(), {place->line, place->from_witness, place->to_witness});
                take(place->text);
            }
        }
    }

    void draw_labels() {
        const QFont font = looks::font(looks::k_text);
        const QFontMetricsF metrics(font);
        std::vector<LabelWish> wishes;
        for (const SectionLabel& label : around_.labels) {
            LabelWish wish{label.at, metrics.size(0, label.text)};
            if (const auto held = memory_.labels.find(label.key); held != memory_.labels.end()) {
                wish.held = held->second;
            }
            wishes.push_back(std::move(wish));
        }
        const std::vector<LabelPlace> places = place_labels(wishes, around_.lines, sheet_.field);
        memory_.labels.clear();
        painter_.setFont(font);
        for (std::size_t i = 0; i < places.size(); ++i) {
            const SectionLabel& label = around_.labels[i];
            memory_.labels[label.key] = places[i].held();
            // Without room the pointer still tells what a thing is called.
            const bool of_a_line = label.at.size() > 1;
            if (places[i].covers_text() || (of_a_line && places[i].covers_line())) {
                continue;
            }
            const bool pale =
                picture_.stale && (label.role == SectionRole::door || label.role == SectionRole::door_limit);
            painter_.setOpacity(pale ? k_pale : 1.0);
            painter_.setPen(QPen(ink_of(label.role, colours_), 0.8));
            if (places[i].far) {
                painter_.drawLine(leader(places[i].box, places[i].at));
            }
            painter_.drawText(places[i].box, Qt::AlignLeft | Qt::AlignVCenter | Qt::TextDontClip, label.text);
        }
        painter_.setOpacity(1.0);
    }

    QPainter& painter_;
    const SectionSheet& sheet_;
    const SectionPicture& picture_;
    const SectionScale& scale_;
    const SectionLook& look_;
    const looks::Colours& colours_;
    SectionMemory& memory_;
    SectionSurroundings around_;
    std::vector<QRectF> taken_;
};

}  // namespace

SectionSheet lay_out(const QSizeF& size, const QString& title) {
    SectionSheet sheet;
    sheet.sheet = QRectF(QPointF(), size);
    sheet.paper = sheet.sheet.adjusted(k_left_ruler, 0.0, 0.0, -k_bottom_ruler);
    sheet.title = title;
    sheet.frame = words("up ↑   out →");
    const QFontMetricsF metrics(looks::font(looks::k_text));
    const double width = sheet.paper.width() - 2.0 * k_beside;
    sheet.two_lines =
        metrics.horizontalAdvance(sheet.title) + k_between + metrics.horizontalAdvance(sheet.frame) > width;
    const double height = metrics.lineSpacing() * (sheet.two_lines ? 2.0 : 1.0);
    sheet.heading = QRectF(sheet.paper.left() + k_beside, sheet.paper.top() + k_above, width, height);
    sheet.field = sheet.paper.adjusted(1.0, k_above + height + 4.0, 0.0, -1.0);
    sheet.corner = QRectF(sheet.paper.bottomRight() - QPointF(k_corner.width(), k_corner.height()), k_corner);
    return sheet;
}

QRectF fitted_field(const SectionSheet& sheet) {
    return sheet.field.adjusted(k_margin, 0.5 * k_margin, -k_margin, -k_margin);
}

void draw_ground(QPainter& painter, const SectionSheet& sheet, const SectionPicture& picture, const SectionScale& scale,
                 const std::vector<const PhotoUnder*>& photos, const looks::Colours& colours) {
    painter.fillRect(sheet.sheet, colours.paper);
    painter.setClipRect(sheet.field);
    for (const PhotoUnder* photo : photos) {
        draw_photo(painter, *photo, scale);
    }
    painter.setClipping(false);
    draw_rulers(painter, sheet.sheet, sheet.paper, scale, picture.unit, colours);
    if (picture.under) {
        painter.setClipRect(sheet.field);
        SectionPicture ground = *picture.under;
        ground.stale = picture.stale;
        ink(painter, ground, scale, colours);
        painter.setClipping(false);
    }
    draw_scale_bar(painter, sheet.paper, scale, picture.unit, colours);
}

SectionSurroundings ground_surroundings(const SectionSheet& sheet, const SectionPicture& picture,
                                        const SectionScale& scale) {
    SectionSurroundings around;
    if (picture.under) {
        around = surroundings_of(*picture.under, scale, sheet.field);
    }
    add_box(around.lines, sheet.corner);
    // Filled with lines, so that no label would rather stand there than on a line of the drawing.
    for (double y = sheet.covered.top(); y < sheet.covered.bottom(); y += k_covered_px) {
        around.lines.emplace_back(sheet.covered.left(), y, sheet.covered.right(), y);
    }
    add_box(around.lines, scale_bar_box(sheet.paper, scale, picture.unit));
    return around;
}

void draw_on_ground(QPainter& painter, const SectionSheet& sheet, const SectionPicture& picture,
                    const SectionScale& scale, const SectionSurroundings& ground, const SectionLook& look,
                    SectionMemory& memory) {
    OnGround(painter, sheet, picture, scale, ground, look, memory).draw();
}

}  // namespace sillwright::app
