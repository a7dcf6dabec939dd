#include "geometry/hinge_fit.h"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <memory>
#include <numeric>
#include <optional>
#include <string>

#include "geometry/chi_squared.h"
#include "geometry/least_squares.h"

namespace sillwright::geometry {

using Eigen::Index;
using Eigen::Matrix3d;
using Eigen::MatrixXd;
using Eigen::Vector3d;
using Eigen::VectorXd;

namespace {

/// Points that move less than this do not turn.
constexpr double k_no_turn_mm = 1e-6;
/// Entries of the whitening below this share of the row's largest are rounding of zeros.
constexpr double k_no_share = 1e-14;
/// A number whose own blunder would show by less than this (redundancy) is not checked.
constexpr double k_unchecked = 1e-6;
/// Starts are taken again about the axis that was found until its direction stays within this, so that the covariance
/// is taken at the axis itself.
constexpr double k_direction_enough = 1e-6;
constexpr int k_most_rounds = 5;

struct Counts {
    int points = 0, positions = 0;
    [[nodiscard]] int unknowns() const { return 4 + (positions - 1) + 3 * points; }
    [[nodiscard]] int angle(int position) const { return 3 + position; }  // position >= 1
    [[nodiscard]] int point(int point) const { return 4 + (positions - 1) + 3 * point; }
};

/// Axis and all else as the search begins.
struct Begin {
    Vector3d middle, direction;
    std::vector<double> angles;
    std::vector<Vector3d> points;
};

Matrix3d skew(const Vector3d& v) {
    Matrix3d m;
    m << 0.0, -v.z(), v.y(), v.z(), 0.0, -v.x(), -v.y(), v.x(), 0.0;
    return m;
}

Eigen::Matrix<double, 3, 2> across_of(const Vector3d& direction) {
    Index smallest = 0;
    direction.cwiseAbs().minCoeff(&smallest);
    Eigen::Matrix<double, 3, 2> across;
    across.col(0) = direction.cross(Vector3d::Unit(smallest)).normalized();
    across.col(1) = direction.cross(across.col(0));
    return across;
}

Vector3d turned(const Vector3d& v, const Vector3d& u, double angle) {
    return v * std::cos(angle) + u.cross(v) * std::sin(angle) + u * (u.dot(v) * (1.0 - std::cos(angle)));
}

/// Derivative of `turned` by u.
Matrix3d turned_by_axis(const Vector3d& v, const Vector3d& u, double angle) {
    return -std::sin(angle) * skew(v) + (1.0 - std::cos(angle)) * (u.dot(v) * Matrix3d::Identity() + u * v.transpose());
}

/// A sighting as a function of all unknowns: shift of the middle, slope of the direction, angles, points.
class Model {
public:
    Model(Vector3d middle, Vector3d direction, Counts counts)
        : middle_{std::move(middle)},
          direction_{std::move(direction)},
          across_{across_of(direction_)},
          counts_{counts} {}

    /// Rows of the place and, if wanted, of its derivatives.
    Vector3d place(const Sighting& s, std::span<const double> x, Eigen::Matrix<double, 3, Eigen::Dynamic>* by) const {
        const Vector3d a = axis_point(x);
        const Vector3d bent = direction_ + across_ * Eigen::Vector2d(x[2], x[3]);
        const double size = bent.norm();
        const Vector3d u = bent / size;
        const auto first = static_cast<std::size_t>(counts_.point(s.point));
        const Vector3d arm = Vector3d(x[first], x[first + 1], x[first + 2]) - a;
        const double angle = s.position == 0 ? 0.0 : x[static_cast<std::size_t>(counts_.angle(s.position))];
        const Vector3d turned_arm = turned(arm, u, angle);
        if (by != nullptr) {
            const Matrix3d rotation = Eigen::AngleAxisd(angle, u).toRotationMatrix();
            by->setZero();
            by->middleCols<2>(0) = (Matrix3d::Identity() - rotation) * across_;
            by->middleCols<2>(2) =
                turned_by_axis(arm, u, angle) * ((Matrix3d::Identity() - u * u.transpose()) / size) * across_;
            if (s.position > 0) {
                by->col(counts_.angle(s.position)) = u.cross(turned_arm);
            }
            by->middleCols<3>(counts_.point(s.point)) = rotation;
        }
        return a + turned_arm;
    }

