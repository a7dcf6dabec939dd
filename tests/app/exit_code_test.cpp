#include "app/terminal/exit_code.h"

#include <gtest/gtest.h>

// Expected values: the list of exit codes in the manual page.
namespace sillwright::app::terminal {
namespace {

using core::State;

int code(const std::vector<State>& states) {
    std::vector<core::Finding> findings(states.size());
    for (std::size_t i = 0; i < states.size(); ++i) {
        findings[i].state = states[i];
    }
    return static_cast<int>(exit_code_of(findings));
}

TEST(ExitCode, TellsHowTheFindingsStand) {
    EXPECT_EQ(code({State::holds, State::close}), 0);
    EXPECT_EQ(code({State::holds, State::falls_short}), 1);
    EXPECT_EQ(code({State::not_measured, State::falls_short}), 1);
    EXPECT_EQ(code({State::holds, State::not_measured}), 4);
    EXPECT_EQ(code({}), 4);
}

TEST(ExitCode, TellsWhoseFaultItIs) {
    using geometry::Error;
    using geometry::ErrorCode;
    for (const ErrorCode theirs : {ErrorCode::invalid_argument, ErrorCode::does_not_fit, ErrorCode::unreadable_file}) {
        EXPECT_EQ(static_cast<int>(exit_code_of(Error{theirs, ""})), 2);
    }
    EXPECT_EQ(static_cast<int>(exit_code_of(Error{ErrorCode::kernel_failure, ""})), 3);
    EXPECT_EQ(static_cast<int>(exit_code_of(Error{ErrorCode::stopped, ""})), 130);
}

}  // namespace
}  // namespace sillwright::app::terminal
