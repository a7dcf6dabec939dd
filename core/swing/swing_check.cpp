#include "core/swing/swing_check.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <limits>
#include <utility>

#include "core/drawn_loft.h"
#include "core/finding_state.h"
#include "core/number_text.h"
#include "core/swing/axis_sd.h"
#include "core/swing/gap_budget.h"

namespace sillwright::core {

using geometry::Angle;
using geometry::AngleInterval;
using geometry::AngleState;
using geometry::in_mm;
using geometry::Length;
using geometry::MotionDistance;
using geometry::Result;

namespace {

/// Between the distance reached and the one proven.
constexpr Length k_tolerance = geometry::millimetres(0.01);

std::string degrees_text(Angle angle) {
    return degree_text(angle, 1);
}

std::string case_words(SwingCase which, Angle at) {
    switch (which) {
        case SwingCase::striker:
            return "door shut, on its striker";
        case SwingCase::released:
            return "door shut, off its striker";
        case SwingCase::moving:
            return "door at " + degrees_text(at);
        case SwingCase::over_slam:
            return "door " + degrees_text(-at) + " past shut";
    }
    return {};
}

/// An outcome held against its requirement.
struct Judged {
    const SwingOutcome* outcome;
    GapBudget budget;
    std::optional<Length> found;  ///< None if it touches and no depth is known.
    [[nodiscard]] double margin() const {
        return found ? in_mm(*found - budget.required) : -std::numeric_limits<double>::infinity();
    }
};

Length deviations(const SwingOutcome& outcome) {
    return outcome.pair.moving->mesh.deviation + outcome.pair.fixed->mesh.deviation;
}

/// The depth of the true bodies is at least this; not positive if the meshes cross by
/// no more than they may be off.
Length sure_depth(const SwingOutcome& outcome) {
    return outcome.distance.depth - deviations(outcome);
}

Judged judge(const Job& job, const CarModel& car, const SwingOutcome& outcome, const Entry& asked) {
    const Door& door = job.doors[outcome.pair.door];
    const bool sags = outcome.which == SwingCase::moving || outcome.which == SwingCase::released;
    std::optional<Length> lever;
    if (sags) {
        lever = sag_lever(*outcome.pair.moving, outcome.motion);
    }
    std::optional<Length> axis;
    if (const auto swung = swing_motion(car.doors[outcome.pair.door], outcome.which)) {
        axis = axis_sd(car.doors[outcome.pair.door], *outcome.pair.moving, swung->from, swung->to);
    }
    Judged judged{&outcome, gap_budget(job, door, asked.value, lever, axis), outcome.bound()};
    if (outcome.distance.touches) {
        judged.found = std::nullopt;
        if (const Length depth = sure_depth(outcome); depth > Length{}) {
            judged.found = -depth;
        }
    }
    return judged;
}

std::string why_words(const SwingOutcome& outcome, const std::string& strip) {
    const MotionDistance& distance = outcome.distance;
    const std::string where = strip.empty() ? std::string() : " at " + strip;
    if (!distance.touches) {
        return outcome.pair.moving->name + " comes within " + mm_text(distance.least) + " of " +
               outcome.pair.fixed->name + where + "; proven nowhere under " + mm_text(outcome.bound()) + ".";
    }
    const bool sure = sure_depth(outcome) > Length{};
    std::string words = outcome.pair.moving->name + (sure ? " touches " : " touches, or nearly touches, ") +
                        outcome.pair.fixed->name + where;
    if (outcome.which == SwingCase::moving || outcome.which == SwingCase::over_slam) {
        for (const AngleInterval& interval : distance.states) {
            if (interval.state == AngleState::touching) {
                words += ", from " + degrees_text(interval.from) + " to " + degrees_text(interval.to);
            }
        }
    }
    return words + (sure ? ", at least " + mm_text(sure_depth(outcome)) + " deep." : ".");
}

MovingKind kind_of(DoorBodyKind kind) {
    return kind == DoorBodyKind::cladding ? MovingKind::cladding : MovingKind::edge;
}

const char* gap_formula() {
    return "least distance over the swing >= asked + paint on each painted face + 2 sqrt(survey^2 + forming^2 + sag^2 "
           "+ axis^2)";
}

const char* gap_source() {
    return "gaps asked for: common practice, no source; deviations: root sum of squares, twice for about 95 %";
}

}  // namespace

Length SwingOutcome::bound() const {
    return distance.proven - deviations(*this);
}

Length sag_lever(const BodyModel& moving, const geometry::HingeMotion& motion) {
    double most = 0.0;
    for (const Eigen::Vector3d& p : moving.mesh.points) {
        most = std::max(most, (p - motion.axis_point_mm).norm());
    }
    return geometry::millimetres(most);
}

std::vector<SwingPair> swing_pairs(const Job& job, const CarModel& car, std::size_t door, const BodyModel* body) {
    const DoorModel& model = car.doors[door];
    const auto carried_by = [&](std::size_t piece) -> const std::string& { return job.skirt.pieces[piece].carried_by; };
    std::vector<SwingPair> pairs;
    const auto against_fixed_pieces = [&](const BodyModel& moving, MovingKind kind) {
        for (std::size_t i = 0; i < car.pieces.size(); ++i) {
            if (car.pieces[i].body && carried_by(i) != model.name) {
                pairs.push_back({door, &moving, &*car.pieces[i].body, kind, i});
            }
        }
    };
    for (const DoorPart& part : model.parts) {
        against_fixed_pieces(part.body, kind_of(part.kind));
    }
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        if (!car.pieces[i].body || carried_by(i) != model.name) {
            continue;
        }
        const BodyModel& carried = *car.pieces[i].body;
        against_fixed_pieces(carried, MovingKind::carried);
        if (body != nullptr) {
            pairs.push_back({door, &carried, body, MovingKind::carried, std::nullopt});
        }
        for (std::size_t other = 0; other < car.doors.size(); ++other) {
            if (other == door) {
                continue;
            }
            for (const DoorPart& part : car.doors[other].parts) {
                pairs.push_back({door, &carried, &part.body, MovingKind::carried, std::nullopt});
            }
        }
    }
    return pairs;
}

