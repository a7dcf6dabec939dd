#include "core/survey/placing.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>
#include <set>

#include "core/survey/candidates.h"
#include "core/survey/cluster.h"
#include "core/survey/network_fit.h"
#include "core/survey/reading_check.h"
#include "core/survey/together.h"

namespace sillwright::core::survey {

using Eigen::Vector3d;
using Eigen::VectorXd;

namespace {

/// A point that suits its readings worse than this (sum a number) waits until no other can be placed.
constexpr double k_poor_sum = 25.0;

/// Sums that differ by less than this (chi-squared, one degree of freedom, 99.9 %) do not tell two places apart.
constexpr double k_alike = 10.83;

/// Iterations with all points at once.
constexpr int k_iterations = 12;
/// A sum a number below which nothing suggests that a wrong place was taken; the worst numbers, which may be wrong
/// themselves, are left out.
constexpr double k_good_sum = 2.5;
constexpr double k_left_out = 0.05;
/// How many choices are tried the other way, and up to how many points: each takes as long as the first.
constexpr std::size_t k_most_tries = 12;
constexpr int k_most_to_try_again = 120;

/// A lean known this well (in k_angle_unit: 0.3 degrees) helps to place.
constexpr double k_lean_sd_known = 5.0;

enum class Ease { single, poor, ambiguous, none };

struct Attempt {
    std::size_t with = 0;  ///< Numbers that took part.
    Ease ease = Ease::none;
    Candidates found;
};

class PointByPoint {
public:
    /// `choices`: which of the likely places (0 the likeliest) is taken of the first, second, ... ambiguous point.
    PointByPoint(const Network& network, const Book& book, std::vector<std::size_t> choices)
        : network_{network}, choices_{std::move(choices)} {
        placing_.values = network.values;
        for (int p = 0; p < network.points(); ++p) {
            const auto u = static_cast<std::size_t>(3 * p);
            placing_.placed.push_back(network.held[u] && network.held[u + 1] && network.held[u + 2]);
            rough_.push_back(rough_place(book, network.names[static_cast<std::size_t>(p)]));
        }
        attempts_.resize(placing_.placed.size());
    }

    Placing run() {
        while (settle_leans() || place_singles() || place_one(Ease::poor) || place_one(Ease::ambiguous) ||
               place_cluster() || place_together(network_, rough_, placing_)) {
        }
        return std::move(placing_);
    }

    Placing run_one_by_one() {
        while (place_singles() || place_one(Ease::poor) || place_one(Ease::ambiguous)) {
        }
        return std::move(placing_);
    }

private:
    bool place_cluster() {
        const bool found = survey::place_cluster(network_, placing_);
        placing_.one_by_one = placing_.one_by_one && !found;
        return found;
    }

    /// A lean is sought as soon as placed points tell it: what hangs on it is then placed by it.
    bool settle_leans() {
        bool any = false;
        for (int s = 0; s < static_cast<int>(network_.set_ups.size()); ++s) {
            any = settle_lean(s) || any;
        }
        if (any) {
            attempts_.assign(attempts_.size(), {});
        }
        return any;
    }

    bool settle_lean(int set_up) {
        std::vector<int> unknowns;
        for (const int u : {network_.lean(set_up), network_.lean(set_up) + 1}) {
            if (network_.guessed[index(u)]) {
                unknowns.push_back(u);
            }
        }
        if (unknowns.empty()) {
            return false;
        }
        std::vector<int> numbers;
        for (std::size_t n = 0; n < network_.numbers.size(); ++n) {
            const NetworkNumber& number = network_.numbers[n];
            if (number.own < 0 && number.set_up == set_up && is_plumb(number.kind) &&
                std::all_of(number.points.begin(), number.points.end(),
                            [&](int p) { return placing_.placed[index(p)]; })) {
                numbers.push_back(static_cast<int>(n));
            }
        }
        VectorXd values = placing_.values;
        const FewFit fit = fit_few(network_, unknowns, numbers, false, k_iterations, values);
        const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(fit.normal, Eigen::EigenvaluesOnly);
        if (eigen.eigenvalues()[0] < 1.0 / (k_lean_sd_known * k_lean_sd_known)) {
            return false;
        }
        placing_.values = values;
        for (const int u : unknowns) {
            network_.guessed[index(u)] = false;
        }
        return true;
    }

    bool place_singles() {
        bool any = false;
        for (int p = 0; p < network_.points(); ++p) {
            if (!placing_.placed[index(p)] && attempt(p).ease == Ease::single) {
                take(p);
                any = true;
            }
        }
        return any;
    }

    /// The one of this ease that most numbers speak of.
    bool place_one(Ease ease) {
        std::optional<int> best;
        for (int p = 0; p < network_.points(); ++p) {
            if (placing_.placed[index(p)] || attempt(p).ease != ease) {
                continue;
            }
            if (!best || attempts_[index(p)].with > attempts_[index(*best)].with) {
                best = p;
            }
        }
        if (best) {
            take(*best);
        }
        return best.has_value();
    }

    const Attempt& attempt(int p) {
        Attempt& a = attempts_[index(p)];
        const std::vector<int> numbers = numbers_to_placed(network_, placing_.placed, p);
        if (numbers.size() == a.with) {
            return a;
        }
        a = {numbers.size(), Ease::none, candidates(network_, p, numbers, placing_.values, rough_[index(p)])};
        if (!a.found.determined) {
            return a;
        }
        const bool poor = a.found.places.front().sum > k_poor_sum * static_cast<double>(numbers.size());
        a.ease = a.found.places.size() > 1 ? Ease::ambiguous : poor ? Ease::poor : Ease::single;
        return a;
    }

