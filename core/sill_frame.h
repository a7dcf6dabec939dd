#pragma once

#include <Eigen/Core>

#include "core/job.h"
#include "geometry/mesh.h"

namespace sillwright::core {

/// Along, out, up of a sill to x, y, z of the car and back: the one place where
/// the hand matters.
///
/// Units and frame: millimetres. Car: x rearward, y to the driver's right, z up
///   (ISO 4130), its y = 0 the mid-plane. x = along and z = up, from the job's own
///   origin; y = out + zero on the right, -(out + zero) on the left, where zero is
///   the distance from the line where out is zero to the mid-plane.
/// Not measured: without that distance, 0 is used and `placed()` is false: good
///   enough for pictures, gaps and angles, for no figure that names y.
class SillFrame {
public:
    SillFrame(Side side, const std::optional<Entry>& zero_to_midplane);
    explicit SillFrame(const Job& job) : SillFrame{job.side, job.zero_to_midplane} {}

    /// Whether the distance to the mid-plane was measured.
    [[nodiscard]] bool placed() const { return placed_; }

    [[nodiscard]] Eigen::Vector3d car_from_sill(const Eigen::Vector3d& p_sill_mm) const;
    [[nodiscard]] Eigen::Vector3d sill_from_car(const Eigen::Vector3d& p_car_mm) const;

    /// A direction, not a place. Its own inverse.
    [[nodiscard]] Eigen::Vector3d turned(const Eigen::Vector3d& direction) const;

    /// The same for a whole mesh. A left-hand sill is a mirror image, so its
    /// triangles are turned about and face outward again.
    [[nodiscard]] geometry::Mesh car_from_sill(geometry::Mesh mesh_sill) const;
    [[nodiscard]] geometry::Mesh sill_from_car(geometry::Mesh mesh_car) const;

private:
    [[nodiscard]] geometry::Mesh turned_about(geometry::Mesh mesh) const;

    double sign_;
    double zero_mm_;
    bool placed_;
};

/// A place of the job as bare millimetres (along, out, up).
Eigen::Vector3d in_mm(const Position& position);
/// The same of a place that is wholly measured; none of another.
std::optional<Eigen::Vector3d> in_mm(const PartPosition& position);

}  // namespace sillwright::core
