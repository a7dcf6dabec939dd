#pragma once

#include <QLineF>
#include <QPainter>
#include <QPen>
#include <QPolygonF>
#include <QRectF>
#include <QString>
#include <optional>
#include <vector>

#include "app/drawings/paper.h"
#include "app/looks.h"

namespace sillwright::app {

/// How words look.
struct Lettering {
    QColor colour;
    int pixels = looks::k_text;
    bool bold = false, italic = false;

    [[nodiscard]] QFont font() const;
    [[nodiscard]] QSizeF size_of(const QString& text) const;
};

/// All that is drawn on a sheet: areas, lines, the shapes of states, words in boxes that hold them.
///
/// Units and frame: pixels of the sheet, y down. Things are painted in the order in which they were added, words last.
class Composition {
public:
    struct Stroke {
        QPolygonF points;
        QPen pen = Qt::NoPen;
        QBrush brush = Qt::NoBrush;
        bool closed = false;
    };
    struct Shape {
        QRectF box;
        core::State state = core::State::not_measured;
    };
    struct Writing {
        QRectF box;
        QString text;
        Lettering look;
        int align = 0;  ///< Of Qt::AlignmentFlag and Qt::TextFlag.
    };

    Composition(const QSizeF& sheet, looks::Tone tone) : sheet_{QPointF(), sheet}, tone_{tone} {}

    [[nodiscard]] const QRectF& sheet() const { return sheet_; }
    [[nodiscard]] looks::Tone tone() const { return tone_; }
    [[nodiscard]] const looks::Colours& colours() const { return looks::colours(tone_); }
    [[nodiscard]] Lettering plain() const { return {colours().graphite}; }
    [[nodiscard]] Lettering lesser() const { return {colours().pencil}; }
    /// The number that matters, in the colour of its state.
    [[nodiscard]] Lettering number(core::State state) const {
        return {looks::text_colour(state, tone_), looks::k_number, true};
    }

    void line(const QLineF& line, const QPen& pen);
    void chain(const QPolygonF& points, const QPen& pen);
    void area(const QPolygonF& points, const QBrush& brush, const QPen& pen = Qt::NoPen);
    void shape(const QRectF& box, core::State state) { shapes_.push_back({box, state}); }

    /// Words on one line, at their upper left corner, and the box that they take.
    QRectF write(const QPointF& at, const QString& text, const Lettering& look);
    /// The same with the middle of the line, or its right end, at `at`'s x.
    QRectF write_centred(const QPointF& at, const QString& text, const Lettering& look);
    QRectF write_ending(const QPointF& at, const QString& text, const Lettering& look);
    /// Words in lines as wide as the sheet between `left` and `right`, from `top` down.
    QRectF write_wrapped(double left, double right, double top, const QString& text, const Lettering& look);
    /// A state's shape, and words on the same line behind it, their middles at one height.
    QRectF write_state(const QPointF& at, core::State state, const QString& text, const Lettering& look);

    /// Words near one of some points, where no line that is drawn by then, and no other words, are in the way; with a
    /// thin line to the point where they stand far from it. Left out where there is no room. See label_layout.h.
    void name(std::vector<QPointF> at, const QString& text, const Lettering& look);
    /// Finds a place in `room` for all names asked for.
    void place_names(const QRectF& room);

    void paint(QPainter& painter) const;

    [[nodiscard]] const std::vector<Stroke>& strokes() const { return strokes_; }
    [[nodiscard]] const std::vector<Shape>& shapes() const { return shapes_; }
    [[nodiscard]] const std::vector<Writing>& writings() const { return writings_; }

private:
    struct Name {
        std::vector<QPointF> at;
        QString text;
        Lettering look;
    };
    [[nodiscard]] std::vector<QLineF> obstacles() const;

    QRectF sheet_;
    looks::Tone tone_;
    std::vector<Stroke> strokes_;
    std::vector<Shape> shapes_;
    std::vector<Writing> writings_;
    std::vector<Name> names_;
};

/// Paper whose drawing is a composition.
class ComposedPaper : public Paper {
    Q_OBJECT

public:
    using Paper::Paper;

    [[nodiscard]] virtual Composition compose(const QSizeF& sheet) const = 0;
    void draw(QPainter& painter, const QSizeF& sheet) const override;

protected:
    /// What a picture that cannot be drawn says instead.
    [[nodiscard]] Composition sentence(const QSizeF& sheet, const std::string& words) const;
};

/// Of a dimension line: both witness ticks, the line between them, and its number in the middle, above or beside it.
void add_dimension(Composition& composition, const QPointF& from, const QPointF& to, const QString& number,
                   const Lettering& look);

}  // namespace sillwright::app
