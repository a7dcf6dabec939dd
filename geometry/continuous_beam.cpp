#include "geometry/continuous_beam.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "geometry/text.h"

// Unknown are the moments at the supports: one at a support between two spans, one on each side that spans where a
// support holds the rotation. Each span is then a beam on two supports, whose end slopes are known from its moments,
// and the slopes of neighbours must be the same (or zero where held).

namespace sillwright::geometry {

namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

/// A free end shorter than this is none.
constexpr double k_no_end_mm = 1e-9;
/// How far a support or a load may stand off the beam's end by rounding.
constexpr double k_slack_mm = 1e-6;
/// Halvings from the longest part to the last digit.
constexpr int k_halvings = 200;

Error invalid(std::string message) {
    return {ErrorCode::invalid_argument, std::move(message)};
}

/// A stretch of one stiffness and one load, and the point load at its start.
struct Part {
    double from, to, ei, w, point;
};

/// Parts between all places where anything changes.
std::vector<Part> parts_of(const std::vector<BeamStretch>& stretches, const std::vector<BeamSupport>& supports,
                           const BeamLoads& loads) {
    const double front = in_mm(stretches.front().from);
    const double rear = in_mm(stretches.back().to);
    std::vector<double> cuts{front, rear};
    const auto cut = [&](Length at) { cuts.push_back(std::clamp(in_mm(at), front, rear)); };
    for (const BeamStretch& stretch : stretches) {
        cut(stretch.to);
    }
    for (const BeamSupport& support : supports) {
        cut(support.at);
    }
    for (const SpreadLoad& load : loads.spread) {
        cut(load.from);
        cut(load.to);
    }
    for (const PointLoad& load : loads.points) {
        cut(load.at);
    }
    std::sort(cuts.begin(), cuts.end());
    cuts.erase(std::unique(cuts.begin(), cuts.end()), cuts.end());
    std::vector<Part> parts;
    std::size_t stretch = 0;
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
        const double middle = (cuts[i] + cuts[i + 1]) / 2.0;
        while (stretch + 1 < stretches.size() && middle > in_mm(stretches[stretch].to)) {
            ++stretch;
        }
        Part part{cuts[i], cuts[i + 1], stretches[stretch].ei_n_mm2, 0.0, 0.0};
        for (const SpreadLoad& load : loads.spread) {
            if (middle > in_mm(load.from) && middle < in_mm(load.to)) {
                part.w += load.n_per_mm;
            }
        }
        parts.push_back(part);
    }
    for (const PointLoad& load : loads.points) {
        const double at = std::clamp(in_mm(load.at), front, rear);
        const auto part = std::find_if(parts.begin(), parts.end(), [at](const Part& p) { return p.from == at; });
        if (part != parts.end()) {
            part->point += in_newtons(load.force);
        }
    }
    return parts;
}

/// What lies at the rear end belongs to no part's start.
double load_at(const BeamLoads& loads, double at) {
    double sum = 0.0;
    for (const PointLoad& load : loads.points) {
        sum += in_mm(load.at) >= at ? in_newtons(load.force) : 0.0;
    }
    return sum;
}

/// A number that depends on the unknown moments: what it is without them, and its share of each.
struct Affine {
    double own = 0.0;
    VectorXd of;

    explicit Affine(Eigen::Index unknowns) : of{VectorXd::Zero(unknowns)} {}
    Affine& operator+=(const Affine& more) {
        own += more.own;
        of += more.of;
        return *this;
    }
    Affine& operator-=(const Affine& less) {
        own -= less.own;
        of -= less.of;
        return *this;
    }
    Affine& operator*=(double k) {
        own *= k;
        of *= k;
        return *this;
    }
};

/// Numbers of the moments at each support's two sides; -1 where the moment is that of a free end.
struct Unknowns {
    std::vector<Eigen::Index> before, behind;
    Eigen::Index count = 0;

    explicit Unknowns(const std::vector<BeamSupport>& supports) {
        const std::size_t n = supports.size();
        for (std::size_t i = 0; i < n; ++i) {
            const bool spans_before = i > 0;
            const bool spans_behind = i + 1 < n;
            if (supports[i].holds_rotation) {
                before.push_back(spans_before ? count++ : -1);
                behind.push_back(spans_behind ? count++ : -1);
            } else {
                const Eigen::Index one = spans_before && spans_behind ? count++ : -1;
                before.push_back(one);
                behind.push_back(one);
            }
        }
    }
};

