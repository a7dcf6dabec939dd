#pragma once

#include <QLineF>
#include <QPointF>
#include <QRectF>
#include <QSizeF>
#include <vector>

namespace sillwright::app {

/// Text that wants to stand near one of some points, the earlier the better.
/// Precondition: one point or more.
struct LabelWish {
    std::vector<QPointF> at;
    QSizeF size;
};

/// Where it stands, and the point that it names; `far` asks for a thin line
/// from the text to the point.
struct LabelPlace {
    QRectF box;
    QPointF at;
    bool far = false;
};

/// Places labels one after the other round their points, nearest first, so that
/// none touches a line, another label or the edge of `sheet`, and no leader
/// crosses a line or a label.
///
/// Units and frame: pixels of the sheet, y down.
/// Where no place is free the one that crosses least is taken, so every wish
///   has a place, in the order of the wishes. Touching counts as crossing.
std::vector<LabelPlace> place_labels(const std::vector<LabelWish>& wishes, const std::vector<QLineF>& lines,
                                     const QRectF& sheet);

/// From the nearest point of a label's box to the point that it names.
QLineF leader(const QRectF& box, const QPointF& at);

/// Whether a segment has a point in common with a rectangle.
bool crosses(const QLineF& line, const QRectF& box);

}  // namespace sillwright::app
