#include "core/buck/buck_findings.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <utility>

#include "core/buck/datum_rods.h"
#include "core/buck/half_lap.h"
#include "core/buck/rib_places.h"
#include "core/drawn_loft.h"
#include "core/edit/field_change.h"
#include "core/finding_state.h"
#include "core/mounts/mount_finding.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::in_deg;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

/// Numbers that differ by less differ by rounding.
constexpr double k_rounding_mm = 1e-9;
/// A mend is put into whole hundredths, the next that holds.
constexpr double k_fit_step_mm = 0.01;
constexpr double k_whole_mm = 1.0;
/// Mends of the room are tried up to this: a buck that stands higher is another buck.
constexpr double k_most_room_more_mm = 200.0;
constexpr const char* k_practice = "common practice, no source";

/// What every finding of one piece is computed from.
struct Scene {
    const Job& job;
    const CarModel& car;
    const FormingPlan& forming;
    const PieceBuck& buck;

    [[nodiscard]] const Piece& piece() const { return job.skirt.pieces[buck.piece]; }
    [[nodiscard]] Length along(double x_mm) const { return buck.front + millimetres(x_mm / buck.along_size); }
};

std::string mm_words(double mm, int decimals = 2) {
    return mm_text(millimetres(mm), decimals);
}

Finding begun(const Scene& scene, const std::string& name, const std::string& title) {
    Finding finding;
    finding.id = "buck/" + scene.piece().name + "/" + name;
    finding.title = title + ", piece \"" + scene.piece().name + "\"";
    finding.stage = Stage::buck;
    finding.unit = Unit::mm;
    finding.source = k_practice;
    return finding;
}

void put_place(const Scene& scene, Length along, Finding& finding) {
    finding.place.along = along;
    finding.place.words = at_place_words(scene.job, along);
}

const Rib* rib_of(const PieceBuck& buck, const std::string& label) {
    const auto found = std::find_if(buck.ribs.begin(), buck.ribs.end(), [&](const Rib& r) { return r.label == label; });
    return found == buck.ribs.end() ? nullptr : &*found;
}

Finding ladder(const Scene& scene) {
    Finding finding = begun(scene, "ladder", "Size of the buck");
    finding.unit = Unit::none;
    finding.formula =
        "plug = part's mould face / product of the mould chain's assumed ratios, along and across; ribs = plug less "
        "the "
        "skin, square to it in space; slots = mean of the boards' measured thickness + fit. All of these are known: "
        "found is how many are not. Limits of the model: sizes are cold; a shrinkage is the same everywhere in its "
        "direction";
    finding.source = "product of linear shrinkages: common practice, no source";
    finding.missing = scene.buck.missing;
    finding.at_least = false;
    if (!finding.missing.empty()) {
        finding.state = state_of(std::nullopt, 0.0, finding.missing);
        finding.why = "The buck cannot be sized: " + joined_words(finding.missing) +
                      (finding.missing.size() == 1 ? " is" : " are") + " not known.";
        return finding;
    }
    put_numbers(finding, 0.0, 0.0, false, 0.0);
    finding.inputs = {{"plug of the part, along", fixed_text(scene.buck.along_size, 5)},
                      {"plug of the part, across", fixed_text(scene.buck.across_size, 5)},
                      {"skin", mm_words(scene.buck.skin_mm)},
                      {"draw direction, tilted up by", degree_text(scene.buck.tilt)}};
    if (!scene.buck.ribs.empty()) {
        finding.inputs.push_back({"thickness of the ribs", mm_words(scene.buck.ribs.front().thickness_mm)});
    }
    finding.why = "The buck is cut " + fixed_text(scene.buck.along_size, 5) + " times the part along and " +
                  fixed_text(scene.buck.across_size, 5) + " times across, less a skin of " +
                  mm_words(scene.buck.skin_mm) + ".";
    return finding;
}

/// How unevenly thick the boards were measured.
struct Spread {
    double mm = 0.0;
    std::string board;
    std::vector<std::string> missing;
};

