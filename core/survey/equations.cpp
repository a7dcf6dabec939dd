#include "core/survey/equations.h"

#include <algorithm>
#include <set>
#include <utility>

#include "core/number_text.h"
#include "core/survey/reading_check.h"
#include "core/survey/reading_sd.h"
#include "core/survey/shown.h"

namespace sillwright::core::survey {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::in_rad;
using geometry::ObservationEquation;

namespace {

constexpr geometry::Angle k_gauge_level_sd = geometry::degrees(0.5);  // common practice, no source

/// A number that is fixed, or one of an equation's own parameters.
struct Slot {
    double fixed = 0.0;
    int local = k_fixed;

    [[nodiscard]] double value(std::span<const double> values) const {
        return local == k_fixed ? fixed : values[static_cast<std::size_t>(local)];
    }
    void add(std::span<double> partials, double by) const {
        if (local != k_fixed) {
            partials[static_cast<std::size_t>(local)] += by;
        }
    }
};

/// A reading's number with all that it depends on.
class BoundNumber {
public:
    BoundNumber(ReadingKind kind, int number) : kind_{kind}, number_{number} {}

    Slot slot(double fixed, int parameter) {
        if (parameter == k_fixed) {
            return {fixed, k_fixed};
        }
        parameters_.push_back(parameter);
        return {fixed, static_cast<int>(parameters_.size()) - 1};
    }
    void add_point(const UnknownPoint& point) {
        for (int k = 0; k < 3; ++k) {
            points_[static_cast<std::size_t>(count_)][static_cast<std::size_t>(k)] =
                slot(point.start[k], point.parameter[static_cast<std::size_t>(k)]);
        }
        ++count_;
    }
    void set_lean(const UnknownLean& lean) {
        lean_ = {slot(lean.start[0], lean.parameter[0]), slot(lean.start[1], lean.parameter[1])};
    }
    void set_tilt(int parameter) { tilt_ = slot(0.0, parameter); }
    [[nodiscard]] const std::vector<int>& parameters() const { return parameters_; }

    double operator()(std::span<const double> values, std::span<double> partials) const {
        std::array<Vector3d, k_most_points> at;
        for (std::size_t i = 0; i < static_cast<std::size_t>(count_); ++i) {
            at[i] = {points_[i][0].value(values), points_[i][1].value(values), points_[i][2].value(values)};
        }
        const Shown s = shown(kind_, number_, std::span(at).first(static_cast<std::size_t>(count_)),
                              {lean_[0].value(values), lean_[1].value(values)}, tilt_.value(values));
        std::fill(partials.begin(), partials.end(), 0.0);
        for (int i = 0; i < count_; ++i) {
            for (int k = 0; k < 3; ++k) {
                points_[static_cast<std::size_t>(i)][static_cast<std::size_t>(k)].add(partials, s.by_point(k, i));
            }
        }
        lean_[0].add(partials, s.by_lean[0]);
        lean_[1].add(partials, s.by_lean[1]);
        tilt_.add(partials, s.by_tilt);
        return s.value;
    }

private:
    ReadingKind kind_;
    int number_;
    int count_ = 0;
    std::array<std::array<Slot, 3>, k_most_points> points_;
    std::array<Slot, 2> lean_;
    Slot tilt_;
    std::vector<int> parameters_;
};

/// An sd of zero is none: exact.
bool is_above_zero(const std::optional<Entry>& sd) {
    return sd && in_mm(sd->value) > 0.0;
}

double observed_of(const Reading& reading, int number) {
    switch (number) {
        case 1:
            return in_mm(reading.up->value);
        case 2:
            return 0.0;  // a gauge's own plane
        default:
            return reading.value ? in_mm(reading.value->value) : in_rad(*reading.angle);
    }
}

/// An observation of one parameter itself.
ObservationEquation direct(double observed, double sd, int parameter) {
    return {observed, sd, {parameter}, [](std::span<const double> values, std::span<double> partials) {
                partials[0] = 1.0;
                return values[0];
            }};
}

/// Builds the unknowns and the equations one after the other.
class Builder {
public:
    Builder(const Book& book, const Start& start) : book_{book}, start_{start} {}

