// Stands in for parts that are still being written; each part that comes takes its functions out of here.
#include "core/survey/compare.h"
#include "core/survey/hinge_axis.h"
#include "core/survey/results.h"
#include "core/survey/solution.h"
#include "core/survey/start.h"

namespace sillwright::core::survey {

// start
Comparison compare_sides(const Solution& /*first*/, const Solution& /*second*/, double /*limit_mm*/) { return {}; }
std::optional<Comparison> compare_set_ups(const Book& /*book*/, double /*limit_mm*/) { return {}; }
HingeOutcome hinge_from_targets(const HingeSet& /*set*/, const Solution& /*solution*/) { return {}; }
HingeOutcome hinge_from_pins(const std::string& /*door*/, const Solution& /*solution*/) { return {}; }
Eigen::Matrix3d swung_covariance_mm2(const HingeAxis& /*axis*/, const Eigen::Vector3d& /*shut_mm*/,
                                     geometry::Angle /*opening*/) { return Eigen::Matrix3d::Zero(); }
Eigen::Vector3d swung_mm(const HingeAxis& /*axis*/, const Eigen::Vector3d& shut_mm, geometry::Angle /*opening*/) {
    return shut_mm;
}
CornerSd worst_corner_sd(const HingeAxis& /*axis*/, const Eigen::Vector3d& /*corner*/, geometry::Angle /*most*/) {
    return {};
}

}  // namespace sillwright::core::survey
