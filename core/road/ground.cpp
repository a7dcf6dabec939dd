#include "core/road/ground.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <string>
#include <utility>

#include "core/drawn_loft.h"
#include "core/finding_state.h"
#include "core/keep_outs/room_mend.h"
#include "core/number_text.h"
#include "core/road/least_change.h"
#include "core/road/low_line.h"
#include "core/skirt/flange_face.h"
#include "core/swing/swing_mend.h"

namespace sillwright::core {

using geometry::Angle;
using geometry::in_deg;
using geometry::in_mm;
using geometry::in_rad;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;
using geometry::radians;

namespace {

/// About 95 %.
constexpr double k_sd_factor = 2.0;
/// A smaller margin of an angle is close: what a degree of the ramp is known to.
constexpr double k_close_deg = 0.5;
/// A mend's margin is below this, in millimetres or degrees.
constexpr double k_mend_slack = 0.005;
/// Nodes are not raised by more.
constexpr double k_most_raise_mm = 80.0;
constexpr double k_first_raise_mm = 0.5;
/// The search begins this far below the level, as a rounding stands above its node.
constexpr double k_below_mm = 10.0;

/// What is found of one low point, and what it must be.
struct Judged {
    double found = 0.0, required = 0.0;
    LowPoint at;
    [[nodiscard]] double margin() const { return found - required; }
};

/// One question of the ground: how each low point is judged, and how high one must be at a place.
struct Question {
    std::string id, title;
    Unit unit = Unit::mm;
    std::string formula, source;
    std::vector<std::string> missing;  ///< Without these nothing is judged.
    std::vector<std::string> wanting;  ///< Judged without them, as well as may be.
    std::vector<Input> inputs;
    double band = 0.0;
    /// No value for a point that does not count.
    std::function<std::optional<Judged>(const LowPoint&, double bound_mm)> judge;
    /// Up that a point at this along must have, or less where any will do.
    std::function<double(double along_mm)> level;
    std::string what;  ///< "ground clearance, laden"
    std::string none;  ///< What to say where no point counts; empty if there must be one.
};

std::optional<Judged> worst_of(const LowLine& line, const Question& question) {
    std::optional<Judged> worst;
    for (const LowPoint& point : line.points) {
        const auto judged = question.judge(point, line.bound_mm);
        if (judged && (!worst || judged->margin() < worst->margin())) {
            worst = judged;
        }
    }
    return worst;
}

std::string number_words(const Question& question, double number) {
    return question.unit == Unit::mm ? mm_text(millimetres(number)) : degree_text(geometry::degrees(number));
}

/// Twice the standard deviation of a height; what is not known of it is listed.
double twice_sd_mm(const Job& job, std::vector<std::string>& wanting, std::vector<Input>& inputs) {
    double variance = 0.0;
    const auto add = [&](const std::optional<Entry>& sd, const std::string& name) {
        if (sd) {
            variance += in_mm(sd->value) * in_mm(sd->value);
            inputs.push_back({name, mm_text(sd->value)});
        } else {
            wanting.push_back(name);
        }
    };
    add(job.survey_sd, "standard deviation of the survey");
    add(job.skirt.forming_sd, "standard deviation of forming");
    return k_sd_factor * std::sqrt(variance);
}

Input entry_input(const std::string& name, const std::optional<Entry>& entry) {
    return {name, entry ? mm_text(entry->value) : "not measured"};
}

double value_or_zero(const std::optional<Entry>& entry) {
    return entry ? in_mm(entry->value) : 0.0;
}

Question clearance_question(const Job& job, bool bump) {
    const Road& road = job.road;
    Question question;
    question.id = bump ? "mounts/road/bump clearance" : "mounts/road/clearance";
    question.title = bump ? "Ground clearance on the bump stops" : "Ground clearance, laden";
    question.what = bump ? "ground clearance with the springs at their stops" : "laden ground clearance";
    question.formula = bump ? "lowest point - ground - laden drop - bump travel >= least + 2 sqrt(survey^2 + forming^2)"
                            : "lowest point - ground - laden drop >= least + 2 sqrt(survey^2 + forming^2)";
    question.source = "least clearances: common practice, no source";
    question.band = in_mm(job.limits.close_band.value);
    if (!road.ground) {
        question.missing.emplace_back("the height of the ground");
    }
    if (!road.laden_drop) {
        question.wanting.emplace_back("how far the sill comes down when the car is laden");
    }
    if (bump && !road.bump) {
        question.wanting.emplace_back("how far the springs go on to their stops");
    }
    const Entry& least = bump ? road.bump_clearance_least : road.clearance_least;
    question.inputs = {{"least asked for", mm_text(least.value)},
                       entry_input("ground, up", road.ground),
                       entry_input("laden drop", road.laden_drop)};
    if (bump) {
        question.inputs.push_back(entry_input("bump travel", road.bump));
    }
    const double required = in_mm(least.value) + twice_sd_mm(job, question.wanting, question.inputs);
    const double zero =
        value_or_zero(road.ground) + value_or_zero(road.laden_drop) + (bump ? value_or_zero(road.bump) : 0.0);
    question.judge = [=](const LowPoint& point, double bound_mm) {
        return std::optional(Judged{point.p_mm.z() - bound_mm - zero, required, point});
    };
    question.level = [=](double) { return zero + required; };
    return question;
}

void need_wheels(const Road& road, Question& question) {
    if (!road.front_wheel) {
        question.missing.emplace_back("where the front wheel's centre is, along");
    }
    if (!road.rear_wheel) {
        question.missing.emplace_back("where the rear wheel's centre is, along");
    }
}

/// By how much an angle changes with the height, in radians per millimetre.
double slope_of(double height, double away) {
    return away / (away * away + height * height);
}

Question breakover_question(const Job& job) {
    const Road& road = job.road;
    Question question;
    question.id = "mounts/road/breakover";
    question.title = "Ramp breakover, laden";
    question.what = "laden ramp breakover angle";
    question.unit = Unit::deg;
    question.formula =
        "atan(h/a) + atan(h/b) >= least + what 2 sqrt(survey^2 + forming^2) of height change of it; a, b "
        "from where the tyres touch the ground";
    question.source = "two lines from the tyres' contact points, calculator.7search.cc; least angle: common practice";
    question.band = k_close_deg;
    if (!road.ground) {
        question.missing.emplace_back("the height of the ground");
    }
    need_wheels(road, question);
    if (!road.laden_drop) {
        question.wanting.emplace_back("how far the sill comes down when the car is laden");
    }
    question.inputs = {{"least asked for", degree_text(road.breakover_least)},
                       entry_input("ground, up", road.ground),
                       entry_input("laden drop", road.laden_drop),
                       entry_input("front wheel, along", road.front_wheel),
                       entry_input("rear wheel, along", road.rear_wheel)};
    const double sd2 = twice_sd_mm(job, question.wanting, question.inputs);
    const double zero = value_or_zero(road.ground) + value_or_zero(road.laden_drop);
    const double front = value_or_zero(road.front_wheel);
    const double rear = value_or_zero(road.rear_wheel);
    const double least = in_deg(road.breakover_least);
    question.judge = [=](const LowPoint& point, double bound_mm) -> std::optional<Judged> {
        const double a = point.p_mm.x() - front;
        const double b = rear - point.p_mm.x();
        if (!(a > 0.0 && b > 0.0)) {
            return std::nullopt;
        }
        const double h = point.p_mm.z() - bound_mm - zero;
        const double unsure = in_deg(radians(sd2 * (slope_of(h, a) + slope_of(h, b))));
        return Judged{in_deg(breakover(millimetres(h), millimetres(a), millimetres(b))), least + unsure, point};
    };
    const double tangent = std::tan(in_rad(road.breakover_least));
    question.level = [=](double along) {
        const double a = along - front;
        const double b = rear - along;
        if (!(a > 0.0 && b > 0.0)) {
            return zero - k_most_raise_mm;
        }
        // tan(BA) = h (a + b) / (a b - h^2), solved for h.
        const double h = (-(a + b) + std::sqrt((a + b) * (a + b) + 4.0 * a * b * tangent * tangent)) / (2.0 * tangent);
        return zero + h + sd2;
    };
    question.none = "No point of the part is between the wheels: it takes nothing from the ramp breakover angle.";
    return question;
}

Question approach_question(const Job& job) {
    const Road& road = job.road;
    Question question;
    question.id = "mounts/road/approach";
    question.title = "Approach and departure, laden";
    question.what = "approach or departure angle";
    question.unit = Unit::deg;
    question.formula =
        "atan2(h - r, d) + asin(r / sqrt(d^2 + (h - r)^2)) >= least, over all points ahead of the front "
        "wheel and behind the rear one";
    question.source =
        "49 CFR 523.2: tangent to the tyre's static loaded radius; least angle: common practice, no source";
    question.band = k_close_deg;
    need_wheels(road, question);
    question.inputs = {{"least asked for", degree_text(k_approach_least)},
                       entry_input("front wheel, along", road.front_wheel),
                       entry_input("rear wheel, along", road.rear_wheel)};
    question.none =
        "No point of the part is ahead of the front wheel or behind the rear one: it takes nothing from "
        "the approach and departure angles.";
    const double front = value_or_zero(road.front_wheel);
    const double rear = value_or_zero(road.rear_wheel);
    const double radius = value_or_zero(road.tyre_radius);
    const double zero = value_or_zero(road.ground) + value_or_zero(road.laden_drop);
    question.judge = [=](const LowPoint& point, double bound_mm) -> std::optional<Judged> {
        const double d = std::max(front - point.p_mm.x(), point.p_mm.x() - rear);
        if (!(d > 0.0)) {
            return std::nullopt;
        }
        const double h = point.p_mm.z() - bound_mm - zero;
        const double angle = std::hypot(d, h - radius) > radius
                                 ? in_deg(tyre_angle(millimetres(d), millimetres(h), millimetres(radius)))
                                 : in_deg(radians(std::atan2(h, d)));
        return Judged{angle, in_deg(k_approach_least), point};
    };
    question.level = [=](double along) {
        const double d = std::max(front - along, along - rear);
        return d > 0.0 ? zero + d * std::tan(in_rad(k_approach_least)) : zero - k_most_raise_mm;
    };
    return question;
}

bool may_be_raised(const Node& node) {
    return node.name != k_flange_root && node.name != k_flange_end;
}

/// Every node that may be raised and lies lower than the level, raised to it.
std::vector<NodeMove> raised_to(const Job& job, const std::function<double(double)>& level) {
    std::vector<NodeMove> moves;
    for (const Piece& piece : job.skirt.pieces) {
        for (const Section& section : piece.drawn.sections) {
            const double needed = level(in_mm(station_of(job, section.station).along.value));
            for (const Node& node : section.nodes) {
                if (const double by = needed - in_mm(node.up.value); by > 0.0 && may_be_raised(node)) {
                    moves.push_back({node.id, {0.0, by}});
                }
            }
        }
    }
    return moves;
}

/// No value where the sections cannot be moved so.
std::optional<LowLine> low_line_after(const Job& job, const CarModel& car, const std::vector<NodeMove>& moves) {
    const Job after = mended(job, moves);
    std::vector<std::optional<Loft>> lines;
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        lines.emplace_back();
        if (car.pieces[i].line) {
            auto loft = loft_of(after, after.skirt.pieces[i].drawn, false, piece_words(after.skirt.pieces[i]));
            if (!loft) {
                return std::nullopt;
            }
            lines.back() = std::move(loft).value();
        }
    }
    return low_line_of_part(after, car, lines);
}

Mend raise_mend(const Job& job, const CarModel& car, const Question& question, const Judged& worst) {
    const auto moves_for = [&](double over) {
        return raised_to(job, [&](double along) { return question.level(along) + over - k_below_mm; });
    };
    const auto margin = [&](double over) -> std::optional<double> {
        const auto line = low_line_after(job, car, moves_for(over));
        const auto judged = line ? worst_of(*line, question) : std::nullopt;
        return judged ? std::optional(judged->margin()) : std::nullopt;
    };
    if (const auto found = least_change(margin, k_first_raise_mm, k_most_raise_mm, k_mend_slack)) {
        auto moves = moves_for(found->by);
        if (!moves.empty()) {
            Mend mend{"Raise " + node_move_words(job, moves) + ".", {}, found->margin};
            mend.moves = std::move(moves);
            return mend;
        }
    }
    const bool flange = worst.at.node == k_flange_root || worst.at.node == k_flange_end;
    return {flange ? "The flange itself hangs too low, and lies where the sill is: a lift of the car's springs, or "
                     "another place for the flange, is what helps."
                   : "The part hangs " + number_words(question, -worst.margin()) +
                         " too low there. No raising of its nodes was found for it: draw it shallower.",
            {},
            {}};
}

void put_judged(Finding& finding, const Job& job, const Question& question, const Judged& worst) {
    finding.found = worst.found;
    finding.required = worst.required;
    finding.margin = worst.margin();
    finding.place.on_part_mm = worst.at.p_mm;
    finding.place.along = millimetres(worst.at.p_mm.x());
    finding.place.words = at_place_words(job, *finding.place.along);
    finding.why = "With the part the " + question.what + " is " + number_words(question, worst.found) +
                  (worst.at.node.empty() ? std::string() : ", at " + worst.at.node);
}

void put_before(Finding& finding, const Question& question, const CarModel& car) {
    const auto before = worst_of(low_line_of_body(car), question);
    if (!before) {
        finding.inputs.push_back({"of the body without the part", "not drawn"});
        finding.why += ".";
        return;
    }
    finding.inputs.push_back({"of the body without the part", number_words(question, before->found)});
    finding.why += "; the body alone has " + number_words(question, before->found) + ".";
    if (before->margin() < 0.0) {
        finding.why += " The car itself has less than is asked for.";
    }
}

Finding answer(const Job& job, const CarModel& car, const Question& question, const LowLine& part, Mends mends) {
    Finding finding;
    finding.id = question.id;
    finding.title = question.title;
    finding.unit = question.unit;
    finding.formula = question.formula;
    finding.source = question.source;
    finding.inputs = question.inputs;
    finding.missing = question.missing;
    if (!question.missing.empty()) {
        finding.why = "The " + question.what + " is not known yet.";
        return finding;
    }
    const auto worst = worst_of(part, question);
    if (!worst && !question.none.empty() && part.missing.empty()) {
        finding.state = State::holds;
        finding.why = question.none;
        return finding;
    }
    finding.missing = question.wanting;
    finding.missing.insert(finding.missing.end(), part.missing.begin(), part.missing.end());
    if (!worst) {
        finding.why = "There is no part yet whose " + question.what + " could be told.";
        return finding;
    }
    put_judged(finding, job, question, *worst);
    finding.inputs.push_back({"what may lie lower between sections, taken off", mm_text(millimetres(part.bound_mm))});
    put_before(finding, question, car);
    finding.state = state_of(finding.margin, question.band, finding.missing);
    if (finding.state == State::falls_short && mends == Mends::look_for) {
        finding.mend = raise_mend(job, car, question, *worst);
    }
    return finding;
}

void put_rolling(Finding& finding, const Road& road) {
    if (!finding.found || !finding.place.on_part_mm || !road.tyre_radius) {
        return;
    }
    const Eigen::Vector3d& p = *finding.place.on_part_mm;
    const double h = p.z() - value_or_zero(road.ground) - value_or_zero(road.laden_drop);
    finding.inputs.push_back(
        {"rolling over a crest, by the tyres' circles",
         degree_text(rolling_breakover(millimetres(h), millimetres(p.x() - value_or_zero(road.front_wheel)),
                                       millimetres(value_or_zero(road.rear_wheel) - p.x()), road.tyre_radius->value))});
}

}  // namespace

