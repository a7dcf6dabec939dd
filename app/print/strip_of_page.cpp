#include "app/print/strip_of_page.h"

#include <QPen>
#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "app/looks.h"
#include "app/print/page_words.h"
#include "app/print/table_columns.h"
#include "app/text_of.h"
#include "core/finding_words.h"

namespace sillwright::app::print {

using core::State;

namespace {

constexpr double k_thin = 12.0;
constexpr double k_thick = 30.0;
constexpr double k_padding = 120.0;
constexpr double k_block_air = 260.0;
constexpr double k_line_air = 60.0;
constexpr double k_heading_points = 12.0;
constexpr double k_small_points = 8.5;
constexpr double k_box_height = 750.0;  ///< To write in by hand.
constexpr double k_name_share = 0.42;   ///< Of the width, at most, for names before values.
constexpr double k_question_share = 0.62;
/// Lines of a cell that stay together; a longer one goes on in another row.
constexpr std::size_t k_most_lines = 16;

const QColor& ink() {
    return looks::colours(looks::Tone::light).graphite;
}

class Strips {
public:
    Strips(const Setting& setting, const FigureSource& figures) : setting_{setting}, figures_{figures} {}

    std::vector<Strip> take() { return std::move(strips_); }

    void operator()(const core::Heading& heading) {
        const QFont font = page_font(setting_.points(k_heading_points), true);
        add_lines(wrapped(text_of(heading.words), font, setting_.width), font, k_block_air * 1.4, 0.0);
        strips_.back().with_next = true;
        for (std::size_t i = first_of_last_; i < strips_.size(); ++i) {
            strips_[i].with_next = true;
        }
    }

    void operator()(const core::Words& words) {
        const QFont font = page_font(setting_.points(), words.strong);
        add_lines(wrapped(text_of(words.words), font, setting_.width), font, k_block_air * 0.6, 0.0);
    }

    void operator()(const core::Items& items) {
        const QFont font = page_font(setting_.points());
        const QString widest =
            items.numbered ? QString::number(items.items.size()) + QStringLiteral(". ") : QStringLiteral("• ");
        const double indent = width_of(widest, font) + k_padding;
        for (std::size_t i = 0; i < items.items.size(); ++i) {
            const QString mark = items.numbered ? QString::number(i + 1) + u'.' : QStringLiteral("•");
            add_lines(wrapped(text_of(items.items[i]), font, setting_.width - indent), font,
                      i == 0 ? k_block_air * 0.6 : k_line_air, indent, mark);
        }
    }

    void operator()(const core::Values& values) {
        const QFont font = page_font(setting_.points());
        const QFont bold = page_font(setting_.points(), true);
        double names = 0.0;
        for (const core::Input& line : values.lines) {
            names = std::max(names, width_of(text_of(line.name), font) + 3.0 * k_padding);
        }
        names = std::min(names, k_name_share * setting_.width);
        bool first = true;
        for (const core::Input& line : values.lines) {
            const auto left = wrapped(text_of(line.name), font, names - 2.0 * k_padding);
            const auto right = wrapped(text_of(line.value), bold, setting_.width - names);
            const double high = static_cast<double>(std::max(left.size(), right.size())) * line_height(font);
            add({high + k_line_air, std::exchange(first, false) ? k_block_air * 0.6 : 0.0, false,
                 [=](QPainter& painter, const QRectF& box) {
                     draw_lines_of_words(painter, box.topLeft(), left, font);
                     draw_lines_of_words(painter, box.topLeft() + QPointF(names, 0.0), right, bold);
                 }});
        }
    }

    void operator()(const core::Grid& grid) {
        if (!grid.columns.empty()) {
            add_table(grid);
        }
    }

