#include "core/survey/network.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "core/survey/solution.h"
#include "core/survey/start.h"

namespace sillwright::core::survey {

namespace {

/// How far a lean or a tilt that nobody measured may be from none, as a slope: about two degrees.
constexpr double k_loose_slope = 0.03;
/// No reading is trusted more than this while looking for a start; keeps the numbers well scaled.
constexpr double k_least_sd_mm = 0.02;
constexpr double k_least_sd_rad = 2e-5;
/// A gauge stands in its section plane about as well as it is read.
constexpr double k_gauge_along_sd_mm = 1.0;

bool is_angle(ReadingKind kind) {
    return kind == ReadingKind::angle || kind == ReadingKind::slope;
}

bool by_lean(ReadingKind kind) {
    return kind == ReadingKind::height || kind == ReadingKind::offset || kind == ReadingKind::slope;
}

bool usable(const Reading& reading) {
    if (!reading.dropped.empty() || static_cast<int>(reading.points.size()) != point_count(reading.kind)) {
        return false;
    }
    auto names = reading.points;
    std::sort(names.begin(), names.end());
    if (std::adjacent_find(names.begin(), names.end()) != names.end()) {
        return false;
    }
    if (is_angle(reading.kind)) {
        return reading.angle.has_value();
    }
    return reading.value.has_value() && (reading.kind != ReadingKind::gauge || reading.up.has_value());
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
    if (number == 2) {
        return k_gauge_along_sd_mm;
    }
    return std::max(reading_sd(book, reading), is_angle(reading.kind) ? k_least_sd_rad : k_least_sd_mm);
}

/// Indices of things by name, given out as they come.
class Numbering {
public:
    int of(const std::string& name) { return index_.try_emplace(name, static_cast<int>(index_.size())).first->second; }
    [[nodiscard]] int size() const { return static_cast<int>(index_.size()); }

private:
    std::map<std::string, int> index_;
};

void hold(Network& network, int unknown, double value) {
    network.values[unknown] = value;
    network.held[static_cast<std::size_t>(unknown)] = true;
}

void hold_points(Network& network, const Book& book, Numbering& points) {
    for (const Point& point : book.points) {
        const int first = 3 * points.of(point.name);
        const std::array<const std::optional<Entry>*, 3> coordinates{&point.along, &point.out, &point.up};
        for (int c = 0; c < 3; ++c) {
            if (const auto& entry = *coordinates[static_cast<std::size_t>(c)]) {
                hold(network, first + c, in_mm(entry->value));
            }
        }
    }
}

void hold_leans(Network& network, const Book& book) {
    if (book.set_ups.empty()) {
        hold(network, network.lean(0), 0.0);
        hold(network, network.lean(0) + 1, 0.0);
    }
    for (std::size_t i = 0; i < book.set_ups.size(); ++i) {
        const SetUp& set_up = book.set_ups[i];
        const int lean = network.lean(static_cast<int>(i));
        if (set_up.level || set_up.roll) {
            hold(network, lean, set_up.level ? 0.0 : geometry::in_rad(*set_up.roll) / k_angle_unit);
        }
        if (set_up.level || set_up.pitch) {
            hold(network, lean + 1, set_up.level ? 0.0 : geometry::in_rad(*set_up.pitch) / k_angle_unit);
        }
    }
}

int set_up_of(const Network& network, const Reading& reading) {
    const auto found = std::find(network.set_ups.begin(), network.set_ups.end(), reading.set_up);
    return found == network.set_ups.end() ? 0 : static_cast<int>(found - network.set_ups.begin());
}

void add_numbers(Network& network, const Book& book, std::size_t index, Numbering& points, Numbering& traces) {
    const Reading& reading = book.readings[index];
    NetworkNumber number;
    number.kind = reading.kind;
    number.reading = index;
    number.set_up = set_up_of(network, reading);
    for (const std::string& name : reading.points) {
        number.points.push_back(points.of(name));
    }
    if (reading.kind == ReadingKind::gauge) {
        number.trace = traces.of(reading.trace.empty() ? "at " + reading.points.front() : "named " + reading.trace);
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
        if (usable(book.readings[i])) {
            add_numbers(network, book, i, points, traces);
        }
    }
    const int unknowns = network.tilt(traces.size());
    network.values = Eigen::VectorXd::Zero(unknowns);
    network.held.assign(static_cast<std::size_t>(unknowns), false);
    hold_points(network, book, points);
    hold_leans(network, book);
    return network;
}

NetworkRow row_of(const Network& network, const NetworkNumber& number, const Eigen::VectorXd& values, bool loose) {
    std::array<Eigen::Vector3d, k_most_points> places;
    const std::size_t count = number.points.size();
    for (std::size_t i = 0; i < count; ++i) {
        places[i] = values.segment<3>(3 * number.points[i]);
    }
    const int lean = network.lean(number.set_up);
    const double tilt = number.trace < 0 ? 0.0 : values[network.tilt(number.trace)] * k_angle_unit;
    const Shown s = shown(number.kind, number.number, std::span(places.data(), count),
                          values.segment<2>(lean) * k_angle_unit, tilt);
    double sd = number.sd;
    const bool leans = by_lean(number.kind) && !(network.held[static_cast<std::size_t>(lean)] &&
                                                 network.held[static_cast<std::size_t>(lean) + 1]);
    if (loose && (leans || (number.trace >= 0 && number.number < 2))) {
        sd = std::hypot(sd, k_loose_slope * (is_angle(number.kind) ? 1.0 : span_of(number, values)));
    }
    NetworkRow row;
    row.miss = (s.value - number.observed) / sd;
    for (std::size_t i = 0; i < count; ++i) {
        for (int c = 0; c < 3; ++c) {
            add(row, network, 3 * number.points[i] + c, s.by_point(c, static_cast<Eigen::Index>(i)) / sd);
        }
    }
    if (by_lean(number.kind)) {
        add(row, network, lean, s.by_lean[0] * k_angle_unit / sd);
        add(row, network, lean + 1, s.by_lean[1] * k_angle_unit / sd);
    }
    if (number.trace >= 0) {
        add(row, network, network.tilt(number.trace), s.by_tilt * k_angle_unit / sd);
    }
    return row;
}

}  // namespace sillwright::core::survey
