#pragma once

#include <Eigen/Core>
#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/survey/book.h"
#include "core/survey/start.h"
#include "geometry/least_squares.h"

/// The book as equations for the adjustment: what is unknown, and each number that was read as a function of it.
///
/// Unknown are the coordinates of points that are not held exactly (mm), the lean of set-ups (rad), the tilt of each
/// laying-on of a gauge (rad) and each gap or depth at one point (mm). Observed beside the readings: coordinates held
/// with an sd, leans with an sd, and of each gauge that it was held level to 0.5° (common practice, no source).
namespace sillwright::core::survey {

constexpr int k_fixed = -1;

/// Numbers of which each is a parameter, or fixed.
template <int size>
struct UnknownNumbers {
    Eigen::Matrix<double, size, 1> start = Eigen::Matrix<double, size, 1>::Zero();
    std::array<int, static_cast<std::size_t>(size)> parameter{};  ///< k_fixed: `start` is its value.
};
using UnknownPoint = UnknownNumbers<3>;
using UnknownLean = UnknownNumbers<2>;

struct Unknowns {
    std::map<std::string, UnknownPoint> points;
    std::map<std::string, UnknownLean> leans;  ///< By set-up.
    std::map<std::string, int> tilts;          ///< By trace_key.
    std::map<std::string, int> spots;          ///< By spot_key.
    Eigen::VectorXd start;                     ///< Of all parameters.
};

/// Which laying-on of the gauge a reading belongs to; which gap or depth at one point.
std::string trace_key(const Reading& gauge);
std::string spot_key(const Reading& spot);

/// One number of a reading as an equation; none if one of its points, or the lean that it depends on, has no place.
/// The tilt of a gauge that is not among the unknowns is zero.
/// Precondition: why_not_usable is empty.
std::optional<geometry::ObservationEquation> equation_of(const Book& book, const Reading& reading, int number,
                                                         const Unknowns& unknowns);

/// Where an equation comes from.
struct EquationSource {
    std::optional<std::size_t> reading;  ///< Index in the book; none: an observation of its own, see `words`.
    int number = 0;
    std::string words;  ///< "out of mark A, held at 12.00 mm".
};

struct Equations {
    Unknowns unknowns;
    std::vector<geometry::ObservationEquation> equations;
    std::vector<EquationSource> sources;  ///< One of each equation.
    std::vector<std::string> waiting;     ///< One of each reading: what it waits for; empty of all others.
};

/// Readings that are dropped or not usable have no equations.
Equations equations_of(const Book& book, const Start& start);

/// The parameter in words, "up of H3", "roll of set-up lift".
std::string parameter_words(const Unknowns& unknowns, int parameter);

}  // namespace sillwright::core::survey
