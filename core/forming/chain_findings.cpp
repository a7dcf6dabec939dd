#include "core/forming/chain_findings.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <utility>

#include "core/drawn_loft.h"
#include "core/edit/field_change.h"
#include "core/mounts/mount_finding.h"
#include "core/number_text.h"
#include "core/survey/solution.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

struct UsualShrinkage {
    const char* material;
    double shrinkage, sd;
};
/// Sheet formed over a mould. Source: bands of J. L. Throne and G. Gruenwald (from memory), ABS 0.5 to 0.8 %, PP 1.5 to
/// 2.2 %, HDPE 2 to 3 %, PC/ABS 0.5 to 0.7 %; ABS injected 0.4 to 0.9 % (misumi-techcentral.com, 2009/07/0004).
constexpr std::array<UsualShrinkage, 5> k_usual_sheets{{{"ABS", 0.006, 0.001},
                                                        {"ABS with acrylic face", 0.006, 0.001},
                                                        {"PC/ABS", 0.006, 0.001},
                                                        {"PP", 0.0185, 0.002},
                                                        {"HDPE", 0.025, 0.003}}};

constexpr const char* k_chain_source =
    "product of linear shrinkages: common practice, no source. Usual shrinkages: laminate 0.1 to 0.4 % (from memory); "
    "ABS 0.5 to 0.8 % thermoformed (Throne; Gruenwald, from memory), 0.4 to 0.9 % injected (misumi-techcentral.com)";

std::string percent_text(double share) {
    return fixed_text(100.0 * share, 3) + " %";
}

std::string pointer_of(std::size_t generation) {
    return "/forming/generations/" + std::to_string(generation);
}

bool is_negative(GenerationKind kind) {
    return kind == GenerationKind::female;
}

bool is_first_plug(const std::vector<ChainStep>& chain, std::size_t i) {
    return i == 0 && chain[i].kind == GenerationKind::plug;
}

/// A plug counts as male.
MouldKind last_mould(const std::vector<ChainStep>& chain) {
    return chain.size() > 1 && chain[chain.size() - 2].kind == GenerationKind::female ? MouldKind::female
                                                                                      : MouldKind::male;
}

const char* mould_word(MouldKind kind) {
    return kind == MouldKind::male ? "male" : "female";
}

/// Why a step cannot be made; empty if it can.
std::string fault_of(const Job& job, const std::vector<ChainStep>& chain, std::size_t i) {
    const GenerationKind kind = chain[i].kind;
    const GenerationKind before = i > 0 ? chain[i - 1].kind : GenerationKind::plug;
    const std::string before_name = i > 0 ? chain[i - 1].name : "the plug";
    if (before == GenerationKind::sheet) {
        return chain[i].name + " stands behind the sheet: nothing is taken off that.";
    }
    if (kind == GenerationKind::sheet) {
        return job.forming.mould && *job.forming.mould != last_mould(chain)
                   ? "The sheet would be formed on " + before_name + ", which is " + mould_word(last_mould(chain)) +
                         ", but the job says that its mould is " + mould_word(*job.forming.mould) + "."
                   : std::string{};
    }
    if (is_negative(kind) == is_negative(before)) {
        return chain[i].name + " cannot be taken off " + before_name +
               ": a female mould is taken off a male shape, a male off a female.";
    }
    return {};
}

void put_steps(Finding& finding, const std::vector<ChainStep>& chain) {
    for (std::size_t i = 0; i < chain.size(); ++i) {
        if (is_first_plug(chain, i)) {
            continue;
        }
        for (const bool across : {false, true}) {
            const ChainStep& step = chain[i];
            if (step.missing_in(across).empty()) {
                finding.inputs.push_back(
                    {step.name + " of the one before it, " + direction_word(across),
                     fixed_text(step.ratio(across), 5) + " (" + percent_text(step.ratio(across) - 1.0) + "), sd " +
                         percent_text(step.sd(across)) + (step.measured(across) ? ", by ticks" : ", assumed")});
            }
        }
        if (chain[i].hot_growth) {
            finding.inputs.push_back({"growth of the mould before " + chain[i].name + " when it runs",
                                      percent_text(*chain[i].hot_growth - 1.0)});
        }
    }
}

