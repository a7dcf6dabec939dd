#pragma once

#include <QLineF>
#include <QSizeF>
#include <vector>

#include "app/drawings/solid_look.h"
#include "app/drawings/solid_scene.h"

namespace sillwright::app::print {

/// A line of a drawing of bodies in the round.
struct SolidLine {
    QLineF line;
    SolidRole role = SolidRole::body;
};

/// Edges and outlines of all bodies, doors shut, as far as no body hides them. Pixels of a sheet, y down.
///
/// Method: an edge is where two triangles lean from each other by more than `k_edge_lean`, or one of them is turned
/// away
///   from the eye; what hides it is read off a map of depths, a place for each half pixel.
/// Accuracy: of what is hidden, a pixel or two; of the lines themselves, the meshes'.
std::vector<SolidLine> solid_lines(const SolidScene& scene, const SolidLook& look, const QSizeF& sheet);

constexpr geometry::Angle k_edge_lean = geometry::degrees(28.0);

}  // namespace sillwright::app::print