/// What the loads on a span, or a free end, do by themselves.
struct SpanLoad {
    double total = 0.0, about_start = 0.0;   ///< Force, and its moment about the span's front.
    double near_flex = 0.0, far_flex = 0.0;  ///< Integrals of (L - x) M / EI / L and x M / EI / L, on two supports.
};

/// Integrals of the two hat functions' products over EI.
struct SpanFlex {
    double near_near = 0.0, near_far = 0.0, far_far = 0.0;
};

class Equations {
public:
    Equations(const std::vector<BeamStretch>& stretches, const std::vector<BeamSupport>& supports)
        : supports_{supports}, unknowns_{supports}, parts_{parts_of(stretches, supports, {})} {
        for (std::size_t i = 0; i + 1 < supports.size(); ++i) {
            flex_.push_back(flex(at(i), at(i + 1)));
        }
    }

    [[nodiscard]] double at(std::size_t support) const { return in_mm(supports_[support].at); }
    [[nodiscard]] const Unknowns& unknowns() const { return unknowns_; }
    [[nodiscard]] const std::vector<BeamSupport>& supports() const { return supports_; }

    /// Every equation as a number that must be zero. Without parts: no loads.
    [[nodiscard]] std::vector<Affine> rows(const std::vector<Part>& loaded, const BeamLoads& loads) const {
        const std::vector<SpanLoad> spans = span_loads(loaded);
        const std::vector<Affine> forces = reactions(loaded, spans, loads);
        std::vector<Affine> rows;
        for (std::size_t i = 0; i < supports_.size(); ++i) {
            std::optional<Affine> before, behind;
            if (i > 0) {
                before = slope(i - 1, spans[i - 1], forces, loaded, loads, true);
            }
            if (i + 1 < supports_.size()) {
                behind = slope(i, spans[i], forces, loaded, loads, false);
            }
            if (supports_[i].holds_rotation) {
                for (auto& one : {before, behind}) {
                    if (one) {
                        rows.push_back(*one);
                    }
                }
            } else if (before && behind) {
                *before -= *behind;
                rows.push_back(*before);
            }
        }
        return rows;
    }

    [[nodiscard]] std::vector<SpanLoad> span_loads(const std::vector<Part>& loaded) const {
        std::vector<SpanLoad> spans;
        for (std::size_t i = 0; i + 1 < supports_.size(); ++i) {
            spans.push_back(loaded.empty() ? SpanLoad{} : span_load(loaded, at(i), at(i + 1)));
        }
        return spans;
    }

    [[nodiscard]] std::vector<Affine> reactions(const std::vector<Part>& loaded, const std::vector<SpanLoad>& spans,
                                                const BeamLoads& loads) const {
        const std::size_t n = supports_.size();
        std::vector<Affine> forces(n, Affine{unknowns_.count});
        for (std::size_t i = 0; i + 1 < n; ++i) {
            const double span = at(i + 1) - at(i);
            const double at_far = spans[i].about_start / span;
            Affine pull = moment(i + 1, true, loaded, loads);
            pull -= moment(i, false, loaded, loads);
            pull *= 1.0 / span;
            forces[i].own += spans[i].total - at_far;
            forces[i + 1].own += at_far;
            forces[i] += pull;
            forces[i + 1] -= pull;
        }
        forces.front().own += end_load(loaded, loads, true).first;
        forces.back().own += end_load(loaded, loads, false).first;
        return forces;
    }

    /// Moment beside a support, before or behind it.
    [[nodiscard]] Affine moment(std::size_t i, bool before, const std::vector<Part>& loaded,
                                const BeamLoads& loads) const {
        Affine value{unknowns_.count};
        const Eigen::Index number = before ? unknowns_.before[i] : unknowns_.behind[i];
        if (number >= 0) {
            value.of(number) = 1.0;
        } else if (i == 0 && (before || !supports_[i].holds_rotation)) {
            value.own = end_load(loaded, loads, true).second;
        } else if (i + 1 == supports_.size() && (!before || !supports_[i].holds_rotation)) {
            value.own = end_load(loaded, loads, false).second;
        }
        return value;
    }

