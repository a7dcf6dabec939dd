#include "core/keep_outs/keep_out_findings.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <utility>

#include "core/drawn_loft.h"
#include "core/edit/field_change.h"
#include "core/finding_state.h"
#include "core/keep_outs/room_mend.h"
#include "core/number_text.h"
#include "core/sill_frame.h"
#include "geometry/body_distance.h"
#include "geometry/distance_tree.h"

namespace sillwright::core {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::BodyDistance;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

/// Between the distance reached and the one proven: fine where it is near, of what is far off a hundredth.
constexpr geometry::BodyQuestion k_question{millimetres(0.01), 0.01};
/// About 95 %.
constexpr double k_sd_factor = 2.0;

/// What is not measured of a fastener is no more than this: common practice, no source.
constexpr double k_longest_tail_mm = 60.0;
constexpr double k_thickest_panel_mm = 4.0;
constexpr double k_thickest_shank_mm = 12.0;
constexpr double k_unsurest_sd_mm = 2.5;

/// A tail is cut in steps of this.
constexpr double k_tail_step_mm = 0.1;

/// By kind of keep-out: what is usual, and the caution that its findings carry.
struct Usual {
    KeepOutKind kind;
    double clearance_mm;
    const char* caution;
};
/// Clearances: common practice, no source.
constexpr std::array<Usual, 9> k_usual{{
    {KeepOutKind::jacking, 20.0, "Lift the car only where and how its maker's repair manual says."},
    {KeepOutKind::drain, 6.0, "A drain stays open: never tape, seal or cover it."},
    {KeepOutKind::sensor, 10.0,
     "Near a sensor of the restraints nothing is drilled, bridged or stiffened; the repair manual of the car has the "
     "last word."},
    {KeepOutKind::belt, 10.0,
     "Near a belt or its tensioner nothing is drilled or fixed; leave work on restraints to those licensed for it."},
    {KeepOutKind::high_voltage, 10.0,
     "High voltage kills: nothing goes through near it, and work there is for those licensed for it, by the car's "
     "repair manual."},
    {KeepOutKind::line, 10.0, "Brake, fuel and wiring lines must not be drilled, clamped or rubbed."},
    {KeepOutKind::exhaust, 60.0, "With a heat shield 35 mm are usual; plastic sheet must stay cooler than it bears."},
    {KeepOutKind::tyre, 15.0, "Turn the wheel from lock to lock with the car down and raised before it is driven."},
    {KeepOutKind::other, 5.0, ""},
}};

const Usual& usual(KeepOutKind kind) {
    return *std::find_if(k_usual.begin(), k_usual.end(), [kind](const Usual& one) { return one.kind == kind; });
}

std::optional<Length> value_of(const std::optional<Entry>& entry) {
    return entry ? std::optional(entry->value) : std::nullopt;
}

Input length_input(const std::string& name, double mm) {
    return {name, mm_text(millimetres(mm))};
}

/// What a distance must be.
class Need {
public:
    Need(const std::string& name, Length asked) : required_{in_mm(asked)} { inputs_.push_back({name, mm_text(asked)}); }

    void add_film(const std::string& name, const std::optional<Entry>& film) {
        if (film) {
            required_ += in_mm(film->value);
            inputs_.push_back({name, mm_text(film->value)});
        } else {
            missing_.push_back(name);
        }
    }
    void add_sd(const std::string& name, std::optional<Length> sd) {
        if (sd) {
            variance_ += in_mm(*sd) * in_mm(*sd);
            inputs_.push_back({name, mm_text(*sd)});
            unsure_by_.push_back({name, in_mm(*sd)});
        } else {
            missing_.push_back(name);
        }
    }
    [[nodiscard]] double mm() const { return required_ + k_sd_factor * std::sqrt(variance_); }

