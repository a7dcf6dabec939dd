#include "core/forming/platen.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/drawn_loft.h"
#include "core/finding_state.h"
#include "core/forming/laying.h"
#include "core/forming/machine_table.h"
#include "core/forming/mould_chain.h"
#include "core/forming/platen_mend.h"
#include "core/forming/set_back.h"
#include "core/number_text.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;

namespace {

constexpr const char* k_source = "common practice, no source";

std::string size_text(const Vector2d& size_mm) {
    return fixed_text(size_mm.x(), 1) + " × " + fixed_text(size_mm.y(), 1) + " mm";
}

std::string entry_words(const std::optional<Entry>& entry) {
    return entry ? mm_text(entry->value) : std::string("not known");
}

std::string size_words(bool known, double of_part, double sd) {
    return known ? fixed_text(of_part, 5) + ", sd " + fixed_text(sd, 5)
                 : std::string("shrinkage not known: laid at the part's size");
}

/// What a check is called, and how its number is found.
struct CheckWords {
    std::string id, title, formula, holds, short_of;
};

CheckWords words_of(PlatenCheck check) {
    switch (check) {
        case PlatenCheck::window:
            return {
                "window", "in the machine's window",
                "greater of length over the free length and width over the free width <= 0, of the mould (cold part / "
                "ratio of the chain's last step · growth of the mould when it runs) seen along the draw direction "
                "with the trim allowance beyond ends and long edges and the clamp distance all "
                "round; straight where that fits, else at the best turn; sections at stations, run-outs and seven "
                "places between",
                "The part goes into the machine's window.", "The mould stands out of the machine's free window"};
        case PlatenCheck::depth:
            return {"depth", "height of the mould",
                    "from the crown to the trim allowance below the lowest edge, along the draw direction, of the "
                    "mould as it "
                    "runs <= draw depth",
                    "The machine forms on a mould of this height.", "The mould is taller than the machine draws"};
        case PlatenCheck::oven:
            return {"oven", "heated evenly",
                    "greater of length over the oven's length and width over its width <= 0, of the sheet between the "
                    "clamp lines, round the mould as it runs; the clamped rim need not be hot",
                    "All of the sheet between the clamps is heated evenly.",
                    "The sheet between the clamps is larger than what is heated evenly"};
        case PlatenCheck::gauge:
            return {"gauge", "sheet in the oven", "thickness of the sheet <= thickest sheet that the oven heats",
                    "The oven heats a sheet of this thickness.", "The sheet is thicker than the oven heats"};
    }
    return {};
}

std::vector<Input> inputs_of(PlatenCheck check, const Job& job, const Platen& platen) {
    const Forming& forming = job.forming;
    std::vector<Input> inputs{{"machine", forming.machine.empty() ? "none" : forming.machine}};
    if (check == PlatenCheck::gauge) {
        return inputs;
    }
    inputs.push_back({"tilt of the draw direction", degree_text(platen.tilt)});
    const MouldSize& mould = platen.mould_size;
    if (!mould.known_along && !mould.known_across) {
        inputs.push_back({"mould of the part", "shrinkage not known: laid at the part's size"});
    } else {
        const std::string name = mould.is_hot ? "mould as it runs, of the cold part, " : "mould, cold, of the part, ";
        inputs.push_back({name + direction_word(false), size_words(mould.known_along, mould.along, mould.along_sd)});
        inputs.push_back({name + direction_word(true) + " and in height",
                          size_words(mould.known_across, mould.across, mould.across_sd)});
    }
    inputs.push_back({"trim allowance", mm_text(forming.trim_allowance.value)});
    if (check == PlatenCheck::depth) {
        return inputs;
    }
    inputs.push_back({"clamp distance", entry_words(forming.clamp_distance)});
    inputs.push_back({"turn on the platen", degree_text(platen.yaw)});
    inputs.push_back({"room needed between the clamps", size_text(platen.size_mm)});
    const Machine* const machine = machine_of(forming);
    if (check == PlatenCheck::window && !platen.window_mm.isZero()) {
        inputs.push_back({"opening", size_text(platen.window_mm)});
        inputs.push_back({"free of the clamps", size_text(platen.free_mm)});
    }
    if (check == PlatenCheck::oven && machine != nullptr) {
        inputs.push_back(
            {"heated evenly", entry_words(machine->oven_length) + " × " + entry_words(machine->oven_width)});
    }
    return inputs;
}

void add_set_back(Finding& finding, const Platen& platen) {
    if (platen.set_back) {
        const SetBack& by = *platen.set_back;
        for (const auto& [name, length] : {std::pair{"set back, front end", by.front},
                                           {"set back, rear end", by.rear},
                                           {"set back, upper long edge", by.shelf},
                                           {"set back, lower long edge", by.flange}}) {
            finding.inputs.push_back({name, mm_text(length)});
        }
        finding.inputs.push_back({"turn on the platen then", degree_text(by.yaw)});
    }
    for (std::size_t i = 0; i < platen.split_stations.size(); ++i) {
        finding.inputs.push_back(
            {"split", mm_text(platen.split_stations[i]) + ", lapped to " + mm_text(platen.split_laps[i])});
    }
}

/// "Or pull it back by ..., or split it at ..."
std::string other_ways(const Job& job, const Platen& platen) {
    std::string words;
    if (platen.set_back) {
        std::vector<std::string> parts;
        for (const auto& [place, length] : {std::pair{"at the front", platen.set_back->front},
                                            {"at the rear", platen.set_back->rear},
                                            {"at the upper long edge", platen.set_back->shelf},
                                            {"at the lower long edge", platen.set_back->flange}}) {
            if (length > Length{}) {
                parts.push_back(mm_text(length) + " " + place);
            }
        }
        words = "Pull the part back by ";
        for (std::size_t i = 0; i < parts.size(); ++i) {
            words += (i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ") + parts[i];
        }
        words += platen.set_back->yaw == geometry::Angle{}
                     ? "."
                     : ", and turn it by " + degree_text(platen.set_back->yaw) + ".";
    } else {
        words = "No set-back makes it go in.";
    }
    if (platen.split_stations.empty()) {
        return words + " No split at a shut line does: each is too near a mount, or leaves a part that is too long.";
    }
    words += " Or split it ";
    for (std::size_t i = 0; i < platen.split_stations.size(); ++i) {
        const bool ahead = platen.split_laps[i] < platen.split_stations[i];
        words += (i == 0 ? "" : ", ") + at_place_words(job, platen.split_stations[i]) + ", lapped by " +
                 mm_text(k_joint_lap, 0) + (ahead ? " ahead of it" : " behind it");
    }
    return words + ".";
}

std::string short_words(const Platen& platen, PlatenCheck check, const PlatenNumber& number) {
    std::string words = words_of(check).short_of + " by " + mm_text(millimetres(-*number.margin));
    if (check == PlatenCheck::window) {
        words += platen.yaw == geometry::Angle{} ? ", lying straight"
                                                 : ", even when it is turned by " + degree_text(platen.yaw);
    }
    return words + ".";
}

void put_mend(Finding& finding, PlatenCheck check, const Job& job, const Piece& piece, const Loft& line,
              const DrawPlan& draw, const Platen& platen) {
    finding.mend = platen_mend(check, job, piece, line, draw);
    if (check == PlatenCheck::window) {
        const std::string others = other_ways(job, platen);
        if (finding.mend) {
            finding.mend->words += " Else: " + others;
        } else {
            finding.mend = Mend{others, {}, std::nullopt};
        }
    } else if (!finding.mend) {
        finding.mend =
            Mend{check == PlatenCheck::gauge   ? "Take a thinner sheet, or a machine that heats this one."
                 : check == PlatenCheck::depth ? "Draw the part less deep, or take a machine that draws deeper."
                                               : "Take a machine whose oven heats more.",
                 {},
                 std::nullopt};
    }
}

Finding finding_of(PlatenCheck check, const Job& job, const Piece& piece, const Platen& platen) {
    const CheckWords words = words_of(check);
    PlatenNumber number = platen_number(check, job.forming, piece, platen);
    Finding finding;
    finding.id = "forming/" + piece.name + "/" + words.id;
    finding.title = piece.name + ", " + words.title;
    finding.stage = Stage::forming;
    finding.unit = Unit::mm;
    finding.at_least = false;
    finding.found = number.found;
    finding.required = number.required;
    finding.margin = number.margin;
    finding.missing = std::move(number.missing);
    // A sheet as thick as the oven heats is heated: nothing is close there.
    const double band = check == PlatenCheck::gauge ? 0.0 : in_mm(job.limits.close_band.value);
    finding.state = state_of(finding.margin, band, finding.missing);
    finding.place.words = "whole part";
    finding.formula = words.formula;
    finding.source = k_source;
    finding.inputs = inputs_of(check, job, platen);
    finding.why = finding.state == State::falls_short    ? short_words(platen, check, number)
                  : finding.state == State::not_measured ? "It cannot be said yet whether the machine takes the part."
                                                         : words.holds;
    return finding;
}

}  // namespace

Platen platen(const Job& job, const Piece& piece, const Loft& line, const DrawPlan& draw) {
    const Silhouette part = silhouette(piece, line, draw.tilt);
    const MouldSize mould = mould_size(chain_of(job));
    Platen platen = laid_platen(job.forming, piece, part, draw.tilt, mould);
    const Machine* const machine = machine_of(job.forming);
    if (machine != nullptr && !platen.window_mm.isZero() && platen.excess > Length{}) {
        const Room room = room_of(job.forming, *machine, mould);
        platen.set_back = set_back(job, piece, part, room);
        for (const Joint& joint : joints(job, piece, part, room)) {
            platen.split_stations.push_back(joint.seen);
            platen.split_laps.push_back(joint.lap_to);
        }
    }
    return platen;
}

std::vector<Finding> platen_findings(const Job& job, const Piece& piece, const Loft& line, const DrawPlan& draw,
                                     const Platen& platen, Mends mends) {
    std::vector<Finding> findings;
    for (const PlatenCheck check : k_platen_checks) {
        Finding finding = finding_of(check, job, piece, platen);
        if (check == PlatenCheck::window && finding.state == State::falls_short) {
            add_set_back(finding, platen);
        }
        if (finding.state == State::falls_short && mends == Mends::look_for) {
            put_mend(finding, check, job, piece, line, draw, platen);
        }
        findings.push_back(std::move(finding));
    }
    return findings;
}

}  // namespace sillwright::core