Spread spread_of(const Buck& buck) {
    Spread spread;
    for (const std::string* const name : {&buck.rib_board, &buck.spine_board}) {
        const Board* const board = board_of(buck, *name);
        if (board == nullptr) {
            continue;
        }
        double least = std::numeric_limits<double>::max();
        double most = -least;
        int count = 0;
        for (const auto* const one : {&board->thickness_1, &board->thickness_2, &board->thickness_3}) {
            if (*one) {
                least = std::min(least, in_mm((*one)->value));
                most = std::max(most, in_mm((*one)->value));
                ++count;
            }
        }
        constexpr int k_places = 3;
        const std::string words = "thickness of board \"" + board->name + "\" at three places";
        if (count < k_places &&
            std::find(spread.missing.begin(), spread.missing.end(), words) == spread.missing.end()) {
            spread.missing.push_back(words);
        }
        if (count > 0 && (spread.board.empty() || most - least > spread.mm)) {
            spread.mm = most - least;
            spread.board = board->name;
        }
    }
    return spread;
}

Finding fit(const Scene& scene) {
    Finding finding = begun(scene, "fit", "Fit of the slots");
    const Spread spread = spread_of(scene.job.buck);
    const double found = in_mm(scene.job.buck.fit.value);
    const double least = std::max(in_mm(k_fit_least), 0.5 * spread.mm);
    const double most = in_mm(k_fit_most);
    finding.missing = spread.missing;
    const bool is_tight = found - least <= most - found;
    put_numbers(finding, found, is_tight ? least : most, is_tight,
                close_band_within(in_mm(scene.job.limits.close_band.value), in_mm(k_fit_least)));
    finding.formula =
        "fit = slot - mean of the sheet's measured thickness: at least the greater of 0.1 mm and half of (thickest - "
        "thinnest measured), at most 0.3 mm; total clearance, both sides together";
    finding.inputs = {{"fit", mm_words(found)},
                      {"spread of the measured thickness", mm_words(spread.mm) + " (" + spread.board + ")"},
                      {"at least", mm_words(least)},
                      {"at most", mm_words(most)}};
    finding.why = *finding.margin < 0.0
                      ? (is_tight ? "The slots are too narrow by " + mm_words(-*finding.margin) + " to slide on."
                                  : "The slots are too wide by " + mm_words(-*finding.margin) + ": the ribs lean.")
                      : "The slots slide on the boards without play that shows.";
    if (*finding.margin < 0.0) {
        if (least > most) {
            finding.mend = Mend{"Use boards of one thickness: they differ by " + mm_words(spread.mm) +
                                    ", more than a slot can take up.",
                                {},
                                std::nullopt,
                                {}};
        } else {
            const double mended = is_tight ? std::ceil(least / k_fit_step_mm - k_rounding_mm) * k_fit_step_mm : most;
            finding.mend = Mend{"Make the fit " + mm_words(mended) + ".",
                                {},
                                std::nullopt,
                                {length_change(scene.job, "/buck/fit", millimetres(mended))}};
        }
    }
    return finding;
}

Finding chord(const Scene& scene) {
    Finding finding = begun(scene, "chord", "Skin between the ribs");
    const auto& line = *scene.car.pieces[scene.buck.piece].line;
    ChordError worst;
    double wide = 0.0;
    for (std::size_t i = 0; i + 1 < scene.buck.ribs.size(); ++i) {
        const double from = scene.buck.ribs[i].rear_mm();
        const double to = scene.buck.ribs[i + 1].front_mm();
        const ChordError one = chord_error(line, scene.along(from), scene.along(to));
        if (one.error >= worst.error) {
            worst = one;
            wide = to - from;
        }
    }
    const double most = in_mm(scene.job.buck.chord_most ? scene.job.buck.chord_most->value : k_chord_most);
    const double found = in_mm(worst.error);
    put_numbers(finding, found, most, false, close_band_within(in_mm(scene.job.limits.close_band.value), most));
    put_place(scene, worst.along, finding);
    finding.formula =
        "greatest distance of a guide line from the straight between the faces of neighbouring ribs, s² / 8R where it "
        "is an arc of R over a bay of s; at the part's size. Limits of the model: a skin that is sprung over more than "
        "two ribs lies "
        "nearer";
    finding.inputs = {{"bay", mm_words(wide, 0)}, {"line", worst.node}, {"at most", mm_words(most)}};
    finding.why = "A skin that is straight from rib to rib stands " + mm_words(found) + " off the plug at " +
                  worst.node + (*finding.margin < 0.0 ? ": the ribs are too far apart there." : ".");
    if (*finding.margin < 0.0) {
        finding.mend =
            Mend{"Stand the ribs evenly, so near that no chord error is greater than " + mm_words(most) + ".",
                 {},
                 std::nullopt,
                 {length_change(scene.job, "/buck/chord_most", millimetres(most))}};
    }
    return finding;
}