    void put_into(Finding& finding) const {
        finding.required = mm();
        finding.inputs = inputs_;
        finding.unsure_by = unsure_by_;
        std::stable_sort(finding.unsure_by.begin(), finding.unsure_by.end(),
                         [](const UnsureBy& a, const UnsureBy& b) { return a.sd > b.sd; });
        finding.missing.insert(finding.missing.end(), missing_.begin(), missing_.end());
    }

private:
    double required_ = 0.0, variance_ = 0.0;
    std::vector<Input> inputs_;
    std::vector<UnsureBy> unsure_by_;
    std::vector<std::string> missing_;
};

/// Something held against what must stay free.
struct Held {
    std::string what;   ///< "skirt", "the tip of H1's fastener"
    std::string other;  ///< "front jacking pad", "the way of a lift's arm"
    std::optional<std::size_t> piece, mount;
    BodyDistance distance;
    double found_mm = 0.0;  ///< Proven; of bodies that touch, less a depth that is reached at least.
    bool depth_known = true;
    Need need;

    [[nodiscard]] double margin() const { return found_mm - need.mm(); }
};

Held held(const BodyDistance& distance, double taken_off_mm, Need need) {
    Held one{{}, {}, {}, {}, distance, in_mm(distance.proven) - taken_off_mm, true, std::move(need)};
    if (distance.touches) {
        const double depth = in_mm(distance.depth) - taken_off_mm;
        one.depth_known = depth > 0.0;
        one.found_mm = -std::max(depth, 0.0);
    }
    return one;
}

Need need_of_part(const Job& job, const std::string& name, Length asked) {
    Need need(name, asked);
    need.add_film("paint film on the part", job.skirt.paint);
    need.add_sd("standard deviation of the survey", value_of(job.survey_sd));
    need.add_sd("standard deviation of forming", value_of(job.skirt.forming_sd));
    return need;
}

Held held_piece(const BodyModel& body, std::size_t piece, const KeepOutBody& other, const std::string& other_name,
                Need need) {
    Held one =
        held(geometry::body_distance(*body.tree, *other.tree, k_question), in_mm(body.mesh.deviation), std::move(need));
    one.what = body.name;
    one.other = other_name;
    one.piece = piece;
    return one;
}

/// A straight shank, and what is not known of it.
struct Shank {
    std::size_t mount = 0;
    double length_mm = 0.0;  ///< From the seat inwards.
    double radius_mm = 0.0;
    std::optional<Length> sd;
    std::vector<std::string> missing;
};

std::optional<Length> mount_sd(const CarModel& car, const Mount& mount) {
    if (const auto known = car.mount_covariances_mm2.find(mount.name); known != car.mount_covariances_mm2.end()) {
        const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> solver(known->second, Eigen::EigenvaluesOnly);
        return millimetres(std::sqrt(std::max(0.0, solver.eigenvalues().maxCoeff())));
    }
    std::optional<Length> most;
    for (const auto& sd : mount.sd) {
        if (!sd) {
            return std::nullopt;
        }
        most = std::max(most.value_or(sd->value), sd->value);
    }
    return most;
}

/// As long and as thick as it may be, or (`least`) as little as it must be.
Shank shank_of(const Job& job, const CarModel& car, const MountPlan& plan, std::size_t number, bool least) {
    const Mount& mount = job.mounts[number];
    const Fastener& fastener = mount.fastener;
    const std::string of_fastener = " of " + mount.name + "'s fastener";
    Shank shank;
    shank.mount = number;
    const auto known = [&](const std::optional<Entry>& entry, double most, const std::string& words) {
        if (entry) {
            return in_mm(entry->value);
        }
        shank.missing.push_back(words);
        return least ? 0.0 : most;
    };
    const double behind = mount.free_depth && !fastener.tail ? in_mm(mount.free_depth->value) : k_longest_tail_mm;
    shank.length_mm = known(mount.panel_thickness, k_thickest_panel_mm, "the panel's thickness at " + mount.name) +
                      known(fastener.tail, behind, "how far in the tail" + of_fastener + " goes");
    const HolePlan* const planned = plan.find(mount.name);
    if (!fastener.diameter && planned != nullptr && planned->screw_mm > 0.0) {
        shank.radius_mm = 0.5 * planned->screw_mm;
    } else {
        shank.radius_mm = 0.5 * known(fastener.diameter, k_thickest_shank_mm, "the diameter" + of_fastener);
    }
    shank.sd = mount_sd(car, mount);
    if (!shank.sd) {
        shank.missing.push_back("the standard deviation of " + mount.name + "'s along, out and up");
        shank.sd = least ? Length{} : millimetres(k_unsurest_sd_mm);
    }
    return shank;
}

geometry::DistanceTree tree_of_straight(const Vector3d& from, const Vector3d& to) {
    return std::move(geometry::DistanceTree::build({{from, to}, {{0, 1, 1}}, {}})).value();
}

Vector3d shank_end(const Mount& mount, double length_mm) {
    return in_mm(mount.at) - length_mm * mount.axis.normalized();
}

Held held_shank(const Job& job, const Shank& shank, const KeepOutBody& other, const KeepOut& keep_out, Length asked,
                const std::string& asked_name) {
    const Mount& mount = job.mounts[shank.mount];
    const auto line = tree_of_straight(in_mm(mount.at), shank_end(mount, shank.length_mm));
    Need need(asked_name, asked);
    need.add_sd("standard deviation of the survey", value_of(job.survey_sd));
    need.add_sd("standard deviation of " + mount.name, shank.sd);
    Held one = held(geometry::body_distance(line, *other.tree, k_question), 0.0, std::move(need));
    if (!one.distance.touches) {  // A round shank about that line.
        one.found_mm -= shank.radius_mm;
        one.distance.touches = one.found_mm <= 0.0;
    }
    one.what = "the tip of " + mount.name + "'s fastener";
    one.other = keep_out.name;
    one.mount = shank.mount;
    return one;
}

double box_gap(const Vector3d& a, const Vector3d& b, const KeepOutBody& body) {
    const Vector3d low = a.cwiseMin(b);
    const Vector3d high = a.cwiseMax(b);
    return (body.low_mm - high).cwiseMax(low - body.high_mm).cwiseMax(0.0).norm();
}

const Held* worst_of(const std::vector<Held>& all) {
    const auto worst =
        std::min_element(all.begin(), all.end(), [](const Held& a, const Held& b) { return a.margin() < b.margin(); });
    return worst == all.end() ? nullptr : &*worst;
}

void add_missing(Finding& finding, const std::vector<std::string>& words) {
    for (const std::string& one : words) {
        if (std::find(finding.missing.begin(), finding.missing.end(), one) == finding.missing.end()) {
            finding.missing.push_back(one);
        }
    }
}

std::string sentence(std::string words) {
    if (!words.empty() && words.front() >= 'a' && words.front() <= 'z') {
        words.front() = static_cast<char>(words.front() - 'a' + 'A');
    }
    return words;
}

void put_worst(Finding& finding, const Job& job, const CarModel& car, const Held& worst, const char* caution) {
    const BodyDistance& distance = worst.distance;
    worst.need.put_into(finding);
    if (worst.depth_known) {
        finding.found = worst.found_mm;
        finding.margin = worst.margin();
    }
    std::string where;
    if (worst.piece) {
        const PieceModel& piece = car.pieces[*worst.piece];
        finding.inputs.push_back(
            length_input("deviation of the part's mesh, taken off", in_mm(piece.body->mesh.deviation)));
        const std::string strip = strip_words(*piece.body, piece.line, distance.first_triangle);
        where = strip.empty() ? std::string() : ", at " + strip;
    }
    finding.place.along = millimetres(distance.on_first_mm.x());
    finding.place.on_part_mm = distance.on_first_mm;
    finding.place.on_other_mm = distance.on_second_mm;
    finding.place.words = at_place_words(job, *finding.place.along);
    if (worst.mount) {
        finding.place.mount = job.mounts[*worst.mount].name;
    }
    if (!distance.touches) {
        finding.why = sentence(worst.what + " comes within " + mm_text(millimetres(worst.found_mm)) + " of " +
                               worst.other + where + "; proven nowhere nearer.");
    } else if (worst.depth_known) {
        finding.why = sentence(worst.what + " reaches into " + worst.other + where + ", at least " +
                               mm_text(millimetres(-worst.found_mm)) + " deep.");
    } else {
        finding.why = sentence(worst.what + " touches, or nearly touches, " + worst.other + where + ".");
    }
    if (*caution != '\0') {
        finding.why += std::string(" ") + caution;
    }
}

void put_state(Finding& finding, const Job& job, const Held* worst) {
    const bool through = worst != nullptr && worst->distance.touches && !worst->depth_known;
    finding.state =
        through ? State::falls_short : state_of(finding.margin, in_mm(job.limits.close_band.value), finding.missing);
}

/// The way in which the gap opens for the first of two bodies.
Vector2d way_out(const BodyDistance& distance, const KeepOutBody& other) {
    const Vector3d gap = distance.on_first_mm - distance.on_second_mm;
    Vector3d away = distance.touches ? Vector3d(-gap) : gap;
    if (away.tail<2>().isZero()) {  // They cross and no corner says how deep: from the middle of what must be free.
        away = distance.on_first_mm - 0.5 * (other.low_mm + other.high_mm);
    }
    const Vector2d in_section(away.y(), away.z());
    return in_section.isZero() ? Vector2d(0.0, -1.0) : Vector2d(in_section.normalized());
}

/// A body that must stay free of the part, by so much.
struct Against {
    const KeepOutBody* body;
    std::string name;
    Need need;
};

std::vector<Held> held_pieces(const CarModel& car, const Job& job, const std::vector<Against>& all) {
    std::vector<Held> result;
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        if (job.skirt.pieces[i].carried_by == "body" && car.pieces[i].body) {
            for (const Against& one : all) {
                result.push_back(held_piece(*car.pieces[i].body, i, *one.body, one.name, one.need));
            }
        }
    }
    return result;
}