Angle breakover_of_middle(Length height, Length wheelbase) {
    return radians(2.0 * std::atan(2.0 * (height / wheelbase)));
}

Angle breakover(Length height, Length behind_front, Length ahead_of_rear) {
    return radians(std::atan2(in_mm(height), in_mm(behind_front)) + std::atan2(in_mm(height), in_mm(ahead_of_rear)));
}

Angle tyre_angle(Length away, Length height, Length radius) {
    const double up = in_mm(height - radius);
    return radians(std::atan2(up, in_mm(away)) + std::asin(in_mm(radius) / std::hypot(in_mm(away), up)));
}

Angle rolling_breakover(Length height, Length behind_front, Length ahead_of_rear, Length radius) {
    return tyre_angle(behind_front, height, radius) + tyre_angle(ahead_of_rear, height, radius);
}

std::vector<Finding> ground_findings(const Job& job, const CarModel& car, Mends mends) {
    const LowLine part = low_line_of_part(job, car);
    std::vector<Finding> findings;
    for (const bool bump : {false, true}) {
        findings.push_back(answer(job, car, clearance_question(job, bump), part, mends));
    }
    findings.push_back(answer(job, car, breakover_question(job), part, mends));
    put_rolling(findings.back(), job.road);
    Question approach = approach_question(job);
    const bool counts = approach.missing.empty() && worst_of(part, approach);
    if (counts) {  // Only then are these asked for.
        if (!job.road.ground) {
            approach.missing.emplace_back("the height of the ground");
        }
        if (!job.road.tyre_radius) {
            approach.missing.emplace_back("the tyre's radius, loaded");
        }
        if (!job.road.laden_drop) {
            approach.wanting.emplace_back("how far the sill comes down when the car is laden");
        }
    }
    findings.push_back(answer(job, car, approach, part, mends));
    return findings;
}

}  // namespace sillwright::core
