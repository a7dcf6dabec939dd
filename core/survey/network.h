#pragma once

#include <Eigen/Core>
#include <array>
#include <span>
#include <string>
#include <vector>

#include "core/survey/book.h"
#include "core/survey/shown.h"

/// The book as numbers and unknowns, to look for a start in.
namespace sillwright::core::survey {

/// One number of a reading that counts, or a value that the book gives to an unknown with an sd.
struct NetworkNumber {
    int own = -1;  ///< The unknown that is given; -1: a reading.
    ReadingKind kind = ReadingKind::tie;
    int number = 0;
    std::size_t reading = 0;
    std::vector<int> points;
    int set_up = 0;
    int trace = -1;  ///< Of a gauge.
    double observed = 0.0, sd = 1.0;
};

/// Unknowns: three coordinates of each point (mm), then roll and pitch of each set-up, then the tilt of each trace,
/// both in k_angle_unit, so that all have about the same weight.
struct Network {
    std::vector<std::string> names;
    std::vector<std::string> set_ups;
    std::vector<NetworkNumber> numbers;
    std::vector<std::vector<int>> numbers_of;  ///< By point.
    Eigen::VectorXd values;                    ///< Of the unknowns: what is held; else zero.
    std::vector<bool> held;                    ///< Of the unknowns: exactly.
    std::vector<bool> guessed;                 ///< Of the unknowns: leans and tilts that nothing is known of.

    [[nodiscard]] int points() const { return static_cast<int>(names.size()); }
    [[nodiscard]] int lean(int set_up) const { return 3 * points() + 2 * set_up; }
    [[nodiscard]] int tilt(int trace) const { return 3 * points() + 2 * static_cast<int>(set_ups.size()) + trace; }
    [[nodiscard]] int unknowns() const { return static_cast<int>(values.size()); }
};

/// An angle's unknown is counted in millimetres at a metre.
constexpr double k_angle_unit = 1e-3;

/// A set-up that stands as the job's frame does, if the book names none.
Network network_of(const Book& book);

/// A number's misclosure over its sd, and its derivatives by the unknowns that are not held.
struct NetworkRow {
    double miss = 0.0;
    int size = 0;
    std::array<int, 15> unknowns{};
    std::array<double, 15> by{};
};

/// `loose`: leans and tilts are still unknown and stand at a guess: a number that depends on one is trusted less.
NetworkRow row_of(const Network& network, const NetworkNumber& number, const Eigen::VectorXd& values, bool loose);

}  // namespace sillwright::core::survey
