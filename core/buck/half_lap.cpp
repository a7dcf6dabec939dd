#include "core/buck/half_lap.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace sillwright::core {

using Eigen::Vector2d;

namespace {

/// A chord stands off its arc by less than a slot's own accuracy.
constexpr geometry::Length k_chord = geometry::millimetres(0.05);
/// Heights below are the base's own line.
constexpr double k_on_base_mm = 1e-9;
/// Parts of the common width at which the spines are tried, the usual one first.
constexpr std::array<double, 6> k_parts{0.25, 0.3, 0.2, 0.35, 0.15, 0.4};
/// Whole millimetres are easier to look after.
constexpr double k_whole_mm = 1.0;

double lowest_between(const geometry::Profile& outline, double low, double high) {
    const auto points = geometry::polyline(outline, k_chord);
    if (!points) {
        return 0.0;
    }
    double lowest = std::numeric_limits<double>::max();
    for (std::size_t i = 0; i + 1 < points.value().size(); ++i) {
        Vector2d a = points.value()[i];
        Vector2d b = points.value()[i + 1];
        if (a.y() < k_on_base_mm && b.y() < k_on_base_mm) {
            continue;
        }
        if (a.x() > b.x()) {
            std::swap(a, b);
        }
        if (b.x() < low || a.x() > high) {
            continue;
        }
        const auto at = [&](double x) {
            return b.x() > a.x() ? a.y() + (b.y() - a.y()) * (x - a.x()) / (b.x() - a.x()) : std::min(a.y(), b.y());
        };
        lowest = std::min({lowest, at(std::max(low, a.x())), at(std::min(high, b.x()))});
    }
    return lowest == std::numeric_limits<double>::max() ? 0.0 : lowest;
}

StripRoom foot_of(const geometry::Profile& outline) {
    // the base is the last segment, from the low side to the high one
    const Vector2d low = start_point(outline.segments.back());
    const Vector2d high = end_point(outline.segments.back());
    return {low.x(), high.x()};
}

double room_at(const std::vector<Rib>& ribs, double side, double width, const StripRoom& foot) {
    const double low = side - 0.5 * width - k_wall_beside_slot_mm;
    const double high = side + 0.5 * width + k_wall_beside_slot_mm;
    if (low < foot.low_mm || high > foot.high_mm) {
        return 0.0;
    }
    double room = std::numeric_limits<double>::max();
    for (const Rib& rib : ribs) {
        room = std::min(room, height_inside_mm(rib, low, high));
    }
    return room - k_wood_above_slot_mm;
}

/// One way of laying the spines: their sides, what they may be high, and the keys' step there.
struct Trial {
    std::array<double, 2> side{}, most_high{};
    double step = -1.0;  ///< Negative: there is no room at all.
};

/// Least height of the first spine, of the second, for a step.
double needed(std::size_t ribs, std::size_t spines, double step, double extra, bool first) {
    const double steps = static_cast<double>(ribs - 1) * step;
    const double one = k_spine_left_mm + extra + steps + k_spine_overlap_mm;
    return first && spines == 2 ? one + steps + std::max(step, k_seen_lift_mm + 2.0 * extra) : one;
}

/// The greatest step that has room, up to the one asked for; negative if not even none has.
double step_in(const Trial& trial, std::size_t ribs, std::size_t spines, const LapMaking& making) {
    const auto fits = [&](double step) {
        for (std::size_t k = 0; k < spines; ++k) {
            if (needed(ribs, spines, step, making.extra_mm, k == 0) > trial.most_high[k]) {
                return false;
            }
        }
        return true;
    };
    if (!fits(0.0)) {
        return -1.0;
    }
    if (fits(making.step_mm)) {
        return making.step_mm;
    }
    double low = 0.0;
    double high = making.step_mm;
    constexpr int k_halvings = 30;
    for (int i = 0; i < k_halvings; ++i) {
        const double middle = 0.5 * (low + high);
        (fits(middle) ? low : high) = middle;
    }
    return low;
}

Trial tried(const std::vector<Rib>& ribs, const StripRoom& foot, double part, const LapMaking& making) {
    const double width = making.spine_thickness_mm + making.fit_mm;
    const std::size_t spines = making.count == SpineCount::two ? 2 : 1;
    const double common = foot.high_mm - foot.low_mm;
    Trial trial;
    if (spines == 1) {
        trial.side[0] = foot.low_mm + (0.25 + part) * common;
        trial.most_high[0] = room_at(ribs, trial.side[0], width, foot);
    } else {
        for (std::size_t k = 0; k < 2; ++k) {
            trial.side[k] = foot.low_mm + (k == 0 ? part : 1.0 - part) * common;
            trial.most_high[k] = room_at(ribs, trial.side[k], width, foot);
        }
        if (trial.most_high[1] > trial.most_high[0]) {
            std::swap(trial.side[0], trial.side[1]);
            std::swap(trial.most_high[0], trial.most_high[1]);
        }
        if (std::abs(trial.side[1] - trial.side[0]) < width + 2.0 * k_wall_beside_slot_mm) {
            return trial;
        }
    }
    if (making.height_mm) {
        if (*making.height_mm > trial.most_high[0]) {
            return trial;
        }
        trial.most_high[0] = *making.height_mm;
    }
    trial.step = step_in(trial, ribs.size(), spines, making);
    return trial;
}

}  // namespace

