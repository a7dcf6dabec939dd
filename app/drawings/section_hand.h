#pragma once

#include <QPainter>
#include <QRectF>
#include <QString>
#include <optional>

#include "app/drawings/section_picture.h"
#include "app/drawings/section_scale.h"
#include "app/drawings/section_sheet.h"
#include "app/looks.h"

/// What a section's sheet shows of the hand: the node that it holds with its numbers on the rulers, its
/// rounding, where a press would land, and where the pointer is.
namespace sillwright::app {

/// Where a press would put something, shown before it is pressed.
struct SectionLanding {
    Eigen::Vector2d at_mm = Eigen::Vector2d::Zero();
    Eigen::Vector2d axis = Eigen::Vector2d::Zero();  ///< Zero for none.
    /// The last node of a section that is being drawn.
    std::optional<Eigen::Vector2d> from_mm{};
};

/// A node's corner: which way its rounding lies, and how sharp it is.
struct SectionCorner {
    Eigen::Vector2d inward = Eigen::Vector2d::UnitX();  ///< Unit, halving the corner.
    double half_sine = 1.0;                             ///< Sine of half the angle between its two straights.
    double most_mm = 0.0;                               ///< Greatest radius that its straights have room for.
};
/// No value at a line's end or in a straight, where there is nothing to round.
std::optional<SectionCorner> corner_of(const SectionNode& node);

/// The handle that is dragged to round a corner: beyond the rounding's centre, so that it never lies
/// on the node; and the radius that a handle at a place means.
std::optional<QPointF> radius_handle(const SectionNode& node, double radius_mm, const SectionScale& scale);
double radius_for(const SectionNode& node, const QPointF& handle, const SectionScale& scale);

/// Ring, handle, and the rounding as the hand has it.
void draw_held_node(QPainter& painter, const SectionNode& node, std::optional<double> radius_mm,
                    const SectionScale& scale, const looks::Colours& colours);

/// Where a node's numbers stand at the paper's edge.
QRectF out_box(const SectionSheet& sheet, const SectionNode& node, const SectionScale& scale);
QRectF up_box(const SectionSheet& sheet, const SectionNode& node, const SectionScale& scale);
QRectF radius_box(const SectionSheet& sheet);
/// The numbers themselves; those that were typed are underlined.
void draw_numbers(QPainter& painter, const SectionSheet& sheet, const SectionNode& node, const SectionScale& scale,
                  const looks::Colours& colours);

void draw_landing(QPainter& painter, const SectionLanding& landing, const SectionScale& scale,
                  const looks::Colours& colours);
void draw_corner_words(QPainter& painter, const SectionSheet& sheet, const QString& words,
                       const looks::Colours& colours);
/// A sentence above the lower ruler.
void draw_said(QPainter& painter, const SectionSheet& sheet, const QString& sentence, const looks::Colours& colours);

}  // namespace sillwright::app