    void operator()(const core::Boxes& boxes) {
        const QFont font = page_font(setting_.points());
        const double words = k_question_share * setting_.width;
        bool first = true;
        for (const std::string& question : boxes.questions) {
            const auto lines = wrapped(text_of(question), font, words - 2.0 * k_padding);
            const double text = static_cast<double>(lines.size()) * line_height(font);
            const double high = std::max(text, k_box_height * setting_.text_size);
            add({high + k_padding, std::exchange(first, false) ? k_block_air * 0.6 : 0.0, false,
                 [=](QPainter& painter, const QRectF& box) {
                     draw_lines_of_words(painter, box.topLeft() + QPointF(0.0, (high - text) / 2.0), lines, font);
                     painter.setPen(QPen(ink(), k_thin));
                     painter.setBrush(Qt::NoBrush);
                     painter.drawRect(QRectF(box.left() + words, box.top(), box.width() - words, high));
                 }});
        }
    }

    void operator()(const core::Figure& figure) {
        const QFont font = page_font(setting_.points(k_small_points));
        const double caption_room = 4.0 * line_height(font);
        const double room = std::clamp(figure.height_share * setting_.figure_size, 0.05, 1.0) * setting_.height;
        const double high = std::min(room, setting_.height - caption_room - k_block_air);
        const FigurePicture picture =
            figures_ ? figures_(figure, QSizeF(setting_.width, high) / k_units_per_pixel) : FigurePicture{};
        const QString between = figure.caption.empty() || picture.words.isEmpty() ? QString() : QStringLiteral(" · ");
        const auto caption = wrapped(text_of(figure.caption) + between + picture.words, font, setting_.width);
        const QSizeF drawn = picture.draw ? picture.size * k_units_per_pixel : QSizeF(0.0, 0.0);
        const double words = static_cast<double>(caption.size()) * line_height(font);
        add({drawn.height() + k_line_air + words, k_block_air, false,
             [=, draw = picture.draw](QPainter& painter, const QRectF& box) {
                 if (draw) {
                     painter.save();
                     painter.translate(box.left() + (box.width() - drawn.width()) / 2.0, box.top());
                     painter.scale(k_units_per_pixel, k_units_per_pixel);
                     painter.setClipRect(QRectF(QPointF(), picture.size));
                     draw(painter);
                     painter.restore();
                     painter.setPen(QPen(looks::colours(looks::Tone::light).edge, k_thin));
                     painter.setBrush(Qt::NoBrush);
                     painter.drawRect(
                         QRectF(QPointF(box.left() + (box.width() - drawn.width()) / 2.0, box.top()), drawn));
                 }
                 painter.setPen(ink());
                 draw_lines_of_words(painter, box.topLeft() + QPointF(0.0, drawn.height() + k_line_air), caption, font);
             }});
    }

    /// Lines in a frame that goes round all of them, on as many pages as they need.
    void add_frame(const QString& title, State state, const std::vector<QString>& paragraphs) {
        const QFont font = page_font(setting_.points());
        const QFont bold = page_font(setting_.points(), true);
        const QColor colour = looks::text_colour(state, looks::Tone::light);
        const double shape = 0.8 * line_height(font);
        const double indent = shape + 2.0 * k_padding;
        const double inner = setting_.width - indent - k_padding;
        const auto sides = [colour](QPainter& painter, const QRectF& box) {
            painter.setPen(QPen(colour, k_thick));
            painter.drawLine(box.topLeft(), box.bottomLeft());
            painter.drawLine(box.topRight(), box.bottomRight());
        };
        const auto titled = [&](const QString& words) {
            const auto lines = wrapped(words, bold, setting_.width - 2.0 * k_padding);
            const double high = static_cast<double>(lines.size()) * line_height(bold) + 2.0 * k_line_air;
            return Strip{high, k_block_air, true, [=](QPainter& painter, const QRectF& box) {
                             painter.setPen(QPen(colour, k_thick));
                             painter.drawLine(box.topLeft(), box.topRight());
                             sides(painter, box);
                             painter.setPen(colour);
                             draw_lines_of_words(painter, box.topLeft() + QPointF(k_padding, k_line_air), lines, bold);
                         }};
        };
        add(titled(title));
        const auto head = std::make_shared<const Strip>(titled(title + QStringLiteral(" (goes on)")));
        for (const QString& paragraph : paragraphs) {
            const auto lines = wrapped(paragraph, font, inner);
            for (std::size_t i = 0; i < lines.size(); ++i) {
                const bool last = i + 1 == lines.size();
                add({line_height(font) + (last ? k_line_air : 0.0), 0.0, lines.size() <= 3 && !last,
                     [=, line = lines[i], first = i == 0](QPainter& painter, const QRectF& box) {
                         sides(painter, box);
                         if (first) {
                             looks::draw_shape(painter,
                                               QRectF(box.left() + k_padding,
                                                      box.top() + (line_height(font) - shape) / 2.0, shape, shape),
                                               state, looks::Tone::light);
                         }
                         painter.setPen(ink());
                         draw_line_of_words(painter, box.topLeft() + QPointF(indent, 0.0), line, font);
                     },
                     head});
            }
        }
        strips_.back().with_next = true;
        add({k_line_air, 0.0, false,
             [=](QPainter& painter, const QRectF& box) {
                 sides(painter, box);
                 painter.setPen(QPen(colour, k_thick));
                 painter.drawLine(box.bottomLeft(), box.bottomRight());
             },
             head});
    }

private:
    void add(Strip strip) {
        first_of_last_ = strips_.size();
        strips_.push_back(std::move(strip));
    }

