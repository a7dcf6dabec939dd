#pragma once

#include "app/looks.h"

namespace sillwright::app {

/// How this person likes the window, kept from one start to the next.
struct LookSettings {
    looks::Tone tone = looks::Tone::light;
    bool round_shown = true;  ///< The solid in the section's corner.
    bool below_shown = true;  ///< The bumps or the table below the section.
};

LookSettings read_look_settings();
void keep_look_settings(const LookSettings& settings);

/// Gives the whole program that tone.
void wear(looks::Tone tone);

}  // namespace sillwright::app
