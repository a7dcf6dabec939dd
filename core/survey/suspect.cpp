#include "core/survey/suspect.h"

#include <algorithm>
#include <cmath>

#include "core/number_text.h"
#include "core/survey/reading_results.h"

namespace sillwright::core::survey {

using geometry::LeastSquares;

namespace {

/// Two w's nearer than this are one: rounding must not choose between numbers that fit the conflict alike.
constexpr double k_same_w = 1e-9;

double w_of(const Equations& equations, const LeastSquares& adjusted, std::size_t i) {
    const auto& observation = adjusted.observations()[i];
    if (observation.redundancy < k_least_redundancy) {
        return 0.0;
    }
    return std::abs(observation.residual) / (equations.equations[i].sd * std::sqrt(observation.redundancy));
}

/// The worst of the equations that `of` takes.
template <class Of>
std::optional<std::size_t> worst(const Equations& equations, const LeastSquares& adjusted, const Of& of) {
    std::optional<std::size_t> found;
    double most = k_blunder_w;
    for (std::size_t i = 0; i < equations.sources.size(); ++i) {
        const double w = of(equations.sources[i]) ? w_of(equations, adjusted, i) : 0.0;
        if (w > most + k_same_w) {
            most = w;
            found = i;
        }
    }
    return found;
}

/// Equations whose residuals move together with that of `of`.
std::vector<std::size_t> moving_together(const LeastSquares& adjusted, std::size_t of) {
    const Eigen::VectorXd with = adjusted.residual_covariances(of);
    const auto& observations = adjusted.observations();
    std::vector<std::size_t> found;
    for (std::size_t i = 0; i < observations.size(); ++i) {
        const double variances = observations[i].redundancy * observations[of].redundancy;
        const bool checked = observations[i].redundancy >= k_least_redundancy;
        if (i != of && checked && std::abs(with[static_cast<Eigen::Index>(i)]) > k_together * std::sqrt(variances)) {
            found.push_back(i);
        }
    }
    return found;
}

}  // namespace

std::optional<Suspect> find_suspect(const Equations& equations, const LeastSquares& adjusted,
                                    const std::vector<ReadingResult>& readings) {
    const auto at = worst(equations, adjusted, [](const EquationSource& source) { return source.reading.has_value(); });
    if (!at) {
        return std::nullopt;
    }
    const EquationSource& source = equations.sources[*at];
    Suspect suspect;
    suspect.reading = *source.reading;
    suspect.number = static_cast<std::size_t>(source.number);
    const AdjustedNumber& number = readings[suspect.reading].numbers[suspect.number];
    suspect.w = *number.w;
    suspect.expected = number.observed + number.residual / number.redundancy;
    for (const std::size_t i : moving_together(adjusted, *at)) {
        const auto& other = equations.sources[i].reading;
        if (other == source.reading) {
            continue;  // another number of the same reading: it is to be read again all the same
        }
        suspect.told_apart = false;
        if (other && std::find(suspect.others.begin(), suspect.others.end(), *other) == suspect.others.end()) {
            suspect.others.push_back(*other);
        }
    }
    return suspect;
}

std::string conflict_beside_readings(const Equations& equations, const LeastSquares& adjusted) {
    const auto at = worst(equations, adjusted, [](const EquationSource&) { return true; });
    if (!at || equations.sources[*at].reading) {
        return "";
    }
    return "More in conflict with the readings than any of them is the " + equations.sources[*at].words + " (|w| " +
           fixed_text(w_of(equations, adjusted, *at), 1) + "): check it.";
}

}  // namespace sillwright::core::survey
