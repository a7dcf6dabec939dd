// The forming command in this process, on the samples.
#include "app/terminal/forming_command.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

#include "app/core_link.h"

namespace sillwright::app::terminal {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

const std::string k_samples = SILLWRIGHT_SOURCE_DIR "/samples/";

struct Told {
    ExitCode code;
    std::string out, err;
};

Told told(const std::string& job) {
    testing::internal::CaptureStdout();
    testing::internal::CaptureStderr();
    const ExitCode code = run(FormingSheet{job}, core_link());
    std::string out = testing::internal::GetCapturedStdout();
    return {code, std::move(out), testing::internal::GetCapturedStderr()};
}

TEST(FormingCommand, PrintsTheStagesFindingsThenTheSheet) {
    const Told estate = told(k_samples + "estate_a_flutes.sillwright");
    EXPECT_EQ(estate.code, ExitCode::all_hold) << estate.out;
    EXPECT_THAT(estate.out, AllOf(HasSubstr("Draw direction and draft"), HasSubstr("Machine and sheet"),
                                  HasSubstr("Thickness as formed"), HasSubstr("Flute "), HasSubstr("Mould chain"),
                                  HasSubstr("Ladder: "), HasSubstr("buck")));
    EXPECT_THAT(estate.out, Not(HasSubstr("front door to skirt"))) << "no finding of another stage";
}

TEST(FormingCommand, SaysWhatIsNotDecided) {
    const Told coupe = told(k_samples + "coupe_b.sillwright");
    EXPECT_NE(coupe.code, ExitCode::all_hold);
    EXPECT_THAT(coupe.out, HasSubstr("Not decided or measured yet: "));
}

TEST(FormingCommand, RefusesAFileThatIsNotThere) {
    const Told none = told(k_samples + "no such job.sillwright");
    EXPECT_EQ(none.code, ExitCode::bad_input);
    EXPECT_THAT(none.err, HasSubstr("no such job.sillwright"));
    EXPECT_EQ(none.out, "");
}

}  // namespace
}  // namespace sillwright::app::terminal
