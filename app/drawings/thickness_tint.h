#pragma once

#include <QColor>

#include "app/looks.h"
#include "geometry/units.h"

namespace sillwright::app {

/// The colour of a thickness between the thinnest and the thickest that are shown, in equal steps of one hue, the
/// skirt's: the thinner, the stronger against the paper. No state colour is among them; the numbers stand beside.
class ThicknessTint {
public:
    static constexpr int k_steps = 6;

    ThicknessTint(geometry::Length least, geometry::Length most, looks::Tone tone);

    /// Of its step; beyond the ends as at the ends.
    [[nodiscard]] QColor at(geometry::Length thickness) const;
    [[nodiscard]] int step_of(geometry::Length thickness) const;
    /// The thinnest of a step, from 0 to k_steps, where the last is the thickest of all.
    [[nodiscard]] geometry::Length edge(int step) const;
    [[nodiscard]] QColor of_step(int step) const;

    friend bool operator==(const ThicknessTint&, const ThicknessTint&) = default;

private:
    geometry::Length least_, most_;
    looks::Tone tone_;
};

}  // namespace sillwright::app
