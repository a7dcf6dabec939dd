#include "app/drawings/section_scale.h"

#include <Eigen/Geometry>
#include <algorithm>

namespace sillwright::app {

namespace {

/// A door reaches far up, but what matters is its lower edge.
constexpr double k_door_shown_mm = 30.0;
constexpr double k_least_pixels_per_mm = 0.2;
constexpr double k_most_pixels_per_mm = 100.0;

bool of_a_door(SectionRole role) {
    return role == SectionRole::door || role == SectionRole::door_shut || role == SectionRole::door_limit;
}

void extend(const SectionPicture& picture, Eigen::AlignedBox2d& still, Eigen::AlignedBox2d& doors) {
    for (const SectionLine& line : picture.lines) {
        for (const Eigen::Vector2d& p_mm : line.points_mm) {
            (of_a_door(line.role) ? doors : still).extend(p_mm);
        }
    }
    for (const SectionPoint& point : picture.points) {
        (of_a_door(point.role) ? doors : still).extend(point.at_mm);
    }
    for (const SectionNode& node : picture.nodes) {
        (of_a_door(node.role) ? doors : still).extend(node.at_mm);
    }
    if (picture.under) {
        extend(*picture.under, still, doors);
    }
}

/// All that stands still, and of the doors what is not far beyond it.
Eigen::AlignedBox2d extent_of(const SectionPicture& picture) {
    Eigen::AlignedBox2d still;
    Eigen::AlignedBox2d doors;
    extend(picture, still, doors);
    if (still.isEmpty() || doors.isEmpty()) {
        return still.merged(doors);
    }
    const Eigen::Vector2d beyond = Eigen::Vector2d::Constant(k_door_shown_mm);
    const Eigen::AlignedBox2d near(still.min() - beyond, still.max() + beyond);
    return near.intersects(doors) ? still.merged(near.intersection(doors)) : still.merged(doors);
}

}  // namespace

SectionScale fit(const SectionPicture& picture, const QRectF& field) {
    // Where nothing is drawn yet there is room for a sill of usual size (common practice, no source).
    static const Eigen::AlignedBox2d usual(Eigen::Vector2d(-80.0, -60.0), Eigen::Vector2d(220.0, 200.0));
    const Eigen::AlignedBox2d drawn = extent_of(picture);
    const Eigen::AlignedBox2d extent = drawn.isEmpty() ? usual : drawn;
    SectionScale scale;
    const Eigen::Vector2d size = extent.sizes();
    if (size.maxCoeff() > 0.0) {
        // A side without extent divides to infinity and so does not decide.
        scale.pixels_per_mm = std::min(field.width() / size.x(), field.height() / size.y());
    }
    const Eigen::Vector2d middle = extent.center();
    scale.origin = QPointF(field.center().x() - scale.pixels_per_mm * middle.x(),
                           field.center().y() + scale.pixels_per_mm * middle.y());
    return scale;
}

SectionScale zoomed(const SectionScale& scale, double factor, const QPointF& still) {
    const Eigen::Vector2d p_mm = scale.from_sheet(still);
    SectionScale made;
    made.pixels_per_mm = std::clamp(scale.pixels_per_mm * factor, k_least_pixels_per_mm, k_most_pixels_per_mm);
    made.origin = QPointF(still.x() - made.pixels_per_mm * p_mm.x(), still.y() + made.pixels_per_mm * p_mm.y());
    return made;
}

}  // namespace sillwright::app