Result<std::optional<SwingOutcome>> swing_outcome(const CarModel& car, const SwingPair& pair, SwingCase which,
                                                  const geometry::Watch& watch) {
    if (watch.stop.stop_requested()) {  // Between two questions that are each too short to be stopped.
        return geometry::Error{geometry::ErrorCode::stopped,
                               "The check of the swing was stopped before it was finished."};
    }
    const auto swung = swing_motion(car.doors[pair.door], which);
    if (!swung) {
        return std::optional<SwingOutcome>{};
    }
    auto distance = geometry::least_distance(*pair.fixed->tree, *pair.moving->tree, swung->motion,
                                             {swung->from, swung->to, k_tolerance}, watch);
    if (!distance) {
        return distance.error();
    }
    SwingOutcome outcome{pair, which, swung->motion, std::move(distance).value(), {}};
    if (which == SwingCase::moving) {
        outcome.at_stop =
            geometry::distance_at(*pair.fixed->tree, *pair.moving->tree, swung->motion, swung->to).distance;
    }
    return std::optional<SwingOutcome>{std::move(outcome)};
}

std::optional<SwingMotion> swing_motion(const DoorModel& door, SwingCase which) {
    const bool sags = which == SwingCase::moving || which == SwingCase::released;
    if (which == SwingCase::striker) {  // A door on its striker stands still: it needs no hinge.
        return SwingMotion{};
    }
    const auto& known = sags && door.released ? door.released : door.on_striker;
    if (!known || (which == SwingCase::released && !door.released) ||
        (which == SwingCase::over_slam && !door.over_slam)) {
        return std::nullopt;
    }
    SwingMotion swung{*known, {}, {}};
    if (which == SwingCase::moving) {
        swung.to = *door.opening;
    } else if (which == SwingCase::over_slam) {
        swung.from = -*door.over_slam;
    }
    return swung;
}

