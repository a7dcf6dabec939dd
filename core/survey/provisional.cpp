// Stands in for parts that are still being written; each part that comes takes its functions out of here.
#include "core/survey/compare.h"
#include "core/survey/hinge_axis.h"
#include "core/survey/results.h"
#include "core/survey/solution.h"
#include "core/survey/start.h"

namespace sillwright::core::survey {

// adjust
double factor_95(int /*dimensions*/) { return 0.0; }
double reading_sd(const Book& /*book*/, const Reading& /*reading*/) { return 1.0; }
Solution solve(const Book& /*book*/, bool /*with_next*/) { return {}; }
Eigen::MatrixXd Solution::covariance_mm2(const std::vector<std::string>& /*names*/) const { return {}; }

// start
Start find_start(const Book& /*book*/) { return {}; }
std::vector<std::string> point_names(const Book& /*book*/) { return {}; }
Eigen::Vector3d plumb_up(const Eigen::Vector2d& /*lean_rad*/) { return Eigen::Vector3d::UnitZ(); }
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