void put_whole(Finding& finding, const Job& job, const std::vector<ChainStep>& chain) {
    for (const bool across : {false, true}) {
        const ChainSize size = chain_size(chain, across);
        if (size.missing.empty()) {
            finding.inputs.push_back(
                {std::string("plug, of the part's mould face, ") + direction_word(across),
                 fixed_text(1.0 / size.ratio, 5) + ", sd " + percent_text(size.sd / (size.ratio * size.ratio))});
        }
    }
    const ChainSize along = chain_size(chain, false);
    const auto length = part_length(job);
    if (length && along.missing.empty()) {
        finding.inputs.push_back({"over the part's " + mm_text(*length, 0),
                                  "the plug is " + mm_text(*length * (1.0 / along.ratio - 1.0)) + " longer, sd " +
                                      mm_text(*length * (along.sd / (along.ratio * along.ratio)))});
    }
}

/// Without a mend.
Finding chain_state(const Job& job, const std::vector<ChainStep>& chain) {
    Finding finding;
    finding.id = "forming/chain";
    finding.title = "Mould chain, from the plug to the sheet";
    finding.stage = Stage::forming;
    finding.unit = Unit::none;
    finding.formula =
        "part = plug · product over the steps of (1 - shrinkage), or of (1 - shrinkage)(1 + α ΔT) where it is quoted "
        "from the hot mould; ticks measured cold on both replace it; every step can be made";
    finding.source = k_chain_source;
    put_steps(finding, chain);
    put_whole(finding, job, chain);
    for (const bool across : {false, true}) {
        for (const std::string& words : chain_size(chain, across).missing) {
            if (std::find(finding.missing.begin(), finding.missing.end(), words) == finding.missing.end()) {
                finding.missing.push_back(words);
            }
        }
    }
    if (!job.forming.mould) {
        finding.missing.insert(finding.missing.begin(), "whether the last mould is male or female");
    }
    std::string fault;
    int steps = 0, made = 0;
    for (std::size_t i = 0; i < chain.size(); ++i) {
        if (is_first_plug(chain, i)) {
            continue;
        }
        const std::string words = fault_of(job, chain, i);
        ++steps;
        made += words.empty() ? 1 : 0;
        fault = fault.empty() ? words : fault;
    }
    if (!fault.empty()) {
        put_numbers(finding, made, steps, true, 0.0);
        finding.why = fault;
    } else if (!finding.missing.empty()) {
        finding.why = "The plug's size is not known yet: " + finding.missing.front() + " is missing.";
    } else {
        put_numbers(finding, made, steps, true, 0.0);
        finding.why = "From the plug to the sheet in " + std::to_string(steps) + (steps == 1 ? " step" : " steps") +
                      ": the plug is " + fixed_text(1.0 / chain_size(chain, false).ratio, 4) +
                      " times as long as the part.";
    }
    return finding;
}

/// Changes, and what they assume in words.
struct Assumed {
    std::vector<std::string> words;
    std::vector<FieldChange> changes;
    bool all = true;  ///< Nothing is left for which there is no usual value.
};

struct Shrinkage {
    double value, sd;
    std::string of;
};

std::optional<Shrinkage> usual_of(const Job& job, GenerationKind kind) {
    if (kind != GenerationKind::sheet) {
        return Shrinkage{k_usual_laminate, k_usual_laminate_sd, "a laminate"};
    }
    const auto found = std::find_if(k_usual_sheets.begin(), k_usual_sheets.end(),
                                    [&](const UsualShrinkage& one) { return one.material == job.skirt.material.name; });
    return found == k_usual_sheets.end() ? std::nullopt
                                         : std::optional(Shrinkage{found->shrinkage, found->sd, found->material});
}

std::string usual_words(const Shrinkage& usual) {
    return percent_text(usual.value) + " of " + usual.of + " (sd " + percent_text(usual.sd) + ")";
}

void assume_step(const Job& job, std::size_t i, const std::vector<ChainStep>& chain, Assumed& assumed) {
    const Generation& generation = job.forming.generations[i];
    for (std::size_t k = 0; k < generation.ticks.size(); ++k) {
        const Tick& tick = generation.ticks[k];
        if (tick.before && tick.now && !tick.sd) {
            assumed.changes.push_back(
                length_change(job, pointer_of(i) + "/ticks/" + std::to_string(k) + "/sd", k_usual_tick_sd));
            assumed.words.push_back("ticks of " + generation.name + " read to " + mm_text(k_usual_tick_sd));
        }
    }
    const bool along = !chain[i].measured_along, across = !chain[i].measured_across;
    const auto usual = usual_of(job, generation.kind);
    const bool needs_along = along && !generation.shrink_along;
    const bool needs_across = across && !generation.shrink_across;
    const bool needs_sd = (along || across) && !generation.shrink_sd;
    if (generation.from_hot && (along || across) && (!generation.hot || !generation.expansion_per_k)) {
        assumed.all = false;  // how hot a shop runs its mould nobody else knows
    }
    if (!needs_along && !needs_across && !needs_sd) {
        return;
    }
    if (!usual) {
        assumed.all = false;
        return;
    }
    const auto put = [&](bool needs, const char* key, double value) {
        if (needs) {
            assumed.changes.push_back(number_change(pointer_of(i) + key, value));
        }
    };
    put(needs_along, "/shrink_along", usual->value);
    put(needs_across, "/shrink_across", usual->value);
    put(needs_sd, "/shrink_sd", usual->sd);
    assumed.words.push_back(usual_words(*usual) + " for " + generation.name);
}