    /// Force on a free end, and the moment at its support.
    [[nodiscard]] std::pair<double, double> end_load(const std::vector<Part>& loaded, const BeamLoads& loads,
                                                     bool front) const {
        double force = 0.0;
        double moment = 0.0;
        const double root = front ? at(0) : at(supports_.size() - 1);
        for (const Part& part : loaded) {
            if (front ? part.from < root : part.from >= root) {
                const double size = part.to - part.from;
                force += part.point + part.w * size;
                moment -= part.point * std::abs(part.from - root) +
                          part.w * size * std::abs((part.from + part.to) / 2.0 - root);
            }
        }
        if (!front && !loaded.empty()) {
            const double tip = loaded.back().to;
            const double last = load_at(loads, tip);
            force += last;
            moment -= last * (tip - root);
        }
        return {force, moment};
    }

    /// Slope at one end of a span.
    [[nodiscard]] Affine slope(std::size_t span, const SpanLoad& load, const std::vector<Affine>& forces,
                               const std::vector<Part>& loaded, const BeamLoads& loads, bool far) const {
        const double size = at(span + 1) - at(span);
        Affine value{unknowns_.count};
        const auto sink = [&](std::size_t support, double sign) {
            if (const auto& k = supports_[support].stiffness_n_per_mm) {
                Affine down = forces[support];
                down *= sign / (*k * size);
                value += down;
            }
        };
        sink(span + 1, 1.0);
        sink(span, -1.0);
        Affine a = moment(span, false, loaded, loads);
        Affine b = moment(span + 1, true, loaded, loads);
        const SpanFlex& f = flex_[span];
        const double sign = far ? -1.0 : 1.0;
        a *= sign * (far ? f.near_far : f.near_near);
        b *= sign * (far ? f.far_far : f.near_far);
        value += a;
        value += b;
        value.own += sign * (far ? load.far_flex : load.near_flex);
        return value;
    }

private:
    [[nodiscard]] SpanFlex flex(double from, double to) const {
        SpanFlex sum;
        const double size = to - from;
        for (const Part& part : parts_) {
            if (part.from < from || part.from >= to) {
                continue;
            }
            const double s = (part.from - from) / size;
            const double e = (part.to - from) / size;
            const double each = size / part.ei;
            const double ns = (to - part.from) / size;
            const double ne = (to - part.to) / size;
            sum.near_near += each * (e - s) * (ns * ns + ns * ne + ne * ne) / 3.0;
            sum.far_far += each * (e - s) * (s * s + s * e + e * e) / 3.0;
            sum.near_far += each * (e - s) * (2.0 * s * ns + s * ne + e * ns + 2.0 * e * ne) / 6.0;
        }
        return sum;
    }

    /// A point load on a span's rear support belongs to the next span, where it acts on that support alone.
    [[nodiscard]] static SpanLoad span_load(const std::vector<Part>& parts, double from, double to) {
        SpanLoad load;
        for (const Part& part : parts) {
            if (part.from >= from && part.from < to) {
                const double size = part.to - part.from;
                load.total += part.point + part.w * size;
                load.about_start +=
                    part.point * (part.from - from) + part.w * size * ((part.from + part.to) / 2.0 - from);
            }
        }
        const double span = to - from;
        double shear = load.total - load.about_start / span;
        double moment = 0.0;
        for (const Part& part : parts) {
            if (part.from < from || part.from >= to) {
                continue;
            }
            shear -= part.point;
            const double size = part.to - part.from;
            const auto m = [&](double s) { return moment + s * (shear - s * part.w / 2.0); };
            // Gauss with three points is exact: the product is a cubic.
            constexpr double k_off = 0.77459666924148337704;  // sqrt(3/5)
            for (const auto& [place, weight] :
                 {std::pair{-k_off, 5.0 / 18.0}, std::pair{0.0, 8.0 / 18.0}, std::pair{k_off, 5.0 / 18.0}}) {
                const double s = size * (1.0 + place) / 2.0;
                const double far = (part.from + s - from) / span;
                const double near = (to - part.from - s) / span;
                load.near_flex += weight * size * near * m(s) / part.ei;
                load.far_flex += weight * size * far * m(s) / part.ei;
            }
            moment = m(size);
            shear -= part.w * size;
        }
        return load;
    }

    const std::vector<BeamSupport>& supports_;
    Unknowns unknowns_;
    std::vector<Part> parts_;  ///< Without loads.
    std::vector<SpanFlex> flex_;
};