Finding bevel(const Scene& scene) {
    Finding finding = begun(scene, "bevel", "Bevels of the ribs");
    double most = 0.0;
    std::size_t gaps = 0;
    double gap = 0.0;
    const Rib* at = nullptr;
    std::string strip;
    for (const Rib& rib : scene.buck.ribs) {
        const Bevel* greatest = nullptr;
        for (const Bevel& one : rib.bevels) {
            if (greatest == nullptr || std::abs(in_mm(one.most)) > std::abs(in_mm(greatest->most))) {
                greatest = &one;
            }
            if (in_mm(one.most) < -k_seen_gap_mm) {
                ++gaps;
                gap = std::max(gap, -in_mm(one.most));
            }
        }
        if (greatest == nullptr) {
            continue;
        }
        finding.inputs.push_back({rib.label + ", most at " + greatest->strip, degree_text(greatest->from, 1) + " to " +
                                                                                  degree_text(greatest->to, 1) + ", " +
                                                                                  mm_words(in_mm(greatest->most))});
        if (at == nullptr || std::abs(in_mm(greatest->most)) > most) {
            most = std::abs(in_mm(greatest->most));
            at = &rib;
            strip = greatest->strip;
        }
    }
    const double thickness = scene.buck.ribs.front().thickness_mm;
    put_numbers(finding, most, thickness, false,
                close_band_within(in_mm(scene.job.limits.close_band.value), thickness));
    if (at != nullptr) {
        put_place(scene, at->along, finding);
        finding.inputs.push_back({"greatest", at->label + ", " + strip});
    }
    finding.formula =
        "distance between the two faces' edges of a rib, square to the edge; angle = arctan of it over the thickness. "
        "At most the thickness, which is 45°. Positive: bevel towards the far face; negative: the far face is larger, "
        "and the skin has a gap to bridge there unless the rib is cut to that face and bevelled the other way";
    finding.inputs.push_back({"strips with a gap of more than " + mm_words(k_seen_gap_mm),
                              std::to_string(gaps) + ", most " + mm_words(gap)});
    finding.why =
        "The edges of the ribs are bevelled by " + mm_words(most) + " at most" +
        (gaps > 0 ? ", and " + std::to_string(gaps) + " strips leave a gap of up to " + mm_words(gap) + "." : ".");
    if (*finding.margin < 0.0) {
        finding.mend =
            Mend{"Cut the ribs from a thinner board, or let the plan taper less there.", {}, std::nullopt, {}};
    }
    return finding;
}

Finding surface(const Scene& scene) {
    Finding finding = begun(scene, "surface", "Ribs' edges against the plug");
    put_numbers(finding, scene.buck.surface_misfit_mm, in_mm(k_misfit_most), false, 0.0);
    finding.formula =
        "greatest distance of the ribs' edges, ruled straight between their two faces and cut as lines and arcs, from "
        "the plug's surface less the skin, on both faces and half-way between. Limits of the model: as drawn, without "
        "what the router and the plane add";
    finding.source = "the project's own requirement of 0.05 mm; geometry";
    finding.inputs = {{"lines and arcs are fitted to", mm_words(0.005, 3)}};
    finding.why =
        "The bevelled edges lie within " + mm_words(scene.buck.surface_misfit_mm, 3) + " of the plug's inner surface.";
    if (*finding.margin < 0.0) {
        finding.mend = Mend{"Cut the ribs from a thinner board.", {}, std::nullopt, {}};
    }
    return finding;
}

