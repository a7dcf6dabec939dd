#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "geometry/profile.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

/// A stretch of a horizontal line.
struct Stretch {
    double from_mm, to_mm;
    [[nodiscard]] double width_mm() const { return to_mm - from_mm; }
};

/// How much room there is inside a closed outline, for what is written on it.
///
/// Units and frame: millimetres, the outline's own frame.
/// Accuracy: arcs are taken as chords within 0.01 mm.
class InnerRoom {
public:
    /// Errors: as geometry::polyline. Precondition: the outline is closed.
    static geometry::Result<InnerRoom> of(const geometry::Profile& outline);

    [[nodiscard]] double bottom_mm() const { return bottom_mm_; }
    [[nodiscard]] double top_mm() const { return top_mm_; }

    /// The stretches of the horizontal line at `y_mm` inside the outline, from the left.
    [[nodiscard]] std::vector<Stretch> stretches(double y_mm) const;
    /// The widest of them.
    [[nodiscard]] std::optional<Stretch> widest(double y_mm) const;
    /// The widest upright rectangle inside, between two heights (looked at every
    /// 0.5 mm, so a notch lower than that may be missed).
    [[nodiscard]] std::optional<Stretch> widest_between(double low_mm, double high_mm) const;

private:
    std::vector<Eigen::Vector2d> points_;
    double bottom_mm_ = 0.0, top_mm_ = 0.0;
};

}  // namespace sillwright::core
