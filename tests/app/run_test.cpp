// The commands in this process, with an invented core.
#include "app/terminal/run.h"

#include <gtest/gtest.h>

#include <clocale>
#include <nlohmann/json.hpp>

#include "tests/app/invented_job.h"

namespace sillwright::app::terminal {
namespace {

CoreLink invented_core() {
    return {[](const std::filesystem::path&) -> geometry::Result<CheckedJob> { return invented_job(); },
            [](const CheckedJob& checked, const std::filesystem::path& folder,
               const geometry::Watch&) -> geometry::Result<HandedOver> {
                return HandedOver{folder, {"buck/station 1.dxf"}, {"PART SIZE - NO SHRINKAGE"}, checked.findings};
            }};
}

CoreLink failing_core(geometry::ErrorCode code) {
    const geometry::Error error{code, "a.sillwright, line 3: there is no comma."};
    return {[=](const std::filesystem::path&) -> geometry::Result<CheckedJob> { return error; },
            [=](const CheckedJob&, const std::filesystem::path&,
                const geometry::Watch&) -> geometry::Result<HandedOver> { return error; }};
}

struct Ran {
    ExitCode code;
    std::string out, err;
};

template <class Command>
Ran ran(const Command& command, const CoreLink& core) {
    testing::internal::CaptureStdout();
    testing::internal::CaptureStderr();
    const ExitCode code = run(command, core);
    std::string out = testing::internal::GetCapturedStdout();
    return {code, std::move(out), testing::internal::GetCapturedStderr()};
}

TEST(Run, CheckPrintsFindingsAndTellsTheShell) {
    const Ran result = ran(Check{"a.sillwright", false}, invented_core());
    EXPECT_EQ(result.code, ExitCode::some_fall_short);
    EXPECT_NE(result.out.find("falls short"), std::string::npos);
    EXPECT_EQ(result.err, "");
}

TEST(Run, CheckForProgramsPrintsNothingButJson) {
    const Ran result = ran(Check{"a.sillwright", true}, invented_core());
    EXPECT_EQ(result.code, ExitCode::some_fall_short);
    EXPECT_EQ(nlohmann::json::parse(result.out)["findings"].size(), 4U);
    EXPECT_EQ(result.err, "");
}

TEST(Run, HandoverSaysWhereAndWhatToHeed) {
    const Ran result = ran(HandOver{"a.sillwright", "out folder"}, invented_core());
    EXPECT_EQ(result.code, ExitCode::all_hold);
    for (const char* part :
         {"Written to out folder\n", "buck/station 1.dxf", "PART SIZE - NO SHRINKAGE", "4 findings"}) {
        EXPECT_NE(result.out.find(part), std::string::npos) << part;
    }
}

TEST(Run, AFailureGoesToStandardErrorAlone) {
    for (const auto& [error, code] : {std::pair{geometry::ErrorCode::unreadable_file, ExitCode::bad_input},
                                      std::pair{geometry::ErrorCode::kernel_failure, ExitCode::our_fault}}) {
        for (const Ran& result :
             {ran(Check{"a", false}, failing_core(error)), ran(Check{"a", true}, failing_core(error)),
              ran(HandOver{"a", "b"}, failing_core(error))}) {
            EXPECT_EQ(result.code, code);
            EXPECT_EQ(result.out, "");
            EXPECT_EQ(result.err, "sillwright: a.sillwright, line 3: there is no comma.\n");
        }
    }
}

TEST(Run, NumbersHaveAPointInEveryLocale) {
    // Where that locale is not installed the C locale stays, and this is true for nothing.
    const std::string before = std::setlocale(LC_NUMERIC, nullptr);
    std::setlocale(LC_NUMERIC, "de_DE.UTF-8");
    const Ran text = ran(Check{"a", false}, invented_core());
    const Ran json = ran(Check{"a", true}, invented_core());
    std::setlocale(LC_NUMERIC, before.c_str());
    EXPECT_NE(text.out.find("found 10.60 mm"), std::string::npos);
    EXPECT_NE(json.out.find("\"found_mm\": 10.6"), std::string::npos);
}

}  // namespace
}  // namespace sillwright::app::terminal