std::optional<Mend> mend_of_piece(const Job& job, const CarModel& car, std::size_t piece,
                                  const std::vector<Against>& all) {
    return room_mend(job, piece, car.pieces[piece], [&](const PieceModel& model) {
        const Held* worst = nullptr;
        const KeepOutBody* other = nullptr;
        std::vector<Held> held_here;
        held_here.reserve(all.size());
        for (const Against& one : all) {
            held_here.push_back(held_piece(*model.body, piece, *one.body, one.name, one.need));
            if (worst == nullptr || held_here.back().margin() < worst->margin()) {
                worst = &held_here.back();
                other = one.body;
            }
        }
        return Room{worst->margin(), worst->distance.on_first_mm, way_out(worst->distance, *other),
                    worst->distance.first_triangle};
    });
}

void missing_of_pieces(Finding& finding, const Job& job, const CarModel& car) {
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        if (job.skirt.pieces[i].carried_by == "body") {
            add_missing(finding, car.pieces[i].missing);
        }
    }
    if (car.pieces.empty()) {
        add_missing(finding, {"the skirt"});
    }
}

class OneKeepOut {
public:
    OneKeepOut(const Job& job, const CarModel& car, const MountPlan& plan, const KeepOut& keep_out,
               const KeepOutBody& body)
        : job_{job}, car_{car}, plan_{plan}, keep_out_{keep_out}, body_{body} {}

