#pragma once

#include <cstddef>
#include <string>

#include "app/checked_job.h"

namespace sillwright::app::terminal {

struct TextLook {
    std::size_t width = 80;  ///< Columns, at least 60.
    bool utf8 = true;        ///< Else plain ASCII.
};

/// The look that standard output has: its width, held between 80 and 100
/// columns (80 where it is no terminal), and the letters of the locale.
TextLook look_of_standard_output();

/// The findings of a job for a person to read: a heading, then worst margin
/// first, then a summary line. No line is longer than the look's width.
std::string findings_text(const CheckedJob& checked, const TextLook& look);

}  // namespace sillwright::app::terminal
