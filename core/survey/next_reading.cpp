#include "core/survey/next_reading.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <utility>

#include "core/number_text.h"
#include "core/survey/reading_check.h"
#include "core/survey/reading_sd.h"

namespace sillwright::core::survey {

using Eigen::Matrix3d;
using Eigen::MatrixXd;
using Eigen::Vector3d;
using Eigen::VectorXd;
using geometry::millimetres;
using geometry::ObservationEquation;

namespace {

constexpr double k_worthwhile = 0.99;  ///< Less gain than a hundredth is not worth a walk round the car.
/// Keeps a covariance with held coordinates regular; a bound only gets looser by it.
constexpr double k_held_variance_mm2 = 1e-12;

double longest_half_axis_mm(const Matrix3d& covariance_mm2) {
    const Eigen::SelfAdjointEigenSolver<Matrix3d> eigen(covariance_mm2, Eigen::EigenvaluesOnly);
    static const double factor = factor_95(3);
    return factor * std::sqrt(std::max(0.0, eigen.eigenvalues()[2]));
}

const PlacedPoint* worst_point(const Solution& solution) {
    const bool mounts = std::any_of(solution.points.begin(), solution.points.end(),
                                    [](const PlacedPoint& p) { return p.kind == PointKind::mount; });
    const PlacedPoint* worst = nullptr;
    double most = 0.0;
    for (const PlacedPoint& point : solution.points) {
        const double axis = longest_half_axis_mm(point.covariance_mm2);
        if ((!mounts || point.kind == PointKind::mount) && axis > most) {
            most = axis;
            worst = &point;
        }
    }
    return worst;
}

bool is_held(const PlacedPoint& point) {
    return point.parameters == std::array{-1, -1, -1};
}

using Taken = std::set<std::pair<ReadingKind, std::set<std::string>>>;

Taken taken_in(const Book& book) {
    Taken taken;
    for (const Reading& reading : book.readings) {
        if (reading.dropped.empty()) {
            taken.emplace(reading.kind, std::set<std::string>(reading.points.begin(), reading.points.end()));
        }
    }
    return taken;
}

/// All readings that a person could take.
std::vector<Reading> candidates(const Book& book, const Equations& equations, const Solution& solution) {
    const Taken taken = taken_in(book);
    std::vector<Reading> found;
    const auto add = [&](ReadingKind kind, const PlacedPoint& from, const PlacedPoint& to, double mm) {
        if (taken.contains({kind, {from.name, to.name}})) {
            return;
        }
        Reading reading;
        reading.kind = kind;
        reading.points = {from.name, to.name};
        reading.value = Entry{millimetres(mm), ""};
        const std::string& set_up = set_up_of(book, reading)->name;
        if (is_plumb(kind) && !equations.unknowns.leans.contains(set_up)) {
            return;
        }
        found.push_back(std::move(reading));
    };
    for (std::size_t a = 0; a < solution.points.size(); ++a) {
        for (std::size_t b = a + 1; b < solution.points.size(); ++b) {
            const bool turned =
                solution.points[b].kind == PointKind::mark && solution.points[a].kind != PointKind::mark;
            const PlacedPoint& from = solution.points[turned ? b : a];
            const PlacedPoint& to = solution.points[turned ? a : b];
            const Vector3d run = to.at_mm - from.at_mm;
            const double distance = run.norm();
            if (distance > k_longest_reading_mm || distance < k_shortest_reading_mm || (is_held(from) && is_held(to))) {
                continue;
            }
            add(ReadingKind::tie, from, to, distance);
            add(ReadingKind::height, from, to, run.z());
            if (from.kind == PointKind::mark) {
                add(ReadingKind::along, from, to, run.x());
                add(ReadingKind::out, from, to, run.y());
                add(ReadingKind::up, from, to, run.z());
            }
        }
    }
    return found;
}

/// How a candidate bears on the target's covariance.
struct Bearing {
    std::size_t candidate;
    Vector3d with_target;         ///< Covariance of the reading's number with the target.
    std::vector<int> parameters;  ///< That the number depends on.
    VectorXd partials;
    double variance;  ///< Of the reading itself.
    double at_best;   ///< Half-axis after it, no better than this.
};

class Search {
public:
    Search(const Book& book, const Equations& equations, const Solution& solution, const PlacedPoint& target)
        : book_{book}, equations_{equations}, solution_{solution}, target_{target} {
        std::vector<int> own;
        for (std::size_t k = 0; k < 3; ++k) {
            if (target.parameters[k] >= 0) {
                own.push_back(target.parameters[k]);
                rows_.push_back(static_cast<Eigen::Index>(k));
            }
        }
        columns_ = solution.adjustment->covariance_columns(own);
        regular_ = target.covariance_mm2 + k_held_variance_mm2 * Matrix3d::Identity();
    }