Finding spines(const Scene& scene) {
    Finding finding = begun(scene, "spines", "Room for the spines");
    finding.formula =
        "inside both faces of every rib, over each slot and 12 mm to either side of it: height of the rib - the higher "
        "of slot and spine, at least 15 mm; where no spine finds room: height that it may have, at least what its "
        "half-laps need";
    const PieceBuck& buck = scene.buck;
    if (buck.spines.empty()) {
        const Board* const board = board_of(scene.job.buck, scene.job.buck.spine_board);
        const double thickness = in_mm(*thickness_of(*board));
        const LapRoom room = lap_room(buck.ribs, lap_making(scene.job.buck, thickness));
        const double needed =
            std::max(room.needed_mm, scene.job.buck.spine_height ? in_mm(scene.job.buck.spine_height->value) : 0.0);
        // no room across shows as none upward
        const double found = std::min(room.most_high_mm, needed - k_whole_mm);
        put_numbers(finding, found, needed, true, 0.0);
        finding.inputs = {{"a spine may be high", mm_words(room.most_high_mm, 1)},
                          {"its half-laps need", mm_words(room.needed_mm, 1)}};
        finding.why = scene.job.buck.spines == SpineCount::two
                          ? "The ribs leave no room for two spines of " + mm_words(needed, 1) + "."
                          : "The ribs leave no room for a spine of " + mm_words(needed, 1) + ".";
        return finding;
    }
    double least = std::numeric_limits<double>::max();
    const Rib* at = &buck.ribs.front();
    for (const Rib& rib : buck.ribs) {
        for (std::size_t k = 0; k < buck.spines.size(); ++k) {
            const Slot& slot = rib.laps[k];
            const double half = 0.5 * slot.width_mm + k_wall_beside_slot_mm;
            const double left = height_inside_mm(rib, slot.at_mm - half, slot.at_mm + half) -
                                std::max(slot.depth_mm, buck.spines[k].height_mm);
            if (left < least) {
                least = left;
                at = &rib;
            }
        }
    }
    put_numbers(finding, least, k_wood_above_slot_mm, true, 0.0);
    put_place(scene, at->along, finding);
    for (const Spine& spine : buck.spines) {
        finding.inputs.push_back(
            {spine.label, "at side " + mm_words(spine.side_mm, 1) + ", " + mm_words(spine.height_mm, 1) + " high"});
    }
    finding.inputs.push_back({"least, at rib", at->label});
    finding.why = "At least " + mm_words(least, 1) + " of every rib stays above its slots and the spines.";
    return finding;
}

double step_of(const PieceBuck& buck) {
    return buck.spines.empty() || buck.ribs.size() < 2
               ? 0.0
               : buck.ribs[1].laps.front().depth_mm - buck.ribs[0].laps.front().depth_mm;
}

