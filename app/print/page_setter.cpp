#include "app/print/page_setter.h"

#include <QBuffer>
#include <QPainter>
#include <QPdfWriter>
#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include "app/looks.h"
#include "app/print/page_words.h"
#include "app/print/strip_of_page.h"
#include "app/text_of.h"

namespace sillwright::app::print {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Result;

namespace {

constexpr double k_margin = 1200.0;
constexpr double k_bound_margin = 1500.0;  ///< At the left, where pages are bound or punched.
constexpr double k_rule = 50.0;
constexpr double k_air = 150.0;
constexpr double k_side_points = 21.0;
constexpr double k_title_points = 15.0;
constexpr double k_facts_points = 8.5;
constexpr double k_caution_points = 7.5;
/// What is between head and foot must have this part of a page at least.
constexpr double k_least_share = 0.35;

/// Sizes of letters and of figures that a paper for one page is tried at, the best to read first.
struct Sizes {
    double text, figure;
};
constexpr double k_least_text = Setting::k_least_points / Setting::k_body_points;
constexpr Sizes k_tried[] = {{1.0, 1.0},           {1.0, 0.85},         {0.95, 0.75},         {0.9, 0.75},
                             {0.9, 0.65},          {0.85, 0.65},        {k_least_text, 0.65}, {k_least_text, 0.55},
                             {k_least_text, 0.45}, {k_least_text, 0.35}};

/// A strip at its place on a page.
struct Placed {
    const Strip* strip;
    double top;
};
using Page = std::vector<Placed>;

/// Height of a strip and of all that must stand below it on the same page.
double together(const std::vector<Strip>& strips, std::size_t first, double room) {
    double height = strips[first].height;
    for (std::size_t i = first; strips[i].with_next && i + 1 < strips.size(); ++i) {
        const double more = strips[i + 1].before + strips[i + 1].height;
        if (height + more > room) {
            break;  // More than a page holds: it is divided where it must be.
        }
        height += more;
    }
    return height;
}

std::vector<Page> paged(const std::vector<Strip>& strips, double room) {
    std::vector<Page> pages(1);
    double y = 0.0;
    for (std::size_t i = 0; i < strips.size(); ++i) {
        const Strip& strip = strips[i];
        const double before = pages.back().empty() ? 0.0 : strip.before;
        if (!pages.back().empty() && y + before + together(strips, i, room) > room) {
            pages.emplace_back();
            y = 0.0;
            if (strip.head) {
                pages.back().push_back({strip.head.get(), 0.0});
                y = strip.head->height;
            }
        } else {
            y += before;
        }
        pages.back().push_back({&strip, y});
        y += strip.height;
    }
    return pages;
}

/// Head and foot of every page, and the room between.
class Frame {
public:
    Frame(const core::Document& document, const JobHead& head, const QSizeF& page)
        : sheet_{k_bound_margin, k_margin, page.width() - k_bound_margin - k_margin, page.height() - 2.0 * k_margin},
          side_{head.side} {
        const double side = width_of(side_, side_font_) + k_air;
        title_ = wrapped(text_of(document.title), title_font_, sheet_.width() - side);
        reader_ = wrapped(text_of(document.reader), reader_font_, sheet_.width() - side);
        number_width_ = width_of(QStringLiteral("page 000 of 000"), facts_font_);
        facts_ = wrapped(head.line(), facts_font_, sheet_.width() - number_width_ - k_air);
        const double left = high(title_, title_font_) + high(reader_, reader_font_);
        top_ = std::max(left, line_height(side_font_)) + high(facts_, facts_font_) + k_rule + 2.0 * k_air;
        if (!document.cautions.empty()) {
            QString all;
            for (const std::string& caution : document.cautions) {
                all += (all.isEmpty() ? QStringLiteral("Caution: ") : QStringLiteral("  •  ")) + text_of(caution);
            }
            cautions_ = wrapped(all, caution_font_, sheet_.width());
            foot_ = high(cautions_, caution_font_) + 2.0 * k_air;
        }
    }

    [[nodiscard]] QRectF field() const { return sheet_.adjusted(0.0, top_, 0.0, -foot_); }

