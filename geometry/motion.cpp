#include "geometry/motion.h"

namespace sillwright::geometry {

namespace {

Eigen::Vector3d mirror(const Eigen::Vector3d& v) {
    return {v.x(), -v.y(), v.z()};
}

}  // namespace

Angle HingeMotion::sag(Angle angle) const {
    return sag_at_once + sag_growth * (angle / opening);
}

Eigen::Isometry3d pose(const HingeMotion& motion, Angle angle) {
    const Eigen::AngleAxisd turn(in_rad(angle), motion.axis_direction.normalized());
    const Eigen::AngleAxisd sag(in_rad(motion.sag(angle)), motion.sag_direction.normalized());
    Eigen::Isometry3d result = Eigen::Isometry3d::Identity();
    result.linear() = (turn * sag).toRotationMatrix();
    result.translation() = motion.axis_point_mm - result.linear() * motion.axis_point_mm;
    return result;
}

HingeMotion mirrored_y(const HingeMotion& motion) {
    HingeMotion image = motion;
    image.axis_point_mm = mirror(motion.axis_point_mm);
    // A mirror turns the sense of rotation: the image of a turn about u is the
    // opposite turn about the image of u, that is the same turn about its negative.
    image.axis_direction = -mirror(motion.axis_direction);
    image.sag_direction = -mirror(motion.sag_direction);
    return image;
}

}  // namespace sillwright::geometry
