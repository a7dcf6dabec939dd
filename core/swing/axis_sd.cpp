#include "core/swing/axis_sd.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

namespace sillwright::core {

using geometry::Angle;
using geometry::Length;

namespace {

constexpr Angle k_step = geometry::degrees(1.0);

}  // namespace

std::optional<Length> axis_sd(const DoorModel& door, const BodyModel& body, Angle from, Angle to) {
    if (!door.axis) {
        return std::nullopt;
    }
    Eigen::AlignedBox3d box;
    for (const Eigen::Vector3d& point : body.mesh.points) {
        box.extend(point);
    }
    double most = 0.0;
    const int steps = std::max(1, static_cast<int>(std::ceil((to - from) / k_step)));
    for (int step = 0; step <= steps; ++step) {
        const Angle at = from + (to - from) * (static_cast<double>(step) / steps);
        for (int corner = 0; corner < 8; ++corner) {
            const Eigen::Vector3d p_mm = box.corner(static_cast<Eigen::AlignedBox3d::CornerType>(corner));
            const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> axes(
                survey::swung_covariance_mm2(*door.axis, p_mm, at), Eigen::EigenvaluesOnly);
            most = std::max(most, axes.eigenvalues()[2]);
        }
    }
    return geometry::millimetres(std::sqrt(most));
}

}  // namespace sillwright::core
