#pragma once

#include <QLineF>
#include <QPainter>
#include <QRectF>
#include <optional>
#include <vector>

#include "app/drawings/section_picture.h"
#include "app/drawings/section_scale.h"
#include "app/looks.h"

namespace sillwright::app {

/// A dimension as it lies on the sheet: beside its two points, with its number in the middle.
struct DimensionPlace {
    QLineF line;
    QLineF from_witness, to_witness;
    QRectF text;
};

/// At the first of some distances from its points at which its number touches none of `lines` or `taken`;
/// no value where it is too short on the sheet to be read, or has no room within `field`.
std::optional<DimensionPlace> place_dimension(const SectionDimension& dimension, const SectionScale& scale,
                                              const QRectF& field, const std::vector<QLineF>& lines,
                                              const std::vector<QRectF>& taken);

void draw_dimension(QPainter& painter, const SectionDimension& dimension, const DimensionPlace& place,
                    const looks::Colours& colours);

}  // namespace sillwright::app