    Finding finding(Mends mends) {
        Finding finding;
        finding.id = "mounts/keep-out/" + keep_out_.name;
        finding.title = sentence(keep_out_.name) + " stays free";
        finding.place.keep_out = keep_out_.name;
        finding.formula =
            "least distance of part and fasteners' tips >= clearance + paint on the part + 2 sqrt(survey^2 + "
            "forming^2); of a tip: clearance + 2 sqrt(survey^2 + mount^2)";
        finding.source =
            keep_out_.clearance
                ? "clearance as the job has it; deviations: root sum of squares, twice for about 95 %"
                : "clearance: common practice, no source; deviations: root sum of squares, twice for about "
                  "95 %";
        if (!body_.tree) {
            finding.why = "Nothing can be said of " + keep_out_.name + " yet.";
            finding.missing = body_.missing;
            return finding;
        }
        all_ = held_pieces(car_, job_, against());
        missing_of_pieces(finding, job_, car_);
        hold_shanks(finding);
        const Held* const worst = worst_of(all_);
        if (worst == nullptr) {
            finding.why = "There is nothing yet to hold against " + keep_out_.name + ".";
            return finding;
        }
        put_worst(finding, job_, car_, *worst, usual(keep_out_.kind).caution);
        finding.place.keep_out = keep_out_.name;
        put_nearest(finding);
        put_state(finding, job_, worst);
        if (finding.state == State::falls_short && mends == Mends::look_for) {
            finding.mend = mend(*worst);
        }
        return finding;
    }

private:
    [[nodiscard]] Length asked() const {
        return keep_out_.clearance ? keep_out_.clearance->value : usual_clearance(keep_out_.kind);
    }
    [[nodiscard]] std::string asked_name() const {
        return keep_out_.clearance ? "clearance asked for" : "clearance, as is usual";
    }
    [[nodiscard]] std::vector<Against> against() const {
        return {{&body_, keep_out_.name, need_of_part(job_, asked_name(), asked())}};
    }
    [[nodiscard]] Held held_by(const Shank& shank) const {
        return held_shank(job_, shank, body_, keep_out_, asked(), asked_name());
    }