LapMaking lap_making(const Buck& buck, double spine_thickness_mm) {
    using geometry::in_mm;
    LapMaking making;
    making.spine_thickness_mm = spine_thickness_mm;
    making.fit_mm = in_mm(buck.fit.value);
    making.extra_mm = in_mm(buck.slot_extra.value);
    making.step_mm = in_mm(buck.key_step.value);
    making.count = buck.spines;
    if (buck.spine_height) {
        making.height_mm = in_mm(buck.spine_height->value);
    }
    return making;
}

StripRoom common_foot(const std::vector<Rib>& ribs) {
    StripRoom common{-std::numeric_limits<double>::max(), std::numeric_limits<double>::max()};
    for (const Rib& rib : ribs) {
        for (const geometry::Profile* const face : {&rib.outline, &rib.far_outline}) {
            const StripRoom foot = foot_of(*face);
            common.low_mm = std::max(common.low_mm, foot.low_mm);
            common.high_mm = std::min(common.high_mm, foot.high_mm);
        }
    }
    return common;
}

double height_inside_mm(const Rib& rib, double low_mm, double high_mm) {
    return std::min(lowest_between(rib.outline, low_mm, high_mm), lowest_between(rib.far_outline, low_mm, high_mm));
}

LapRoom lap_room(const std::vector<Rib>& ribs, const LapMaking& making) {
    const StripRoom foot = common_foot(ribs);
    const std::size_t count = making.count == SpineCount::two ? 2 : 1;
    LapRoom room{0.0, needed(ribs.size(), count, 0.0, making.extra_mm, true)};
    for (const double part : k_parts) {
        room.most_high_mm = std::max(room.most_high_mm, tried(ribs, foot, part, making).most_high[0]);
    }
    return room;
}

std::vector<Spine> lay_spines(std::vector<Rib>& ribs, const LapMaking& making) {
    if (ribs.size() < 2) {
        return {};
    }
    const StripRoom foot = common_foot(ribs);
    Trial best;
    for (const double part : k_parts) {
        const Trial trial = tried(ribs, foot, part, making);
        if (trial.step > best.step) {
            best = trial;
        }
        if (best.step >= making.step_mm) {
            break;
        }
    }
    if (best.step < 0.0) {
        return {};
    }
    const std::size_t count = making.count == SpineCount::two ? 2 : 1;
    const double n = static_cast<double>(ribs.size() - 1);
    const double step = best.step;
    const double extra = making.extra_mm;
    const double slack = std::max(0.0, best.most_high[0] - needed(ribs.size(), count, step, extra, true));
    const double second_slack =
        count == 2 ? std::max(0.0, best.most_high[1] - needed(ribs.size(), count, step, extra, false)) : slack;
    // a third of what is left goes below the slots, a third above
    const double share = std::floor(slack / 3.0 / k_whole_mm) * k_whole_mm;
    const double lowest = k_spine_left_mm + extra + std::min(share, std::floor(second_slack));
    const double second_top = lowest + n * step;
    const double first_low = count == 2 ? second_top + std::max(step, k_seen_lift_mm + 2.0 * extra) : lowest;
    const double first_top = first_low + n * step;

    std::vector<Spine> spines(count);
    for (std::size_t k = 0; k < count; ++k) {
        Spine& spine = spines[k];
        spine.side_mm = best.side[k];
        spine.thickness_mm = making.spine_thickness_mm;
        spine.front_mm = ribs.front().front_mm() - k_spine_overhang_mm;
        spine.rear_mm = ribs.back().rear_mm() + k_spine_overhang_mm;
        const double top = k == 0 ? first_top : second_top;
        spine.height_mm = std::min(best.most_high[k], top + k_spine_overlap_mm + share);
        if (k == 0 && making.height_mm) {
            spine.height_mm = *making.height_mm;
        }
        if (k == 1) {
            const double lower = spines[0].height_mm - k_spines_differ_mm;
            spine.height_mm = std::max(std::min(spine.height_mm, lower), top + k_spine_overlap_mm);
        }
        for (std::size_t i = 0; i < ribs.size(); ++i) {
            const double steps = k == 0 ? static_cast<double>(i) : n - static_cast<double>(i);
            const double split = (k == 0 ? first_low : lowest) + steps * step;
            Rib& rib = ribs[i];
            rib.laps.push_back({spine.side_mm, spine.thickness_mm + making.fit_mm, split + extra});
            spine.laps.push_back({0.5 * (rib.front_mm() + rib.rear_mm()), rib.thickness_mm + making.fit_mm,
                                   spine.height_mm - split + extra});
            spine.rib_labels.push_back(rib.label);
        }
    }
    return spines;
}

}  // namespace sillwright::core