    void draw(QPainter& painter, std::size_t number, std::size_t count) const {
        const looks::Colours& colours = looks::colours(looks::Tone::light);
        painter.setPen(colours.graphite);
        draw_lines_of_words(painter, sheet_.topLeft(), title_, title_font_);
        draw_lines_of_words(painter, sheet_.topLeft() + QPointF(0.0, high(title_, title_font_)), reader_, reader_font_);
        draw_line_of_words(painter, sheet_.topRight() - QPointF(width_of(side_, side_font_), 0.0), side_, side_font_);
        const double facts = sheet_.top() + top_ - 2.0 * k_air - k_rule - high(facts_, facts_font_);
        draw_lines_of_words(painter, {sheet_.left(), facts}, facts_, facts_font_);
        const QString page = QStringLiteral("page %1 of %2").arg(number).arg(count);
        draw_line_of_words(painter, {sheet_.right() - width_of(page, facts_font_), facts}, page, facts_font_);
        rule(painter, sheet_.top() + top_ - 1.5 * k_air);
        if (!cautions_.empty()) {
            const double foot = sheet_.bottom() - foot_;
            rule(painter, foot + k_air);
            painter.setPen(colours.graphite);
            draw_lines_of_words(painter, {sheet_.left(), foot + 2.0 * k_air}, cautions_, caution_font_);
        }
    }

private:
    static double high(const std::vector<QString>& lines, const QFont& font) {
        return static_cast<double>(lines.size()) * line_height(font);
    }
    void rule(QPainter& painter, double y) const {
        painter.setPen(QPen(looks::colours(looks::Tone::light).graphite, k_rule / 2.0));
        painter.drawLine(QPointF(sheet_.left(), y), QPointF(sheet_.right(), y));
    }

    QFont side_font_ = page_font(k_side_points, true);
    QFont title_font_ = page_font(k_title_points, true);
    QFont reader_font_ = page_font(Setting::k_body_points);
    QFont facts_font_ = page_font(k_facts_points);
    QFont caution_font_ = page_font(k_caution_points);
    QRectF sheet_;
    QString side_;
    std::vector<QString> title_, reader_, facts_, cautions_;
    double number_width_ = 0.0, top_ = 0.0, foot_ = 0.0;
};

struct Set {
    std::vector<Strip> strips;
    std::vector<Page> pages;
};

Set set(const core::Document& document, const QRectF& field, const Sizes& sizes, const FigureSource& figures) {
    Set made;
    made.strips = strips_of(document, {field.width(), field.height(), sizes.text, sizes.figure}, figures);
    made.pages = paged(made.strips, field.height());
    return made;
}

/// A paper for one page goes on others only where its findings and what is open leave it no room.
Set set_as_asked(const core::Document& document, const QRectF& field, const FigureSource& figures) {
    if (document.one_page) {
        for (const Sizes& sizes : k_tried) {
            Set made = set(document, field, sizes, figures);
            if (made.pages.size() == 1) {
                return made;
            }
        }
    }
    return set(document, field, k_tried[0], figures);
}

}  // namespace

Result<std::string> document_pdf(const core::Document& document, const JobHead& head, core::PaperSize size,
                                 const FigureSource& figures) {
    const QSizeF page = page_units(size, document.lying);
    const Frame frame(document, head, page);
    const QRectF field = frame.field();
    if (field.height() < k_least_share * page.height()) {
        return Error{ErrorCode::does_not_fit,
                     document.title + ": its cautions and its head leave too little of a page for the rest."};
    }
    const Set made = set_as_asked(document, field, figures);
    QBuffer bytes;
    bytes.open(QIODevice::WriteOnly);
    QPdfWriter writer(&bytes);
    set_up(writer, size, document.lying, text_of(document.title) + QStringLiteral(", ") + head.line());
    QPainter painter(&writer);
    const double dots = k_dots_per_inch / (25.4 * k_units_per_mm);
    const auto& pages = made.pages;
    for (std::size_t i = 0; i < pages.size(); ++i) {
        if (i > 0) {
            writer.newPage();
        }
        painter.save();
        painter.scale(dots, dots);
        frame.draw(painter, i + 1, pages.size());
        for (const Placed& placed : pages[i]) {
            painter.save();
            placed.strip->draw(painter,
                               QRectF(field.left(), field.top() + placed.top, field.width(), placed.strip->height));
            painter.restore();
        }
        painter.restore();
    }
    painter.end();
    return bytes.data().toStdString();
}

}  // namespace sillwright::app::print