    void hold_shanks(Finding& finding) {
        for (std::size_t i = 0; i < job_.mounts.size(); ++i) {
            if (job_.mounts[i].use == MountUse::unused) {
                continue;
            }
            const Shank most = shank_of(job_, car_, plan_, i, false);
            const double far = box_gap(in_mm(job_.mounts[i].at), shank_end(job_.mounts[i], most.length_mm), body_);
            if (far > in_mm(asked()) + k_far_mm) {
                continue;
            }
            Held one = held_by(most);
            if (most.missing.empty() || one.margin() >= 0.0) {
                all_.push_back(std::move(one));
                continue;
            }
            // It may be too near: by what is known alone it need not be.
            add_missing(finding, most.missing);
            if (Held least = held_by(shank_of(job_, car_, plan_, i, true)); least.margin() < 0.0) {
                all_.push_back(std::move(least));
            }
        }
    }

    void put_nearest(Finding& finding) const {
        std::optional<double> part;
        std::optional<double> tip;
        for (const Held& one : all_) {
            auto& least = one.piece ? part : tip;
            least = std::min(least.value_or(one.found_mm), one.found_mm);
        }
        if (part) {
            finding.inputs.push_back(length_input("nearest of the part", *part));
        }
        if (tip) {
            finding.inputs.push_back(length_input("nearest of the fasteners' tips", *tip));
        }
    }

    [[nodiscard]] std::optional<Mend> mend(const Held& worst) const {
        if (worst.mount) {
            return shorter_tail(worst);
        }
        auto found = mend_of_piece(job_, car_, *worst.piece, against());
        if (found) {
            // The mend is for the part: a tip that is too near as well keeps the finding down.
            double others = *found->proven_margin;
            for (const Held& one : all_) {
                others = one.piece == worst.piece ? others : std::min(others, one.margin());
            }
            found->proven_margin = others;
            return others >= 0.0 ? found
                                 : words("Move the part's nodes there as far as this: " + found->words +
                                         " Then see to what else is too near.");
        }
        return words("The part needs " + mm_text(millimetres(-worst.margin()), 1) + " more room at " + keep_out_.name +
                     ". No move of single nodes was found for it: draw the part back there or cut it out.");
    }

    [[nodiscard]] static std::optional<Mend> words(std::string text) { return Mend{std::move(text), {}, {}}; }

    [[nodiscard]] std::optional<Mend> shorter_tail(const Held& worst) const {
        const Mount& mount = job_.mounts[*worst.mount];
        const auto margin = [&](double tail_mm) {
            Shank shank = shank_of(job_, car_, plan_, *worst.mount, true);
            shank.length_mm += tail_mm - (mount.fastener.tail ? in_mm(mount.fastener.tail->value) : 0.0);
            double least = held_by(shank).margin();
            for (const Held& one : all_) {
                least = one.mount == worst.mount ? least : std::min(least, one.margin());
            }
            return least;
        };
        if (!mount.fastener.tail || margin(0.0) < 0.0) {
            return words("No fastener is short enough at " + mount.name +
                         ": leave that mount unused, or take one that " + "stays in front of the panel.");
        }
        double enough = 0.0;
        double too_long = in_mm(mount.fastener.tail->value);
        while (too_long - enough > 0.5 * k_tail_step_mm) {
            const double middle = 0.5 * (enough + too_long);
            (margin(middle) >= 0.0 ? enough : too_long) = middle;
        }
        const double tail = std::floor(enough / k_tail_step_mm) * k_tail_step_mm;
        Mend mend{"Take a fastener for " + mount.name + " whose tail goes in no further than " +
                      mm_text(millimetres(tail), 1) + ".",
                  {},
                  margin(tail)};
        mend.changes.push_back(
            length_change(job_, "/mounts/" + std::to_string(*worst.mount) + "/fastener/tail", millimetres(tail)));
        return mend;
    }

