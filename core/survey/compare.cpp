#include "core/survey/compare.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <utility>

#include "core/survey/compare_words.h"
#include "core/survey/network_problems.h"
#include "core/survey/set_up_alone.h"
#include "geometry/rigid_fit.h"

namespace sillwright::core::survey {

using Eigen::Index;
using Eigen::Matrix3d;
using Eigen::MatrixXd;
using Eigen::Vector3d;

namespace {

/// No place is surer than this, be it held: a scribed mark's width.
constexpr double k_least_sd_mm = 0.05;
/// A difference below this has no direction.
constexpr double k_no_difference_mm = 1e-9;

std::vector<std::string> common_names(const Solution& first, const Solution& second) {
    std::vector<std::string> names;
    for (const PlacedPoint& point : first.points) {
        const PlacedPoint* other = second.find(point.name);
        // A door's target stands where the door does: it says nothing of the body.
        if (other != nullptr && point.kind != PointKind::door_target && other->kind != PointKind::door_target) {
            names.push_back(point.name);
        }
    }
    return names;
}

/// Second onto first, all points alike: weighing them by how sure each is would let the marks that a frame holds pull
/// the others, and the differences would hang on which marks these are.
std::vector<geometry::PointPair> pairs_of(const std::vector<std::string>& names, const Solution& first,
                                          const Solution& second) {
    std::vector<geometry::PointPair> pairs;
    for (const std::string& name : names) {
        pairs.push_back({second.find(name)->at_mm, first.find(name)->at_mm, 1.0});
    }
    return pairs;
}

MatrixXd turned(const MatrixXd& covariance, const Matrix3d& rotation) {
    MatrixXd result(covariance.rows(), covariance.cols());
    for (Index i = 0; i < covariance.rows(); i += 3) {
        for (Index k = 0; k < covariance.cols(); k += 3) {
            result.block<3, 3>(i, k) = rotation * covariance.block<3, 3>(i, k) * rotation.transpose();
        }
    }
    return result;
}

double sd_along(const Matrix3d& covariance, const Vector3d& difference) {
    const double size = difference.norm();
    if (size > k_no_difference_mm) {
        const Vector3d direction = difference / size;
        return std::sqrt(std::max(direction.dot(covariance * direction), 0.0));
    }
    const Eigen::SelfAdjointEigenSolver<Matrix3d> eigen(covariance, Eigen::EigenvaluesOnly);
    return std::sqrt(std::max(eigen.eigenvalues()[2], 0.0));
}

Verdict verdict_of(const PointDifference& point, double limit_mm) {
    const double reach = point.bound_mm - point.distance_mm;
    return point.bound_mm <= limit_mm             ? Verdict::same
           : point.distance_mm - reach > limit_mm ? Verdict::different
                                                  : Verdict::measure_better;
}

Verdict verdict_of(const std::vector<PointDifference>& points) {
    const auto any = [&](Verdict verdict) {
        return std::any_of(points.begin(), points.end(), [&](const auto& p) { return p.verdict == verdict; });
    };
    return any(Verdict::different)        ? Verdict::different
           : any(Verdict::measure_better) ? Verdict::measure_better
                                          : Verdict::same;
}

PointDifference difference_of(const std::string& name, const Vector3d& residual_mm, const Matrix3d& covariance_mm2,
                              double limit_mm) {
    PointDifference point;
    point.name = name;
    point.difference_mm = residual_mm;
    point.distance_mm = residual_mm.norm();
    point.sd_mm = sd_along(covariance_mm2, residual_mm);
    point.bound_mm = point.distance_mm + factor_95(1) * point.sd_mm;
    point.w = point.sd_mm > 0.0 ? point.distance_mm / point.sd_mm : 0.0;
    point.verdict = verdict_of(point, limit_mm);
    return point;
}

/// Table and verdict, without words.
Comparison compared(const Solution& first, const Solution& second, double limit_mm) {
    Comparison comparison;
    comparison.limit_mm = limit_mm;
    const std::vector<std::string> names = common_names(first, second);
    const auto pairs = pairs_of(names, first, second);
    const auto fit = geometry::fit_rigid(pairs);
    if (!fit) {
        comparison.lacks = lacks_to_compare(names);
        return comparison;
    }
    comparison.rotation = fit.value().rotation;
    comparison.shift_mm = fit.value().shift_mm;
    comparison.rms_mm = fit.value().rms_mm;
    MatrixXd both = first.covariance_mm2(names) + turned(second.covariance_mm2(names), comparison.rotation);
    both.diagonal().array() += k_least_sd_mm * k_least_sd_mm;
    const MatrixXd covariance = geometry::residual_covariance_mm2(pairs, fit.value(), both);
    for (std::size_t i = 0; i < names.size(); ++i) {
        const auto row = 3 * static_cast<Index>(i);
        comparison.points.push_back(
            difference_of(names[i], fit.value().residuals_mm[i], covariance.block<3, 3>(row, row), limit_mm));
    }
    comparison.verdict = verdict_of(comparison.points);
    return comparison;
}

}  // namespace

Comparison compare_sides(const Solution& first, const Solution& second, double limit_mm) {
    Comparison comparison = compared(first, second, limit_mm);
    if (comparison.verdict) {
        comparison.words = words_on_sides(comparison, first, second);
    }
    return comparison;
}

std::optional<Comparison> compare_set_ups(const Book& book, double limit_mm) {
    if (book.set_ups.size() < 2) {
        return std::nullopt;
    }
    const SetUpsAlone alone = set_ups_alone(book);
    if (!alone.lacks.empty()) {
        Comparison comparison;
        comparison.limit_mm = limit_mm;
        comparison.lacks = alone.lacks;
        return comparison;
    }
    Comparison comparison = compared(alone.first, alone.second, limit_mm);
    if (comparison.verdict) {
        comparison.words = words_on_set_ups(comparison, alone.first_name, alone.second_name);
    }
    return comparison;
}

}  // namespace sillwright::core::survey