    void take(int p) {
        auto places = attempts_[index(p)].found.places;
        const std::vector<int> from = neighbours_of(network_, p, &placing_.placed);
        const std::size_t taken = places.size() > 1 ? chosen(p, places) : 0;
        placing_.values.segment<3>(3 * p) = places[taken].at_mm;
        placing_.placed[index(p)] = true;
        for (std::size_t i = 0; i < places.size(); ++i) {
            if (i != taken) {
                placing_.branches.push_back({p, from, places[taken].at_mm, places[i].at_mm});
            }
        }
    }

    std::size_t chosen(int p, std::vector<Candidate>& places) {
        std::size_t likeliest = 0;
        for (std::size_t i = 1; i < places.size(); ++i) {
            const bool alike = places[i].sum - places[likeliest].sum < k_alike || !rough_[index(p)].empty();
            if (alike && preferred(rough_[index(p)], places[i].at_mm, places[likeliest].at_mm)) {
                likeliest = i;
            }
        }
        std::swap(places[0], places[likeliest]);
        const std::size_t choice = placing_.choices < choices_.size() ? choices_[placing_.choices] : 0;
        ++placing_.choices;
        return std::min(choice, places.size() - 1);
    }

    static std::size_t index(int p) { return static_cast<std::size_t>(p); }

    Network network_;
    std::vector<std::size_t> choices_;
    Placing placing_;
    std::vector<std::vector<std::pair<int, double>>> rough_;
    std::vector<Attempt> attempts_;
};

/// Places of a pair whose coordinate differs by less than this lie alike in it.
constexpr double k_same_side_mm = 1.0;

}  // namespace

std::vector<std::pair<int, double>> rough_place(const Book& book, const std::string& name) {
    std::vector<std::pair<int, double>> rough;
    for (const Point& point : book.points) {
        if (point.name != name) {
            continue;
        }
        const std::array<const std::optional<Entry>*, 3> about{&point.about_along, &point.about_out, &point.about_up};
        for (int c = 0; c < 3; ++c) {
            if (const auto& entry = *about[static_cast<std::size_t>(c)]) {
                rough.emplace_back(c, in_mm(entry->value));
            }
        }
    }
    return rough;
}

double from_rough_mm(const std::vector<std::pair<int, double>>& rough, const Vector3d& at_mm) {
    double sum = 0.0;
    for (const auto& [coordinate, mm] : rough) {
        sum += (at_mm[coordinate] - mm) * (at_mm[coordinate] - mm);
    }
    return std::sqrt(sum);
}

bool preferred(const std::vector<std::pair<int, double>>& rough, const Vector3d& a_mm, const Vector3d& b_mm) {
    const double nearer = from_rough_mm(rough, b_mm) - from_rough_mm(rough, a_mm);
    if (std::abs(nearer) > k_same_side_mm) {
        return nearer > 0.0;
    }
    const Vector3d ahead = a_mm - b_mm;
    for (const int c : {0, 1}) {
        if (std::abs(ahead[c]) > k_same_side_mm) {
            return ahead[c] > 0.0;
        }
    }
    return ahead.z() < 0.0;
}

std::vector<int> numbers_to_placed(const Network& network, const std::vector<bool>& placed, int point) {
    std::vector<int> numbers;
    for (const int n : network.numbers_of[static_cast<std::size_t>(point)]) {
        const auto& points = network.numbers[static_cast<std::size_t>(n)].points;
        if (std::all_of(points.begin(), points.end(),
                        [&](int p) { return p == point || placed[static_cast<std::size_t>(p)]; })) {
            numbers.push_back(n);
        }
    }
    return numbers;
}

std::vector<int> neighbours_of(const Network& network, int point, const std::vector<bool>* placed) {
    std::set<int> neighbours;
    for (const int n : network.numbers_of[static_cast<std::size_t>(point)]) {
        for (const int q : network.numbers[static_cast<std::size_t>(n)].points) {
            if (q != point && (placed == nullptr || (*placed)[static_cast<std::size_t>(q)])) {
                neighbours.insert(q);
            }
        }
    }
    return {neighbours.begin(), neighbours.end()};
}

namespace {

struct Tried {
    Placing placing;
    double sum = 0.0;
    bool good = false;
};

bool is_good(const Network& network, const VectorXd& values) {
    std::vector<double> squares;
    for (const NetworkNumber& number : network.numbers) {
        squares.push_back(robust_square(row_of(network, number, values, false).miss));
    }
    std::sort(squares.begin(), squares.end());
    const auto count = static_cast<double>(squares.size());
    squares.resize(squares.size() - static_cast<std::size_t>(std::ceil(k_left_out * count)));
    return std::accumulate(squares.begin(), squares.end(), 0.0) < k_good_sum * count;
}

Tried tried(const Network& network, const Book& book, const std::vector<std::size_t>& choices) {
    Tried t{PointByPoint(network, book, choices).run(), 0.0};
    t.sum = fit_all(network, k_iterations, t.placing.values);
    t.good = is_good(network, t.placing.values);
    return t;
}

}  // namespace

Placing place_one_by_one(const Network& network) {
    return PointByPoint(network, {}, {}).run_one_by_one();
}

Placing place_points(const Network& network, const Book& book) {
    std::vector<std::size_t> choices;
    Tried best = tried(network, book, choices);
    if (network.points() > k_most_to_try_again) {
        return std::move(best.placing);
    }
    for (std::size_t i = 0; i < std::min(best.placing.choices, k_most_tries) && !best.good; ++i) {
        choices.resize(i + 1, 0);
        choices[i] = 1;
        Tried other = tried(network, book, choices);
        if (other.sum < best.sum - k_alike) {
            best = std::move(other);
        } else {
            choices[i] = 0;
        }
    }
    return std::move(best.placing);
}

}  // namespace sillwright::core::survey
