#include "core/survey/next_reading.h"

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>
#include <tuple>
#include <vector>

#include "core/number_text.h"
#include "core/survey/reading_check.h"
#include "core/survey/reading_sd.h"
#include "core/survey/shown.h"

namespace sillwright::core::survey {

using Eigen::Matrix3d;
using Eigen::MatrixXd;
using Eigen::Vector3d;
using geometry::millimetres;

namespace {

constexpr double k_worthwhile = 0.99;  ///< Less gain than a hundredth is not worth a walk round the car.
/// Keeps a covariance with held coordinates regular; a bound only gets looser by it.
constexpr double k_held_variance_mm2 = 1e-12;

/// The largest.
double eigenvalue(const Matrix3d& covariance_mm2) {
    const Eigen::SelfAdjointEigenSolver<Matrix3d> eigen(covariance_mm2, Eigen::EigenvaluesOnly);
    return std::max(0.0, eigen.eigenvalues()[2]);
}

double half_axis_mm(double eigenvalue) {
    return factor_95(3) * std::sqrt(eigenvalue);
}

const PlacedPoint* worst_point(const Solution& solution) {
    const bool mounts = std::any_of(solution.points.begin(), solution.points.end(),
                                    [](const PlacedPoint& p) { return p.kind == PointKind::mount; });
    const PlacedPoint* worst = nullptr;
    double most = 0.0;
    for (const PlacedPoint& point : solution.points) {
        const double own = eigenvalue(point.covariance_mm2);
        if ((!mounts || point.kind == PointKind::mount) && own > most) {
            most = own;
            worst = &point;
        }
    }
    return worst;
}

bool is_held(const PlacedPoint& point) {
    return point.parameters == std::array{-1, -1, -1};
}

/// One reading that could be taken, between two places in Solution::points.
struct Candidate {
    ReadingKind kind = ReadingKind::tie;
    std::size_t from = 0, to = 0;
    double eigenvalue_at_best = 0.0;  ///< Of the target's covariance after it, no better than this.
};

/// Kinds of two points that a reading is taken of already, in either order.
using Taken = std::set<std::tuple<ReadingKind, std::size_t, std::size_t>>;

Taken taken_in(const Book& book, const Solution& solution) {
    std::map<std::string, std::size_t> places;
    for (std::size_t i = 0; i < solution.points.size(); ++i) {
        places.emplace(solution.points[i].name, i);
    }
    Taken taken;
    for (const Reading& reading : book.readings) {
        if (reading.dropped.empty() && reading.points.size() == 2) {
            const auto a = places.find(reading.points[0]);
            const auto b = places.find(reading.points[1]);
            if (a != places.end() && b != places.end()) {
                taken.emplace(reading.kind, std::min(a->second, b->second), std::max(a->second, b->second));
            }
        }
    }
    return taken;
}

/// All readings that a person could take.
std::vector<Candidate> candidates(const Book& book, const Solution& solution) {
    const Taken taken = taken_in(book, solution);
    std::vector<Candidate> found;
    for (std::size_t a = 0; a < solution.points.size(); ++a) {
        for (std::size_t b = a + 1; b < solution.points.size(); ++b) {
            const PlacedPoint& one = solution.points[a];
            const PlacedPoint& other = solution.points[b];
            const double distance = (other.at_mm - one.at_mm).norm();
            if (distance > k_longest_reading_mm || distance < k_shortest_reading_mm ||
                (is_held(one) && is_held(other))) {
                continue;
            }
            const bool turned = other.kind == PointKind::mark && one.kind != PointKind::mark;
            const auto add = [&](ReadingKind kind) {
                if (!taken.contains({kind, a, b})) {
                    found.push_back({kind, turned ? b : a, turned ? a : b, 0.0});
                }
            };
            add(ReadingKind::tie);
            add(ReadingKind::height);
            if (turned || one.kind == PointKind::mark) {
                add(ReadingKind::along);
                add(ReadingKind::out);
                add(ReadingKind::up);
            }
        }
    }
    return found;
}

class Search {
public:
    Search(const Book& book, const Equations& equations, const Solution& solution, const PlacedPoint& target)
        : book_{book}, solution_{solution}, target_{target}, before_{eigenvalue(target.covariance_mm2)} {
        std::vector<int> own;
        std::vector<Eigen::Index> rows;
        for (std::size_t k = 0; k < 3; ++k) {
            if (target.parameters[k] >= 0) {
                own.push_back(target.parameters[k]);
                rows.push_back(static_cast<Eigen::Index>(k));
            }
        }
        with_target_ = MatrixXd::Zero(3, solution.adjustment->parameters().size());
        with_target_(rows, Eigen::all) = solution.adjustment->covariance_columns(own).transpose();
        inverse_ = (target.covariance_mm2 + k_held_variance_mm2 * Matrix3d::Identity()).inverse();
        const auto lean = equations.unknowns.leans.find(set_up_of(book, Reading{})->name);
        if (lean != equations.unknowns.leans.end()) {
            lean_ = lean->second;
            for (Eigen::Index k = 0; k < 2; ++k) {
                const int parameter = lean_->parameter[static_cast<std::size_t>(k)];
                lean_rad_[k] = parameter < 0 ? lean_->start[k] : solution.adjustment->parameters()[parameter];
            }
        } else if (set_up_of(book, Reading{})->level) {
            lean_ = UnknownLean{Eigen::Vector2d::Zero(), {k_fixed, k_fixed}};
        }
    }

