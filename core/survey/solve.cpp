#include "core/survey/solve.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <set>
#include <utility>

#include "core/survey/equations.h"
#include "core/survey/next_reading.h"
#include "core/survey/reading_results.h"
#include "core/survey/suspect.h"
#include "geometry/chi_squared.h"
#include "geometry/least_squares.h"

namespace sillwright::core::survey {

using Eigen::Vector3d;
using geometry::LeastSquares;
using geometry::radians;

namespace {

constexpr double k_outside_each_side = 0.025;  ///< Two-sided 95 %.

struct Adjusted {
    Equations equations;
    std::shared_ptr<const LeastSquares> adjustment;
};

/// Takes away the point, or the lean, that the parameter belongs to. False if it belongs to neither.
bool take_away(int parameter, const Unknowns& unknowns, Start& start) {
    for (const auto& [name, point] : unknowns.points) {
        if (std::find(point.parameter.begin(), point.parameter.end(), parameter) != point.parameter.end()) {
            start.at_mm.erase(name);
            start.lacking.push_back({name, "The readings leave " + parameter_words(unknowns, parameter) +
                                               " free: measure from it to one more placed point in that direction."});
            return true;
        }
    }
    for (const auto& [name, lean] : unknowns.leans) {
        if (std::find(lean.parameter.begin(), lean.parameter.end(), parameter) != lean.parameter.end()) {
            return start.lean_rad.erase(name) > 0;
        }
    }
    return false;
}

/// Adjusts what the readings determine; what they leave free goes from `start` to what lacks.
Adjusted adjust(const Book& book, Start& start, std::vector<std::string>& problems) {
    for (;;) {
        Adjusted made{equations_of(book, start), nullptr};
        if (made.equations.equations.empty()) {
            return made;
        }
        auto adjusted = geometry::least_squares(made.equations.equations, made.equations.unknowns.start);
        if (adjusted) {
            made.adjustment = std::move(adjusted).value();
            return made;
        }
        const auto free = geometry::free_parameter(made.equations.equations, made.equations.unknowns.start);
        if (!free || !take_away(*free, made.equations.unknowns, start)) {
            problems.push_back(
                "The readings do not come together anywhere near the rough places of the points. Look for a reading "
                "that "
                "is far out, such as one with its points mistaken, and drop it.");
            return made;
        }
    }
}

PointKind kind_of(const Book& book, const std::string& name) {
    const auto found =
        std::find_if(book.points.begin(), book.points.end(), [&](const Point& one) { return one.name == name; });
    return found == book.points.end() ? PointKind::mark : found->kind;
}

void fill_points(const Book& book, const Unknowns& unknowns, Solution& solution) {
    for (const std::string& name : point_names(book)) {
        const auto found = unknowns.points.find(name);
        if (found == unknowns.points.end()) {
            continue;
        }
        PlacedPoint point{name, kind_of(book, name), found->second.start, Eigen::Matrix3d::Zero(),
                          found->second.parameter};
        for (std::size_t k = 0; k < 3; ++k) {
            if (solution.adjustment && point.parameters[k] != k_fixed) {
                point.at_mm[static_cast<Eigen::Index>(k)] = solution.adjustment->parameters()[point.parameters[k]];
            }
        }
        solution.points.push_back(std::move(point));
        solution.points.back().covariance_mm2 = solution.covariance_mm2({name});
    }
}

/// Nobody may be missing: what is neither placed nor said to lack something.
void fill_lacking(const Book& book, Solution& solution) {
    for (const std::string& name : point_names(book)) {
        const bool said = std::any_of(solution.lacking.begin(), solution.lacking.end(),
                                      [&](const LackingPoint& one) { return one.name == name; });
        if (!said && solution.find(name) == nullptr) {
            solution.lacking.push_back({name, "Nothing says where " + name + " is yet."});
        }
    }
}

PlacedSetUp placed(const SetUp& set_up, const Unknowns& unknowns, const LeastSquares* adjustment) {
    PlacedSetUp made;
    made.name = set_up.name;
    const auto found = unknowns.leans.find(set_up.name);
    if (set_up.level || found == unknowns.leans.end()) {
        // No reading says; what is given holds.
        made.roll = set_up.level ? geometry::Angle{} : set_up.roll.value_or(geometry::Angle{});
        made.pitch = set_up.level ? geometry::Angle{} : set_up.pitch.value_or(geometry::Angle{});
        made.found = set_up.level || (set_up.roll && set_up.pitch);
        const geometry::Angle sd = set_up.level ? geometry::Angle{} : set_up.lean_sd.value_or(geometry::Angle{});
        made.roll_sd = made.pitch_sd = made.found ? sd : geometry::Angle{};
        return made;
    }
    const auto part = [&](std::size_t k, geometry::Angle& angle, geometry::Angle& sd) {
        const int parameter = found->second.parameter[k];
        angle = radians(found->second.start[static_cast<Eigen::Index>(k)]);
        if (parameter != k_fixed && adjustment != nullptr) {
            angle = radians(adjustment->parameters()[parameter]);
            sd = radians(std::sqrt(adjustment->covariance(std::array{parameter})(0, 0)));
        }
    };
    part(0, made.roll, made.roll_sd);
    part(1, made.pitch, made.pitch_sd);
    made.found = true;
    return made;
}

GlobalTest global_test(const LeastSquares& adjustment) {
    GlobalTest test;
    test.sum = adjustment.sum_of_squares();
    test.degrees_of_freedom = adjustment.degrees_of_freedom();
    if (test.degrees_of_freedom > 0) {
        test.lower = geometry::chi_squared_point(k_outside_each_side, test.degrees_of_freedom);
        test.upper = geometry::chi_squared_point(1.0 - k_outside_each_side, test.degrees_of_freedom);
        test.holds = test.sum >= test.lower && test.sum <= test.upper;
    }
    return test;
}

/// Instruments that a reading names and the book has not: the usual one stood in.
void add_unknown_instruments(const Book& book, std::vector<std::string>& problems) {
    std::set<std::string> known{""};
    for (const Instrument& instrument : book.instruments) {
        known.insert(instrument.name);
    }
    for (const Reading& reading : book.readings) {
        if (known.insert(reading.instrument).second) {
            problems.push_back("The book has no instrument \"" + reading.instrument +
                               "\", which readings name: they are taken to be by the usual one.");
        }
    }
}

}  // namespace

Solution solve(const Book& book, const Start& given, bool with_next) {
    Solution solution;
    Start start = given;
    const Adjusted adjusted = adjust(book, start, solution.problems);
    const LeastSquares* adjustment = adjusted.adjustment.get();
    const bool failed = adjustment == nullptr && !adjusted.equations.equations.empty();
    solution.problems.insert(solution.problems.begin(), start.problems.begin(), start.problems.end());
    solution.lacking = std::move(start.lacking);
    solution.mirrored = std::move(start.mirrored);
    solution.adjustment = adjusted.adjustment;
    if (!failed) {
        fill_points(book, adjusted.equations.unknowns, solution);
    }
    fill_lacking(book, solution);
    for (const SetUp& set_up : book.set_ups) {
        solution.set_ups.push_back(placed(set_up, adjusted.equations.unknowns, adjustment));
    }
    solution.readings = reading_results(book, adjusted.equations, adjustment);
    add_unknown_instruments(book, solution.problems);
    if (adjustment == nullptr) {
        return solution;
    }
    solution.global = global_test(*adjustment);
    solution.suspect = find_suspect(adjusted.equations, *adjustment, solution.readings);
    if (std::string conflict = conflict_beside_readings(adjusted.equations, *adjustment); !conflict.empty()) {
        solution.problems.push_back(std::move(conflict));
    }
    if (with_next) {
        solution.next = next_reading(book, adjusted.equations, solution);
    }
    return solution;
}

Solution solve(const Book& book, bool with_next) {
    return solve(book, find_start(book), with_next);
}

}  // namespace sillwright::core::survey