    /// A paragraph: its first two lines stay together, and its last two.
    void add_lines(const std::vector<QString>& lines, const QFont& font, double before, double indent,
                   const QString& mark = {}) {
        const std::size_t first = strips_.size();
        for (std::size_t i = 0; i < lines.size(); ++i) {
            const bool keep = lines.size() > 1 && (i == 0 || i + 2 == lines.size());
            add({line_height(font), i == 0 ? before : 0.0, keep,
                 [=, line = lines[i], sign = i == 0 ? mark : QString()](QPainter& painter, const QRectF& box) {
                     painter.setPen(ink());
                     draw_line_of_words(painter, box.topLeft(), sign, font);
                     draw_line_of_words(painter, box.topLeft() + QPointF(indent, 0.0), line, font);
                 }});
        }
        first_of_last_ = first;
    }

    struct Cells {
        std::vector<std::vector<QString>> lines;  ///< Of each column.
        std::vector<bool> box;                    ///< To write into.
        [[nodiscard]] std::size_t most() const {
            std::size_t most = 1;
            for (const auto& one : lines) {
                most = std::max(most, one.size());
            }
            return most;
        }
    };

    static Strip row_strip(const Cells& cells, const std::vector<double>& widths, const std::vector<bool>& right,
                           const QFont& font, bool above, bool below, double least) {
        const double high = std::max(static_cast<double>(cells.most()) * line_height(font) + 2.0 * k_line_air, least);
        return {high, 0.0, false, [=](QPainter& painter, const QRectF& box) {
                    double x = box.left();
                    const double whole = std::accumulate(widths.begin(), widths.end(), 0.0);
                    for (std::size_t i = 0; i < widths.size(); ++i) {
                        painter.setPen(ink());
                        QPointF at(x + k_padding, box.top() + k_line_air);
                        for (const QString& line : cells.lines[i]) {
                            const double aside = right[i] ? widths[i] - 2.0 * k_padding - width_of(line, font) : 0.0;
                            draw_line_of_words(painter, at + QPointF(aside, 0.0), line, font);
                            at.ry() += line_height(font);
                        }
                        painter.setPen(QPen(ink(), k_thin));
                        painter.setBrush(Qt::NoBrush);
                        painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()));
                        if (cells.box[i]) {
                            painter.setPen(QPen(ink(), k_thick));
                            painter.drawRect(QRectF(x, box.top(), widths[i], high).adjusted(40.0, 40.0, -40.0, -40.0));
                        }
                        x += widths[i];
                    }
                    painter.setPen(QPen(ink(), k_thin));
                    painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()));
                    if (above) {
                        painter.drawLine(box.topLeft(), box.topLeft() + QPointF(whole, 0.0));
                    }
                    if (below) {
                        painter.drawLine(box.bottomLeft(), box.bottomLeft() + QPointF(whole, 0.0));
                    }
                }};
    }

    void add_table(const core::Grid& grid) {
        const QFont font = page_font(setting_.points(k_small_points));
        const QFont bold = page_font(setting_.points(k_small_points), true);
        const TableColumns columns = table_columns(grid, font, bold, setting_.width, 2.0 * k_padding);
        const auto cells_of = [&](const std::vector<std::string>& row, const QFont& look, bool of_head) {
            Cells cells;
            for (std::size_t i = 0; i < grid.columns.size(); ++i) {
                const QString text = i < row.size() ? text_of(row[i]) : QString();
                const bool box = !of_head && text.isEmpty() &&
                                 std::find(grid.boxes.begin(), grid.boxes.end(), i) != grid.boxes.end();
                cells.lines.push_back(wrapped(text, look, columns.widths[i] - 2.0 * k_padding));
                cells.box.push_back(box);
            }
            return cells;
        };
        Strip top = row_strip(cells_of(grid.columns, bold, true), columns.widths,
                              std::vector<bool>(grid.columns.size(), false), bold, true, true, 0.0);
        top.before = k_block_air;
        top.with_next = true;
        const auto head = std::make_shared<const Strip>(top);
        add(std::move(top));
        for (const std::vector<std::string>& row : grid.rows) {
            const Cells whole = cells_of(row, font, false);
            const bool write = std::find(whole.box.begin(), whole.box.end(), true) != whole.box.end();
            const std::size_t most = whole.most();
            for (std::size_t from = 0; from < most; from += k_most_lines) {
                Cells part;
                part.box = whole.box;
                for (const auto& lines : whole.lines) {
                    const auto begin = std::min(from, lines.size());
                    const auto end = std::min(from + k_most_lines, lines.size());
                    part.lines.emplace_back(lines.begin() + static_cast<std::ptrdiff_t>(begin),
                                            lines.begin() + static_cast<std::ptrdiff_t>(end));
                }
                Strip strip = row_strip(part, columns.widths, columns.right, font, false, from + k_most_lines >= most,
                                        write ? k_box_height * setting_.text_size : 0.0);
                strip.head = head;
                add(std::move(strip));
            }
        }
    }

    const Setting& setting_;
    const FigureSource& figures_;
    std::vector<Strip> strips_;
    std::size_t first_of_last_ = 0;  ///< Of the strips of the block that was added last.
};

}  // namespace