Finding assembly(const Scene& scene) {
    Finding finding = begun(scene, "assembly", "Ribs in wrong places");
    const PieceBuck& buck = scene.buck;
    finding.formula =
        "of every two ribs in each other's places, each as it is or turned, and of every rib turned in its own place: "
        "how far it stands off the base, as its slot is less deep than that place asks; of two that are swapped the "
        "higher one. At least " +
        mm_words(k_seen_lift_mm, 0) + ", which is seen on the bench";
    const double step = step_of(buck);
    finding.inputs = {
        {"half-laps step by", mm_words(step) + " of " + mm_words(in_mm(scene.job.buck.key_step.value)) + " asked for"},
        {"upright play", mm_words(2.0 * in_mm(scene.job.buck.slot_extra.value))}};
    const double found = buck.worst_swap ? buck.worst_swap->lift_mm : 0.0;
    if (buck.spines.empty()) {
        put_numbers(finding, 0.0, k_seen_lift_mm, true, 0.0);
        finding.why = "There is no spine that would keep the ribs in their places.";
        return finding;
    }
    if (!buck.worst_swap) {
        put_numbers(finding, step, 0.0, true, 0.0);
        finding.why = "No rib goes into any other place, or turned into its own.";
        return finding;
    }
    put_numbers(finding, found, k_seen_lift_mm, true,
                close_band_within(in_mm(scene.job.limits.close_band.value), k_seen_lift_mm));
    const WrongPlace& worst = *buck.worst_swap;
    const std::string which = worst.rib == worst.place ? worst.rib + " turned about in its own place"
                                                       : worst.rib + (worst.reversed ? ", turned about," : "") +
                                                             " in the place of " + worst.place;
    if (const Rib* const rib = rib_of(buck, worst.rib)) {
        put_place(scene, rib->along, finding);
    }
    finding.inputs.push_back({"shows least", which});
    finding.why = (*finding.margin < 0.0 ? "A wrong assembly does not show: " : "Every wrong assembly shows: ") +
                  which + " stands " + mm_words(found) + " off the base" +
                  (*finding.margin < 0.0 ? " only." : ", and that is the least.");
    if (step < in_mm(scene.job.buck.key_step.value) - k_rounding_mm) {
        finding.why += " The half-laps step by " + mm_words(step) + ", as there is no room for more.";
    }
    return finding;
}

Finding rods(const Scene& scene) {
    Finding finding = begun(scene, "rods", "Datum rods");
    const auto& pins = scene.buck.ribs.front().pins_mm;
    const double apart = pins.size() == 2 ? (pins[1] - pins[0]).norm() : 0.0;
    put_numbers(finding, apart, k_rods_apart_mm, true, 0.0);
    finding.formula =
        "distance between two holes at the same side and height in all ribs, each with 10 mm of wood to every edge, "
        "slot "
        "and spine; at least " +
        mm_words(k_rods_apart_mm, 0);
    finding.inputs = {{"rod", mm_words(in_mm(scene.job.buck.pin.value), 1)}};
    for (const Eigen::Vector2d& pin : pins) {
        finding.inputs.push_back({"hole", "side " + mm_words(pin.x(), 1) + ", height " + mm_words(pin.y(), 1)});
    }
    finding.why = pins.size() == 2 ? "Two rods " + mm_words(apart, 1) + " apart go through all ribs."
                  : pins.empty()   ? "No rod goes through all ribs with 10 mm of wood round it."
                                   : "Only one rod goes through all ribs with 10 mm of wood round it.";
    return finding;
}

Finding corners(const Scene& scene) {
    Finding finding = begun(scene, "corners", "Corners that only the skin rounds");
    double most = 0.0;
    const SharpEdge* worst = nullptr;
    for (const SharpEdge& one : scene.buck.sharp) {
        if (worst == nullptr || one.under_mm > most) {
            worst = &one;
            most = one.under_mm;
        }
    }
    put_numbers(finding, most, scene.buck.skin_mm, false,
                close_band_within(in_mm(scene.job.limits.close_band.value), scene.buck.skin_mm));
    finding.formula =
        "where a rounding's radius is not greater than the skin, the rib is sharp and the skin rounds it: by how much "
        "more than the skin the plug's surface stands off the rib, at most the skin once more";
    finding.inputs = {{"skin", mm_words(scene.buck.skin_mm)},
                      {"sharp corners", std::to_string(scene.buck.sharp.size())}};
    if (worst != nullptr) {
        const Rib* const rib = rib_of(scene.buck, worst->rib);
        put_place(scene, rib->along, finding);
        finding.why = "Sharp in the rib, the skin rounds it: " + worst->where + " of " + worst->rib + " and " +
                      std::to_string(scene.buck.sharp.size() - 1) + " more; the surface stands up to " +
                      mm_words(most) + " further off than the skin is thick.";
    } else {
        finding.why = "Every rounding is greater than the skin, so the ribs have them all.";
    }
    if (*finding.margin < 0.0) {
        finding.mend = Mend{"Make the skin thinner or the rounding greater.", {}, std::nullopt, {}};
    }
    return finding;
}

using Check = Finding (*)(const Scene&);

