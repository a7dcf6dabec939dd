#pragma once

#include <QPainter>
#include <QPointF>
#include <QRectF>
#include <vector>

#include "app/drawings/section_picture.h"
#include "app/drawings/section_scale.h"
#include "app/looks.h"

namespace sillwright::app {

/// A round inset that shows a small gap at true shape on its own larger scale.
struct Magnifier {
    QPointF centre;
    double radius = 0.0;
    SectionScale scale;  ///< Of the inset, with the gap's middle at its centre.

    [[nodiscard]] QRectF box() const { return {centre.x() - radius, centre.y() - radius, 2.0 * radius, 2.0 * radius}; }
};

/// Where it covers nothing, or the least, of `lines`, inside `field`; near the gap rather than far.
/// `taken` are boxes that it must keep clear of.
Magnifier place_magnifier(const SectionGap& gap, const SectionScale& scale, const QRectF& field,
                          const std::vector<QLineF>& lines, const std::vector<QRectF>& taken);

/// Radius of the ring round what it shows, on the sheet.
double spot_radius(const Magnifier& magnifier, const SectionScale& scale);

/// The same for a gap that has moved, where it stands already.
Magnifier moved_to(Magnifier magnifier, const SectionGap& gap);

/// Draws it: the picture and what is under it, the gap's two points joined, its number large with
/// its words, and where it is on the sheet.
void draw_magnifier(QPainter& painter, const Magnifier& magnifier, const SectionPicture& picture,
                    const SectionScale& scale, looks::Tone tone);

}  // namespace sillwright::app
