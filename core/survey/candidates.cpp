#include "core/survey/candidates.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

#include "core/survey/network_fit.h"

namespace sillwright::core::survey {

using Eigen::Vector3d;
using Eigen::VectorXd;

namespace {

constexpr int k_iterations = 25;
/// Minima nearer than this are one.
constexpr double k_one_place_mm = 3.0;
/// How much worse a second place may suit while its neighbours are only roughly placed, and still be thought of.
constexpr double k_alike_factor = 4.0;
constexpr double k_alike_sum = 40.0;
/// How far to look if no reading gives a distance.
constexpr double k_usual_reach_mm = 500.0;

bool is_linear(ReadingKind kind) {
    switch (kind) {
        case ReadingKind::along:
        case ReadingKind::out:
        case ReadingKind::up:
        case ReadingKind::height:
        case ReadingKind::gauge:
            return true;
        default:
            return false;
    }
}

/// Where the search begins: about the middle of the neighbours, at the usual distance, to all sides.
struct Around {
    std::vector<Vector3d> neighbours;
    Vector3d middle = Vector3d::Zero();
    double reach_mm = k_usual_reach_mm;
};

Around around(const Network& network, int point, std::span<const int> numbers, const VectorXd& values) {
    Around a;
    std::vector<double> reaches;
    for (const int index : numbers) {
        const NetworkNumber& number = network.numbers[static_cast<std::size_t>(index)];
        if (number.points.size() == 2 && !is_linear(number.kind) && number.kind != ReadingKind::slope) {
            reaches.push_back(number.observed);
        }
        for (const int other : number.points) {
            if (other != point) {
                a.neighbours.emplace_back(values.segment<3>(3 * other));
                a.middle += a.neighbours.back();
            }
        }
    }
    if (!a.neighbours.empty()) {
        a.middle /= static_cast<double>(a.neighbours.size());
    }
    if (!reaches.empty()) {
        std::nth_element(reaches.begin(), reaches.begin() + static_cast<std::ptrdiff_t>(reaches.size() / 2),
                         reaches.end());
        a.reach_mm = reaches[reaches.size() / 2];
    }
    return a;
}

std::vector<Vector3d> seeds(const Network& network, int point, std::span<const int> numbers, const VectorXd& values) {
    const Around a = around(network, point, numbers, values);
    if (std::all_of(numbers.begin(), numbers.end(),
                    [&](int index) { return is_linear(network.numbers[static_cast<std::size_t>(index)].kind); })) {
        return {a.middle};
    }
    std::vector<Vector3d> result;
    for (const double side : {1.0, -1.0}) {
        for (int c = 0; c < 3; ++c) {
            result.emplace_back(a.middle + side * a.reach_mm * Vector3d::Unit(c));
        }
    }
    Eigen::Matrix3d spread = Eigen::Matrix3d::Zero();
    for (const Vector3d& neighbour : a.neighbours) {
        spread += (neighbour - a.middle) * (neighbour - a.middle).transpose();
    }
    const Vector3d normal = Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(spread).eigenvectors().col(0);
    result.emplace_back(a.middle + a.reach_mm * normal);
    result.emplace_back(a.middle - a.reach_mm * normal);
    return result;
}

bool determines(const Eigen::MatrixXd& normal) {
    if (normal.rows() == 0) {
        return true;
    }
    const double least =
        Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>(normal, Eigen::EigenvaluesOnly).eigenvalues()[0];
    return least > 1.0 / (k_unknown_sd_mm * k_unknown_sd_mm);
}

void keep(std::vector<Candidate>& places, const Candidate& candidate) {
    for (Candidate& known : places) {
        if ((known.at_mm - candidate.at_mm).norm() < k_one_place_mm) {
            if (candidate.sum < known.sum) {
                known = candidate;
            }
            return;
        }
    }
    places.push_back(candidate);
}

}  // namespace

Candidates candidates(const Network& network, int point, std::span<const int> numbers, const VectorXd& values,
                      const std::vector<std::pair<int, double>>& rough) {
    std::vector<int> unknowns;
    for (int u = 3 * point; u < 3 * point + 3; ++u) {
        if (!network.held[static_cast<std::size_t>(u)]) {
            unknowns.push_back(u);
        }
    }
    std::vector<Vector3d> begins = seeds(network, point, numbers, values);
    if (!rough.empty()) {
        begins.push_back(begins.front());
        for (const auto& [coordinate, mm] : rough) {
            begins.back()[coordinate] = mm;
        }
    }
    VectorXd trial = values;
    Candidates result;
    result.numbers = numbers.size();
    double best = std::numeric_limits<double>::infinity();
    for (const Vector3d& begin : begins) {
        for (const int u : unknowns) {
            trial[u] = begin[u - 3 * point];
        }
        const FewFit fit = fit_few(network, unknowns, numbers, true, k_iterations, trial);
        keep(result.places, {trial.segment<3>(3 * point), fit.sum});
        if (fit.sum < best) {
            best = fit.sum;
            result.determined = determines(fit.normal);
        }
    }
    std::sort(result.places.begin(), result.places.end(), [](const auto& a, const auto& b) { return a.sum < b.sum; });
    std::erase_if(result.places, [&](const Candidate& c) { return c.sum > k_alike_factor * best + k_alike_sum; });
    return result;
}

}  // namespace sillwright::core::survey