/// The same finding of the job with fields written anew; none where that cannot be made.
std::optional<Finding> checked_again(const Scene& scene, Check check, const std::vector<FieldChange>& changes) {
    const auto job = with_changes(scene.job, changes);
    if (!job) {
        return std::nullopt;
    }
    const BuckPlan plan = buck_plan(job.value(), scene.car, scene.forming);
    for (const PieceBuck& buck : plan.pieces) {
        if (buck.piece == scene.buck.piece && !buck.ribs.empty()) {
            return check(Scene{job.value(), scene.car, scene.forming, buck});
        }
    }
    return std::nullopt;
}

struct Way {
    std::string words;
    std::vector<FieldChange> changes;
};

/// What could mend room and keys, the smallest change first.
std::vector<Way> ways(const Scene& scene) {
    const Buck& buck = scene.job.buck;
    std::vector<Way> all;
    const auto length = [&](const std::string& words, const std::string& pointer, double mm) {
        all.push_back({words + " " + mm_words(mm, 1) + ".", {length_change(scene.job, pointer, millimetres(mm))}});
    };
    if (buck.spines == SpineCount::one) {
        all.push_back({"Use two spines: they keep a rib from being turned.", {word_change("/buck/spines", "two")}});
    }
    const double seen = 2.0 * in_mm(buck.slot_extra.value) + k_seen_lift_mm + k_whole_mm;
    if (in_mm(buck.key_step.value) < seen) {
        length("Let the half-laps step from rib to rib by", "/buck/key_step", seen);
    }
    if (buck.spine_height) {
        const Board* const board = board_of(buck, buck.spine_board);
        LapMaking making = lap_making(buck, in_mm(*thickness_of(*board)));
        making.height_mm.reset();
        const double most = std::floor(lap_room(scene.buck.ribs, making).most_high_mm);
        if (most > 0.0) {
            length("Make the first spine high", "/buck/spine_height", most);
        }
    }
    constexpr double k_room_step_mm = 10.0;
    for (double more = k_room_step_mm; more <= k_most_room_more_mm; more *= 2.0) {
        const double room = in_mm(buck.base_room.value) + more;
        length("Stand the ribs higher above the base, with a base room of", "/buck/base_room", room);
    }
    if (buck.spines == SpineCount::two) {
        all.push_back({"Use one spine.", {word_change("/buck/spines", "one")}});
    }
    return all;
}

void look_for_mend(const Scene& scene, Check check, Finding& finding) {
    if (!finding.margin || *finding.margin >= 0.0) {
        return;
    }
    if (finding.mend) {
        if (finding.mend->can_be_taken()) {
            const auto again = checked_again(scene, check, finding.mend->changes);
            finding.mend->proven_margin = again ? again->margin : std::nullopt;
        }
        return;
    }
    for (const Way& way : ways(scene)) {
        const auto again = checked_again(scene, check, way.changes);
        if (again && again->margin && *again->margin >= 0.0) {
            finding.mend = Mend{way.words, {}, again->margin, way.changes};
            return;
        }
    }
    finding.mend = Mend{
        "No one number of the job mends it: make the part's sections wider or higher there, or the boards "
        "thinner.",
        {},
        std::nullopt,
        {}};
}

}  // namespace

std::vector<Finding> buck_findings(const Job& job, const CarModel& car, const FormingPlan& forming,
                                   const BuckPlan& plan, Mends mends) {
    std::vector<Finding> all;
    for (const PieceBuck& buck : plan.pieces) {
        const Scene scene{job, car, forming, buck};
        all.push_back(ladder(scene));
        all.insert(all.end(), buck.refused.begin(), buck.refused.end());
        if (buck.ribs.empty()) {
            continue;
        }
        constexpr std::array<Check, 8> k_checks{fit, chord, bevel, surface, spines, assembly, rods, corners};
        for (const Check check : k_checks) {
            Finding finding = check(scene);
            if (mends == Mends::look_for) {
                look_for_mend(scene, check, finding);
            }
            all.push_back(std::move(finding));
        }
    }
    return all;
}

}  // namespace sillwright::core
