#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <functional>
#include <vector>

#include "geometry/loft.h"
#include "geometry/mesh.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// What a run of ring segments is part of.
enum class RingFace { outside, inside, edge };
enum class StripShape { line, arc };

/// A run of neighbouring ring segments that is one strip of the body all along:
/// the rounding at a node, or the straight between two nodes.
struct RingStrip {
    RingFace face = RingFace::outside;
    StripShape shape = StripShape::line;
    std::size_t from_node = 0, to_node = 0;  ///< Numbers in the loft's names; equal for an arc.
    std::size_t first_segment = 0, segment_count = 0;
};

/// The outline of a body at one place along the car.
struct Ring {
    std::vector<Eigen::Vector2d> points_mm;  ///< (out, up), closed, the first point not repeated.
    Length sagitta;                          ///< No arc of the true outline stands further off its chords.
};

/// A strip's part of the true outline: a straight (weight 1, middle half-way), or a
/// circular arc as a rational quadratic (weight the cosine of half its turn). A
/// strip without width has its three points at one place.
struct StripCurve {
    Eigen::Vector2d from_mm, middle_mm, to_mm;
    double weight = 1.0;
};

/// A body swept along the car, as a closed outline for every place. Its functions
/// are not to be called by two threads at once.
///
/// Shape: every outline has `point_count` points, which run along the car as
///   smooth lines between key places; segment i joins points i and i + 1 and
///   belongs to the same strip everywhere. Points may coincide where a strip has
///   no width. An outline may be thin, but must not cross itself.
struct RingBody {
    /// Writes the outline at a place over `Ring`; does_not_fit where there is none.
    std::function<Status(Length along, Ring&)> outline;
    /// Writes the outline at a place exactly, one curve for every strip; empty where not known.
    std::function<Status(Length along, std::vector<StripCurve>&)> curves;
    std::size_t point_count = 0;
    std::vector<RingStrip> strips;   ///< In order, all segments covered once.
    std::vector<Length> key_places;  ///< Rising, from the front end to the rear end.
    std::vector<Length> run_outs;    ///< Those of them where the surface may have an edge across.
};

enum class RingMeshPart { side, front_cap, rear_cap };

/// Where on its body a triangle is: on the side between two rows at a ring
/// segment, or on an end cap (then both numbers are zero).
struct TrianglePlace {
    RingMeshPart part = RingMeshPart::side;
    std::uint32_t interval = 0, segment = 0;
};

/// A closed mesh of a RingBody, with what is needed to say where a triangle is
/// and to follow a change.
///
/// Units and frame: points are (along, out, up) in millimetres.
/// Shape: point r * point_count + i is ring point i of row r. Ring neighbours at
///   one place are welded: triangles use the first of them, the others stay in the
///   list unused. The sides come first, row by row; then the front cap, then the rear.
/// Accuracy: `mesh.deviation` bounds the distance between mesh and true body either
///   way. At 1/4, 1/2 and 3/4 of every interval the true outline is compared with
///   the straight between the rows for every ring point; that, times 1.25, plus the
///   quads' twist off their triangles, plus the outline's sagitta, is the bound. 1.25
///   covers the worst that can lie between the three probes for one kink (exactly 5/4)
///   and for a cubic (1.05).
struct RingMesh {
    Mesh mesh;
    std::vector<Length> rows;
    std::size_t point_count = 0;
    std::vector<RingStrip> strips;
    std::vector<TrianglePlace> places;          ///< One for every triangle.
    std::vector<Length> interval_deviation;     ///< One for every interval between rows.
    std::vector<std::uint32_t> representative;  ///< For every point, the one that it is welded to.
    bool turned = false;                        ///< The outline runs clockwise (seen from the rear end).
};

/// The mesh of `body` with as few rows as hold `tolerance`.
///
/// Invariants of the result: closed (open_edge_count is 0), volume positive,
///   deviation not above tolerance, a row at every key place.
/// Errors: invalid_argument if the tolerance is not positive or the body is not as
///   described; does_not_fit as the outline says, or where an outline crosses itself,
///   has no area at an end, or needs more rows than 1 000 000 points allow.
Result<RingMesh> mesh_of(const RingBody& body, Length tolerance);

/// A half-open range of triangles.
struct TriangleRange {
    std::size_t from, to;
};

/// A mesh after a change of its body.
struct Remeshed {
    RingMesh ring_mesh;
    std::vector<TriangleRange> changed;  ///< Triangles with other corners than before.
    bool same_triangles = true;          ///< The lists of triangles are the same, only points have moved.
};

/// `previous` with the rows inside `changed` computed again: same rows, same points,
/// for following a node as it is dragged. Nothing outside of the range is touched.
/// End caps keep their triangles as long as these fill them.
/// `body` must have the point count and strips of the previous one. The deviation is
/// measured afresh and may be above the tolerance that `previous` was made for.
///
/// Errors: invalid_argument if the bodies do not match; else as mesh_of.
Result<Remeshed> remesh(const RingMesh& previous, const RingBody& body, AlongRange changed);

/// The strip that a side's ring segment belongs to.
const RingStrip& strip_of(const RingMesh& ring_mesh, std::size_t segment);

}  // namespace sillwright::geometry
