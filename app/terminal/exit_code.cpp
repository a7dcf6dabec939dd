#include "app/terminal/exit_code.h"

#include <algorithm>

namespace sillwright::app::terminal {

ExitCode exit_code_of(const std::vector<core::Finding>& findings) {
    const auto some = [&](core::State state) {
        return std::any_of(findings.begin(), findings.end(), [&](const auto& f) { return f.state == state; });
    };
    if (some(core::State::falls_short)) {
        return ExitCode::some_fall_short;
    }
    if (findings.empty() || some(core::State::not_measured)) {
        return ExitCode::some_not_measured;
    }
    return ExitCode::all_hold;
}

ExitCode exit_code_of(const geometry::Error& error) {
    switch (error.code) {
        case geometry::ErrorCode::kernel_failure:
            return ExitCode::our_fault;
        case geometry::ErrorCode::stopped:
            return ExitCode::stopped;
        case geometry::ErrorCode::invalid_argument:
        case geometry::ErrorCode::does_not_fit:
        case geometry::ErrorCode::unreadable_file:
            break;
    }
    return ExitCode::bad_input;
}

}  // namespace sillwright::app::terminal
