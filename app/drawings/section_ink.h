#pragma once

#include <QLineF>
#include <QPainter>
#include <QPolygonF>
#include <QString>
#include <vector>

#include "app/drawings/section_picture.h"
#include "app/drawings/section_scale.h"
#include "app/looks.h"

namespace sillwright::app {

/// The colour of what belongs to a role, and the pen of its lines.
QColor ink_of(SectionRole role, const looks::Colours& colours);
QPen pen_of(SectionRole role, const looks::Colours& colours);

/// A line's points on the sheet, without those that are nearer than a pixel to the one before.
QPolygonF on_sheet(const SectionLine& line, const SectionScale& scale);

/// The tick or cross of a point, as lines on the sheet.
std::vector<QLineF> mark_of(const SectionPoint& point, const SectionScale& scale);

/// Draws the lines and points of a picture alone, without what is under it; paler if it is stale.
void ink(QPainter& painter, const SectionPicture& picture, const SectionScale& scale, const looks::Colours& colours);

/// Draws what belongs to an item once more, broader, so that it stands out: on its own ground, and
/// in its own colour.
void ink_item(QPainter& painter, const SectionPicture& picture, const SectionScale& scale, const Item& item,
              const looks::Colours& colours);

/// Text that wants to stand beside a line or a point of a picture.
struct SectionLabel {
    QString key;  ///< The same from picture to picture.
    QString text;
    std::vector<QPointF> at;
    SectionRole role = SectionRole::body;
};

/// What labels of a picture alone must not stand on, and the labels themselves: first those
/// of points, since a line can be named anywhere along it. `field` is where lines are drawn.
struct SectionSurroundings {
    std::vector<QLineF> lines;
    std::vector<SectionLabel> labels;
};
SectionSurroundings surroundings_of(const SectionPicture& picture, const SectionScale& scale, const QRectF& field);

}  // namespace sillwright::app
