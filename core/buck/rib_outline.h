#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <string>
#include <vector>

#include "core/buck/buck_plan.h"
#include "core/buck/plug_surface.h"
#include "geometry/profile.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

/// A corner that the skin alone rounds: the rib's own rounding there, less the skin, is gone.
struct SharpCorner {
    std::string where;      ///< "shelf edge", or several names.
    double under_mm = 0.0;  ///< By how much more than the skin the surface stands off the rib there.
};

/// A point of a rib's edge, the way round of the section.
struct EdgePoint {
    static constexpr std::size_t k_corner = static_cast<std::size_t>(-1);

    Eigen::Vector2d at_mm;   ///< Height as PlugPoint has it.
    std::size_t number = 0;  ///< Of the PlugPoint; k_corner where two strips were cut at their crossing.
    std::size_t strip = 0;   ///< Of the layout; at a corner that which ends.
    std::size_t next_strip = 0;
};

/// The inner surface's section without what is nearer to the plug's surface than the skin is thick.
///
/// Method: the row of points crosses itself where roundings, or whole strips, are too small for the skin; the loops,
///   which run clockwise, are cut off at their crossings.
struct RibEdge {
    std::vector<EdgePoint> points;
    std::vector<SharpCorner> sharp;

    [[nodiscard]] double lower_end_mm() const;
};

/// Errors: does_not_fit where the surface would stand off what is left by more than `k_vanishing_skins` skins beyond
/// the
///   skin, with how much; where what is left crosses itself, or encloses nothing.
geometry::Result<RibEdge> rib_edge(const std::vector<PlugPoint>& inner, const PlugLayout& layout,
                                   geometry::Length skin);

/// Closed, anticlockwise, (side, height above the base): from both ends of the edge straight down, and along the base.
///
/// Accuracy: lines and true arcs within k_rib_fit of the points; exact where a strip is a straight or an arc.
/// Errors: does_not_fit where the edge goes below the base, with how much, or the straights down cross it.
geometry::Result<geometry::Profile> rib_outline(const RibEdge& edge, const PlugLayout& layout, double base_mm);

/// Bevels from one face to the other, straights and walls only. Precondition: one layout for both.
std::vector<Bevel> bevels(const RibEdge& near, const RibEdge& far, const std::vector<PlugPoint>& near_points,
                          const PlugLayout& layout, double thickness_mm);

/// Greatest distance of points of the edge from the outline. The outline has its heights from the base.
double misfit_mm(const RibEdge& edge, const geometry::Profile& outline, double base_mm);

/// The edge half-way between the two faces' edges, ruled by straights between their corresponding points. No points
/// where corners of the two do not correspond.
RibEdge half_way(const RibEdge& near, const RibEdge& far);

/// A router does a few hundredths; a tenth of that.
constexpr geometry::Length k_rib_fit = geometry::millimetres(0.005);
/// Where the surface would stand off the rib by more than this many skins beyond the skin, part of the section is gone:
/// at a sharp corner it is so from a turn of 150° on, 1 / cos 75° - 1, and a corner of a part turns by less.
constexpr double k_vanishing_skins = 2.9;

}  // namespace sillwright::core
