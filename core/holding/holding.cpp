#include "core/holding/holding.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

#include "core/drawn_loft.h"
#include "core/edit/field_change.h"
#include "core/finding_state.h"
#include "core/holding/beam_cases.h"
#include "core/holding/buckling.h"
#include "core/material.h"
#include "core/number_text.h"
#include "core/skirt/fluted_section.h"
#include "core/typed.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::in_mpa;
using geometry::in_newtons;
using geometry::Length;
using geometry::millimetres;

namespace {

constexpr const char* k_practice = "common practice, no source";
constexpr const char* k_beam = "continuous beam on its mounts (Euler, Bernoulli); loads: common practice, no source";
constexpr double k_percent = 100.0;
/// Sheets are tried in these steps, up to so much: what is to be had in shops; no source.
constexpr double k_sheet_step_mm = 0.5;
constexpr double k_thickest_mm = 12.0;
/// What a fastener must hold is told in whole steps of this.
constexpr double k_hold_step_n = 10.0;

std::string newton_text(double n) {
    return fixed_text(n, 1) + " N";
}

std::string percent_text(double part, int decimals = 3) {
    return fixed_text(k_percent * part, decimals) + " %";
}

const char* kind_words(LoadKind kind) {
    switch (kind) {
        case LoadKind::weight:
            return "weight";
        case LoadKind::shaking:
            return "shaking";
        case LoadKind::air:
            return "air";
        case LoadKind::foot:
            return "a foot";
        case LoadKind::heel:
            return "a heel";
    }
    return "";
}

/// A load and what it does.
struct Outcome {
    LoadCase load;
    BeamAnswer does;
};

/// A piece, computed once for all its findings.
struct Held {
    const Job& job;
    const Piece& piece;
    const geometry::Loft& line;
    const MaterialNumbers& material;
    const PartBeam& part;
    const std::vector<Outcome>& outcomes;
    const FormedSheet* formed;
};

Finding blank(const Piece& piece, const std::string& name, const std::string& title) {
    Finding finding;
    finding.id = "mounts/" + piece.name + "/" + name;
    finding.title = piece.name + ", " + title;
    finding.stage = Stage::mounts;
    finding.at_least = false;
    finding.formula = "the part as a beam on its mounts under weight, air, shaking, a foot and a heel";
    finding.source = k_beam;
    return finding;
}

/// What passing loads lack.
std::vector<std::string> missing_loads(const Job& job, const MaterialNumbers& material, const PartBeam& part) {
    std::vector<std::string> missing;
    if (!material.density_kg_per_m3) {
        missing.emplace_back("the sheet material, or its density");
    }
    if (!job.loads.stepping) {
        missing.emplace_back("whether people may step on the part");
    }
    if (part.places.empty()) {
        missing.emplace_back("a shelf from \"shelf inner\" to \"shelf edge\", for a foot and a heel");
    }
    return missing;
}

void put_numbers(Finding& finding, double found, std::optional<double> required, double band) {
    finding.found = found;
    finding.required = required;
    if (required) {
        finding.margin = *required - found;
    }
    finding.state = state_of(finding.margin, band, finding.missing);
}

void put_place(Finding& finding, const Job& job, Length along) {
    finding.place.along = along;
    finding.place.words = at_place_words(job, along);
}

/// "flutes add 2.6 % to the whole section": with and without, where the flutes are.
void add_flutes(Finding& finding, const Held& held, Length at) {
    if (held.piece.flutes.empty()) {
        return;
    }
    const auto with = part_section(held.piece, held.line, at, Flutes::cut, held.formed);
    const auto without = part_section(held.piece, held.line, at, Flutes::left_out, held.formed);
    if (!with || !without) {
        return;
    }
    const double gain = with.value().down.second_mm4 / without.value().down.second_mm4 - 1.0;
    finding.inputs.push_back({"stiffness with flutes", fixed_text(with.value().down.second_mm4, 0) + " mm⁴"});
    finding.inputs.push_back({"stiffness without flutes", fixed_text(without.value().down.second_mm4, 0) + " mm⁴"});
    finding.inputs.push_back({"flutes add to the whole section", fixed_text(k_percent * gain, 1) + " %"});
}

void add_section(Finding& finding, const Held& held, Length at) {
    for (const PartSection& section : held.part.sections) {
        if (at >= section.from && at <= section.to) {
            finding.inputs.push_back({"section area", fixed_text(section.moments.area_mm2, 1) + " mm²"});
            finding.inputs.push_back({"second moment, loads down", fixed_text(section.down.second_mm4, 0) + " mm⁴"});
            finding.inputs.push_back({"second moment, across", fixed_text(section.across.second_mm4, 0) + " mm⁴"});
            break;
        }
    }
    add_flutes(finding, held, at);
}

/// The greatest of every kind of load, by `value`; none of a kind that is not there.
template <class Value>
std::map<LoadKind, const Outcome*> greatest(const std::vector<Outcome>& outcomes, const Value& value) {
    std::map<LoadKind, const Outcome*> most;
    for (const Outcome& one : outcomes) {
        const Outcome*& best = most[one.load.kind];
        if (best == nullptr || value(one) > value(*best)) {
            best = &one;
        }
    }
    return most;
}

template <class Value>
const Outcome* worst_of(const std::map<LoadKind, const Outcome*>& kinds, const Value& value) {
    const Outcome* worst = nullptr;
    for (const auto& [kind, one] : kinds) {
        if (worst == nullptr || value(*one) > value(*worst)) {
            worst = one;
        }
    }
    return worst;
}

Finding deflection_finding(const Held& held) {
    Finding finding = blank(held.piece, "deflection", "deflection under load, hot");
    finding.formula = "greatest deflection of the beam on its mounts, EI by section and hot modulus <= limit";
    finding.missing = missing_loads(held.job, held.material, held.part);
    const auto& hot = held.material.hot_modulus;
    if (!hot) {
        finding.missing.emplace_back("the sheet material, or its modulus when hot");
        finding.why = "How far the part bends under load is not known without the sheet's modulus.";
        return finding;
    }
    const auto value = [](const Outcome& one) { return one.load.lasting ? 0.0 : one.does.deflection_mm_mpa; };
    const auto kinds = greatest(held.outcomes, value);
    const Outcome* const worst = worst_of(kinds, value);
    const double limit = in_mm(held.job.loads.deflection_most.value);
    for (const auto& [kind, one] : kinds) {
        if (!one->load.lasting) {
            finding.inputs.push_back({std::string("by ") + kind_words(kind),
                                      mm_text(millimetres(value(*one) / in_mpa(*hot)), 3) + ", " + one->load.name});
        }
    }
    finding.inputs.push_back({"modulus, hot", fixed_text(in_mpa(*hot), 0) + " MPa"});
    if (held.material.modulus) {
        finding.inputs.push_back(
            {"the same at 23 °C", mm_text(millimetres(value(*worst) / in_mpa(*held.material.modulus)), 3)});
    }
    add_section(finding, held, worst->does.deflection_at);
    put_numbers(finding, value(*worst) / in_mpa(*hot), limit,
                close_band_within(in_mm(held.job.limits.close_band.value), limit));
    put_place(finding, held.job, worst->does.deflection_at);
    finding.why =
        "Hot, the part bends by " + mm_text(millimetres(*finding.found), 3) + " under " + worst->load.name + ".";
    return finding;
}

Finding strain_finding(const Held& held) {
    Finding finding = blank(held.piece, "strain", "strain of the sheet, percent");
    finding.unit = Unit::none;
    finding.formula = "moment / section modulus / modulus (hot; by creep under its own weight) <= strain that it bears";
    finding.missing = missing_loads(held.job, held.material, held.part);
    const auto& hot = held.material.hot_modulus;
    const auto& creep = held.material.creep_modulus;
    if (!hot) {
        finding.missing.emplace_back("the sheet material, or its modulus when hot");
    }
    if (!creep) {
        finding.missing.emplace_back("the sheet material, or its modulus after 1 000 h");
    }
    if (!held.material.strain_most) {
        finding.missing.emplace_back("the sheet material, or the strain that it bears");
    }
    if (!hot) {
        finding.why = "How far the sheet is stretched under load is not known without its modulus.";
        return finding;
    }
    const auto value = [&](const Outcome& one) {
        const auto& modulus = one.load.lasting ? creep : hot;
        return modulus ? one.does.stress_mpa / in_mpa(*modulus) : 0.0;
    };
    const auto kinds = greatest(held.outcomes, value);
    const Outcome* const worst = worst_of(kinds, value);
    for (const auto& [kind, one] : kinds) {
        finding.inputs.push_back(
            {std::string("by ") + kind_words(kind), percent_text(value(*one)) + ", " + one->load.name});
    }
    finding.inputs.push_back({"stress at the worst", fixed_text(worst->does.stress_mpa, 2) + " MPa"});
    add_section(finding, held, worst->does.stress_at);
    const auto limit = held.material.strain_most ? std::optional(k_percent * *held.material.strain_most) : std::nullopt;
    put_numbers(finding, k_percent * value(*worst), limit, limit ? close_band_within(*limit, *limit) : 0.0);
    put_place(finding, held.job, worst->does.stress_at);
    finding.why =
        "The sheet is stretched most, by " + percent_text(value(*worst)) + ", under " + worst->load.name + ".";
    return finding;
}

Finding sag_finding(const Held& held) {
    Finding finding = blank(held.piece, "sag", "sag under its own weight");
    finding.formula = "deflection of the beam under its weight, by the creep modulus (1 000 h) <= limit";
    const auto& creep = held.material.creep_modulus;
    if (!held.material.density_kg_per_m3) {
        finding.missing.emplace_back("the sheet material, or its density");
    }
    if (!creep) {
        finding.missing.emplace_back("the sheet material, or its modulus after 1 000 h");
    }
    const auto weight =
        std::find_if(held.outcomes.begin(), held.outcomes.end(), [](const Outcome& one) { return one.load.lasting; });
    if (!creep || weight == held.outcomes.end()) {
        finding.why = "How far the part sags in time is not known yet.";
        return finding;
    }
    double newtons = 0.0;
    for (const geometry::SpreadLoad& load : weight->load.loads.spread) {
        newtons += load.n_per_mm * in_mm(load.to - load.from);
    }
    finding.inputs.push_back({"weight", newton_text(newtons) + ", " + fixed_text(newtons / k_fall, 2) + " kg"});
    finding.inputs.push_back({"modulus after 1 000 h", fixed_text(in_mpa(*creep), 0) + " MPa"});
    add_section(finding, held, weight->does.deflection_at);
    const double limit = in_mm(held.job.loads.deflection_most.value);
    put_numbers(finding, weight->does.deflection_mm_mpa / in_mpa(*creep), limit,
                close_band_within(in_mm(held.job.limits.close_band.value), limit));
    put_place(finding, held.job, weight->does.deflection_at);
    finding.why = "Under its own weight the part comes to sag by " + mm_text(millimetres(*finding.found), 3) + ".";
    return finding;
}

void add_levers(Finding& finding, const HeldBy& by, const Outcome& worst, std::size_t i) {
    finding.inputs.push_back({"reaction there", newton_text(worst.does.state.reactions_n()[i])});
    finding.inputs.push_back({"moment there", fixed_text(worst.does.moment_n_mm[i] / 1000.0, 2) + " Nm"});
    if (by.top_arm_mm) {
        finding.inputs.push_back({"the top edge takes", newton_text(std::abs(worst.does.top_n[i])) + " across, at " +
                                                            mm_text(millimetres(*by.top_arm_mm), 1)});
    } else {
        const bool down = worst.does.moment_n_mm[i] > 0.0;
        finding.inputs.push_back({down ? "arm to the flange's free edge" : "arm to the bend",
                                  mm_text(millimetres(down ? by.free_arm_mm : by.heel_arm_mm), 1)});
    }
}

Finding pull_finding(const Held& held, std::size_t i) {
    const HeldBy& by = held.part.held_by[i];
    const Mount& mount = *by.mount;
    Finding finding = blank(held.piece, "pull", "");
    finding.id = "mounts/" + mount.name + "/pull";
    finding.title = mount.name + ", pull on the fastener";
    finding.unit = Unit::newton;
    finding.formula =
        by.top_arm_mm ? "load along the fastener (the top edge takes the moment) <= share of what it holds"
                      : "load along the fastener + moment about along / arm to the edge that the flange levers about "
                        "<= share of what it holds";
    finding.source = "statics of the continuous beam; loads: common practice, no source";
    finding.missing = missing_loads(held.job, held.material, held.part);
    const auto value = [i](const Outcome& one) { return one.does.pull_n[i]; };
    const auto kinds = greatest(held.outcomes, value);
    const Outcome* const worst = worst_of(kinds, value);
    for (const auto& [kind, one] : kinds) {
        finding.inputs.push_back(
            {std::string("pulled by ") + kind_words(kind), newton_text(value(*one)) + ", " + one->load.name});
    }
    add_levers(finding, by, *worst, i);
    std::optional<double> most;
    const double share = held.job.loads.clip_share;
    if (mount.fastener.holds) {
        most = share * in_newtons(*mount.fastener.holds);
        finding.inputs.push_back({"it holds", newton_text(in_newtons(*mount.fastener.holds))});
        finding.inputs.push_back({"share that may be asked of it", fixed_text(share, 2)});
    } else {
        finding.missing.push_back("the force that " + mount.name + "'s fastener holds");
    }
    put_numbers(finding, value(*worst), most, most ? close_band_within(*most, *most) : 0.0);
    put_place(finding, held.job, millimetres(by.p_mm.x()));
    finding.place.words = mount.name + " " + finding.place.words;
    finding.place.mount = mount.name;
    finding.place.on_part_mm = by.p_mm;
    finding.why =
        mount.name + " is pulled most, by " + newton_text(value(*worst)) + ", under " + worst->load.name + ".";
    return finding;
}

Finding label_finding(const Piece& piece) {
    Finding finding = blank(piece, "step label", "warning label: no step");
    finding.unit = Unit::none;
    finding.formula = "nobody may step on the part: it is not computed for a foot";
    finding.source = k_practice;
    finding.state = state_of(0.0, 0.0, {});
    finding.why =
        "Nobody may step on this part: put a label that says so on its shelf, and say it on the fitting sheet.";
    return finding;
}

/// The piece's findings where nothing can be computed.
std::vector<Finding> unmeasured(const Piece& piece, const std::vector<std::string>& missing, const std::string& why) {
    std::vector<Finding> all;
    for (const auto& [name, title] :
         {std::pair{"deflection", "deflection under load, hot"}, std::pair{"strain", "strain of the sheet, percent"},
          std::pair{"sag", "sag under its own weight"}}) {
        Finding finding = blank(piece, name, title);
        finding.missing = missing;
        finding.why = why;
        all.push_back(std::move(finding));
    }
    return all;
}

std::optional<std::string> flute_fault(const Piece& piece, const geometry::Loft& line) {
    const std::vector<Length> places = line.key_places();
    for (std::size_t i = 0; i < places.size(); ++i) {
        for (const double part : {0.0, 0.5}) {
            const Length behind = i + 1 < places.size() ? places[i + 1] : places[i];
            const auto nodes = fluted_nodes(piece, line, places[i] + part * (behind - places[i]));
            if (!nodes) {
                return nodes.error().message;
            }
        }
    }
    return std::nullopt;
}

Finding flute_finding(const Piece& piece, const std::string& fault) {
    Finding finding = blank(piece, "flutes", "flutes on the shelf");
    finding.unit = Unit::none;
    finding.formula = "each flute lies between the shelf's roundings and clear of its neighbours";
    finding.source = "plane geometry";
    finding.state = State::falls_short;
    finding.why = fault;
    return finding;
}

std::vector<Finding> findings_of(const Job& job, const CarModel& car, const MountPlan& plan, std::size_t piece) {
    const Piece& drawn = job.skirt.pieces[piece];
    const PieceModel& model = car.pieces[piece];
    if (!model.line || !drawn.sheet) {
        std::vector<std::string> missing = model.missing;
        if (!model.line && missing.empty()) {
            missing.push_back("sections of " + drawn.name + " (a file does not say how thick it is)");
        } else if (!drawn.sheet && missing.empty()) {
            missing.push_back("the sheet thickness of " + drawn.name);
        }
        return unmeasured(drawn, missing, "How the part holds its form is not known yet.");
    }
    if (const auto fault = flute_fault(drawn, *model.line)) {
        std::vector<Finding> all{flute_finding(drawn, *fault)};
        return all;
    }
    const auto part = part_beam(job, car, plan, piece);
    if (!part) {
        const auto count = std::count_if(plan.holes.begin(), plan.holes.end(),
                                         [piece](const HolePlan& hole) { return hole.piece == piece; });
        return unmeasured(drawn,
                          {count < 2 ? "two fasteners that land on the flange of " + drawn.name
                                     : "a section that can be laid out: " + part.error().message},
                          "How the part holds its form is not known yet.");
    }
    const MaterialNumbers material = numbers_of(job.skirt.material);
    std::vector<Outcome> outcomes;
    for (LoadCase& load :
         load_cases(job.loads, material.density_kg_per_m3, part.value().sections, part.value().places)) {
        auto does = answer(part.value(), load);
        if (does) {
            outcomes.push_back({std::move(load), std::move(does).value()});
        } else {
            return unmeasured(drawn, {does.error().message}, "A load could not be computed.");
        }
    }
    const Held held{job, drawn, *model.line, material, part.value(), outcomes, model.formed.get()};
    std::vector<Finding> all;
    for (std::size_t i = 0; i < held.part.held_by.size(); ++i) {
        all.push_back(pull_finding(held, i));
    }
    all.push_back(deflection_finding(held));
    all.push_back(strain_finding(held));
    all.push_back(sag_finding(held));
    if (job.loads.stepping == Stepping::refused) {
        all.push_back(label_finding(drawn));
    }
    return all;
}

const Finding* find(const std::vector<Finding>& findings, const std::string& id) {
    const auto found = std::find_if(findings.begin(), findings.end(), [&](const Finding& one) { return one.id == id; });
    return found == findings.end() ? nullptr : &*found;
}

/// A fastener that holds more.
std::optional<Mend> hold_mend(const Job& job, const CarModel& car, const MountPlan& plan, std::size_t piece,
                              const Finding& finding) {
    const auto mount = std::find_if(job.mounts.begin(), job.mounts.end(),
                                    [&](const Mount& one) { return one.name == finding.place.mount; });
    if (mount == job.mounts.end() || !(job.loads.clip_share > 0.0)) {
        return std::nullopt;
    }
    const double needs = std::ceil(*finding.found / job.loads.clip_share / k_hold_step_n) * k_hold_step_n;
    const auto number = mount - job.mounts.begin();
    Job mended = job;
    mended.mounts[static_cast<std::size_t>(number)].fastener.holds = geometry::newtons(needs);
    const auto again = findings_of(mended, car, plan, piece);
    const Finding* const after = find(again, finding.id);
    if (after == nullptr || !after->margin || *after->margin < 0.0) {
        return std::nullopt;
    }
    return Mend{"Take a fastener that holds " + fixed_text(needs, 0) + " N at " + mount->name +
                    (job.skirt.pieces[piece].top_edge == TopEdgeFixing::screw ||
                             job.skirt.pieces[piece].top_edge == TopEdgeFixing::tape
                         ? "."
                         : ", or fix the top edge, which then takes the moment.") +
                    (job.loads.stepping == Stepping::stood_on ? " Or let nobody step on the part." : ""),
                {},
                after->margin,
                {number_change("/mounts/" + std::to_string(number) + "/fastener/holds_n", needs)}};
}

/// Thicker sheets, for all that bends too far: the thinnest that will do for each.
void put_sheet_mends(const Job& job, const CarModel& car, const MountPlan& plan, std::size_t piece,
                     std::vector<Finding*> fallen) {
    const double sheet = in_mm(job.skirt.pieces[piece].sheet->value);
    for (double t = (std::floor(sheet / k_sheet_step_mm) + 1.0) * k_sheet_step_mm;
         t <= k_thickest_mm && !fallen.empty(); t += k_sheet_step_mm) {
        Job mended = job;
        mended.skirt.pieces[piece].sheet = entry(millimetres(t));
        const auto again = findings_of(mended, car, plan, piece);
        std::erase_if(fallen, [&](Finding* finding) {
            const Finding* const after = find(again, finding->id);
            if (after == nullptr || !after->margin || *after->margin < 0.0) {
                return false;
            }
            finding->mend =
                Mend{"Take a sheet of " + mm_text(millimetres(t), 1) + ".",
                     {},
                     after->margin,
                     {length_change(job, "/skirt/pieces/" + std::to_string(piece) + "/sheet", millimetres(t))}};
            return true;
        });
    }
    for (Finding* finding : fallen) {
        finding->mend = Mend{"No sheet up to " + mm_text(millimetres(k_thickest_mm), 0) +
                                 " will do: put a fastener nearer to the place, or let nobody step there.",
                             {},
                             std::nullopt};
    }
}

void put_mends(const Job& job, const CarModel& car, const MountPlan& plan, std::size_t piece,
               std::vector<Finding>& findings) {
    std::vector<Finding*> bent;
    for (Finding& finding : findings) {
        if (finding.state != State::falls_short || !finding.margin) {
            continue;
        }
        if (finding.unit == Unit::newton) {
            finding.mend = hold_mend(job, car, plan, piece, finding);
        } else {
            bent.push_back(&finding);
        }
    }
    if (!bent.empty()) {
        put_sheet_mends(job, car, plan, piece, std::move(bent));
    }
}

}  // namespace

std::vector<Finding> holding_findings(const Job& job, const CarModel& car, const MountPlan& plan, Mends mends) {
    std::vector<Finding> all;
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        if (job.skirt.pieces[i].carried_by != "body") {
            continue;
        }
        std::vector<Finding> own = findings_of(job, car, plan, i);
        if (mends == Mends::look_for) {
            put_mends(job, car, plan, i, own);
        }
        std::move(own.begin(), own.end(), std::back_inserter(all));
        all.push_back(buckling_finding(job, plan, i, mends, &car.pieces[i]));
    }
    return all;
}

}  // namespace sillwright::core