namespace {

template <class List, class Item>
bool holds(const List& list, const Item& item) {
    return std::find(list.begin(), list.end(), item) != list.end();
}

bool carries(const Job& job, const DoorModel& door) {
    return std::any_of(job.skirt.pieces.begin(), job.skirt.pieces.end(),
                       [&](const Piece& piece) { return piece.carried_by == door.name; });
}

/// What must be measured before each case of a question can be looked at.
std::vector<std::string> lacking_motion(const Job& job, const CarModel& car, const SwingQuestion& question) {
    using enum SwingCase;
    const DoorModel& door = car.doors[question.door];
    const Door& measured = job.doors[question.door];
    std::vector<std::string> missing = door.missing_motion;
    const bool sag = measured.sag && measured.sag->drop && measured.sag->distance;
    const bool slam = measured.over_slam && measured.over_slam->travel && measured.over_slam->distance;
    if (!sag && (holds(question.cases, moving) || holds(question.cases, released))) {
        missing.push_back("the sag of " + door.name + " off its striker");
    }
    if (!slam && holds(question.cases, over_slam)) {
        missing.push_back("how far " + door.name + " travels past shut");
    }
    return missing;
}

/// What must be measured before a question has its whole answer, its budget apart.
std::vector<std::string> lacking(const Job& job, const CarModel& car, const SwingQuestion& question) {
    const DoorModel& door = car.doors[question.door];
    const bool of_carried = holds(question.kinds, MovingKind::carried) && carries(job, door);
    std::vector<std::string> missing = lacking_motion(job, car, question);
    for (const MissingPart& part : door.missing_parts) {
        if (holds(question.kinds, kind_of(part.kind))) {
            missing.push_back(part.words);
        }
    }
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        if (of_carried || job.skirt.pieces[i].carried_by != door.name) {
            missing.insert(missing.end(), car.pieces[i].missing.begin(), car.pieces[i].missing.end());
        }
    }
    if (car.pieces.empty()) {
        missing.emplace_back("the skirt");
    }
    if (of_carried && !car.body) {
        if (job.body.empty()) {
            missing.emplace_back("the sections of the body, behind what " + door.name + " carries");
        } else {
            missing.insert(missing.end(), car.missing_body.begin(), car.missing_body.end());
        }
    }
    return missing;
}

/// What any of the outcomes lacks: that the worst of them lacks nothing does not say that it stays the worst.
std::vector<std::string> all_missing(const std::vector<Judged>& judged, const std::vector<std::string>& more) {
    std::vector<std::string> missing;
    const auto add = [&](const std::string& words) {
        if (!holds(missing, words)) {
            missing.push_back(words);
        }
    };
    for (const Judged& one : judged) {
        std::for_each(one.budget.missing.begin(), one.budget.missing.end(), add);
    }
    std::for_each(more.begin(), more.end(), add);
    return missing;
}

/// The finding for the outcome that leaves the least.
Finding finding_of(const Job& job, const CarModel& car, const SwingQuestion& question, const Judged& worst,
                   std::vector<std::string> missing) {
    const SwingOutcome& outcome = *worst.outcome;
    const MotionDistance& distance = outcome.distance;
    Finding finding;
    finding.id = question.id;
    finding.title = question.title;
    finding.stage = Stage::swing;
    finding.required = in_mm(worst.budget.required);
    if (worst.found) {
        finding.found = in_mm(*worst.found);
        finding.margin = worst.margin();
    }
    finding.inputs = worst.budget.inputs;
    finding.unsure_by = worst.budget.unsure_by;
    finding.inputs.push_back({"least distance reached", mm_text(distance.least)});
    finding.inputs.push_back({"deviation of both meshes, taken off", mm_text(deviations(outcome))});
    finding.missing = std::move(missing);
    for (const AngleInterval& interval : distance.states) {
        if (interval.state != AngleState::free) {
            finding.touching.push_back({interval.from, interval.to});
        }
    }
    finding.state = distance.touches ? State::falls_short
                                     : state_of(finding.margin, in_mm(job.limits.close_band.value), finding.missing);
    finding.place.along = geometry::millimetres(distance.on_fixed_mm.x());
    finding.place.on_part_mm = distance.on_fixed_mm;
    finding.place.on_other_mm = distance.on_moving_mm;
    finding.place.door_angle = distance.at;
    finding.place.door = car.doors[question.door].name;
    finding.place.words = at_place_words(job, *finding.place.along) + ", " + case_words(outcome.which, distance.at);
    const std::optional<geometry::Loft> no_line;
    finding.why = why_words(
        outcome, strip_words(*outcome.pair.fixed, outcome.pair.piece ? car.pieces[*outcome.pair.piece].line : no_line,
                             distance.fixed_triangle));
    finding.formula = gap_formula();
    finding.source = gap_source();
    return finding;
}

