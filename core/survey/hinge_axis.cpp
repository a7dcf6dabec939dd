#include "core/survey/hinge_axis.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>
#include <optional>
#include <set>
#include <utility>

#include "core/survey/hinge_weakness.h"
#include "core/survey/network_problems.h"
#include "geometry/chi_squared.h"
#include "geometry/hinge_fit.h"

namespace sillwright::core::survey {

using Eigen::Matrix3d;
using Eigen::Vector3d;
using geometry::Angle;
using geometry::in_rad;
using geometry::radians;

namespace {

/// The two places on the axis are at least this far apart, so that their sds say something of a door's height.
constexpr double k_least_apart_mm = 400.0;
/// No target is placed better than this; keeps the covariance of held ones positive.
constexpr double k_least_sd_mm = 0.01;
/// Two-sided 95 %.
constexpr double k_outside_each_side = 0.025;
/// Openings that are looked at for the worst one.
constexpr double k_step_rad = 0.5 * M_PI / 180.0;
/// The axis of a door that opens outward like a page stands at least this upright: 60 degrees from level.
constexpr double k_upright = 0.5;

/// One target of a set, placed, at one opening.
struct Seen {
    std::string target, point;
    int opening = 0;
};

std::optional<int> opening_of(const std::string& point, const std::string& target) {
    if (!point.starts_with(target + "/")) {
        return std::nullopt;
    }
    const char* first = point.data() + target.size() + 1;
    const char* last = point.data() + point.size();
    int opening = 0;
    const auto [end, error] = std::from_chars(first, last, opening);
    return error == std::errc{} && end == last ? std::optional(opening) : std::nullopt;
}

std::vector<Seen> seen_of(const HingeSet& set, const Solution& solution) {
    std::vector<Seen> seen;
    for (const std::string& target : set.targets) {
        std::vector<Seen> own;
        for (const PlacedPoint& point : solution.points) {
            if (const auto opening = opening_of(point.name, target)) {
                own.push_back({target, point.name, *opening});
            }
        }
        std::sort(own.begin(), own.end(), [](const Seen& a, const Seen& b) { return a.opening < b.opening; });
        seen.insert(seen.end(), own.begin(), own.end());
    }
    return seen;
}

/// Targets and openings that are of use: an opening with one sighting of a target that no other opening has says
/// nothing, and has no place in the fit.
std::vector<Seen> linked(std::vector<Seen> seen) {
    for (bool again = true; again;) {
        std::map<std::string, int> of_target;
        for (const Seen& s : seen) {
            ++of_target[s.target];
        }
        const auto gone = std::erase_if(seen, [&](const Seen& s) { return of_target[s.target] < 2; });
        again = gone > 0;
    }
    return seen;
}

std::string lacks(const HingeSet& set, const std::vector<Seen>& seen) {
    std::set<int> openings;
    for (const Seen& s : seen) {
        openings.insert(s.opening);
    }
    return "The hinge axis of " + set.door + " has " + std::to_string(seen.size()) + " target place" +
           (seen.size() == 1 ? "" : "s") + " at " + std::to_string(openings.size()) + " opening" +
           (openings.size() == 1 ? "" : "s") +
           ": measure three targets on the door, 400 mm or more apart up and along, at four openings or more over at "
           "least 60°.";
}

/// Numbers of things in the order in which they are first met.
template <class Key>
int number_of(std::vector<Key>& known, const Key& key) {
    const auto found = std::find(known.begin(), known.end(), key);
    if (found != known.end()) {
        return static_cast<int>(found - known.begin());
    }
    known.push_back(key);
    return static_cast<int>(known.size()) - 1;
}

struct Sightings {
    std::vector<geometry::Sighting> list;
    std::vector<std::string> targets;
    std::vector<int> openings;  ///< Rising.
    Eigen::MatrixXd covariance_mm2;
};

Sightings sightings_of(const std::vector<Seen>& seen, const Solution& solution) {
    Sightings sightings;
    std::set<int> openings;
    std::vector<std::string> names;
    for (const Seen& s : seen) {
        openings.insert(s.opening);
        names.push_back(s.point);
    }
    sightings.openings.assign(openings.begin(), openings.end());
    for (const Seen& s : seen) {
        sightings.list.push_back({number_of(sightings.targets, s.target), number_of(sightings.openings, s.opening),
                                  solution.find(s.point)->at_mm});
    }
    sightings.covariance_mm2 = solution.covariance_mm2(names);
    sightings.covariance_mm2.diagonal().array() += k_least_sd_mm * k_least_sd_mm;
    return sightings;
}

/// Opening turns the door outward: about an upright axis by the right hand with the thumb up; about a level one so that
/// the targets go out.
bool opens_inward(const geometry::HingeFit& fit) {
    if (std::abs(fit.direction.z()) > k_upright) {
        return fit.direction.z() < 0.0;
    }
    double outward = 0.0;
    for (const Vector3d& point : fit.points_mm) {
        outward += fit.direction.cross(point - fit.middle_mm).y();
    }
    return outward < 0.0;
}

/// Along the axis from its middle: the targets' lowest and highest, or further apart.
std::pair<double, double> ends_of(const geometry::HingeFit& fit) {
    double lower = 0.0;
    double upper = 0.0;
    for (std::size_t i = 0; i < fit.points_mm.size(); ++i) {
        const double along = fit.direction.dot(fit.points_mm[i] - fit.middle_mm);
        lower = i == 0 ? along : std::min(lower, along);
        upper = i == 0 ? along : std::max(upper, along);
    }
    const double more = std::max(0.0, k_least_apart_mm - (upper - lower)) / 2.0;
    return {lower - more, upper + more};
}

void fill_misses(HingeAxis& axis, const geometry::HingeFit& fit, const std::vector<Seen>& seen) {
    for (std::size_t i = 0; i < seen.size(); ++i) {
        axis.misses.push_back({seen[i].target, seen[i].opening, fit.residuals_mm[i], fit.w[i]});
        if (fit.w[i] > (axis.suspect ? axis.misses[*axis.suspect].w : k_blunder_w)) {
            axis.suspect = i;
        }
    }
}

void test(HingeAxis& axis) {
    if (axis.degrees_of_freedom > 0) {
        axis.holds =
            axis.sum_of_squares >= geometry::chi_squared_point(k_outside_each_side, axis.degrees_of_freedom) &&
            axis.sum_of_squares <= geometry::chi_squared_point(1.0 - k_outside_each_side, axis.degrees_of_freedom);
    }
}

Matrix3d skew(const Vector3d& v) {
    Matrix3d m;
    m << 0.0, -v.z(), v.y(), v.z(), 0.0, -v.x(), -v.y(), v.x(), 0.0;
    return m;
}

double largest_sd(const Matrix3d& covariance) {
    const double square = Eigen::SelfAdjointEigenSolver<Matrix3d>(covariance, Eigen::EigenvaluesOnly).eigenvalues()[2];
    return std::sqrt(std::max(square, 0.0));
}

}  // namespace

HingeOutcome hinge_from_targets(const HingeSet& set, const Solution& solution) {
    const std::vector<Seen> seen = linked(seen_of(set, solution));
    const Sightings sightings = seen.empty() ? Sightings{} : sightings_of(seen, solution);
    // One target at three openings or two at two are the least; of one at three nothing is checked.
    const auto numbers = 3 * seen.size();
    const auto unknowns = 3 + sightings.openings.size() + 3 * sightings.targets.size();
    if (sightings.openings.size() < 2 || numbers < unknowns) {
        return {set.door, std::nullopt, lacks(set, seen)};
    }
    const auto found = geometry::fit_hinge(sightings.list, sightings.covariance_mm2);
    if (!found) {
        return {set.door, std::nullopt, lacks(set, seen) + " " + found.error().message};
    }
    const geometry::HingeFit fit = opens_inward(found.value()) ? geometry::turned_round(found.value()) : found.value();

    HingeAxis axis;
    axis.door = set.door;
    const auto [lower, upper] = ends_of(fit);
    axis.lower_mm = fit.place_mm(lower);
    axis.upper_mm = fit.place_mm(upper);
    axis.covariance_mm2 = fit.covariance_of_places_mm2(lower, upper);
    axis.openings = fit.angles;
    axis.opening_sds = fit.angle_sds;
    axis.sum_of_squares = fit.sum_of_squares;
    axis.degrees_of_freedom = fit.degrees_of_freedom;
    fill_misses(axis, fit, seen);
    test(axis);
    axis.weaknesses = hinge_weaknesses(fit);
    return {set.door, std::move(axis), ""};
}

HingeOutcome hinge_from_pins(const std::string& door, const Solution& solution) {
    const std::vector<std::string> names{door + " lower pin", door + " upper pin"};
    std::vector<std::string> missing;
    for (const std::string& name : names) {
        if (solution.find(name) == nullptr) {
            missing.push_back("\"" + name + "\"");
        }
    }
    if (!missing.empty()) {
        return {door, std::nullopt,
                "The hinge axis of " + door + " lacks " + listed(missing) +
                    ": measure the hinge pins as points of these names, or targets on the door at several openings."};
    }
    HingeAxis axis;
    axis.door = door;
    axis.lower_mm = solution.find(names[0])->at_mm;
    axis.upper_mm = solution.find(names[1])->at_mm;
    axis.covariance_mm2 = solution.covariance_mm2(names);
    axis.from_pins = true;
    if (!((axis.upper_mm - axis.lower_mm).norm() > k_least_pins_apart_mm)) {
        return {door, std::nullopt, "The two hinge pins of " + door + " are in one place: measure them again."};
    }
    axis.weaknesses = pin_weaknesses(axis.lower_mm, axis.upper_mm);
    return {door, std::move(axis), ""};
}

Matrix3d swung_covariance_mm2(const HingeAxis& axis, const Vector3d& shut_mm, Angle opening) {
    const Vector3d run = axis.upper_mm - axis.lower_mm;
    const double length = run.norm();
    const Vector3d u = run / length;
    const Vector3d arm = shut_mm - axis.lower_mm;
    const double sine = std::sin(in_rad(opening));
    const double versine = 1.0 - std::cos(in_rad(opening));
    const Matrix3d rotation = Eigen::AngleAxisd(in_rad(opening), u).toRotationMatrix();
    // Rodrigues' turn of the arm by the axis' direction, and that by both places.
    const Matrix3d by_direction =
        -sine * skew(arm) + versine * (u.dot(arm) * Matrix3d::Identity() + u * arm.transpose());
    const Matrix3d by_upper = by_direction * (Matrix3d::Identity() - u * u.transpose()) / length;
    Eigen::Matrix<double, 3, 6> by;
    by.leftCols<3>() = Matrix3d::Identity() - rotation - by_upper;
    by.rightCols<3>() = by_upper;
    return by * axis.covariance_mm2 * by.transpose();
}

Vector3d swung_mm(const HingeAxis& axis, const Vector3d& shut_mm, Angle opening) {
    const Vector3d u = (axis.upper_mm - axis.lower_mm).normalized();
    return axis.lower_mm + Eigen::AngleAxisd(in_rad(opening), u) * (shut_mm - axis.lower_mm);
}

CornerSd worst_corner_sd(const HingeAxis& axis, const Vector3d& corner_shut_mm, Angle most) {
    CornerSd worst;
    const int steps = std::max(1, static_cast<int>(std::ceil(in_rad(most) / k_step_rad)));
    for (int i = 0; i <= steps; ++i) {
        const Angle opening = most * (static_cast<double>(i) / steps);
        const double sd = largest_sd(swung_covariance_mm2(axis, corner_shut_mm, opening));
        if (sd > worst.sd_mm) {
            worst = {sd, opening};
        }
    }
    return worst;
}

}  // namespace sillwright::core::survey
