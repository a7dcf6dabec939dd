#include "core/holding/buckling.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/car_model.h"
#include "core/drawn_loft.h"
#include "core/edit/field_change.h"
#include "core/finding_state.h"
#include "core/forming/formed_sheet.h"
#include "core/material.h"
#include "core/number_text.h"
#include "core/skirt/thickness.h"

namespace sillwright::core {

using geometry::in_celsius;
using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

/// Rounding of slots that are just long enough.
constexpr double k_slack_mm = 1e-6;
constexpr double k_percent = 100.0;

/// One hole of the piece, and its mount in the job.
struct Held {
    const HolePlan* hole;
    std::size_t mount;
    bool sticks;
};

std::vector<Held> held_of(const Job& job, const MountPlan& plan, std::size_t piece) {
    std::vector<Held> all;
    for (const HolePlan& hole : plan.holes) {
        for (std::size_t i = 0; i < job.mounts.size(); ++i) {
            if (hole.piece == piece && job.mounts[i].name == hole.mount) {
                all.push_back({&hole, i, !slides(hole, job.mounts[i])});
            }
        }
    }
    std::sort(all.begin(), all.end(),
              [](const Held& a, const Held& b) { return a.hole->landing.p_mm.x() < b.hole->landing.p_mm.x(); });
    return all;
}

/// The widest gap between neighbours from the first to the last of those that count.
struct Gap {
    std::size_t before = 0;
    double mm = 0.0;
};

std::optional<Gap> widest(const std::vector<Held>& held, bool stuck_only) {
    std::size_t first = held.size();
    std::size_t last = 0;
    for (std::size_t i = 0; i < held.size(); ++i) {
        if (held[i].sticks || !stuck_only) {
            first = std::min(first, i);
            last = i;
        }
    }
    std::optional<Gap> gap;
    for (std::size_t i = first; i < last; ++i) {
        const double mm = held[i + 1].hole->landing.p_mm.x() - held[i].hole->landing.p_mm.x();
        if (!gap || mm > gap->mm) {
            gap = Gap{i, mm};
        }
    }
    return gap;
}

struct Squeeze {
    std::optional<double> strain;
    std::vector<Input> inputs;
    std::vector<std::string> missing;
};

Squeeze squeeze_of(const Job& job) {
    Squeeze squeeze;
    const MaterialNumbers part = numbers_of(job.skirt.material);
    const MaterialNumbers* const body = find_material(job.fitting.body_material);
    const auto& hot = job.fitting.hot;
    const auto& fitted = job.fitting.fitted;
    const auto need = [&](bool there, const char* words) {
        if (!there) {
            squeeze.missing.emplace_back(words);
        }
    };
    need(part.expansion_per_k.has_value(), "the sheet material, or its thermal expansion");
    need(body != nullptr && body->expansion_per_k.has_value(), "what the body is made of");
    need(hot && hot->part && hot->body, "how hot part and body get");
    need(fitted && fitted->part && fitted->body, "how warm part and body are when the part is fitted");
    if (!squeeze.missing.empty()) {
        return squeeze;
    }
    const double part_kelvins = in_celsius(*hot->part) - in_celsius(*fitted->part);
    const double body_kelvins = in_celsius(*hot->body) - in_celsius(*fitted->body);
    squeeze.strain = squeeze_strain(*part.expansion_per_k, part_kelvins, *body->expansion_per_k, body_kelvins);
    squeeze.inputs = {{"part warms by", fixed_text(part_kelvins, 1) + " K"},
                      {"body warms by", fixed_text(body_kelvins, 1) + " K"},
                      {"growth held back", fixed_text(k_percent * *squeeze.strain, 3) + " %"}};
    return squeeze;
}

/// The flange's thickness where it is thinnest along the piece.
std::optional<Length> flange_sheet(const Piece& piece, const PieceModel* model) {
    auto thickness = flange_thickness(piece, Length{}, model);
    if (thickness && thickness->computed) {
        for (const Length row : model->formed->rows) {
            const auto here = flange_thickness(piece, row, model);
            thickness = here->thickness < thickness->thickness ? here : thickness;
        }
    }
    return thickness ? std::optional(thickness->thickness) : std::nullopt;
}

Finding unmended(const Job& job, const MountPlan& plan, std::size_t piece, const PieceModel* model) {
    const Piece& drawn = job.skirt.pieces[piece];
    Finding finding;
    finding.id = "mounts/" + drawn.name + "/buckling between fasteners";
    finding.title = drawn.name + ", waves between fasteners, percent of strain";
    finding.unit = Unit::none;
    finding.at_least = false;
    finding.formula = "a_part · dT_part - a_body · dT_body <= (pi² / 3) · (t / p)² · K, with K = 1";
    finding.source = "Euler's column, clamped at both ends (Timoshenko, Theory of Elastic Stability; from memory)";
    Squeeze squeeze = squeeze_of(job);
    finding.inputs = std::move(squeeze.inputs);
    finding.missing = std::move(squeeze.missing);
    const auto thickness = flange_sheet(drawn, model);
    if (!thickness) {
        finding.missing.push_back("the sheet thickness of " + drawn.name);
    }
    const std::vector<Held> held = held_of(job, plan, piece);
    const auto all = widest(held, false);
    if (!all) {
        finding.missing.push_back("two fasteners that land on the flange of " + drawn.name);
    }
    if (!thickness || !all || !squeeze.strain) {
        finding.why = "It is not known yet whether the flange waves between its fasteners when it is hot.";
        return finding;
    }
    const auto stuck = widest(held, true);
    const Gap gap = stuck.value_or(*all);
    const double strain = std::max(0.0, *squeeze.strain);
    const double critical = buckling_strain(*thickness, millimetres(gap.mm));
    const Held& before = held[gap.before];
    const Held& behind = held[gap.before + 1];
    finding.found = stuck ? k_percent * strain : 0.0;
    finding.required = k_percent * critical;
    finding.margin = *finding.required - *finding.found;
    finding.state = state_of(finding.margin, close_band_within(*finding.required, *finding.required), finding.missing);
    const double middle = (before.hole->landing.p_mm.x() + behind.hole->landing.p_mm.x()) / 2.0;
    finding.place.along = millimetres(middle);
    finding.place.words = at_place_words(job, millimetres(middle));
    finding.inputs.push_back(
        {"widest pitch, " + before.hole->mount + " to " + behind.hole->mount, mm_text(millimetres(gap.mm), 1)});
    finding.inputs.push_back({"flange thickness", mm_text(*thickness)});
    finding.inputs.push_back({"it waves from", fixed_text(k_percent * critical, 3) + " %"});
    finding.inputs.push_back(
        {"fasteners that let the flange slide",
         std::to_string(std::count_if(held.begin(), held.end(), [](const Held& one) { return !one.sticks; })) + " of " +
             std::to_string(held.size())});
    const std::string pitch = before.hole->mount + " and " + behind.hole->mount;
    if (!stuck) {
        finding.why = "The slots slide, so that nothing is squeezed; even if all stuck, the flange would " +
                      std::string(strain <= critical ? "stay flat between " : "wave between ") + pitch + ".";
    } else if (*finding.margin < 0.0) {
        finding.why = "Holes that cannot slide hold the growth back: hot, the flange waves between " + pitch + ".";
    } else {
        finding.why = "Even where slots stick, the flange stays flat between " + pitch + " when it is hot.";
    }
    return finding;
}

/// Slots as planned, and fasteners that let the flange slide, everywhere but at the locator.
std::optional<Mend> sliding_mend(const Job& job, const MountPlan& plan, std::size_t piece, const PieceModel* model) {
    Job mended = job;
    MountPlan planned = plan;
    Mend mend{
        "Make the slots as planned and take fasteners that let the flange slide (a shoulder or a sleeve under the "
        "head), all but the locator.",
        {},
        std::nullopt};
    for (HolePlan& hole : planned.holes) {
        for (std::size_t i = 0; i < mended.mounts.size(); ++i) {
            Mount& mount = mended.mounts[i];
            if (hole.piece != piece || mount.name != hole.mount || hole.role == HoleRole::locator ||
                slides(hole, mount)) {
                continue;
            }
            const std::string here = "/mounts/" + std::to_string(i);
            mend.changes.push_back({here + "/fastener/slides", "true"});
            mount.fastener.slides = true;
            if (slides(hole, mount)) {
                continue;  // its slot is long enough as it is
            }
            mend.changes.push_back(length_change(job, here + "/part_hole", millimetres(hole.cut.width_mm)));
            mend.changes.push_back(length_change(job, here + "/part_slot", millimetres(hole.cut.length_mm)));
            mend.changes.push_back(length_change(job, here + "/part_shift", millimetres(hole.shift_mm)));
            hole.drawn = hole.cut;
            hole.drawn_shift_mm = hole.shift_mm;
        }
    }
    const Finding after = unmended(mended, planned, piece, model);
    if (mend.changes.empty() || !after.margin || *after.margin < 0.0) {
        return std::nullopt;
    }
    mend.proven_margin = after.margin;
    return mend;
}

}  // namespace

