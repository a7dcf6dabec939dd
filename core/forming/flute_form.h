#pragma once

#include <Eigen/Core>

#include "core/job.h"
#include "geometry/units.h"

namespace sillwright::core {

/// A groove's section as core/skirt/fluted_section.h draws it: walls square to the surface, or its two roundings
/// where they are greater than its depth.
struct GrooveSection {
    geometry::Length width, depth, bottom_radius;
};

/// Between the surface and the groove's wall where they meet: a right angle, or less where the bottom's rounding comes
/// up to the mouth.
geometry::Angle mouth_angle(const GrooveSection& drawn);

/// A groove as it is on the mould, and as it is seen on the part.
struct GrooveFaces {
    GrooveSection mould;           ///< Of the plug too.
    geometry::Length seen_width;   ///< On the part's outside, unpainted.
    geometry::Length seen_radius;  ///< The same.
};

/// Sheet is laid into a groove of a male mould and takes 2 t tan(b/2) of its width away, b the angle at its mouth; on a
/// female mould the groove is seen as it is on the mould.
///
/// `thickness`: of the sheet as formed, beside the groove.
/// Accuracy: where the mouth's edge is sharp on the mould it is round outside: the width is that between the straights
///   that touch wall and surface. The depth stays as it is.
/// Source: two parallels at a corner, plane geometry.
GrooveFaces groove_faces(const GrooveSection& drawn, DrawnFace face, MouldKind mould, geometry::Length thickness);

/// The drawn groove that comes to those sizes on the mould.
GrooveSection drawn_for_mould(const GrooveSection& mould, DrawnFace face, MouldKind kind, geometry::Length thickness);

/// Thinnest sheet in the groove's bottom: into a male mould's groove it is drawn last (geometry/flute_thinning.h); over
/// a female one's ridge first, and stays as thick as it is beside it. A corner sharper than the sheet is thick is
/// bridged: it is taken as round as that.
geometry::Length bottom_thickness(const GrooveSection& mould, MouldKind kind, geometry::Length thickness);

/// By how much the part must be sprung off the surface so that a groove's wall lets it go.
///
/// `draw`: unit vector of the draw direction in the section, (inward along the surface, square out of it).
/// Measured square to the draw direction; zero where no part of the groove stands in the way.
geometry::Length groove_undercut(const GrooveSection& mould, const Eigen::Vector2d& draw);

/// The section with another depth, of the same bit where it is one single rounding.
GrooveSection with_depth(const GrooveSection& section, geometry::Length depth);

}  // namespace sillwright::core
