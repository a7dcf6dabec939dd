#include "app/drawings/thickness_tint.h"

#include <algorithm>
#include <cmath>

namespace sillwright::app {

using geometry::Length;

namespace {

/// Part of the skirt's colour in the palest and in the strongest step; the rest is paper.
constexpr double k_palest = 0.12;
constexpr double k_strongest = 0.85;

QColor mixed(const QColor& one, const QColor& other, double part) {
    const auto channel = [part](int a, int b) { return static_cast<int>(std::lround(std::lerp(a, b, part))); };
    return {channel(other.red(), one.red()), channel(other.green(), one.green()), channel(other.blue(), one.blue())};
}

}  // namespace

ThicknessTint::ThicknessTint(Length least, Length most, looks::Tone tone)
    : least_{least}, most_{std::max(least, most)}, tone_{tone} {}

int ThicknessTint::step_of(Length thickness) const {
    if (!(most_ > least_)) {
        return 0;
    }
    const double part = std::clamp((thickness - least_) / (most_ - least_), 0.0, 1.0);
    return std::min(k_steps - 1, static_cast<int>(part * k_steps));
}

Length ThicknessTint::edge(int step) const {
    return least_ + (most_ - least_) * (static_cast<double>(step) / k_steps);
}

QColor ThicknessTint::of_step(int step) const {
    const looks::Colours& colours = looks::colours(tone_);
    const double part = static_cast<double>(std::clamp(step, 0, k_steps - 1)) / (k_steps - 1);
    return mixed(colours.skirt, colours.paper, std::lerp(k_strongest, k_palest, part));
}

QColor ThicknessTint::at(Length thickness) const {
    return of_step(step_of(thickness));
}

}  // namespace sillwright::app
