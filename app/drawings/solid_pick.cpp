#include "app/drawings/solid_pick.h"

#include <Eigen/Geometry>
#include <limits>

namespace sillwright::app {

using Eigen::Vector3d;

namespace {

/// A straight line through the picture, from the eye's side on.
struct Sight {
    Vector3d from_mm, direction;
};

/// How far along the sight a triangle is met; none if it is not.
/// Source: Möller and Trumbore, Journal of Graphics Tools 2 (1997), from memory.
std::optional<double> met_at(const Sight& sight, const Vector3d& a, const Vector3d& b, const Vector3d& c) {
    const Vector3d ab = b - a;
    const Vector3d ac = c - a;
    const Vector3d p = sight.direction.cross(ac);
    const double determinant = ab.dot(p);
    if (determinant == 0.0) {
        return std::nullopt;  // seen edge on
    }
    const Vector3d from_a = sight.from_mm - a;
    const double u = from_a.dot(p) / determinant;
    const Vector3d q = from_a.cross(ab);
    const double v = sight.direction.dot(q) / determinant;
    if (u < 0.0 || v < 0.0 || u + v > 1.0) {
        return std::nullopt;
    }
    return ac.dot(q) / determinant;
}

/// Whether a sight passes the box that a body stands in.
bool may_meet(const SolidBounds& bounds, const SolidLook& look, const QPointF& point, const QSizeF& sheet) {
    QPointF low(std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity());
    QPointF high = -low;
    for (const Vector3d& corner_mm : bounds.corners_mm()) {
        const QPointF p = look.on_sheet(corner_mm, sheet);
        low = {std::min(low.x(), p.x()), std::min(low.y(), p.y())};
        high = {std::max(high.x(), p.x()), std::max(high.y(), p.y())};
    }
    return point.x() >= low.x() && point.x() <= high.x() && point.y() >= low.y() && point.y() <= high.y();
}

}  // namespace

std::optional<SolidHit> hit_at(const std::vector<PickedBody>& bodies, const SolidLook& look, const QPointF& point,
                               const QSizeF& sheet) {
    const Sight sight{look.under(point, sheet), -look.to_eye()};
    std::optional<SolidHit> nearest;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < bodies.size(); ++i) {
        const PickedBody& body = bodies[i];
        if (!may_meet(bounds_of(body.bounds, body.pose), look, point, sheet)) {
            continue;
        }
        const Eigen::Matrix3d back = body.pose.leftCols<3>().transpose();
        const Sight own{back * (sight.from_mm - body.pose.col(3)), back * sight.direction};
        const auto& points = body.mesh->points;
        for (const geometry::Triangle& t : body.mesh->triangles) {
            const auto at = met_at(own, points[static_cast<std::size_t>(t[0])], points[static_cast<std::size_t>(t[1])],
                                   points[static_cast<std::size_t>(t[2])]);
            if (at && *at < least) {
                least = *at;
                nearest = SolidHit{i, sight.from_mm + *at * sight.direction};
            }
        }
    }
    return nearest;
}

}  // namespace sillwright::app