double buckling_strain(Length thickness, Length pitch, double k) {
    const double slender = thickness / pitch;
    return std::numbers::pi * std::numbers::pi / 3.0 * slender * slender * k;
}

double squeeze_strain(double part_per_k, double part_kelvins, double body_per_k, double body_kelvins) {
    return part_per_k * part_kelvins - body_per_k * body_kelvins;
}

bool slides(const HolePlan& hole, const Mount& mount) {
    if (!mount.fastener.slides || !hole.drawn) {
        return false;
    }
    // Outward from the locator, the hole's centre stands at its shift and its growth from the screw.
    const double shift = hole.from_locator_mm < 0.0 ? -hole.drawn_shift_mm : hole.drawn_shift_mm;
    const double room = (hole.drawn->length_mm - hole.screw_mm) / 2.0 + k_slack_mm;
    return std::abs(shift + hole.growth.greatest_mm) <= room && std::abs(shift + hole.growth.least_mm) <= room;
}

Finding buckling_finding(const Job& job, const MountPlan& plan, std::size_t piece, Mends mends,
                         const PieceModel* model) {
    Finding finding = unmended(job, plan, piece, model);
    if (finding.state == State::falls_short && mends == Mends::look_for) {
        finding.mend = sliding_mend(job, plan, piece, model);
        if (!finding.mend) {
            finding.mend = Mend{"Put fasteners nearer to each other, or let the holes slide.", {}, std::nullopt};
        }
    }
    return finding;
}

}  // namespace sillwright::core
