#include "core/forming/bit_choice.h"

#include <algorithm>

namespace sillwright::core {

using geometry::in_mm;
using geometry::Length;
using geometry::millimetres;

namespace {

Length size(Length length) {
    return length < Length{} ? -length : length;
}

/// How far a bit is from what is wanted, where several do it or none does. A bit that is too short counts most.
double distance_mm(const BitFit& fit, const ToCut& cut) {
    const double too_short = fit.reach_left ? std::max(0.0, -in_mm(*fit.reach_left)) : 0.0;
    constexpr double k_short_weight = 10.0;
    if (cut.outline_radius) {
        // The widest that still goes round the corners clears the floor soonest.
        return k_short_weight * too_short + 2.0 * in_mm(fit.radius_over) +
               std::max(0.0, 2.0 * in_mm(*cut.outline_radius) - in_mm(fit.width));
    }
    return k_short_weight * too_short + in_mm(size(fit.width_off)) + in_mm(size(fit.radius - cut.plug.bottom_radius));
}

}  // namespace

Length BitFit::margin() const {
    const Length width_left = k_cut_tolerance - size(width_off);
    const Length radius_left = k_cut_tolerance - radius_over;
    const Length least = std::min(width_left, radius_left);
    return reach_left ? std::min(least, *reach_left) : least;
}

std::optional<BitFit> fit_of(const Router& router, const Bit& bit, const ToCut& cut) {
    const auto form = form_of(bit);
    if (!form) {
        return std::nullopt;
    }
    BitFit fit;
    fit.bit = bit;
    fit.radius = geometry::bottom_radius(*form);
    if (cut.outline_radius) {
        fit.width = form->diameter;
        fit.radius_over = std::max(Length{}, 0.5 * form->diameter - *cut.outline_radius);
    } else {
        fit.width = cut_width(*form, cut.plug.depth);
        fit.width_off = fit.width - cut.plug.width;
        fit.radius_over = std::max(Length{}, fit.radius - cut.plug.bottom_radius);
    }
    if (bit.reach) {
        fit.reach_left = bit.reach->value - cut.plug.depth;
    }
    fit.passes = geometry::passes(cut.plug.depth, 0.5 * form->diameter, router.pass_share);
    return fit;
}

std::optional<BitFit> best_fit(const Router& router, const ToCut& cut) {
    std::optional<BitFit> best;
    for (const Bit& bit : bits_of(router)) {
        if (bit.form == BitForm::vee || (cut.outline_radius && bit.form != BitForm::flat)) {
            continue;
        }
        auto fit = fit_of(router, bit, cut);
        if (!fit) {
            continue;
        }
        const bool does = fit->margin() >= Length{};
        const bool best_does = best && best->margin() >= Length{};
        if (!best || (does && !best_does) || (does == best_does && distance_mm(*fit, cut) < distance_mm(*best, cut))) {
            best = std::move(fit);
        }
    }
    return best;
}

}  // namespace sillwright::core