/// Moment, shear, slope and deflection at a place.
struct Section {
    double moment = 0.0, shear = 0.0, slope = 0.0, deflection = 0.0;
};

/// At the end of a part, from what is at its start.
Section moved_on(const Section& at, const Part& part) {
    const double s = part.to - part.from;
    return {
        at.moment + s * (at.shear - s * part.w / 2.0), at.shear - part.w * s,
        at.slope - s * (at.moment + s * (at.shear / 2.0 - s * part.w / 6.0)) / part.ei,
        at.deflection + s * (at.slope - s * (at.moment / 2.0 + s * (at.shear / 6.0 - s * part.w / 24.0)) / part.ei)};
}

/// The supports' numbers, once the moments are known.
struct Solved {
    std::vector<double> reactions;
    std::vector<std::pair<double, double>> moments;  ///< Before and behind each support.
    std::vector<Section> starts;                     ///< Just behind each support, its point load not yet taken.

    Solved(const Equations& equations, const std::vector<Part>& parts, const BeamLoads& loads, const VectorXd& x) {
        const auto value = [&](const Affine& a) { return a.own + a.of.dot(x); };
        const auto& supports = equations.supports();
        const std::size_t n = supports.size();
        const auto spans = equations.span_loads(parts);
        const auto forces = equations.reactions(parts, spans, loads);
        for (std::size_t i = 0; i < n; ++i) {
            reactions.push_back(value(forces[i]));
            moments.emplace_back(value(equations.moment(i, true, parts, loads)),
                                 value(equations.moment(i, false, parts, loads)));
        }
        for (std::size_t i = 0; i < n; ++i) {
            Section start;
            start.moment = moments[i].second;
            if (i + 1 < n) {
                const double span = equations.at(i + 1) - equations.at(i);
                start.shear =
                    spans[i].total - spans[i].about_start / span + (moments[i + 1].first - moments[i].second) / span;
                start.slope = value(equations.slope(i, spans[i], forces, parts, loads, false));
            } else {
                start.shear = equations.end_load(parts, loads, false).first;
                start.slope = n > 1 ? value(equations.slope(i - 1, spans[i - 1], forces, parts, loads, true)) : 0.0;
            }
            if (supports[i].holds_rotation) {
                start.slope = 0.0;
            }
            if (const auto& k = supports[i].stiffness_n_per_mm) {
                start.deflection = reactions[i] / *k;
            }
            starts.push_back(start);
        }
    }

    [[nodiscard]] const Section& start_of(std::size_t support) const { return starts[support]; }
};

bool finite(const BeamLoads& loads, double front, double rear) {
    const auto on_beam = [&](Length at) {
        return in_mm(at) >= front - k_slack_mm && in_mm(at) <= rear + k_slack_mm;  // false for what is not a number
    };
    return std::all_of(loads.spread.begin(), loads.spread.end(),
                       [&](const SpreadLoad& load) {
                           return on_beam(load.from) && on_beam(load.to) && load.from <= load.to &&
                                  std::isfinite(load.n_per_mm);
                       }) &&
           std::all_of(loads.points.begin(), loads.points.end(), [&](const PointLoad& load) {
               return on_beam(load.at) && std::isfinite(in_newtons(load.force));
           });
}

std::optional<Error> refuse(const std::vector<BeamStretch>& stretches, const std::vector<BeamSupport>& supports) {
    if (stretches.empty() || supports.empty()) {
        return invalid("A beam needs a stretch and a support at least.");
    }
    for (std::size_t i = 0; i < stretches.size(); ++i) {
        const BeamStretch& one = stretches[i];
        if (!(one.to > one.from) || !std::isfinite(in_mm(one.from)) || !std::isfinite(in_mm(one.to)) ||
            !(one.ei_n_mm2 > 0.0) || !std::isfinite(one.ei_n_mm2)) {
            return invalid("Stretch " + std::to_string(i + 1) + " of the beam must rise and be stiff.");
        }
        if (i > 0 && std::abs(in_mm(one.from - stretches[i - 1].to)) > k_slack_mm) {
            return invalid("Stretch " + std::to_string(i + 1) + " of the beam does not begin where the last one ends.");
        }
    }
    for (std::size_t i = 0; i < supports.size(); ++i) {
        const BeamSupport& one = supports[i];
        if (!(one.at >= stretches.front().from - millimetres(k_slack_mm)) ||
            !(one.at <= stretches.back().to + millimetres(k_slack_mm))) {
            return invalid("Support " + std::to_string(i + 1) + " stands off the beam, at " + text(one.at) + ".");
        }
        if (one.stiffness_n_per_mm && !(*one.stiffness_n_per_mm > 0.0 && std::isfinite(*one.stiffness_n_per_mm))) {
            return invalid("The stiffness of support " + std::to_string(i + 1) + " must be above zero.");
        }
        if (i > 0 && !(one.at - supports[i - 1].at >= k_least_span)) {
            return invalid("Supports " + std::to_string(i) + " and " + std::to_string(i + 1) +
                           " must rise along the beam and stand apart.");
        }
    }
    if (supports.size() == 1 && !supports.front().holds_rotation) {
        return Error{ErrorCode::does_not_fit, "A beam on one support tips over. Give it a second one."};
    }
    return std::nullopt;
}