std::string generation_json(const std::string& name, const char* kind, const std::optional<Shrinkage>& shrinkage) {
    std::string text = R"({"name": ")" + name + R"(", "kind": ")" + kind + "\"";
    if (shrinkage) {
        text += ", \"shrink_along\": " + number_text(shrinkage->value) +
                ", \"shrink_across\": " + number_text(shrinkage->value) +
                ", \"shrink_sd\": " + number_text(shrinkage->sd);
    }
    return text + "}";
}

/// Plug, female mould, male mould if the sheet is formed over one, sheet.
Assumed usual_list(const Job& job) {
    Assumed assumed;
    const auto laminate = usual_of(job, GenerationKind::female);
    const auto sheet = usual_of(job, GenerationKind::sheet);
    if (!sheet) {
        assumed.all = false;
        return assumed;
    }
    const bool male = *job.forming.mould == MouldKind::male;
    std::string json = "[" + generation_json("plug", "plug", std::nullopt) + ", " +
                       generation_json("female mould", "female", laminate) + ", " +
                       (male ? generation_json("male mould", "male", laminate) + ", " : std::string{}) +
                       generation_json("sheet", "sheet", sheet) + "]";
    assumed.changes.push_back({"/forming/generations", std::move(json)});
    assumed.words.push_back(std::string("plug, female mould, ") + (male ? "male mould, " : "") + "sheet, with " +
                            usual_words(*laminate) + " for each mould and " + usual_words(*sheet));
    return assumed;
}

void take_if_proven(Finding& finding, const Job& job, std::string words, std::vector<FieldChange> changes) {
    const auto changed = with_changes(job, changes);
    if (!changed) {
        return;
    }
    const Finding after = chain_state(changed.value(), chain_of(changed.value()));
    if (after.state == State::holds) {
        finding.mend = Mend{std::move(words), {}, after.margin, std::move(changes)};
    }
}

void mend_fault(Finding& finding, const Job& job, const std::vector<ChainStep>& chain) {
    if (job.forming.mould && !chain.empty() && *job.forming.mould != last_mould(chain)) {
        take_if_proven(
            finding, job,
            std::string("Say that the sheet's mould is ") + mould_word(last_mould(chain)) + ", as the list has it.",
            {word_change("/forming/mould", mould_word(last_mould(chain)))});
    }
    if (!finding.mend) {
        finding.mend = Mend{
            "Put the list in the order in which one is taken off the other: plug, female mould, male "
            "mould, sheet, or plug, female mould, sheet.",
            {},
            std::nullopt};
    }
}

void mend_missing(Finding& finding, const Job& job, const std::vector<ChainStep>& chain) {
    Assumed assumed;
    if (chain.empty() && job.forming.mould) {
        assumed = usual_list(job);
    } else if (!chain.empty()) {
        if (!job.forming.mould) {
            assumed.changes.push_back(word_change("/forming/mould", mould_word(last_mould(chain))));
            assumed.words.push_back(std::string("a ") + mould_word(last_mould(chain)) + " mould for the sheet");
        }
        for (std::size_t i = 0; i < chain.size(); ++i) {
            if (!is_first_plug(chain, i)) {
                assume_step(job, i, chain, assumed);
            }
        }
    }
    if (assumed.all && !assumed.changes.empty()) {
        take_if_proven(finding, job,
                       "Assume " + joined_words(assumed.words) +
                           ", until ticks are measured: scribe them on the plug, measure each mould after two days.",
                       std::move(assumed.changes));
    }
    if (!finding.mend) {
        finding.mend = Mend{"Give what is missing; ask the maker of the sheet for its shrinkage.", {}, std::nullopt};
    }
}

/// Measured against assumed in one direction.
struct Against {
    bool across = false;
    double measured = 1.0, assumed = 1.0, measured_sd = 0.0, assumed_sd = 0.0;
    std::size_t ticks = 0;
    std::string worst;
    double worst_misfit = 0.0;