    /// A fastener is not looked at further off than the clearance and this: more than any deviation and any shank.
    static constexpr double k_far_mm = 50.0;

    const Job& job_;
    const CarModel& car_;
    const MountPlan& plan_;
    const KeepOut& keep_out_;
    const KeepOutBody& body_;
    std::vector<Held> all_;
};

Finding lift_finding(const Job& job, const CarModel& car, const KeepOut& keep_out, const LiftRoom& room, Mends mends) {
    Finding finding;
    finding.id = "mounts/lift/" + keep_out.name;
    finding.title = "Jack and lift reach " + keep_out.name;
    finding.place.keep_out = keep_out.name;
    finding.formula =
        "part to the way of a lift's arm (150 along, 150 down, open outwards) >= spare + paint + 2 sqrt(survey^2 + "
        "forming^2); to the room for a jack (120 x 90 x 150) >= paint + 2 sqrt(survey^2 + forming^2)";
    finding.source = "sizes of jack and arm, and the spare: common practice, no source";
    const std::vector<Against> all{
        {&room.arm, "the way of a lift's arm", need_of_part(job, "spare beside the arm", k_arm_spare)},
        {&room.jack, "the room for a jack", need_of_part(job, "spare beside the jack", Length{})}};
    const std::vector<Held> each = held_pieces(car, job, all);
    missing_of_pieces(finding, job, car);
    const Held* const worst = worst_of(each);
    if (worst == nullptr) {
        finding.why = "There is no part yet that could be in the way at " + keep_out.name + ".";
        return finding;
    }
    put_worst(finding, job, car, *worst, usual(KeepOutKind::jacking).caution);
    finding.inputs.push_back(length_input("lifting face, up", room.jack.high_mm.z()));
    put_state(finding, job, worst);
    if (finding.state == State::falls_short && mends == Mends::look_for) {
        finding.mend = mend_of_piece(job, car, *worst->piece, all);
        if (finding.mend) {
            for (const Held& one : each) {
                if (one.piece != worst->piece) {
                    finding.mend->proven_margin = std::min(*finding.mend->proven_margin, one.margin());
                }
            }
        }
        if (!finding.mend || *finding.mend->proven_margin < 0.0) {
            finding.mend =
                Mend{"The part hangs " + mm_text(millimetres(-worst->margin()), 1) + " too low for lifting at " +
                         keep_out.name + ": raise it there, cut it out, or tell who lifts the car to take an adapter.",
                     {},
                     {}};
        }
    }
    return finding;
}

}  // namespace

Length usual_clearance(KeepOutKind kind) {
    return millimetres(usual(kind).clearance_mm);
}

std::vector<Finding> keep_out_findings(const Job& job, const CarModel& car, const MountPlan& plan,
                                       const KeepOutBodies& bodies, Mends mends) {
    std::vector<Finding> findings;
    for (std::size_t i = 0; i < job.keep_outs.size(); ++i) {
        findings.push_back(OneKeepOut(job, car, plan, job.keep_outs[i], bodies.bodies[i]).finding(mends));
        if (bodies.lifts[i]) {
            findings.push_back(lift_finding(job, car, job.keep_outs[i], *bodies.lifts[i], mends));
        }
    }
    return findings;
}

std::vector<Finding> keep_out_findings(const Job& job, const CarModel& car, const MountPlan& plan, Mends mends) {
    return keep_out_findings(job, car, plan, keep_out_bodies(job), mends);
}

}  // namespace sillwright::core
