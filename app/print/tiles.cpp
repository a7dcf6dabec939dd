#include "app/print/tiles.h"

#include <QBuffer>
#include <QPainter>
#include <QPdfWriter>
#include <algorithm>
#include <vector>

#include "app/looks.h"
#include "app/print/drawing_ink.h"
#include "app/print/page_words.h"
#include "app/print/tile_plan.h"
#include "app/text_of.h"

namespace sillwright::app::print {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;
using geometry::Error;
using geometry::ErrorCode;
using geometry::Result;

namespace {

constexpr double k_mm = k_units_per_mm;
constexpr double k_note_line = 13.0;  ///< The thin lines of a template.
constexpr double k_title_points = 13.0;
constexpr double k_face_points = 11.5;
constexpr double k_side_points = 19.0;
constexpr double k_text_points = 8.5;
constexpr double k_join_points = 8.0;
constexpr double k_cross_arm_mm = 4.0;
constexpr double k_four_inches_mm = 101.6;
constexpr double k_map_share = 0.45;  ///< Of the overview's height.
constexpr double k_air = 200.0;

class TileSheets {
public:
    TileSheets(const core::Template& one, const JobHead& head, const TilePlan& plan, QPdfWriter& writer)
        : one_{one},
          head_{head},
          plan_{plan},
          writer_{writer},
          sheet_{TilePlan::k_margin_mm * k_mm, TilePlan::k_margin_mm * k_mm,
                 (plan.page_mm.width() - 2.0 * TilePlan::k_margin_mm) * k_mm,
                 (plan.page_mm.height() - 2.0 * TilePlan::k_margin_mm) * k_mm} {}

    void run() {
        QPainter painter(&writer_);
        painter_ = &painter;
        const double dots = k_dots_per_inch / (25.4 * k_units_per_mm);
        painter.scale(dots, dots);
        draw_overview();
        for (const Tile& tile : plan_.tiles) {
            writer_.newPage();
            draw_tile(tile);
        }
    }

private:
    [[nodiscard]] QRectF field() const {
        return sheet_.adjusted(0.0, TilePlan::k_head_mm * k_mm, 0.0, -TilePlan::k_foot_mm * k_mm);
    }

    void pen(const QColor& colour, double width) {
        painter_->setPen(QPen(colour, width, Qt::SolidLine, Qt::FlatCap));
        painter_->setBrush(Qt::NoBrush);
    }
    void ink() { pen(Qt::black, k_note_line); }

    void draw_head(const QString& which) {
        ink();
        const QFont side = page_font(k_side_points, true);
        const double side_width = width_of(head_.side, side);
        draw_line_of_words(*painter_, sheet_.topRight() - QPointF(side_width, 0.0), head_.side, side);
        QPointF at = sheet_.topLeft();
        const auto line = [&](const QString& words, double points, bool bold, double width) {
            const QFont font = fitting(words, points, bold, width);
            draw_line_of_words(*painter_, at, words, font);
            at.ry() += line_height(page_font(points, bold));
        };
        const double beside = sheet_.width() - side_width - k_air;
        line(text_of(one_.title), k_title_points, true, beside);
        line(text_of(one_.this_side_out), k_face_points, true, beside);
        line(head_.line(), k_text_points, false, sheet_.width());
        line(which, k_text_points, true, sheet_.width());
    }

    /// Smaller where the words would not fit, as a long name of a car.
    static QFont fitting(const QString& words, double points, bool bold, double width) {
        const QFont usual = page_font(points, bold);
        const double wide = width_of(words, usual);
        return wide <= width ? usual : page_font(points * width / wide * 0.99, bold);
    }

    /// A bar with ticks at both ends and in its middle.
    void bar(const QPointF& from, double length_mm, const QString& words) {
        pen(Qt::black, k_bar_pen_mm * k_mm);
        const QPointF to = from + QPointF(length_mm * k_mm, 0.0);
        painter_->drawLine(from, to);
        for (const double part : {0.0, 1.0}) {
            const QPointF at = from + part * (to - from);
            painter_->drawLine(at - QPointF(0.0, 150.0), at + QPointF(0.0, 150.0));
        }
        const QFont font = page_font(k_text_points, true);
        ink();
        draw_line_of_words(*painter_, to + QPointF(k_air, -line_height(font) / 2.0), words, font);
    }

    void draw_foot() {
        const double top = sheet_.bottom() - TilePlan::k_foot_mm * k_mm;
        bar({sheet_.left(), top + 500.0}, 100.0, QStringLiteral("MEASURE THIS BEFORE USE: 100 mm"));
        bar({sheet_.left(), top + 1100.0}, k_four_inches_mm, QStringLiteral("and this: 4 in"));
        const QFont font = page_font(k_text_points, true);
        ink();
        const QString print = QStringLiteral("PRINT AT 100 %, NOT FITTED TO THE PAGE");
        draw_line_of_words(*painter_, {sheet_.left(), sheet_.bottom() - line_height(font)}, print, font);
    }

