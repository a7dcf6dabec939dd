#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <optional>
#include <vector>

#include "core/buck/inner_room.h"
#include "geometry/profile.h"
#include "geometry/result.h"

namespace sillwright::core {

/// Where something can be engraved on a part: inside its outline, and off what stands there already.
///
/// Units and frame: millimetres of the part.
/// Accuracy: arcs are taken as chords within 0.01 mm; what is said to be free is at least `k_engraving_room` less that
///   from the outline, along x and along y.
class PartRoom {
public:
    /// Errors: as geometry::polyline. Precondition: the outline is closed.
    static geometry::Result<PartRoom> of(const geometry::Profile& outline);

    /// The same with x and y changed about, for upright lines.
    [[nodiscard]] PartRoom turned() const;

    /// Nothing may be engraved within the box from now on.
    void keep_off(const Eigen::AlignedBox2d& box) { taken_.push_back(box); }

    /// Stretches between two heights that are free over the whole of them, from the left.
    [[nodiscard]] std::vector<Stretch> free(double low_mm, double high_mm) const;

    /// Lower left corner for a box of that size, where there is most room beside it, the lowest of equals; within
    /// `within` if it is given.
    [[nodiscard]] std::optional<Eigen::Vector2d> place(
        const Eigen::Vector2d& size_mm, const std::optional<Eigen::AlignedBox2d>& within = std::nullopt) const;

private:
    std::vector<Eigen::Vector2d> points_;
    std::vector<Eigen::AlignedBox2d> taken_;
    Eigen::AlignedBox2d box_;
};

/// From engraved words to the part's edges, slots and holes: common practice, no source.
constexpr geometry::Length k_engraving_room = geometry::millimetres(3.0);

}  // namespace sillwright::core
