#pragma once

#include <Eigen/Core>
#include <vector>

#include "geometry/result.h"

namespace sillwright::geometry {

/// A straight across a strip in space, from its near edge to its far one. Millimetres.
struct Rung {
    Eigen::Vector3d near_mm, far_mm;
};

/// A strip between two lines in space, laid flat: two triangles between neighbouring rungs, each at its true size, one
/// after another.
///
/// Frame: the near edge's ends lie on x, the first at the origin, the last further on; far edges above (y up), so that
///   it is looked at from where along x far is to the left.
/// Accuracy: exact for triangles. A strip that is twisted cannot be laid flat without stretching: `misfit_mm` is how
/// far
///   places differ between the two ways of cutting quadrangles into triangles, at most.
class FlatStrip {
public:
    /// Errors: invalid_argument for fewer than two rungs, a number that is not finite, neighbouring rungs that meet, or
    ///   a rung without length.
    static Result<FlatStrip> of(const std::vector<Rung>& rungs);

    /// One each for every rung.
    [[nodiscard]] const std::vector<Eigen::Vector2d>& near_mm() const { return near_; }
    [[nodiscard]] const std::vector<Eigen::Vector2d>& far_mm() const { return far_; }
    /// Where a place on the strip comes to lie; one beside it goes on as the nearest triangle.
    [[nodiscard]] Eigen::Vector2d at(const Eigen::Vector3d& p_mm) const;
    [[nodiscard]] double misfit_mm() const { return misfit_mm_; }

private:
    std::vector<Rung> rungs_;
    std::vector<Eigen::Vector2d> near_, far_;
    double misfit_mm_ = 0.0;
};

}  // namespace sillwright::geometry
