#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/survey/solution.h"
#include "geometry/units.h"

namespace sillwright::core::survey {

/// A target's place at one opening against the fitted axis.
struct TargetMiss {
    std::string target;
    int opening = 0;
    Eigen::Vector3d miss_mm = Eigen::Vector3d::Zero();  ///< Fitted minus measured.
    double w = 0.0;                                     ///< Largest normalised residual of its three numbers.
};

/// A door's axis from targets at unknown openings, or from its two pins.
///
/// Opening turns by the right hand with the thumb from lower to upper, in numbers of (along, out, up): a door that
/// hangs at its front edge turns its rear end out. The two places: the pins; or beside the lowest and the highest
/// target, moved apart to 400 mm if these are nearer. Chosen along the axis, they have no uncertainty along it.
struct HingeAxis {
    std::string door;
    Eigen::Vector3d lower_mm = Eigen::Vector3d::Zero(), upper_mm = Eigen::Vector3d::Zero();  ///< Two places on it.
    Eigen::Matrix<double, 6, 6> covariance_mm2 = Eigen::Matrix<double, 6, 6>::Zero();        ///< Of lower, then upper.
    bool from_pins = false;

    std::vector<geometry::Angle> openings;  ///< Of each opening from the first; its sd beside it.
    std::vector<geometry::Angle> opening_sds;
    std::vector<TargetMiss> misses;
    std::optional<std::size_t> suspect;  ///< In `misses`, the worst above 3.29.
    double sum_of_squares = 0.0;
    int degrees_of_freedom = 0;
    bool holds = true;  ///< Global test, 95 %.

    std::vector<std::string> weaknesses;  ///< In words, each with what to add: narrow swing, one lonely target, ...
};

struct HingeOutcome {
    std::string door;
    std::optional<HingeAxis> axis;
    std::string lacks;  ///< If there is no axis: what to measure.
};

/// From the targets of one hinge set of the book. Openings are numbered by the points' names, "T1/2".
HingeOutcome hinge_from_targets(const HingeSet& set, const Solution& solution);

/// From two pins that are points of the book named "<door> lower pin" and "<door> upper pin"; `lacks` if they are not.
HingeOutcome hinge_from_pins(const std::string& door, const Solution& solution);

/// Covariance of where the axis takes a point of the door that stands at `shut_mm` when shut, opened by `opening`
/// (the angle itself taken as exact): mm², 3 x 3. Opening turns the door outward.
Eigen::Matrix3d swung_covariance_mm2(const HingeAxis& axis, const Eigen::Vector3d& shut_mm, geometry::Angle opening);

/// The place itself.
Eigen::Vector3d swung_mm(const HingeAxis& axis, const Eigen::Vector3d& shut_mm, geometry::Angle opening);

/// The number that matters: largest sd (along its worst direction) of the door's lower rear corner over openings from
/// shut to `most`, and the angle where it is.
struct CornerSd {
    double sd_mm = 0.0;
    geometry::Angle at;
};
CornerSd worst_corner_sd(const HingeAxis& axis, const Eigen::Vector3d& corner_shut_mm, geometry::Angle most);

}  // namespace sillwright::core::survey
