#include "core/mounts/flat_flange.h"

#include <algorithm>
#include <cmath>

namespace sillwright::core {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::millimetres;

FlatFlange flat_flange(const FlangeFace& face, geometry::Length step) {
    std::vector<double> places;
    const auto& sections = face.line().sections();
    for (std::size_t i = 1; i < sections.size(); ++i) {
        const double from = in_mm(sections[i - 1].along);
        const double to = in_mm(sections[i].along);
        const double parts = std::max(1.0, std::ceil((to - from) / in_mm(step)));
        for (double k = 0.0; k < parts; ++k) {
            places.push_back(from + (to - from) * k / parts);
        }
    }
    places.push_back(in_mm(sections.back().along));
    FlatFlange flat;
    for (const double along : places) {
        const auto section = face.at(millimetres(along));
        const auto flat_from = face.flat_from_mm(millimetres(along));
        if (section && flat_from) {
            flat.rows.push_back({along, *flat_from, section->length_mm});
        }
    }
    return flat;
}

std::optional<Vector2d> on_flat(const FlangeFace& face, const Vector3d& p_mm) {
    const auto section = face.at(millimetres(p_mm.x()));
    if (!section) {
        return std::nullopt;
    }
    return Vector2d{p_mm.x(), section->direction.dot(p_mm.tail<2>() - section->root_mm)};
}

std::optional<Eigen::Matrix2d> flat_covariance_mm2(const FlangeFace& face, const Mount& mount, const Landing& landing) {
    const auto section = face.at(millimetres(landing.p_mm.x()));
    const double slant = landing.normal.dot(mount.axis);
    if (!landing.covariance_mm2 || !section || slant == 0.0) {
        return std::nullopt;
    }
    // A move m of the mount moves its landing by m less what the axis takes to come back to the face.
    const Eigen::Matrix3d carried = Eigen::Matrix3d::Identity() - mount.axis * landing.normal.transpose() / slant;
    Eigen::Matrix<double, 2, 3> flat = Eigen::Matrix<double, 2, 3>::Zero();
    flat(0, 0) = 1.0;
    flat.row(1).tail<2>() = section->direction.transpose();
    const Eigen::Matrix<double, 2, 3> all = flat * carried;
    return Eigen::Matrix2d{all * *landing.covariance_mm2 * all.transpose()};
}

}  // namespace sillwright::core