QString falls_short_words(const core::Finding& finding) {
    const core::FindingNumbers numbers = core::numbers_of(finding);
    const std::string found =
        core::joined({numbers.found, numbers.needs, numbers.margin.empty() ? "" : "margin " + numbers.margin}, ", ");
    const std::string mend = finding.mend ? "Mend: " + core::mend_words(finding) : "";
    return text_of(core::look(finding.state).word) + QStringLiteral(": ") +
           text_of(core::joined({finding.title, found, finding.place.words, finding.why, mend}, " · "));
}

std::vector<Strip> strips_of(const core::Document& document, const Setting& setting, const FigureSource& figures) {
    Strips strips(setting, figures);
    if (!document.falls_short.empty()) {
        std::vector<QString> words;
        for (const core::Finding& finding : document.falls_short) {
            words.push_back(falls_short_words(finding));
        }
        const auto count = document.falls_short.size();
        strips.add_frame(count == 1 ? QStringLiteral("1 FINDING FALLS SHORT in this job")
                                    : QStringLiteral("%1 FINDINGS FALL SHORT in this job").arg(count),
                         State::falls_short, words);
    }
    if (!document.open.empty()) {
        std::vector<QString> words;
        for (const std::string& one : document.open) {
            words.push_back(text_of(one));
        }
        strips.add_frame(QStringLiteral("STILL OPEN: assumed or not measured"), State::not_measured, words);
    }
    for (const core::Block& block : document.blocks) {
        std::visit(strips, block);
    }
    return strips.take();
}

}  // namespace sillwright::app::print