    Equations build() {
        for (const auto& [name, at_mm] : start_.at_mm) {
            add_point(name, at_mm);
        }
        made_.waiting.resize(book_.readings.size());
        for (std::size_t i = 0; i < book_.readings.size(); ++i) {
            const Reading& reading = book_.readings[i];
            if (reading.dropped.empty() && why_not_usable(book_, reading).empty()) {
                add_reading(i);
            }
        }
        made_.unknowns.start = Eigen::Map<const Eigen::VectorXd>(values_.data(), std::ssize(values_));
        return std::move(made_);
    }

private:
    int parameter(double start) {
        values_.push_back(start);
        return static_cast<int>(values_.size()) - 1;
    }

    void observe(double observed, double sd, int parameter, std::string words) {
        made_.equations.push_back(direct(observed, sd, parameter));
        made_.sources.push_back({std::nullopt, 0, std::move(words)});
    }

    void add_point(const std::string& name, const Vector3d& at_mm) {
        const auto found =
            std::find_if(book_.points.begin(), book_.points.end(), [&](const Point& one) { return one.name == name; });
        const Point known = found == book_.points.end() ? Point{} : *found;
        UnknownPoint point{at_mm, {}};
        const std::array held{&known.along, &known.out, &known.up};
        static constexpr std::array words{"along", "out", "up"};
        for (std::size_t k = 0; k < 3; ++k) {
            const std::optional<Entry>& entry = *held[k];
            if (entry && !is_above_zero(known.sd)) {
                point.start[static_cast<Eigen::Index>(k)] = in_mm(entry->value);
                point.parameter[k] = k_fixed;
                continue;
            }
            point.parameter[k] = parameter(at_mm[static_cast<Eigen::Index>(k)]);
            if (entry) {
                observe(in_mm(entry->value), in_mm(known.sd->value), point.parameter[k],
                        std::string(words[k]) + " of " + name + ", held at " + mm_text(entry->value));
            }
        }
        made_.unknowns.points.emplace(name, point);
    }

    /// False if nothing says how it leans.
    bool add_lean(const SetUp& set_up) {
        if (made_.unknowns.leans.contains(set_up.name)) {
            return true;
        }
        const auto found = start_.lean_rad.find(set_up.name);
        const bool given = set_up.level || (set_up.roll && set_up.pitch);
        if (!given && found == start_.lean_rad.end()) {
            return false;
        }
        UnknownLean lean{found == start_.lean_rad.end() ? Vector2d::Zero() : found->second, {k_fixed, k_fixed}};
        if (set_up.level) {
            lean.start = Vector2d::Zero();
        } else {
            add_lean_part(set_up, set_up.roll, 0, "roll", lean);
            add_lean_part(set_up, set_up.pitch, 1, "pitch", lean);
        }
        made_.unknowns.leans.emplace(set_up.name, lean);
        return true;
    }

    void add_lean_part(const SetUp& set_up, const std::optional<geometry::Angle>& given, int part, const char* word,
                       UnknownLean& lean) {
        if (given) {
            lean.start[part] = in_rad(*given);
        }
        if (given && !(set_up.lean_sd && in_rad(*set_up.lean_sd) > 0.0)) {
            return;
        }
        const int index = parameter(lean.start[part]);
        lean.parameter[static_cast<std::size_t>(part)] = index;
        if (given) {
            observe(in_rad(*given), in_rad(*set_up.lean_sd), index,
                    std::string(word) + " of set-up " + set_up.name + ", given as " + degree_text(*given));
        }
    }