    [[nodiscard]] std::optional<NextReading> best() const {
        std::vector<Candidate> all = candidates(book_, solution_);
        std::erase_if(all, [this](const Candidate& one) { return is_plumb(one.kind) && !lean_; });
        for (Candidate& one : all) {
            const Shown s = shown_by(one);
            const Vector3d with_target = with_target_of(one, s);
            // Taking away a square takes no more from the largest eigenvalue than the square's own.
            one.eigenvalue_at_best = before_ - with_target.squaredNorm() / least_variance(one, s, with_target);
        }
        std::sort(all.begin(), all.end(), [](const Candidate& a, const Candidate& b) {
            return std::tie(a.eigenvalue_at_best, a.from, a.to, a.kind) <
                   std::tie(b.eigenvalue_at_best, b.from, b.to, b.kind);
        });
        double least = k_worthwhile * k_worthwhile * before_;
        const Candidate* found = nullptr;
        for (const Candidate& one : all) {
            if (one.eigenvalue_at_best >= least) {
                break;  // nor does any that follows
            }
            const double after = eigenvalue_after(one, least);
            if (after < least) {
                least = after;
                found = &one;
            }
        }
        return found == nullptr ? std::nullopt : std::optional(made(*found, least));
    }

private:
    [[nodiscard]] Shown shown_by(const Candidate& one) const {
        const std::array points{solution_.points[one.from].at_mm, solution_.points[one.to].at_mm};
        return shown(one.kind, 0, points, lean_rad_, 0.0);
    }

    /// Calls `each` with every parameter that the number depends on, and its partial derivative.
    template <class Each>
    void for_parameters(const Candidate& one, const Shown& s, const Each& each) const {
        const std::array ends{&solution_.points[one.from], &solution_.points[one.to]};
        for (std::size_t i = 0; i < 2; ++i) {
            for (std::size_t k = 0; k < 3; ++k) {
                if (ends[i]->parameters[k] >= 0) {
                    each(ends[i]->parameters[k],
                         s.by_point(static_cast<Eigen::Index>(k), static_cast<Eigen::Index>(i)));
                }
            }
        }
        for (std::size_t k = 0; is_plumb(one.kind) && k < 2; ++k) {
            if (lean_->parameter[k] >= 0) {
                each(lean_->parameter[k], s.by_lean[static_cast<Eigen::Index>(k)]);
            }
        }
    }

    /// Covariance of the number with the target.
    [[nodiscard]] Vector3d with_target_of(const Candidate& one, const Shown& s) const {
        Vector3d sum = Vector3d::Zero();
        for_parameters(one, s, [&](int parameter, double partial) { sum += with_target_.col(parameter) * partial; });
        return sum;
    }

    [[nodiscard]] double own_variance(const Candidate& one, const Shown& s) const {
        Reading reading;
        reading.kind = one.kind;
        reading.value = Entry{millimetres(s.value), ""};
        return std::pow(number_sd(book_, reading, 0), 2);
    }

    /// The reading's own, and what the target itself says of the number's: the least that it can be.
    [[nodiscard]] double least_variance(const Candidate& one, const Shown& s, const Vector3d& with_target) const {
        return own_variance(one, s) + with_target.dot(inverse_ * with_target);
    }

    [[nodiscard]] double eigenvalue_with(const Vector3d& with_target, double variance) const {
        return eigenvalue(target_.covariance_mm2 - with_target * with_target.transpose() / variance);
    }

    /// Exact, where it could be below `least`.
    [[nodiscard]] double eigenvalue_after(const Candidate& one, double least) const {
        const Shown s = shown_by(one);
        const Vector3d with_target = with_target_of(one, s);
        const double at_best = eigenvalue_with(with_target, least_variance(one, s, with_target));
        if (at_best >= least) {
            return at_best;
        }
        std::vector<int> parameters;
        std::vector<double> partials;
        for_parameters(one, s, [&](int parameter, double partial) {
            parameters.push_back(parameter);
            partials.push_back(partial);
        });
        const Eigen::Map<const Eigen::VectorXd> by(partials.data(), std::ssize(partials));
        const double variance = by.dot(solution_.adjustment->covariance(parameters) * by);
        return eigenvalue_with(with_target, own_variance(one, s) + variance);
    }

    [[nodiscard]] NextReading made(const Candidate& one, double eigenvalue_after) const {
        NextReading next;
        next.kind = one.kind;
        next.points = {solution_.points[one.from].name, solution_.points[one.to].name};
        next.set_up = set_up_of(book_, Reading{})->name;
        next.for_point = target_.name;
        next.before_mm = half_axis_mm(before_);
        next.after_mm = half_axis_mm(eigenvalue_after);
        next.words = words_of(next) + ": " + target_.name + " known to " + fixed_text(next.after_mm, 1) +
                     " mm instead of " + fixed_text(next.before_mm, 1) + ".";
        return next;
    }

    [[nodiscard]] static std::string words_of(const NextReading& reading) {
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
    const Solution& solution_;
    const PlacedPoint& target_;
    double before_;
    MatrixXd with_target_;             ///< Covariance of the target's coordinates (rows) with all parameters.
    Matrix3d inverse_;                 ///< Of the target's covariance.
    std::optional<UnknownLean> lean_;  ///< Of the set-up that a further reading is taken in.
    Eigen::Vector2d lean_rad_ = Eigen::Vector2d::Zero();
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