    [[nodiscard]] Vector3d axis_point(std::span<const double> x) const {
        return middle_ + across_ * Eigen::Vector2d(x[0], x[1]);
    }
    [[nodiscard]] Vector3d axis_direction(std::span<const double> x) const {
        return (direction_ + across_ * Eigen::Vector2d(x[2], x[3])).normalized();
    }
    [[nodiscard]] const Counts& counts() const { return counts_; }
    [[nodiscard]] const Eigen::Matrix<double, 3, 2>& across() const { return across_; }

private:
    Vector3d middle_, direction_;
    Eigen::Matrix<double, 3, 2> across_;
    Counts counts_;
};

struct Problem {
    std::vector<Sighting> sightings;
    Counts counts;
    MatrixXd covariance;
    MatrixXd whitening;  ///< Lower triangle: inverse of the covariance's Cholesky root.
};

Error bad(const std::string& words) {
    return Error{ErrorCode::invalid_argument, words};
}

std::optional<Error> gap_in(std::span<const Sighting> sightings, int Sighting::*index, const char* what) {
    std::vector<bool> seen(sightings.size(), false);
    int most = -1;
    for (const Sighting& s : sightings) {
        if (s.*index < 0 || s.*index >= static_cast<int>(sightings.size())) {
            return bad(std::string("A sighting names a ") + what + " that is out of range.");
        }
        seen[static_cast<std::size_t>(s.*index)] = true;
        most = std::max(most, s.*index);
    }
    if (std::count(seen.begin(), seen.end(), true) != most + 1) {
        return bad(std::string("No sighting names one ") + what + " between the first and the last.");
    }
    return std::nullopt;
}

Result<Problem> problem_of(std::span<const Sighting> sightings, const MatrixXd& covariance_mm2) {
    for (const auto& [index, what] :
         {std::pair{&Sighting::point, "point"}, std::pair{&Sighting::position, "position"}}) {
        if (auto error = gap_in(sightings, index, what)) {
            return *error;
        }
    }
    Problem problem;
    problem.sightings.assign(sightings.begin(), sightings.end());
    for (const Sighting& s : sightings) {
        if (!s.at_mm.allFinite()) {
            return bad("A sighting has a coordinate that is no number.");
        }
        problem.counts.points = std::max(problem.counts.points, s.point + 1);
        problem.counts.positions = std::max(problem.counts.positions, s.position + 1);
    }
    const auto rows = 3 * std::ssize(sightings);
    if (problem.counts.positions < 2 || rows < problem.counts.unknowns()) {
        return bad("An axis needs more than " + std::to_string(sightings.size()) + " sightings of " +
                   std::to_string(problem.counts.points) + " points in " + std::to_string(problem.counts.positions) +
                   " positions: one point in three positions is the least, three in four are good.");
    }
    if (covariance_mm2.rows() != rows || covariance_mm2.cols() != rows || !covariance_mm2.allFinite()) {
        return bad("The sightings' covariance needs " + std::to_string(rows) + " rows and columns of numbers.");
    }
    const Eigen::LLT<MatrixXd> root(covariance_mm2);
    if (root.info() != Eigen::Success) {
        return bad("The sightings' covariance is not positive: some sightings are not independent.");
    }
    problem.covariance = covariance_mm2;
    problem.whitening = root.matrixL().solve(MatrixXd::Identity(rows, rows));
    for (Index i = 0; i < rows; ++i) {
        const double largest = problem.whitening.row(i).cwiseAbs().maxCoeff();
        for (Index k = 0; k < rows; ++k) {
            if (std::abs(problem.whitening(i, k)) < k_no_share * largest) {
                problem.whitening(i, k) = 0.0;
            }
        }
    }
    return problem;
}

/// One equation of each whitened number: a mixture of the coordinates of several sightings.
std::vector<ObservationEquation> whitened_equations(const Problem& problem, const Model& model) {
    std::vector<int> all(static_cast<std::size_t>(problem.counts.unknowns()));
    std::iota(all.begin(), all.end(), 0);
    std::vector<ObservationEquation> equations;
    const Index rows = problem.whitening.rows();
    for (Index row = 0; row < rows; ++row) {
        ObservationEquation equation;
        equation.parameters = all;
        for (Index k = 0; k < rows; ++k) {
            equation.observed +=
                problem.whitening(row, k) * problem.sightings[static_cast<std::size_t>(k / 3)].at_mm[k % 3];
        }
        equation.computed = [&problem, &model, row](std::span<const double> x, std::span<double> partials) {
            Eigen::Matrix<double, 3, Eigen::Dynamic> by(3, model.counts().unknowns());
            Eigen::Map<Eigen::RowVectorXd> out(partials.data(), std::ssize(partials));
            out.setZero();
            double value = 0.0;
            for (Index s = 0; s <= row / 3; ++s) {
                const Eigen::RowVector3d share = problem.whitening.row(row).segment<3>(3 * s);
                if (share.isZero(0.0)) {
                    continue;
                }
                value += share * model.place(problem.sightings[static_cast<std::size_t>(s)], x, &by);
                out += share * by;
            }
            return value;
        };
        equations.push_back(std::move(equation));
    }
    return equations;
}

/// Moves between sightings of the same point: all are square to the axis.
Matrix3d moves_of(const Problem& problem) {
    std::vector<Vector3d> middle(static_cast<std::size_t>(problem.counts.points), Vector3d::Zero());
    std::vector<int> count(middle.size(), 0);
    for (const Sighting& s : problem.sightings) {
        middle[static_cast<std::size_t>(s.point)] += s.at_mm;
        ++count[static_cast<std::size_t>(s.point)];
    }
    Matrix3d moves = Matrix3d::Zero();
    for (const Sighting& s : problem.sightings) {
        const auto p = static_cast<std::size_t>(s.point);
        const Vector3d move = s.at_mm - middle[p] / count[p];
        moves += move * move.transpose();
    }
    return moves;
}

/// The common centre of all points' circles, seen along the direction (I. Kasa): |p|² = 2 c·p + rest of each point.
Vector3d centre_of(const Problem& problem, const Vector3d& direction) {
    const auto across = across_of(direction);
    Vector3d middle = Vector3d::Zero();
    for (const Sighting& s : problem.sightings) {
        middle += s.at_mm / static_cast<double>(problem.sightings.size());
    }
    const auto rows = std::ssize(problem.sightings);
    MatrixXd a = MatrixXd::Zero(rows, 2 + problem.counts.points);
    VectorXd b(rows);
    for (Index i = 0; i < rows; ++i) {
        const Sighting& s = problem.sightings[static_cast<std::size_t>(i)];
        const Eigen::Vector2d flat = across.transpose() * (s.at_mm - middle);
        a.row(i).head<2>() = 2.0 * flat.transpose();
        a(i, 2 + s.point) = 1.0;
        b[i] = flat.squaredNorm();
    }
    const VectorXd solved = a.colPivHouseholderQr().solve(b);
    return middle + across * solved.head<2>();
}

/// Angle from one arm to another about u.
double angle_between(const Vector3d& from, const Vector3d& to, const Vector3d& u) {
    return std::atan2(u.dot(from.cross(to)), from.dot(to) - u.dot(from) * u.dot(to));
}

/// Angles of all positions from position 0, by chains of sightings of the same point; then the points turned back.
std::optional<Begin> begin_about(const Problem& problem, const Vector3d& direction) {
    Begin begin;
    begin.direction = direction;
    begin.middle = centre_of(problem, direction);
    const auto positions = static_cast<std::size_t>(problem.counts.positions);
    std::vector<std::optional<double>> angle(positions);
    angle[0] = 0.0;
    for (std::size_t round = 1; round < positions; ++round) {
        for (std::size_t k = 1; k < positions; ++k) {
            double sine = 0.0;
            double cosine = 0.0;
            for (const Sighting& a : problem.sightings) {
                const auto known = angle[static_cast<std::size_t>(a.position)];
                for (const Sighting& b : problem.sightings) {
                    if (!angle[k] && known && b.point == a.point && b.position == static_cast<int>(k)) {
                        const double turn =
                            *known + angle_between(a.at_mm - begin.middle, b.at_mm - begin.middle, direction);
                        sine += std::sin(turn);
                        cosine += std::cos(turn);
                    }
                }
            }
            if (!angle[k] && (sine != 0.0 || cosine != 0.0)) {
                angle[k] = std::atan2(sine, cosine);
            }
        }
    }
    std::vector<int> count(static_cast<std::size_t>(problem.counts.points), 0);
    begin.points.assign(count.size(), Vector3d::Zero());
    for (const Sighting& s : problem.sightings) {
        const auto known = angle[static_cast<std::size_t>(s.position)];
        if (!known) {
            return std::nullopt;
        }
        const auto p = static_cast<std::size_t>(s.point);
        begin.points[p] += begin.middle + turned(s.at_mm - begin.middle, direction, -*known);
        ++count[p];
    }
    for (std::size_t p = 0; p < count.size(); ++p) {
        begin.points[p] /= count[p];
    }
    for (const auto& known : angle) {
        begin.angles.push_back(*known);
    }
    return begin;
}

VectorXd unknowns_of(const Begin& begin, const Counts& counts) {
    VectorXd x = VectorXd::Zero(counts.unknowns());
    for (int k = 1; k < counts.positions; ++k) {
        x[counts.angle(k)] = begin.angles[static_cast<std::size_t>(k)];
    }
    for (int p = 0; p < counts.points; ++p) {
        x.segment<3>(counts.point(p)) = begin.points[static_cast<std::size_t>(p)];
    }
    return x;
}

struct Solved {
    std::shared_ptr<const LeastSquares> adjustment;
    Model model;
};

/// The axis' point nearest to the sightings' middle.
Vector3d nearest_on_axis(const Problem& problem, const Vector3d& on_axis, const Vector3d& direction) {
    Vector3d middle = Vector3d::Zero();
    for (const Sighting& s : problem.sightings) {
        middle += s.at_mm / static_cast<double>(problem.sightings.size());
    }
    return on_axis + direction * direction.dot(middle - on_axis);
}

Result<Solved> solved_from(const Problem& problem, Begin begin) {
    for (int round = 0;; ++round) {
        begin.middle = nearest_on_axis(problem, begin.middle, begin.direction);
        const Model model(begin.middle, begin.direction, problem.counts);
        auto adjusted = least_squares(whitened_equations(problem, model), unknowns_of(begin, problem.counts));
        if (!adjusted) {
            return Error{ErrorCode::does_not_fit,
                         "The sightings do not turn about one axis, or leave it free: " + adjusted.error().message};
        }
        const VectorXd& x = adjusted.value()->parameters();
        const std::span<const double> values(x.data(), static_cast<std::size_t>(x.size()));
        const bool enough = std::abs(x[2]) + std::abs(x[3]) < k_direction_enough;
        if (enough || round + 1 == k_most_rounds) {
            return Solved{adjusted.value(), model};
        }
        begin.middle = model.axis_point(values);
        begin.direction = model.axis_direction(values);
        for (int k = 1; k < problem.counts.positions; ++k) {
            begin.angles[static_cast<std::size_t>(k)] = x[problem.counts.angle(k)];
        }
        for (int p = 0; p < problem.counts.points; ++p) {
            begin.points[static_cast<std::size_t>(p)] = x.segment<3>(problem.counts.point(p));
        }
    }
}

/// Whether the errors stated explain the misses: then no better minimum need be sought.
bool suits(const LeastSquares& adjustment) {
    constexpr double k_share = 0.999;
    return adjustment.degrees_of_freedom() == 0 ||
           adjustment.sum_of_squares() < chi_squared_point(k_share, adjustment.degrees_of_freedom());
}

/// From the direction that moves least in, the next, and straight up; the best of what converges.
Result<Solved> solved(const Problem& problem) {
    const Eigen::SelfAdjointEigenSolver<Matrix3d> moves(moves_of(problem));
    if (moves.eigenvalues()[2] < k_no_turn_mm * k_no_turn_mm) {
        return Error{ErrorCode::does_not_fit, "The points did not move: turn the body further between sightings."};
    }
    std::optional<Solved> best;
    Error last{ErrorCode::does_not_fit, "Positions share no points: see the same points in each position."};
    for (const Vector3d& direction :
         {Vector3d(moves.eigenvectors().col(0)), Vector3d(moves.eigenvectors().col(1)), Vector3d(Vector3d::UnitZ())}) {
        const auto begin = begin_about(problem, direction);
        if (!begin) {
            return last;
        }
        auto found = solved_from(problem, *begin);
        if (!found) {
            last = found.error();
        } else if (!best || found.value().adjustment->sum_of_squares() < best->adjustment->sum_of_squares()) {
            best = found.value();
        }
        if (best && suits(*best->adjustment)) {
            break;
        }
    }
    if (!best) {
        return last;
    }
    return *best;
}

/// Baarda's w of every number: (P v) over its sd, P the inverse covariance; zero where nothing checks it.
VectorXd normalised(const Problem& problem, const MatrixXd& by, const MatrixXd& covariance, const VectorXd& residuals) {
    const MatrixXd weight = problem.whitening.transpose() * problem.whitening;
    const VectorXd pulled = weight * residuals;
    const MatrixXd of_residuals = problem.covariance - by * covariance * by.transpose();
    const MatrixXd of_pulled = weight * of_residuals * weight;
    VectorXd w = VectorXd::Zero(residuals.size());
    for (Index i = 0; i < w.size(); ++i) {
        if (of_pulled(i, i) > k_unchecked * weight(i, i)) {
            w[i] = std::abs(pulled[i]) / std::sqrt(of_pulled(i, i));
        }
    }
    return w;
}

HingeFit fit_of(const Problem& problem, const Solved& solved) {
    const LeastSquares& adjustment = *solved.adjustment;
    const VectorXd& x = adjustment.parameters();
    const std::span<const double> values(x.data(), static_cast<std::size_t>(x.size()));
    std::vector<int> all(values.size());
    std::iota(all.begin(), all.end(), 0);
    const MatrixXd covariance = adjustment.covariance(all);

    HingeFit fit;
    fit.middle_mm = solved.model.axis_point(values);
    fit.direction = solved.model.axis_direction(values);
    fit.across = solved.model.across();
    fit.covariance = covariance.topLeftCorner<4, 4>();
    fit.sum_of_squares = adjustment.sum_of_squares();
    fit.degrees_of_freedom = adjustment.degrees_of_freedom();
    for (int k = 0; k < problem.counts.positions; ++k) {
        const int index = problem.counts.angle(k);
        fit.angles.push_back(radians(k == 0 ? 0.0 : x[index]));
        fit.angle_sds.push_back(radians(k == 0 ? 0.0 : std::sqrt(covariance(index, index))));
    }
    for (int p = 0; p < problem.counts.points; ++p) {
        fit.points_mm.emplace_back(x.segment<3>(problem.counts.point(p)));
    }
    const auto rows = 3 * std::ssize(problem.sightings);
    MatrixXd by(rows, x.size());
    VectorXd residuals(rows);
    Eigen::Matrix<double, 3, Eigen::Dynamic> own(3, x.size());
    for (std::size_t i = 0; i < problem.sightings.size(); ++i) {
        const auto row = 3 * static_cast<Index>(i);
        fit.residuals_mm.emplace_back(solved.model.place(problem.sightings[i], values, &own) -
                                      problem.sightings[i].at_mm);
        residuals.segment<3>(row) = fit.residuals_mm.back();
        by.middleRows<3>(row) = own;
    }
    const VectorXd w = normalised(problem, by, covariance, residuals);
    for (std::size_t i = 0; i < problem.sightings.size(); ++i) {
        fit.w.push_back(w.segment<3>(3 * static_cast<Index>(i)).maxCoeff());
    }
    return fit;
}

bool points_down(const Vector3d& direction) {
    constexpr double k_level = 0.1;
    if (std::abs(direction.z()) > k_level) {
        return direction.z() < 0.0;
    }
    Index largest = 0;
    direction.cwiseAbs().maxCoeff(&largest);
    return direction[largest] < 0.0;
}

}  // namespace

Eigen::Matrix<double, 6, 6> HingeFit::covariance_of_places_mm2(double first_mm, double second_mm) const {
    Eigen::Matrix<double, 6, 4> by;
    by.topLeftCorner<3, 2>() = across;
    by.topRightCorner<3, 2>() = first_mm * across;
    by.bottomLeftCorner<3, 2>() = across;
    by.bottomRightCorner<3, 2>() = second_mm * across;
    return by * covariance * by.transpose();
}

Result<HingeFit> fit_hinge(std::span<const Sighting> sightings, const MatrixXd& covariance_mm2) {
    const auto problem = problem_of(sightings, covariance_mm2);
    if (!problem) {
        return problem.error();
    }
    const auto found = solved(problem.value());
    if (!found) {
        return found.error();
    }
    const HingeFit fit = fit_of(problem.value(), found.value());
    return points_down(fit.direction) ? turned_round(fit) : fit;
}

HingeFit turned_round(HingeFit fit) {
    fit.direction = -fit.direction;
    for (Angle& angle : fit.angles) {
        angle = -angle;
    }
    // Slopes of the direction change sign with it; shifts of its middle do not.
    fit.covariance.topRightCorner<2, 2>() *= -1.0;
    fit.covariance.bottomLeftCorner<2, 2>() *= -1.0;
    return fit;
}

}  // namespace sillwright::geometry