    /// What the reading waits for; empty if nothing. Adds what is unknown beside its points.
    std::string prepare(const Reading& reading) {
        if (is_spot(reading)) {
            const auto [spot, is_new] = made_.unknowns.spots.try_emplace(spot_key(reading), 0);
            if (is_new) {
                spot->second = parameter(in_mm(reading.value->value));
            }
            return "";
        }
        for (const std::string& name : reading.points) {
            if (!made_.unknowns.points.contains(name)) {
                return name + " is not placed yet.";
            }
        }
        const SetUp& set_up = *set_up_of(book_, reading);
        if (is_plumb(reading.kind) && !add_lean(set_up)) {
            return "How the set-up \"" + set_up.name +
                   "\" leans is not known: give its roll and pitch, or measure heights between placed marks in it.";
        }
        if (reading.kind == ReadingKind::gauge) {
            const auto [tilt, is_new] = made_.unknowns.tilts.try_emplace(trace_key(reading), 0);
            if (is_new) {
                tilt->second = parameter(0.0);
                observe(0.0, in_rad(k_gauge_level_sd), tilt->second,
                        "level of the gauge at " + (reading.trace.empty() ? reading.points[0] : reading.trace));
            }
        }
        return "";
    }

    void add_reading(std::size_t index) {
        const Reading& reading = book_.readings[index];
        made_.waiting[index] = prepare(reading);
        if (!made_.waiting[index].empty()) {
            return;
        }
        for (int number = 0; number < number_count(reading.kind); ++number) {
            made_.equations.push_back(*equation_of(book_, reading, number, made_.unknowns));
            made_.sources.push_back({index, number, ""});
        }
    }

    const Book& book_;
    const Start& start_;
    Equations made_;
    std::vector<double> values_;
};

}  // namespace

std::string trace_key(const Reading& gauge) {
    return gauge.trace.empty() ? "from " + gauge.points[0] : "trace " + gauge.trace;
}

std::string spot_key(const Reading& spot) {
    return (spot.kind == ReadingKind::gap ? "gap " : "depth ") + spot.points[0];
}

std::optional<ObservationEquation> equation_of(const Book& book, const Reading& reading, int number,
                                               const Unknowns& unknowns) {
    const double observed = observed_of(reading, number);
    const double sd = number_sd(book, reading, number);
    if (is_spot(reading)) {
        const auto spot = unknowns.spots.find(spot_key(reading));
        return spot == unknowns.spots.end() ? std::nullopt : std::optional(direct(observed, sd, spot->second));
    }
    BoundNumber bound(reading.kind, number);
    for (const std::string& name : reading.points) {
        const auto point = unknowns.points.find(name);
        if (point == unknowns.points.end()) {
            return std::nullopt;
        }
        bound.add_point(point->second);
    }
    if (is_plumb(reading.kind)) {
        const auto lean = unknowns.leans.find(set_up_of(book, reading)->name);
        if (lean == unknowns.leans.end()) {
            return std::nullopt;
        }
        bound.set_lean(lean->second);
    }
    if (reading.kind == ReadingKind::gauge && number != 2) {
        const auto tilt = unknowns.tilts.find(trace_key(reading));
        bound.set_tilt(tilt == unknowns.tilts.end() ? k_fixed : tilt->second);
    }
    return ObservationEquation{observed, sd, bound.parameters(), bound};
}

Equations equations_of(const Book& book, const Start& start) {
    return Builder(book, start).build();
}

std::string parameter_words(const Unknowns& unknowns, int parameter) {
    static constexpr std::array coordinates{"along of ", "out of ", "up of "};
    for (const auto& [name, point] : unknowns.points) {
        for (std::size_t k = 0; k < 3; ++k) {
            if (point.parameter[k] == parameter) {
                return coordinates[k] + name;
            }
        }
    }
    for (const auto& [name, lean] : unknowns.leans) {
        if (lean.parameter[0] == parameter || lean.parameter[1] == parameter) {
            return (lean.parameter[0] == parameter ? "roll of set-up " : "pitch of set-up ") + name;
        }
    }
    return "an unknown of a gauge or a gap";
}

}  // namespace sillwright::core::survey
