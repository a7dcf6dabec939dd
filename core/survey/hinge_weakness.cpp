#include "core/survey/hinge_weakness.h"

#include <algorithm>
#include <cmath>

namespace sillwright::core::survey {

using Eigen::Vector3d;
using geometry::in_deg;

namespace {

double swing_deg(const geometry::HingeFit& fit) {
    const auto [least, most] = std::minmax_element(fit.angles.begin(), fit.angles.end());
    return in_deg(*most - *least);
}

double spread_mm(const std::vector<Vector3d>& points, int coordinate) {
    const auto [least, most] =
        std::minmax_element(points.begin(), points.end(),
                            [&](const Vector3d& a, const Vector3d& b) { return a[coordinate] < b[coordinate]; });
    return (*most - *least)[coordinate];
}

void add_if_near(std::vector<std::string>& weaknesses, double spread, const char* way) {
    if (spread < k_targets_apart_mm) {
        weaknesses.push_back("The targets lie within " + std::to_string(std::lround(spread)) + " mm " + way +
                             ": add one that is 400 mm or more away " + way + ".");
    }
}

}  // namespace

std::vector<std::string> hinge_weaknesses(const geometry::HingeFit& fit) {
    std::vector<std::string> weaknesses;
    if (const double swing = swing_deg(fit); swing < k_narrow_swing_deg) {
        weaknesses.push_back("The door was opened over " + std::to_string(std::lround(swing)) +
                             "° only: measure the targets at wider openings too, over 60° or more.");
    }
    if (fit.points_mm.size() == 1) {
        weaknesses.emplace_back(
            "One target alone carries the axis: add two, 400 mm or more away from it, one up or down and one along.");
    } else {
        add_if_near(weaknesses, spread_mm(fit.points_mm, 2), "up");
        add_if_near(weaknesses, spread_mm(fit.points_mm, 0), "along");
    }
    if (fit.angles.size() < k_few_openings) {
        weaknesses.push_back("The door was measured at " + std::to_string(fit.angles.size()) +
                             " openings only: add openings until there are " + std::to_string(k_few_openings) +
                             " or more, so that a wrong reading shows.");
    }
    return weaknesses;
}

std::vector<std::string> pin_weaknesses(const Vector3d& lower_mm, const Vector3d& upper_mm) {
    const double apart = (upper_mm - lower_mm).norm();
    if (apart >= k_pins_apart_mm) {
        return {};
    }
    return {"The hinge pins are " + std::to_string(std::lround(apart)) +
            " mm apart only: measure both ends of each pin, or targets on the door at several openings."};
}

}  // namespace sillwright::core::survey