    [[nodiscard]] double margin() const { return 2.0 * assumed_sd - std::abs(measured - assumed); }
};

Finding blank_generation(const std::string& name) {
    Finding finding;
    finding.id = "forming/chain/" + name;
    finding.title = name + ", measured against assumed";
    finding.stage = Stage::forming;
    finding.unit = Unit::mm;
    finding.at_least = false;
    finding.formula =
        "|ratio by ticks - ratio as assumed| · the part's length <= 2 standard deviations of the assumed ratio · the "
        "part's length; ratio by ticks by least squares with both ends' errors; before that, each tick against the "
        "others: "
        "|residual| / its standard deviation <= 3.29 (false alarm in 1 of 1000)";
    finding.source =
        "Deming's line through the origin (from memory); a tick's residual: Baarda 1968 (from memory); limit of the "
        "ratio common practice, no source";
    return finding;
}

void put_against(Finding& finding, const Against& one) {
    const std::string way = direction_word(one.across);
    finding.inputs.push_back({"by " + std::to_string(one.ticks) + (one.ticks == 1 ? " tick, " : " ticks, ") + way,
                              percent_text(one.measured - 1.0) + ", sd " + percent_text(one.measured_sd)});
    finding.inputs.push_back(
        {"as assumed, " + way, percent_text(one.assumed - 1.0) + ", sd " + percent_text(one.assumed_sd)});
    if (one.ticks > 1) {
        finding.inputs.push_back(
            {"tick that fits the others least, " + way,
             one.worst + ", off by " + fixed_text(one.worst_misfit, 1) + " times what is usual for it"});
    }
}

/// Ticks of a direction of which one is wrong.
struct Doubt {
    bool across = false;
    std::vector<std::string> ticks;  ///< One, or two where it cannot be told which.
    double misfit = 0.0;
};

/// The worse of the two directions; none if all ticks fit.
std::optional<Doubt> doubt_of(const Generation& generation) {
    std::optional<Doubt> worse;
    for (const bool across : {false, true}) {
        const auto fit = ratio_of_ticks(generation, across);
        if (!fit || fit->worst_misfit <= std::max(survey::k_blunder_w, worse ? worse->misfit : 0.0)) {
            continue;
        }
        worse = Doubt{across, {fit->worst}, fit->worst_misfit};
        if (fit->ticks == 2) {
            worse->ticks.clear();
            for (const Tick& tick : generation.ticks) {
                if (tick.across == across && tick.before && tick.now && tick.sd) {
                    worse->ticks.push_back(tick.name);
                }
            }
        }
    }
    return worse;
}

std::string tick_words(const Doubt& doubt) {
    return (doubt.ticks.size() == 1 ? "tick " : "ticks ") + joined_words(doubt.ticks);
}

void put_doubt(Finding& finding, const Doubt& doubt) {
    finding.unit = Unit::none;
    put_numbers(finding, doubt.misfit, survey::k_blunder_w, false, 0.0);
    const std::string way = std::string(", ") + direction_word(doubt.across) + ", ";
    const std::string by = fixed_text(doubt.misfit, 1) + " times what is usual for such a measurement";
    finding.why = doubt.ticks.size() == 1
                      ? "The " + tick_words(doubt) + way + "does not fit the others: it is off by " + by + "."
                      : "The " + tick_words(doubt) + way + "do not fit each other: they differ by " + by + ".";
}

/// Without a mend; `worse` is the direction that decides.
Finding generation_state(const Job& job, std::size_t i, std::optional<Against>& worse) {
    const Generation& generation = job.forming.generations[i];
    Finding finding = blank_generation(generation.name);
    const ChainStep assumed = assumed_chain(job)[i];
    for (const bool across : {false, true}) {
        const bool has_ticks = std::any_of(generation.ticks.begin(), generation.ticks.end(),
                                           [&](const Tick& tick) { return tick.across == across; });
        const auto ticks = ratio_of_ticks(generation, across);
        if (!has_ticks) {
            finding.inputs.push_back({std::string(direction_word(across)), "assumed: no tick"});
            continue;
        }
        if (!ticks) {
            finding.missing.push_back("a tick of " + generation.name + ", " + direction_word(across) +
                                      ", measured on it and on the one before it");
            continue;
        }
        const auto& lacks = assumed.missing_in(across);
        finding.missing.insert(finding.missing.end(), lacks.begin(), lacks.end());
        if (lacks.empty()) {
            const Against one{across,       ticks->ratio, assumed.ratio(across), ticks->sd, assumed.sd(across),
                              ticks->ticks, ticks->worst, ticks->worst_misfit};
            put_against(finding, one);
            if (!worse || one.margin() < worse->margin()) {
                worse = one;
            }
        }
    }
    const auto length = part_length(job);
    if (!length) {
        finding.missing.emplace_back("a drawn skirt");
    }
    if (const auto doubt = doubt_of(generation)) {
        put_doubt(finding, *doubt);
        return finding;
    }
    if (!worse || !length) {
        finding.why = "It cannot be told yet whether " + generation.name + " came out as assumed.";
        return finding;
    }
    const double off = worse->measured - worse->assumed;
    put_numbers(finding, std::abs(off) * in_mm(*length), 2.0 * worse->assumed_sd * in_mm(*length), false, 0.0);
    finding.why = generation.name + " came out at " + percent_text(worse->measured - 1.0) + " " +
                  direction_word(worse->across) + ", assumed was " + percent_text(worse->assumed - 1.0) + ": " +
                  mm_text(millimetres(std::abs(off) * in_mm(*length))) + (off < 0.0 ? " shorter" : " longer") +
                  " over the part's " + mm_text(*length, 0) + " than a buck that was sized by it.";
    return finding;
}

