#pragma once

#include <vector>

#include "core/finding.h"
#include "geometry/result.h"

namespace sillwright::app::terminal {

/// How the program ends, for the shell.
enum class ExitCode {
    all_hold = 0,           ///< Also: done, written, shown.
    some_fall_short = 1,    ///< Whatever else is not measured.
    bad_input = 2,          ///< A word, a file or a place to write cannot be used.
    our_fault = 3,          ///< The program failed.
    some_not_measured = 4,  ///< None falls short. A job without one finding counts here.
    stopped = 130,          ///< As a shell reports what was stopped by the keyboard.
};

ExitCode exit_code_of(const std::vector<core::Finding>& findings);

/// kernel_failure is our fault, stopped is itself, all else bad input.
ExitCode exit_code_of(const geometry::Error& error);

}  // namespace sillwright::app::terminal