    [[nodiscard]] std::optional<NextReading> best() const {
        const std::vector<Reading> all = candidates(book_, equations_, solution_);
        std::vector<Bearing> bearings;
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (auto bearing = bearing_of(all[i], i)) {
                bearings.push_back(std::move(*bearing));
            }
        }
        std::sort(bearings.begin(), bearings.end(), [](const Bearing& a, const Bearing& b) {
            return std::pair(a.at_best, a.candidate) < std::pair(b.at_best, b.candidate);
        });
        const double before = longest_half_axis_mm(target_.covariance_mm2);
        double least = k_worthwhile * before;
        const Bearing* found = nullptr;
        for (const Bearing& bearing : bearings) {
            if (bearing.at_best >= least) {
                break;  // nor does any that follows
            }
            const double after = after_mm(bearing);
            if (after < least) {
                least = after;
                found = &bearing;
            }
        }
        return found == nullptr ? std::nullopt : std::optional(made(all[found->candidate], before, least));
    }

private:
    [[nodiscard]] std::optional<Bearing> bearing_of(const Reading& reading, std::size_t index) const {
        const auto equation = equation_of(book_, reading, 0, equations_.unknowns);
        if (!equation) {
            return std::nullopt;
        }
        std::vector<double> values;
        for (const int parameter : equation->parameters) {
            values.push_back(solution_.adjustment->parameters()[parameter]);
        }
        VectorXd partials(std::ssize(values));
        equation->computed(values, {partials.data(), values.size()});
        Vector3d with_target = Vector3d::Zero();
        with_target(rows_) = columns_(equation->parameters, Eigen::all).transpose() * partials;
        // What the target itself says of the number's variance: the least that it can be.
        const double least_variance = with_target.dot(regular_.ldlt().solve(with_target));
        const double variance = equation->sd * equation->sd;
        const double at_best = half_axis_with(with_target, variance + least_variance);
        return Bearing{index, with_target, equation->parameters, partials, variance, at_best};
    }

    [[nodiscard]] double half_axis_with(const Vector3d& with_target, double variance) const {
        return longest_half_axis_mm(target_.covariance_mm2 - with_target * with_target.transpose() / variance);
    }

    [[nodiscard]] double after_mm(const Bearing& bearing) const {
        const MatrixXd covariance = solution_.adjustment->covariance(bearing.parameters);
        return half_axis_with(bearing.with_target,
                              bearing.variance + bearing.partials.dot(covariance * bearing.partials));
    }

    [[nodiscard]] NextReading made(const Reading& reading, double before, double after) const {
        NextReading next;
        next.kind = reading.kind;
        next.points = reading.points;
        next.set_up = set_up_of(book_, reading)->name;
        next.for_point = target_.name;
        next.before_mm = before;
        next.after_mm = after;
        next.words = words_of(reading) + ": " + target_.name + " known to " + fixed_text(after, 1) + " mm instead of " +
                     fixed_text(before, 1) + ".";
        return next;
    }

    [[nodiscard]] static std::string words_of(const Reading& reading) {
        const std::string ends = " from " + reading.points[0] + " to " + reading.points[1];
        switch (reading.kind) {
            case ReadingKind::tie:
                return "Tape" + ends;
            case ReadingKind::height:
                return "Level" + ends;
            case ReadingKind::along:
                return "Measure along" + ends;
            case ReadingKind::out:
                return "Measure out" + ends;
            default:
                return "Measure up" + ends;
        }
    }

    const Book& book_;
    const Equations& equations_;
    const Solution& solution_;
    const PlacedPoint& target_;
    std::vector<Eigen::Index> rows_;
    MatrixXd columns_;
    Matrix3d regular_;
};

}  // namespace

std::optional<NextReading> next_reading(const Book& book, const Equations& equations, const Solution& solution) {
    const PlacedPoint* target = worst_point(solution);
    if (target == nullptr || !solution.adjustment) {
        return std::nullopt;
    }
    return Search(book, equations, solution, *target).best();
}

}  // namespace sillwright::core::survey
