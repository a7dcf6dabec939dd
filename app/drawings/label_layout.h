#pragma once

#include <QLineF>
#include <QPointF>
#include <QRectF>
#include <QSizeF>
#include <cstddef>
#include <optional>
#include <vector>

namespace sillwright::app {

/// Text that wants to stand near one of some points, the earlier the better.
/// Precondition: one point or more.
struct LabelWish {
    std::vector<QPointF> at;
    QSizeF size;
    /// Where it stood when it was placed last: text that need not move stays.
    struct Held {
        std::size_t at = 0;  ///< Which of the points.
        QPointF offset;      ///< From the point to the box's upper left corner.
        bool far = false;
        int cost = 0;  ///< What it crossed there.
    };
    std::optional<Held> held{};
};

/// Where it stands, and the point that it names; `far` asks for a thin line
/// from the text to the point.
struct LabelPlace {
    QRectF box;
    QPointF at;
    bool far = false;
    std::size_t number = 0;  ///< Of the point among the wish's.
    int cost = 0;            ///< 0 where it touches nothing; grows with what it and its leader cross.

    /// Whether the text stands on another text, beyond the sheet or on a line: where a text that can be
    /// done without is left out.
    [[nodiscard]] bool covers_text() const;
    [[nodiscard]] bool covers_line() const;
    [[nodiscard]] LabelWish::Held held() const { return {number, box.topLeft() - at, far, cost}; }
};

/// Places labels one after the other round their points, nearest first, so that
/// none touches a line, another label or the edge of `sheet`, and no leader
/// crosses a line or a label.
///
/// Units and frame: pixels of the sheet, y down.
/// A label that was held stays where it was beside its point as long as it crosses no more there.
/// Where no place is free the one that crosses least is taken, so every wish
///   has a place, in the order of the wishes. Touching counts as crossing.
std::vector<LabelPlace> place_labels(const std::vector<LabelWish>& wishes, const std::vector<QLineF>& lines,
                                     const QRectF& sheet);

/// From the nearest point of a label's box to the point that it names.
QLineF leader(const QRectF& box, const QPointF& at);

/// Whether a segment has a point in common with a rectangle.
bool crosses(const QLineF& line, const QRectF& box);

}  // namespace sillwright::app
