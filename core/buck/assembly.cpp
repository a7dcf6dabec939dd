#include "core/buck/assembly.h"

#include <algorithm>
#include <limits>

namespace sillwright::core {

namespace {

/// Widths that agree within rounding go in.
constexpr double k_rounding_mm = 1e-9;

}  // namespace

std::optional<double> lift_mm(const Rib& rib, const std::vector<Spine>& spines, std::size_t place, bool turned) {
    double least_shift = -std::numeric_limits<double>::max();
    double most_shift = std::numeric_limits<double>::max();
    double lift = 0.0;
    for (std::size_t k = 0; k < spines.size(); ++k) {
        const Slot& slot = rib.laps[turned ? spines.size() - 1 - k : k];
        const Spine& spine = spines[k];
        const Slot& notch = spine.laps[place];
        const double play = 0.5 * (slot.width_mm - spine.thickness_mm);
        if (play < -k_rounding_mm || notch.width_mm < rib.thickness_mm - k_rounding_mm) {
            return std::nullopt;
        }
        // where the rib would have to be shifted to, so that the spine is in its slot
        const double shift = spine.side_mm - (turned ? -slot.at_mm : slot.at_mm);
        least_shift = std::max(least_shift, shift - play);
        most_shift = std::min(most_shift, shift + play);
        lift = std::max(lift, spine.height_mm - notch.depth_mm - slot.depth_mm);
    }
    return least_shift <= most_shift + k_rounding_mm ? std::optional(lift) : std::nullopt;
}

std::optional<WrongPlace> worst_wrong_place(const std::vector<Rib>& ribs, const std::vector<Spine>& spines) {
    if (spines.empty()) {
        return std::nullopt;
    }
    std::optional<WrongPlace> worst;
    const auto look = [&](const WrongPlace& one) {
        if (!worst || one.lift_mm < worst->lift_mm) {
            worst = one;
        }
    };
    for (std::size_t i = 0; i < ribs.size(); ++i) {
        if (const auto lift = lift_mm(ribs[i], spines, i, true)) {
            look({ribs[i].label, ribs[i].label, true, *lift});
        }
        for (std::size_t k = i + 1; k < ribs.size(); ++k) {
            for (const bool first_turned : {false, true}) {
                for (const bool second_turned : {false, true}) {
                    const auto a = lift_mm(ribs[i], spines, k, first_turned);
                    const auto b = lift_mm(ribs[k], spines, i, second_turned);
                    if (a && b) {
                        look(*a >= *b ? WrongPlace{ribs[i].label, ribs[k].label, first_turned, *a}
                                      : WrongPlace{ribs[k].label, ribs[i].label, second_turned, *b});
                    }
                }
            }
        }
    }
    return worst;
}

}  // namespace sillwright::core