    void draw_overview() {
        draw_head(QStringLiteral("Map of %1 sheet(s): %2 across, %3 down. This page is not to scale.")
                      .arg(plan_.tiles.size())
                      .arg(plan_.columns)
                      .arg(plan_.rows));
        draw_foot();
        const QRectF room = field();
        AlignedBox2d all;
        for (const Tile& tile : plan_.tiles) {
            all.extend(plan_.field_of(tile));
        }
        const double scale = std::min(room.width() / all.sizes().x(), k_map_share * room.height() / all.sizes().y());
        const DrawingScale map{
            scale, QPointF(room.left() - scale * all.min().x(), room.top() + k_air + scale * all.max().y())};
        painter_->save();
        painter_->setClipRect(
            QRectF(map.on_page({all.min().x(), all.max().y()}), map.on_page({all.max().x(), all.min().y()})));
        draw_drawing(*painter_, one_.drawing, map, k_note_line * 0.7);
        painter_->restore();
        for (const Tile& tile : plan_.tiles) {
            const AlignedBox2d box = plan_.field_of(tile);
            const QRectF on_map(map.on_page({box.min().x(), box.max().y()}),
                                map.on_page({box.max().x(), box.min().y()}));
            pen(looks::colours(looks::Tone::light).pencil, k_note_line);
            painter_->drawRect(on_map);
            const QFont font = page_font(k_text_points, true);
            ink();
            draw_line_of_words(*painter_, on_map.topLeft() + QPointF(60.0, 30.0), text_of(tile.name()), font);
        }
        draw_notes(room.top() + k_air + scale * all.sizes().y() + 2.0 * k_air, room.bottom());
    }

    void draw_notes(double top, double bottom) {
        std::vector<std::string> notes = one_.notes;
        const std::string joining =
            "Join the sheets by the crosses: each stands at the same place on both neighbours, which overlap "
            "by 10 mm. Each sheet's edges name what joins there.";
        notes.push_back(joining);
        // Smaller letters, if that is what it takes.
        for (double points = 10.0; points >= 6.0; points -= 0.5) {
            const QFont font = page_font(points);
            std::vector<QString> lines;
            for (const std::string& note : notes) {
                const auto some = wrapped(QStringLiteral("• ") + text_of(note), font, sheet_.width());
                lines.insert(lines.end(), some.begin(), some.end());
            }
            if (top + static_cast<double>(lines.size()) * line_height(font) <= bottom || points - 0.5 < 6.0) {
                ink();
                draw_lines_of_words(*painter_, {sheet_.left(), top}, lines, font);
                return;
            }
        }
    }

    void draw_tile(const Tile& tile) {
        draw_head(QStringLiteral("SHEET %1 · row %2 of %3, column %4 of %5")
                      .arg(text_of(tile.name()))
                      .arg(tile.row + 1)
                      .arg(plan_.rows)
                      .arg(tile.column + 1)
                      .arg(plan_.columns));
        draw_foot();
        const AlignedBox2d box = plan_.field_of(tile);
        const QRectF room = field();
        const DrawingScale scale{k_mm, QPointF(room.left() - k_mm * box.min().x(), room.top() + k_mm * box.max().y())};
        painter_->save();
        painter_->setClipRect(room);
        draw_drawing(*painter_, one_.drawing, scale, k_note_line, &box);
        painter_->restore();
        pen(looks::colours(looks::Tone::light).edge, k_note_line);
        painter_->drawRect(room);
        pen(Qt::black, k_cross_pen_mm * k_mm);
        for (const Vector2d& mark : plan_.marks_of(tile)) {
            const QPointF at = scale.on_page(mark);
            painter_->drawLine(at - QPointF(k_cross_arm_mm * k_mm, 0.0), at + QPointF(k_cross_arm_mm * k_mm, 0.0));
            painter_->drawLine(at - QPointF(0.0, k_cross_arm_mm * k_mm), at + QPointF(0.0, k_cross_arm_mm * k_mm));
        }
        name_neighbours(tile, room);
    }

    /// In the overlap, half-way along each side: what joins there.
    void name_neighbours(const Tile& tile, const QRectF& room) {
        const QFont font = page_font(k_join_points);
        const double in = TilePlan::k_overlap_mm * k_mm / 2.0;
        const auto say = [&](int row, int column, const QPointF& at, double turned) {
            if (row < 0 || column < 0 || row >= plan_.rows || column >= plan_.columns) {
                return;
            }
            const QString name = text_of(Tile{row, column}.name());
            const QString words = plan_.has(row, column) ? QStringLiteral("joins %1").arg(name)
                                                         : QStringLiteral("%1 is empty: left out").arg(name);
            painter_->save();
            painter_->translate(at);
            painter_->rotate(turned);
            pen(looks::colours(looks::Tone::light).pencil, k_note_line);
            draw_line_of_words(*painter_, {-width_of(words, font) / 2.0, -line_height(font) / 2.0}, words, font);
            painter_->restore();
        };
        say(tile.row, tile.column - 1, {room.left() + in, room.center().y()}, -90.0);
        say(tile.row, tile.column + 1, {room.right() - in, room.center().y()}, -90.0);
        say(tile.row - 1, tile.column, {room.center().x(), room.top() + in}, 0.0);
        say(tile.row + 1, tile.column, {room.center().x(), room.bottom() - in}, 0.0);
    }

    const core::Template& one_;
    const JobHead& head_;
    const TilePlan& plan_;
    QPdfWriter& writer_;
    QRectF sheet_;
    QPainter* painter_ = nullptr;
};

}  // namespace

Result<std::string> template_pdf(const core::Template& one, const JobHead& head, core::PaperSize size) {
    const TilePlan plan = tile_plan(one.drawing, size);
    if (plan.tiles.empty()) {
        return Error{ErrorCode::does_not_fit, one.title + " has nothing to draw."};
    }
    if (plan.tiles.size() > static_cast<std::size_t>(k_most_sheets)) {
        return Error{ErrorCode::does_not_fit, one.title + " would need " + std::to_string(plan.tiles.size()) +
                                                  " sheets of paper; more than " + std::to_string(k_most_sheets) +
                                                  " are not put together. Choose larger paper."};
    }
    QBuffer bytes;
    bytes.open(QIODevice::WriteOnly);
    QPdfWriter writer(&bytes);
    set_up(writer, size, plan.lying, text_of(one.title) + QStringLiteral(", ") + head.line());
    TileSheets(one, head, plan, writer).run();
    return bytes.data().toStdString();
}

}  // namespace sillwright::app::print
