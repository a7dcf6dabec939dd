#include "core/survey/network.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "core/survey/equations.h"
#include "core/survey/reading_check.h"
#include "core/survey/reading_sd.h"
#include "core/survey/start.h"

namespace sillwright::core::survey {

namespace {

/// How far a lean or a tilt that nobody measured may be from none, as a slope: about two degrees.
constexpr double k_loose_slope = 0.03;
/// No reading is trusted more than this while looking for a start; keeps the numbers well scaled.
constexpr double k_least_sd_mm = 0.02;
constexpr double k_least_sd_rad = 2e-5;

/// What the adjustment observes of every gauge; see core/survey/equations.h.
constexpr double k_gauge_level_sd = 0.5 * std::numbers::pi / 180.0;

bool is_angle(ReadingKind kind) {
    return kind == ReadingKind::angle || kind == ReadingKind::slope;
}

bool counts(const Book& book, const Reading& reading) {
    return reading.dropped.empty() && !is_spot(reading) && why_not_usable(book, reading).empty();
}

double observed(const Reading& reading, int number) {
    if (is_angle(reading.kind)) {
        return geometry::in_rad(*reading.angle);
    }
    if (reading.kind == ReadingKind::gauge && number > 0) {
        return number == 1 ? in_mm(reading.up->value) : 0.0;
    }
    return in_mm(reading.value->value);
}

double sd_of(const Book& book, const Reading& reading, int number) {
    return std::max(number_sd(book, reading, number), is_angle(reading.kind) ? k_least_sd_rad : k_least_sd_mm);
}

/// Indices of things by name, given out as they come.
class Numbering {
public:
    int of(const std::string& name) { return index_.try_emplace(name, static_cast<int>(index_.size())).first->second; }
    [[nodiscard]] int size() const { return static_cast<int>(index_.size()); }

private:
    std::map<std::string, int> index_;
};

/// A value that the book gives: exact, or an observation of its own.
void give(Network& network, int unknown, double value, double sd) {
    const auto u = static_cast<std::size_t>(unknown);
    network.values[unknown] = value;
    network.guessed[u] = false;
    network.held[u] = !(sd > 0.0);
    if (sd > 0.0) {
        NetworkNumber number;
        number.own = unknown;
        number.observed = value;
        number.sd = sd;
        if (unknown < 3 * network.points()) {
            number.points.push_back(unknown / 3);
            network.numbers_of[u / 3].push_back(static_cast<int>(network.numbers.size()));
        }
        network.numbers.push_back(number);
    }
}

void give_points(Network& network, const Book& book, Numbering& points) {
    for (const Point& point : book.points) {
        const int first = 3 * points.of(point.name);
        const std::array<const std::optional<Entry>*, 3> coordinates{&point.along, &point.out, &point.up};
        for (int c = 0; c < 3; ++c) {
            if (const auto& entry = *coordinates[static_cast<std::size_t>(c)]) {
                give(network, first + c, in_mm(entry->value), point.sd ? in_mm(point.sd->value) : 0.0);
            }
        }
    }
}

void give_leans(Network& network, const Book& book) {
    if (book.set_ups.empty()) {
        give(network, network.lean(0), 0.0, 0.0);
        give(network, network.lean(0) + 1, 0.0, 0.0);
    }
    for (std::size_t i = 0; i < book.set_ups.size(); ++i) {
        const SetUp& set_up = book.set_ups[i];
        const int lean = network.lean(static_cast<int>(i));
        const double sd = set_up.lean_sd && !set_up.level ? geometry::in_rad(*set_up.lean_sd) / k_angle_unit : 0.0;
        if (set_up.level || set_up.roll) {
            give(network, lean, set_up.level ? 0.0 : geometry::in_rad(*set_up.roll) / k_angle_unit, sd);
        }
        if (set_up.level || set_up.pitch) {
            give(network, lean + 1, set_up.level ? 0.0 : geometry::in_rad(*set_up.pitch) / k_angle_unit, sd);
        }
    }
}

int set_up_index(const Book& book, const Reading& reading) {
    const SetUp* set_up = set_up_of(book, reading);
    return book.set_ups.empty() ? 0 : static_cast<int>(set_up - book.set_ups.data());
}

void add_numbers(Network& network, const Book& book, std::size_t index, Numbering& points, Numbering& traces) {
    const Reading& reading = book.readings[index];
    NetworkNumber number;
    number.kind = reading.kind;
    number.reading = index;
    number.set_up = set_up_index(book, reading);
    for (const std::string& name : reading.points) {
        number.points.push_back(points.of(name));
    }
    if (reading.kind == ReadingKind::gauge) {
        number.trace = traces.of(trace_key(reading));
    }
    for (number.number = 0; number.number < number_count(reading.kind); ++number.number) {
        number.observed = observed(reading, number.number);
        number.sd = sd_of(book, reading, number.number);
        for (const int point : number.points) {
            network.numbers_of[static_cast<std::size_t>(point)].push_back(static_cast<int>(network.numbers.size()));
        }
        network.numbers.push_back(number);
    }
}

double span_of(const NetworkNumber& number, const Eigen::VectorXd& values) {
    double span = 0.0;
    for (const int point : number.points) {
        span = std::max(span, (values.segment<3>(3 * point) - values.segment<3>(3 * number.points.front())).norm());
    }
    return span;
}

/// Whether it depends on a lean or tilt that stands at a guess.
bool guessed(const Network& network, const NetworkNumber& number) {
    const auto lean = static_cast<std::size_t>(network.lean(number.set_up));
    return (is_plumb(number.kind) && (network.guessed[lean] || network.guessed[lean + 1])) ||
           (number.trace >= 0 && number.number < 2);
}

double loose_sd(const NetworkNumber& number, const Eigen::VectorXd& values) {
    return std::hypot(number.sd, k_loose_slope * (is_angle(number.kind) ? 1.0 : span_of(number, values)));
}

void add(NetworkRow& row, const Network& network, int unknown, double by) {
    if (!network.held[static_cast<std::size_t>(unknown)]) {
        row.unknowns[static_cast<std::size_t>(row.size)] = unknown;
        row.by[static_cast<std::size_t>(row.size)] = by;
        ++row.size;
    }
}

}  // namespace

Network network_of(const Book& book) {
    Network network;
    network.names = point_names(book);
    for (const SetUp& set_up : book.set_ups) {
        network.set_ups.push_back(set_up.name);
    }
    if (network.set_ups.empty()) {
        network.set_ups.emplace_back();
    }
    network.numbers_of.resize(network.names.size());
    Numbering points;
    for (const std::string& name : network.names) {
        points.of(name);
    }
    Numbering traces;
    for (std::size_t i = 0; i < book.readings.size(); ++i) {
        if (counts(book, book.readings[i])) {
            add_numbers(network, book, i, points, traces);
        }
    }
    const int unknowns = network.tilt(traces.size());
    network.values = Eigen::VectorXd::Zero(unknowns);
    network.held.assign(static_cast<std::size_t>(unknowns), false);
    network.guessed.assign(static_cast<std::size_t>(unknowns), false);
    std::fill(network.guessed.begin() + network.lean(0), network.guessed.end(), true);
    give_points(network, book, points);
    give_leans(network, book);
    for (int trace = 0; trace < traces.size(); ++trace) {
        give(network, network.tilt(trace), 0.0, k_gauge_level_sd / k_angle_unit);
        network.guessed[static_cast<std::size_t>(network.tilt(trace))] = true;
    }
    return network;
}

NetworkRow row_of(const Network& network, const NetworkNumber& number, const Eigen::VectorXd& values, bool loose) {
    NetworkRow row;
    if (number.own >= 0) {
        row.miss = (values[number.own] - number.observed) / number.sd;
        add(row, network, number.own, 1.0 / number.sd);
        return row;
    }
    std::array<Eigen::Vector3d, k_most_points> places;
    const std::size_t count = number.points.size();
    for (std::size_t i = 0; i < count; ++i) {
        places[i] = values.segment<3>(3 * number.points[i]);
    }
    const int lean = network.lean(number.set_up);
    const int tilt = number.trace < 0 ? -1 : network.tilt(number.trace);
    const Shown s = shown(number.kind, number.number, std::span(places.data(), count),
                          values.segment<2>(lean) * k_angle_unit, tilt < 0 ? 0.0 : values[tilt] * k_angle_unit);
    const double sd = loose && guessed(network, number) ? loose_sd(number, values) : number.sd;
    row.miss = (s.value - number.observed) / sd;
    for (std::size_t i = 0; i < count; ++i) {
        for (int c = 0; c < 3; ++c) {
            add(row, network, 3 * number.points[i] + c, s.by_point(c, static_cast<Eigen::Index>(i)) / sd);
        }
    }
    if (is_plumb(number.kind)) {
        add(row, network, lean, s.by_lean[0] * k_angle_unit / sd);
        add(row, network, lean + 1, s.by_lean[1] * k_angle_unit / sd);
    }
    if (tilt >= 0) {
        add(row, network, tilt, s.by_tilt * k_angle_unit / sd);
    }
    return row;
}

}  // namespace sillwright::core::survey
