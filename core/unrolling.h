#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <vector>

#include "geometry/loft.h"
#include "geometry/units.h"

namespace sillwright::core {

/// Name of the node at which the part is folded out.
inline constexpr const char* k_lower_edge = "lower edge";

/// One section laid out flat at its fold: the side above, the underside below.
///
/// Units and frame: millimetres; heights of the strip, up. On the side a height is `up` itself, so the side is a
///   true elevation; on the underside it is `up` of the fold less the distance from the fold along the
///   section, so that side and underside meet in the fold.
struct UnrolledSection {
    std::vector<Eigen::Vector2d> lower_mm;  ///< (out, up) from the fold to the line's end; one or more.
    std::vector<double> heights_mm;         ///< Of every name of the line, in its order.

    [[nodiscard]] double fold_mm() const { return lower_mm.front().y(); }
    /// Height of the foot of a place on the underside. Beyond the line's end its last straight goes
    /// on; what lies outside the fold is at the fold.
    [[nodiscard]] double underside_mm(const Eigen::Vector2d& p_mm) const;
    /// (out, up) of the place on the underside that has a height; below the fold.
    [[nodiscard]] Eigen::Vector2d place_at(double height_mm) const;
    /// Unit direction of the underside, away from the fold, at the foot of a place.
    [[nodiscard]] Eigen::Vector2d direction_at(const Eigen::Vector2d& p_mm) const;
};

/// How the sections of a line are folded out.
///
/// Shape: the fold is the node "lower edge"; without one, the corner furthest out and down (the greatest
///   out less up) of the foremost section. Distances run along the straights between the nodes, roundings
///   taken as corners, as a rule laid on the sheet reads them.
/// Lifetime: holds the loft's address; the loft must outlive it.
class Unrolling {
public:
    /// A section line that runs from the top to the flange's end, or a body's from the sill to the floor.
    explicit Unrolling(const geometry::Loft& line);
    /// Where nothing is drawn: a fold at one (out, up), the underside straight inboard of it.
    explicit Unrolling(const Eigen::Vector2d& fold_mm);

    [[nodiscard]] const geometry::Loft* line() const { return line_; }
    /// Number of the name at the fold; none is drawn if there is no line.
    [[nodiscard]] std::size_t fold() const { return fold_; }
    /// Beyond the line's ends, as it is at the end.
    [[nodiscard]] UnrolledSection at(geometry::Length along) const;

private:
    const geometry::Loft* line_ = nullptr;
    std::size_t fold_ = 0;
    Eigen::Vector2d flat_mm_ = Eigen::Vector2d::Zero();
};

}  // namespace sillwright::core
