#include "core/survey/reading_results.h"

#include <cmath>
#include <optional>

#include "core/survey/reading_check.h"
#include "core/survey/shown.h"

namespace sillwright::core::survey {

using geometry::LeastSquares;
using geometry::ObservationEquation;

namespace {

/// What a dropped reading would have been.
AdjustedNumber predicted(const ObservationEquation& equation, const LeastSquares& adjusted) {
    std::vector<double> values;
    for (const int parameter : equation.parameters) {
        values.push_back(adjusted.parameters()[parameter]);
    }
    Eigen::VectorXd partials(std::ssize(values));
    AdjustedNumber number;
    number.observed = equation.observed;
    number.adjusted = equation.computed(values, {partials.data(), values.size()});
    number.residual = number.adjusted - number.observed;
    number.sd = equation.sd;
    number.redundancy = 1.0;
    const double variance =
        equation.sd * equation.sd + partials.dot(adjusted.covariance(equation.parameters) * partials);
    number.w = std::abs(number.residual) / std::sqrt(variance);
    number.least_blunder = k_detectable * std::sqrt(variance);
    return number;
}

AdjustedNumber used_number(const ObservationEquation& equation, const geometry::AdjustedObservation& adjusted) {
    AdjustedNumber number;
    number.observed = equation.observed;
    number.adjusted = adjusted.adjusted;
    number.residual = adjusted.residual;
    number.sd = equation.sd;
    number.redundancy = adjusted.redundancy;
    if (adjusted.redundancy >= k_least_redundancy) {
        const double root = std::sqrt(adjusted.redundancy);
        number.w = std::abs(adjusted.residual) / (equation.sd * root);
        number.least_blunder = k_detectable * equation.sd / root;
    }
    return number;
}

ReadingResult dropped_result(const Book& book, const Reading& reading, const Unknowns& unknowns,
                             const LeastSquares* adjusted) {
    ReadingResult result;
    result.use = ReadingUse::dropped;
    result.why = why_not_usable(book, reading);
    if (!result.why.empty() || adjusted == nullptr) {
        return result;
    }
    for (int i = 0; i < number_count(reading.kind); ++i) {
        const auto equation = equation_of(book, reading, i, unknowns);
        if (!equation) {
            return result;
        }
        result.numbers.push_back(predicted(*equation, *adjusted));
        result.numbers.back().what = number_name(reading.kind, i);
    }
    return result;
}

}  // namespace

std::vector<ReadingResult> reading_results(const Book& book, const Equations& equations, const LeastSquares* adjusted) {
    std::vector<ReadingResult> results(book.readings.size());
    for (std::size_t i = 0; i < results.size(); ++i) {
        const Reading& reading = book.readings[i];
        if (!reading.dropped.empty()) {
            results[i] = dropped_result(book, reading, equations.unknowns, adjusted);
        } else if (const std::string why = why_not_usable(book, reading); !why.empty()) {
            results[i] = {ReadingUse::not_usable, why, {}};
        } else {
            const bool no_solution = adjusted == nullptr && equations.waiting[i].empty();
            results[i] = {
                ReadingUse::waiting, no_solution ? "The readings have no solution yet." : equations.waiting[i], {}};
        }
    }
    for (std::size_t i = 0; adjusted != nullptr && i < equations.sources.size(); ++i) {
        const EquationSource& source = equations.sources[i];
        if (source.reading) {
            ReadingResult& result = results[*source.reading];
            result.use = ReadingUse::used;
            result.numbers.push_back(used_number(equations.equations[i], adjusted->observations()[i]));
            result.numbers.back().what = number_name(book.readings[*source.reading].kind, source.number);
        }
    }
    return results;
}

}  // namespace sillwright::core::survey
