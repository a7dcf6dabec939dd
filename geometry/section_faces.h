#pragma once

#include <Eigen/Core>
#include <array>
#include <cstddef>
#include <string>
#include <vector>

#include "geometry/draft.h"
#include "geometry/loft.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// A node of a loft at one place, and how it changes along the body.
struct NodeCourse {
    Eigen::Vector2d p_mm = Eigen::Vector2d::Zero();
    Eigen::Vector2d rate = Eigen::Vector2d::Zero();  ///< Per millimetre along.
    Length radius;
    double radius_rate = 0.0;
};

/// A loft between two neighbouring key places, where every node runs on one cubic.
///
/// Accuracy: rates to rounding, some 1e-15 of the nodes' greatest coordinate; that of a radius is of the cubic
///   through four of its values, which is the radius's own wherever that is not held at zero.
/// Lifetime: holds the loft's address; the loft must outlive it.
class LoftStretch {
public:
    /// Precondition: `from` and `to` are neighbours in loft.key_places().
    LoftStretch(const Loft& loft, Length from, Length to);
    /// The stretch that a place is in; of two the one in front.
    static LoftStretch of(const Loft& loft, Length along);

    [[nodiscard]] Length from() const { return from_; }
    [[nodiscard]] Length to() const { return to_; }
    /// One course for every name of the loft. Precondition: from <= along <= to.
    [[nodiscard]] std::vector<NodeCourse> at(Length along) const;

private:
    static constexpr std::size_t k_order = 4;  ///< Coefficients of a cubic.

    const Loft* loft_;
    Length from_, to_;
    /// By name and power of the way: coefficients of first, second coordinate, radius.
    std::vector<std::array<Eigen::Vector3d, k_order>> cubics_;
};

/// A face of a lofted surface in one section: a straight strip from a node to the next, or a rounding.
///
/// Units and frame: millimetres, the frame of the nodes; outward is to the left of the line.
struct SectionFace {
    std::size_t from = 0, to = 0;     ///< Numbers of nodes; the same for a rounding.
    double begins = 0.0, ends = 0.0;  ///< Marks: a node's number and the part of the way to the next.
    Eigen::Vector2d from_mm, to_mm;
    Eigen::Vector2d from_normal, to_normal;  ///< Outward, unit, in the plane; the same of a strip.
    double from_rate = 0.0, to_rate = 0.0;   ///< How fast the surface moves outward, per millimetre along.
    // Of a rounding alone:
    Eigen::Vector2d centre_mm = Eigen::Vector2d::Zero();
    double radius_mm = 0.0;
    double side = 0.0;         ///< +1 turns left, -1 turns right; 0 is a strip.
    double radius_rate = 0.0;  ///< Per millimetre along.

    [[nodiscard]] bool rounding() const { return side != 0.0; }
    /// Turn of a rounding, positive anticlockwise; zero for a strip.
    [[nodiscard]] double sweep_rad() const;
    [[nodiscard]] Eigen::Vector2d point_at(double fraction) const;
    [[nodiscard]] Eigen::Vector2d plane_normal_at(double fraction) const;
    [[nodiscard]] double rate_at(double fraction) const;
    /// The part in the section plane of the surface's unit normal in space.
    [[nodiscard]] Eigen::Vector2d normal_at(double fraction) const;
};

/// The faces of the parallel at `offset` to the left of the line through nodes, in order. Nodes at one place, strips
/// that two roundings use up, and corners without a rounding have none.
///
/// Normals: a point of a strip goes along the body as its two nodes do; of a rounding as its ends and its radius do.
///   Parallels in the section plane have the same normals as the line itself.
/// Errors: does_not_fit as find_corners.
Result<std::vector<SectionFace>> section_faces(const std::vector<NodeCourse>& nodes,
                                               const std::vector<std::string>& names, Length offset);

/// Normals (plane parts) among which is the least draft of a strip for every tilt: its two ends, and between them where
/// the surface stands still along the body. Precondition: not a rounding.
void add_normals(const SectionFace& strip, std::vector<Eigen::Vector2d>& normals);

struct FaceDraft {
    Angle draft;
    double fraction = 0.0;  ///< Where on the face.
};
/// The least draft of one face. Accuracy: strips to rounding, roundings to 1e-9 rad.
FaceDraft least_draft(const SectionFace& face, Angle tilt);

/// Where a mould holds a face.
struct HeldFace {
    std::size_t face;  ///< A strip; a rounding if the strip beside it is used up.
    double depth_mm;   ///< What the part must spring over, square to the draw direction.
    Eigen::Vector2d at_mm;
};
/// The faces of one section that turn back: from the point that is furthest in the draw direction, walking down either
/// way, the line may not come back square to the draw direction. Depth is how far it has come back from the furthest
/// that it had reached. What a rounding turns back counts to the strip that turns back with it.
/// Accuracy: rounding; less than k_held_least_mm is not held.
std::vector<HeldFace> held_faces(const std::vector<SectionFace>& faces, Angle tilt);

/// Far below what can be measured, far above rounding.
constexpr double k_held_least_mm = 1e-7;

}  // namespace sillwright::geometry