/// A zero of something that changes its sign once between two places.
template <class Value>
double zero_between(const Value& value, double low, double high) {
    const bool rises = value(high) > value(low);
    for (int i = 0; i < k_halvings; ++i) {
        const double middle = (low + high) / 2.0;
        if (middle <= low || middle >= high) {
            break;
        }
        ((value(middle) > 0.0) == rises ? high : low) = middle;
    }
    return (low + high) / 2.0;
}

/// Zeros of a + b s + c s² between 0 and `size`, rising.
std::vector<double> zeros(double a, double b, double c, double size) {
    std::vector<double> all;
    const auto take = [&](double s) {
        if (std::isfinite(s) && s > 0.0 && s < size) {
            all.push_back(s);
        }
    };
    const double root = b * b - 4.0 * a * c;
    if (c == 0.0) {
        take(-a / b);
    } else if (root >= 0.0) {
        const double q = -(b + std::copysign(std::sqrt(root), b)) / 2.0;
        take(q / c);
        take(a / q);
    }
    std::sort(all.begin(), all.end());
    return all;
}

}  // namespace

std::vector<double> BeamState::Part::level_places() const {
    const double size = to - from;
    std::vector<double> marks{0.0};
    for (const double s : zeros(moment, shear, -w / 2.0, size)) {
        marks.push_back(s);
    }
    marks.push_back(size);
    std::vector<double> places;
    for (std::size_t i = 0; i + 1 < marks.size(); ++i) {
        const auto value = [this](double s) { return slope_at(s); };
        if (value(marks[i]) * value(marks[i + 1]) < 0.0) {
            places.push_back(zero_between(value, marks[i], marks[i + 1]));
        }
    }
    return places;
}

const BeamState::Part& BeamState::part_at(double at) const {
    const auto behind =
        std::upper_bound(parts_.begin(), parts_.end(), at, [](double a, const Part& part) { return a < part.from; });
    return behind == parts_.begin() ? parts_.front() : *std::prev(behind);
}

double BeamState::deflection_mm(Length at) const {
    const double s = std::clamp(in_mm(at), parts_.front().from, parts_.back().to);
    const Part& part = part_at(s);
    return part.deflection_at(s - part.from);
}

double BeamState::slope(Length at) const {
    const double s = std::clamp(in_mm(at), parts_.front().from, parts_.back().to);
    const Part& part = part_at(s);
    return part.slope_at(s - part.from);
}

double BeamState::moment_n_mm(Length at) const {
    const double s = std::clamp(in_mm(at), parts_.front().from, parts_.back().to);
    const Part& part = part_at(s);
    return part.moment_at(s - part.from);
}

double BeamState::shear_n(Length at) const {
    const double s = std::clamp(in_mm(at), parts_.front().from, parts_.back().to);
    const Part& part = part_at(s);
    return part.shear - part.w * (s - part.from);
}

namespace {

/// Best of all parts' ends and of the places between that `places` gives.
template <class Parts, class Places, class Value>
BeamExtreme best_of(const Parts& parts, double sign, const Places& places, const Value& value) {
    std::optional<BeamExtreme> best;
    for (const auto& part : parts) {
        std::vector<double> tried = places(part);
        tried.push_back(0.0);
        tried.push_back(part.to - part.from);
        for (const double s : tried) {
            const double v = value(part, s);
            if (!best || sign * v > sign * best->value) {
                best = BeamExtreme{millimetres(part.from + s), v};
            }
        }
    }
    return *best;
}

}  // namespace