/// Whether a question for which there is no pair of bodies must be asked all the same.
bool arises_unmeasured(const Job& job, const CarModel& car, const SwingQuestion& question) {
    const DoorModel& door = car.doors[question.door];
    if (holds(question.cases, SwingCase::over_slam)) {
        return false;  // The same is said of the door moving.
    }
    if (holds(question.kinds, MovingKind::carried) && carries(job, door)) {
        return true;
    }
    const bool part_is_missing =
        std::any_of(door.missing_parts.begin(), door.missing_parts.end(),
                    [&](const MissingPart& part) { return holds(question.kinds, kind_of(part.kind)); });
    const bool only_carried =
        !car.pieces.empty() && std::all_of(job.skirt.pieces.begin(), job.skirt.pieces.end(),
                                           [&](const Piece& piece) { return piece.carried_by == door.name; });
    return part_is_missing || (holds(question.kinds, MovingKind::edge) && !only_carried);
}

Finding not_measured(const SwingQuestion& question, std::vector<std::string> missing) {
    Finding finding;
    finding.id = question.id;
    finding.title = question.title;
    finding.stage = Stage::swing;
    finding.state = State::not_measured;
    finding.why = "Nothing can be said of the gap yet.";
    finding.formula = gap_formula();
    finding.source = gap_source();
    finding.missing = std::move(missing);
    return finding;
}

}  // namespace

std::vector<SwingQuestion> swing_questions(const Job& job, const CarModel& car) {
    using enum SwingCase;
    using enum MovingKind;
    const Limits& limits = job.limits;
    std::vector<SwingQuestion> questions;
    for (std::size_t d = 0; d < car.doors.size(); ++d) {
        const std::string& name = car.doors[d].name;
        const auto add = [&](const char* what, const char* words, std::vector<SwingCase> cases,
                             std::vector<MovingKind> kinds, const Entry& asked) {
            questions.push_back({d, "swing/" + name + "/" + what, name + " to skirt, " + words, std::move(cases),
                                 std::move(kinds), asked});
        };
        add("shut", "shut", {striker, released}, {edge, cladding, carried}, limits.gap_shut);
        add("moving", "moving", {moving}, {edge}, limits.gap_moving_edge);
        add("cladding moving", "its cladding moving", {moving}, {cladding}, limits.gap_moving_cladding);
        add("carried moving", "what it carries moving", {moving}, {carried}, limits.gap_moving_edge);
        add("past shut", "slammed past shut", {over_slam}, {edge, carried}, limits.gap_moving_edge);
        add("cladding past shut", "its cladding slammed past shut", {over_slam}, {cladding},
            limits.gap_moving_cladding);
    }
    return questions;
}

namespace {

/// The least gap with the door fully open, deviations taken off; none if it was not swung.
std::optional<Length> gap_at_stop(const std::vector<SwingOutcome>& outcomes) {
    std::optional<Length> least;
    for (const SwingOutcome& outcome : outcomes) {
        if (outcome.at_stop) {
            const Length gap = *outcome.at_stop - deviations(outcome);
            least = std::min(least.value_or(gap), gap);
        }
    }
    return least;
}

}  // namespace

