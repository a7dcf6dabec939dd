#include "geometry/mesh_fit.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <optional>

namespace sillwright::geometry {

using Eigen::Matrix3d;
using Eigen::Vector3d;

namespace {

constexpr std::size_t k_least_points = 12;
constexpr double k_least_share = 0.1;
constexpr int k_most_steps = 200;
constexpr double k_settled_mm = 1e-4;
/// Of normally distributed distances: standard deviation over median of the absolute values.
constexpr double k_sd_of_median = 1.4826;
constexpr double k_far = 3.0;
/// Distances below this are all kept: rounding of exact data is no misfit.
constexpr double k_near_mm = 1e-3;
/// Nearest place inside a face: what leads there is along its normal, but for rounding and the turns of a fine mesh.
constexpr double k_along_normal = 0.9;
/// Play above this many times the misfit: held. Its square is the least eigenvalue of the mean normal matrix.
constexpr double k_held_play = 100.0;

using Matrix6 = Eigen::Matrix<double, 6, 6>;
using Vector6 = Eigen::Matrix<double, 6, 1>;

/// A point, where it should go, and the way.
struct Match {
    Vector3d at = Vector3d::Zero(), normal = Vector3d::Zero();
    double distance = 0.0;  ///< Along the normal, signed.
};

std::vector<Match> matches(std::span<const Vector3d> points, const DistanceTree& surface, const Matrix3d& rotation,
                           const Vector3d& shift) {
    std::vector<Match> found;
    found.reserve(points.size());
    for (const Vector3d& p : points) {
        const Vector3d at = rotation * p + shift;
        const NearestOnSurface nearest = nearest_on_surface(surface, at);
        const Corners& corners = surface.corners(nearest.slot);
        const Vector3d normal = (corners[1] - corners[0]).cross(corners[2] - corners[0]).normalized();
        const double along = normal.dot(at - nearest.p_mm);
        if (!normal.allFinite() ||
            (nearest.distance_mm > k_near_mm && std::abs(along) < k_along_normal * nearest.distance_mm)) {
            continue;
        }
        found.push_back({at, normal, along});
    }
    return found;
}

void keep_near(std::vector<Match>& matches) {
    std::vector<double> distances;
    for (const Match& match : matches) {
        distances.push_back(std::abs(match.distance));
    }
    const auto middle = distances.begin() + static_cast<std::ptrdiff_t>(distances.size() / 2);
    std::nth_element(distances.begin(), middle, distances.end());
    const double far = std::max(k_near_mm, k_far * k_sd_of_median * *middle);
    std::erase_if(matches, [far](const Match& match) { return std::abs(match.distance) > far; });
}

/// One step's equations, about the middle of the points and with turns measured as ways at their mean distance.
struct Equations {
    Vector3d middle = Vector3d::Zero();
    double reach = 1.0;
    Matrix6 mean = Matrix6::Zero();  ///< Normal matrix over the number of points.
    Vector6 right = Vector6::Zero();
    double rms = 0.0;

    explicit Equations(const std::vector<Match>& matches) {
        const auto n = static_cast<double>(matches.size());
        for (const Match& match : matches) {
            middle += match.at / n;
        }
        double squares = 0.0;
        for (const Match& match : matches) {
            squares += (match.at - middle).squaredNorm() / n;
        }
        reach = std::sqrt(std::max(squares, k_near_mm * k_near_mm));
        double misfit = 0.0;
        for (const Match& match : matches) {
            Vector6 row;
            row << match.normal, (match.at - middle).cross(match.normal) / reach;
            mean += row * row.transpose() / n;
            right -= match.distance * row / n;
            misfit += match.distance * match.distance / n;
        }
        rms = std::sqrt(misfit);
    }
};

WeakMotion weak_motion(const Vector6& along, double play_mm, bool held) {
    WeakMotion weak;
    weak.turn = along.tail<3>().squaredNorm() > along.head<3>().squaredNorm();
    weak.direction = (weak.turn ? Vector3d(along.tail<3>()) : Vector3d(along.head<3>())).normalized();
    weak.play_mm = play_mm;
    weak.held = held;
    return weak;
}

}  // namespace

Result<MeshFit> fit_to_mesh(std::span<const Vector3d> points_mm, const DistanceTree& surface, const Matrix3d& rotation,
                            const Vector3d& shift_mm) {
    if (points_mm.size() < k_least_points ||
        !std::all_of(points_mm.begin(), points_mm.end(), [](const Vector3d& p) { return p.allFinite(); })) {
        return Error{ErrorCode::invalid_argument, "To fit points to a surface takes 12 of them, all finite."};
    }
    MeshFit fit;
    fit.rotation = rotation;
    fit.shift_mm = shift_mm;
    while (true) {
        std::vector<Match> near = matches(points_mm, surface, fit.rotation, fit.shift_mm);
        if (!near.empty()) {
            keep_near(near);
        }
        fit.share = static_cast<double>(near.size()) / static_cast<double>(points_mm.size());
        if (near.size() < k_least_points || fit.share < k_least_share) {
            return Error{ErrorCode::does_not_fit,
                         "Too few of the points lie beside the surface: begin nearer to where they belong."};
        }
        const Equations equations(near);
        fit.rms_mm = equations.rms;
        const Eigen::SelfAdjointEigenSolver<Matrix6> eigen(equations.mean);
        Vector6 step = Vector6::Zero();
        fit.weak.clear();
        for (Eigen::Index i = 0; i < 6; ++i) {
            const double value = std::max(eigen.eigenvalues()(i), 0.0);
            const Vector6 along = eigen.eigenvectors().col(i);
            const bool held = value * k_held_play * k_held_play < 1.0;
            if (value * k_weak_play * k_weak_play < 1.0) {
                fit.weak.push_back(weak_motion(
                    along, equations.rms / std::max(std::sqrt(value), 1.0 / (k_held_play * k_held_play)), held));
            }
            if (!held) {
                step += along.dot(equations.right) / value * along;
            }
        }
        if (fit.converged || fit.steps == k_most_steps) {
            return fit;
        }
        const Vector3d turn = step.tail<3>() / equations.reach;
        const Matrix3d by = turn.norm() > 0.0 ? Eigen::AngleAxisd(turn.norm(), turn.normalized()).toRotationMatrix()
                                              : Matrix3d(Matrix3d::Identity());
        fit.rotation = by * fit.rotation;
        fit.shift_mm = by * (fit.shift_mm - equations.middle) + equations.middle + step.head<3>();
        ++fit.steps;
        fit.converged = step.norm() < k_settled_mm;
    }
}

}  // namespace sillwright::geometry