BeamExtreme BeamState::most_deflection() const {
    return best_of(
        parts_, 1.0, [](const Part& p) { return p.level_places(); },
        [](const Part& p, double s) { return p.deflection_at(s); });
}

BeamExtreme BeamState::least_deflection() const {
    return best_of(
        parts_, -1.0, [](const Part& p) { return p.level_places(); },
        [](const Part& p, double s) { return p.deflection_at(s); });
}

BeamExtreme BeamState::most_moment() const {
    return best_of(
        parts_, 1.0, [](const Part& p) { return zeros(p.shear, -p.w, 0.0, p.to - p.from); },
        [](const Part& p, double s) { return p.moment_at(s); });
}

BeamExtreme BeamState::least_moment() const {
    return best_of(
        parts_, -1.0, [](const Part& p) { return zeros(p.shear, -p.w, 0.0, p.to - p.from); },
        [](const Part& p, double s) { return p.moment_at(s); });
}

BeamExtreme BeamState::worst_deflection() const {
    const BeamExtreme worst = best_of(
        parts_, 1.0, [](const Part& p) { return p.level_places(); },
        [](const Part& p, double at) { return std::abs(p.deflection_at(at)); });
    return {worst.at, deflection_mm(worst.at)};
}

Result<ContinuousBeam> ContinuousBeam::make(std::vector<BeamStretch> stretches, std::vector<BeamSupport> supports) {
    if (auto error = refuse(stretches, supports)) {
        return *error;
    }
    ContinuousBeam beam;
    beam.stretches_ = std::move(stretches);
    beam.supports_ = std::move(supports);
    for (BeamSupport& support : beam.supports_) {
        support.at = std::clamp(support.at, beam.front(), beam.rear());
    }
    const Equations equations(beam.stretches_, beam.supports_);
    const auto rows = equations.rows({}, {});
    MatrixXd matrix(equations.unknowns().count, equations.unknowns().count);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        matrix.row(static_cast<Eigen::Index>(i)) = rows[i].of.transpose();
    }
    if (matrix.size() > 0) {
        beam.equations_.compute(matrix);
    }
    return beam;
}

Result<BeamState> ContinuousBeam::under(const BeamLoads& loads) const {
    if (!finite(loads, in_mm(front()), in_mm(rear()))) {
        return invalid("A load must lie on the beam, from front to rear, and be a number.");
    }
    const Equations equations(stretches_, supports_);
    const std::vector<Part> parts = parts_of(stretches_, supports_, loads);
    const auto rows = equations.rows(parts, loads);
    const Eigen::Index count = equations.unknowns().count;
    VectorXd known(count);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        known(static_cast<Eigen::Index>(i)) = -rows[i].own;
    }
    const VectorXd moments = count > 0 ? VectorXd{equations_.solve(known)} : known;
    const Solved solved(equations, parts, loads, moments);
    BeamState state;
    state.reactions_ = solved.reactions;
    const auto add = [&](const Part& part, const Section& at) {
        state.parts_.push_back({part.from, part.to, part.ei, part.w, at.moment, at.shear, at.slope, at.deflection});
    };
    const std::size_t last = supports_.size() - 1;
    std::size_t next = 0;
    Section here;
    while (next < parts.size() && parts[next].from < equations.at(0)) {
        here.shear -= parts[next].point;
        add(parts[next], here);
        here = moved_on(here, parts[next++]);
    }
    // Slope and deflection of the front end run from the first support forward to the tip.
    Section root = solved.start_of(0);
    for (std::size_t i = next; i-- > 0;) {
        BeamState::Part& part = state.parts_[i];
        const double size = part.to - part.from;
        part.slope = 0.0;
        part.deflection = 0.0;
        part.slope = root.slope - part.slope_at(size);
        part.deflection = root.deflection - part.deflection_at(size);
        root.slope = part.slope;
        root.deflection = part.deflection;
    }
    for (std::size_t i = 0; i <= last; ++i) {
        here = solved.start_of(i);
        while (next < parts.size() && (i == last || parts[next].from < equations.at(i + 1))) {
            here.shear -= parts[next].point;
            add(parts[next], here);
            here = moved_on(here, parts[next++]);
        }
        const auto& [before, behind] = solved.moments[i];
        state.support_moments_.push_back(std::abs(before) > std::abs(behind) ? before : behind);
    }
    return state;
}

}  // namespace sillwright::geometry
