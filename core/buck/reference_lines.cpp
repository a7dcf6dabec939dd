#include "core/buck/reference_lines.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace sillwright::core {

namespace {

/// How high in the common room the baseline lies: low, since the label stands above it.
constexpr double k_baseline_part = 0.25;
/// A line nearer than this to the end of its room is of no use on a rib.
constexpr double k_least_inside_mm = 5.0;

/// The nearest whole ten, whole one, or the value itself, that lies well within the room.
double rounded_within(double value, const Stretch& room) {
    for (const double step : {10.0, 1.0}) {
        const double rounded = std::round(value / step) * step;
        if (rounded >= room.from_mm + k_least_inside_mm && rounded <= room.to_mm - k_least_inside_mm) {
            return rounded;
        }
    }
    return value;
}

Stretch whole_axis() {
    return {-std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
}

void cut_to(Stretch& room, const Stretch& other) {
    room = {std::max(room.from_mm, other.from_mm), std::min(room.to_mm, other.to_mm)};
}

/// Lines that all of `ribs` share; none if they have no common room.
std::optional<ReferenceLines> common_lines(const std::vector<InnerRoom>& ribs) {
    Stretch up = whole_axis();
    for (const InnerRoom& rib : ribs) {
        cut_to(up, {rib.bottom_mm(), rib.top_mm()});
    }
    if (!(up.width_mm() > 0.0)) {
        return std::nullopt;
    }
    const double baseline = rounded_within(up.from_mm + k_baseline_part * up.width_mm(), up);
    Stretch out = whole_axis();
    for (const InnerRoom& rib : ribs) {
        const auto chord = rib.widest(baseline);
        if (!chord) {
            return std::nullopt;
        }
        cut_to(out, *chord);
    }
    if (!(out.width_mm() > 0.0)) {
        return std::nullopt;
    }
    return ReferenceLines{baseline, rounded_within(0.5 * (out.from_mm + out.to_mm), out)};
}

}  // namespace

std::vector<ReferenceLines> reference_lines(const std::vector<InnerRoom>& ribs) {
    if (const auto common = common_lines(ribs)) {
        return std::vector<ReferenceLines>(ribs.size(), *common);
    }
    std::vector<ReferenceLines> own;
    for (const InnerRoom& rib : ribs) {
        // One rib alone has room: its outline encloses an area.
        own.push_back(common_lines({rib}).value_or(ReferenceLines{rib.bottom_mm(), 0.0}));
    }
    return own;
}

}  // namespace sillwright::core