/// The shrinkage that the ticks show, as the job writes it.
double shrinkage_of(const Generation& generation, const ChainStep& step, double ratio) {
    return 1.0 - ratio / (generation.from_hot && step.hot_growth ? *step.hot_growth : 1.0);
}

Finding generation_finding(const Job& job, const std::vector<ChainStep>& chain, std::size_t i, Mends mends) {
    std::optional<Against> worse;
    Finding finding = generation_state(job, i, worse);
    if (mends == Mends::leave || finding.state != State::falls_short) {
        return finding;
    }
    const Generation& generation = job.forming.generations[i];
    if (const auto doubt = doubt_of(generation)) {
        // A shrinkage by a tick that is wrong must not be offered.
        finding.mend = Mend{"Measure " + tick_words(*doubt) + " again, cold, on " + generation.name + " and on " +
                                (i > 0 ? job.forming.generations[i - 1].name : std::string("the plug")) + ".",
                            {},
                            std::nullopt};
        return finding;
    }
    std::vector<FieldChange> changes;
    std::vector<std::string> words;
    for (const bool across : {false, true}) {
        if (const auto ticks = ratio_of_ticks(generation, across)) {
            const double shrinkage = shrinkage_of(generation, chain[i], ticks->ratio);
            changes.push_back(number_change(pointer_of(i) + (across ? "/shrink_across" : "/shrink_along"), shrinkage));
            words.push_back(percent_text(shrinkage) + " " + direction_word(across));
        }
    }
    const auto changed = with_changes(job, changes);
    std::optional<Against> unused;
    const Finding after = changed ? generation_state(changed.value(), i, unused) : Finding{};
    if (after.margin && *after.margin >= 0.0) {
        finding.mend =
            Mend{"For a buck that is still to be cut, assume " + joined_words(words) + " for " + generation.name +
                     ", as measured. One that is cut was sized by what was assumed: see "
                     "whether its slots still cover before this is forgotten.",
                 {},
                 after.margin,
                 std::move(changes)};
    }
    return finding;
}

}  // namespace

std::optional<Length> part_length(const Job& job) {
    std::optional<Length> longest;
    for (const Piece& piece : job.skirt.pieces) {
        if (piece.drawn.sections.size() < 2) {
            continue;
        }
        const auto place = [&](const Section& section) { return station_of(job, section.station).along.value; };
        const auto [first, last] =
            std::minmax_element(piece.drawn.sections.begin(), piece.drawn.sections.end(),
                                [&](const Section& a, const Section& b) { return place(a) < place(b); });
        longest = std::max(longest.value_or(Length{}), place(*last) - place(*first));
    }
    return longest;
}

std::vector<Finding> chain_findings(const Job& job, const std::vector<ChainStep>& chain, Mends mends) {
    std::vector<Finding> findings{chain_state(job, chain)};
    Finding& whole = findings.front();
    if (mends == Mends::look_for && whole.state == State::falls_short) {
        mend_fault(whole, job, chain);
    } else if (mends == Mends::look_for && whole.state == State::not_measured) {
        mend_missing(whole, job, chain);
    }
    for (std::size_t i = 0; i < chain.size(); ++i) {
        if (!job.forming.generations[i].ticks.empty() && !is_first_plug(chain, i)) {
            findings.push_back(generation_finding(job, chain, i, mends));
        }
    }
    return findings;
}

}  // namespace sillwright::core