Result<SwingAnswer> swing_answer(const Job& job, const CarModel& car, const SwingQuestion& question,
                                 const BodyModel* body, const geometry::Watch& watch) {
    return swing_answer(job, car, question, body,
                        [&](const SwingPair& pair, SwingCase which) { return swing_outcome(car, pair, which, watch); });
}

Result<SwingAnswer> swing_answer(const Job& job, const CarModel& car, const SwingQuestion& question,
                                 const BodyModel* body, const TellOutcome& tell) {
    SwingAnswer answer;
    bool arises = false;
    for (const SwingPair& pair : swing_pairs(job, car, question.door, body)) {
        if (std::find(question.kinds.begin(), question.kinds.end(), pair.kind) == question.kinds.end()) {
            continue;
        }
        arises = true;
        for (const SwingCase which : question.cases) {
            auto outcome = tell(pair, which);
            if (!outcome) {
                return outcome.error();
            }
            if (outcome.value()) {
                answer.outcomes.push_back(*outcome.value());
            }
        }
    }
    if (!answer.outcomes.empty()) {
        std::vector<Judged> judged;
        for (const SwingOutcome& outcome : answer.outcomes) {
            judged.push_back(judge(job, car, outcome, question.asked));
        }
        const auto worst = std::min_element(judged.begin(), judged.end(),
                                            [](const Judged& a, const Judged& b) { return a.margin() < b.margin(); });
        answer.worst = static_cast<std::size_t>(worst - judged.begin());
        answer.finding = finding_of(job, car, question, *worst, all_missing(judged, lacking(job, car, question)));
        if (const auto gap = gap_at_stop(answer.outcomes)) {
            answer.finding->inputs.push_back({"gap with the door at its stop", mm_text(*gap)});
        }
        return answer;
    }
    if (arises || arises_unmeasured(job, car, question)) {
        std::vector<std::string> missing = lacking(job, car, question);
        if (missing.empty()) {  // The door has bodies, but none of those that are asked for.
            missing.push_back("the lower edge of " + car.doors[question.door].name);
        }
        answer.finding = not_measured(question, std::move(missing));
        answer.finding->place.door = car.doors[question.door].name;
    }
    return answer;
}

Result<SwingReport> check_swing(const Job& job, const CarModel& car, const geometry::Watch& watch) {
    auto body = carried_against(job, car);
    if (!body) {
        return body.error();
    }
    return check_swing(job, car, std::move(body).value(),
                       [&](const SwingPair& pair, SwingCase which) { return swing_outcome(car, pair, which, watch); });
}

bool stands_against_body(const Job& job, const CarModel& car) {
    return car.body && std::any_of(job.skirt.pieces.begin(), job.skirt.pieces.end(),
                                   [](const Piece& piece) { return piece.carried_by != "body"; });
}

Result<std::shared_ptr<const BodyModel>> carried_against(const Job& job, const CarModel& car) {
    if (!stands_against_body(job, car)) {
        return std::shared_ptr<const BodyModel>{};
    }
    auto surface = body_surface(*car.body, k_check_deviation);
    if (!surface) {
        return surface.error();
    }
    return std::make_shared<const BodyModel>(std::move(surface).value());
}

Result<SwingReport> check_swing(const Job& job, const CarModel& car, std::shared_ptr<const BodyModel> body,
                                const TellOutcome& tell) {
    SwingReport report;
    report.body = std::move(body);
    for (const SwingQuestion& question : swing_questions(job, car)) {
        auto answered = swing_answer(job, car, question, report.body.get(), tell);
        if (!answered) {
            return answered.error();
        }
        SwingAnswer answer = std::move(answered).value();
        if (answer.finding) {
            report.findings.push_back(std::move(*answer.finding));
        }
        report.outcomes.insert(report.outcomes.end(), answer.outcomes.begin(), answer.outcomes.end());
    }
    if (car.doors.empty()) {
        report.findings.push_back(not_measured({0, "swing/doors", "doors to skirt", {}, {}, {}}, {"the doors"}));
    }
    return report;
}

}  // namespace sillwright::core
