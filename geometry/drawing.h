#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <string>
#include <variant>
#include <vector>

#include "geometry/profile.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::geometry {

// A flat drawing as values: what stands on which layer. Millimetres, x to the
// right, y up; angles anticlockwise from x.

struct DrawnLine {
    Eigen::Vector2d from_mm, to_mm;
};

struct DrawnArc {
    Eigen::Vector2d centre_mm;
    Length radius;
    Angle start;  ///< Direction from the centre to the first point.
    Angle sweep;  ///< Anticlockwise if positive; not zero, less than a full turn.
};

struct DrawnCircle {
    Eigen::Vector2d centre_mm;
    Length radius;
};

/// A corner of a chain, and how the chain goes on from it.
struct ChainVertex {
    Eigen::Vector2d p_mm;
    double bulge = 0.0;  ///< Tangent of a quarter of the sweep to the next vertex; 0 for a line.
};

/// Lines and arcs end to end; two vertices or more. From the last vertex of a
/// closed chain it goes on to the first; the bulge of an open one's last is not used.
struct DrawnChain {
    std::vector<ChainVertex> vertices;
    bool closed = false;
};

enum class TextPlace { left, middle };

/// One line of writing.
struct DrawnText {
    Eigen::Vector2d at_mm;  ///< Where the base line begins, or the middle of the words, as `place` says.
    Length height;          ///< Of capital letters.
    Angle turned;
    std::string words;  ///< UTF-8.
    TextPlace place = TextPlace::left;
};

struct DrawnPoint {
    Eigen::Vector2d at_mm;
};

using DrawnShape = std::variant<DrawnLine, DrawnArc, DrawnCircle, DrawnChain, DrawnText, DrawnPoint>;

struct DrawingLayer {
    std::string name;  ///< Letters A-Z, digits and _ only.
    int colour = 7;    ///< Index 1 to 255 of the usual table; 7 is black on white.
};

struct DrawnEntity {
    std::string layer;  ///< The name of one of the drawing's layers.
    DrawnShape shape;
};

struct Drawing {
    std::vector<DrawingLayer> layers;
    std::vector<DrawnEntity> entities;
};

/// The profile as one chain of lines and true arcs, or as a circle if it is one.
/// An arc of more than 300 degrees becomes two of half the sweep, since the
/// ends of one lie too close together to hold its radius well.
///
/// Accuracy: points to rounding (about 1e-12 mm in a part of a few metres).
/// Errors: invalid_argument for a profile without segments, a number that is
///   not finite, an arc without radius or sweep, or one beyond a full turn;
///   does_not_fit, naming the segment (from 1), if segments do not meet to
///   1e-6 mm, or a closed profile does not come back to its start.
Result<DrawnShape> shape_of(const Profile& profile);

/// The arc of a chain from `from` to `to`. Precondition: bulge != 0, from != to.
DrawnArc arc_of_bulge(const Eigen::Vector2d& from_mm, const Eigen::Vector2d& to_mm, double bulge);

/// The least box, edges parallel to the axes, that holds every shape; for
/// writing only the place where it stands. Empty for an empty drawing.
Eigen::AlignedBox2d bounds_mm(const Drawing& drawing);

/// The shape turned and moved. Precondition: `pose` has no mirror.
DrawnShape placed(const DrawnShape& shape, const Eigen::Isometry2d& pose);

/// All of it in another unit, seen from the origin: places, radii, heights of letters by a divisor, 25.4 for inches.
/// Precondition: divisor > 0.
Drawing divided(const Drawing& drawing, double divisor);

/// Whether a file can be made of the drawing.
/// Errors: invalid_argument, naming the entity by its number from 1 and its
///   layer, for a number that is not finite, a radius or height that is not
///   positive, an arc without sweep or beyond a full turn, a chain of fewer
///   than two vertices, writing without words, or a layer that the drawing has
///   not; also for layers with equal names, other characters than A-Z 0-9 _,
///   or a colour outside 1 to 255.
Status check_drawing(const Drawing& drawing);

}  // namespace sillwright::geometry
