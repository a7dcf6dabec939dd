#include "app/terminal/other_hand_command.h"

#include <filesystem>
#include <string>

#include "app/terminal/run.h"
#include "app/terminal/standard_streams.h"
#include "core/edit/other_hand.h"
#include "core/job_file.h"
#include "core/survey/results.h"

namespace sillwright::app::terminal {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Result;

namespace {

/// What is done, in words; the job is written.
Result<std::string> write_other_hand(const OtherHand& command) {
    std::error_code none;
    if (std::filesystem::exists(command.to, none)) {
        return Error{ErrorCode::unreadable_file, command.to.string() +
                                                     " stands there already, and nothing of yours is "
                                                     "overwritten. Give another name."};
    }
    const auto job = core::read_job(command.job);
    if (!job) {
        return job.error();
    }
    if (job.value().other_hand.empty()) {
        return Error{ErrorCode::invalid_argument,
                     command.job.string() +
                         " names no job of the car's other side. Measure that side as a job of its "
                         "own, and write its file as \"other_hand\"."};
    }
    const std::filesystem::path folder = command.job.parent_path();
    const auto other = core::read_job(folder / job.value().other_hand);
    if (!other) {
        return other.error();
    }
    const auto results = core::survey::survey_results(job.value(), folder, false);
    const auto part = core::other_hand_part(job.value(), other.value(), results.other_hand);
    if (!part) {
        return Error{part.error().code, command.job.string() + ": " + part.error().message};
    }
    if (const auto saved = core::save_job(part.value().job, command.to); !saved) {
        return saved.error();
    }
    return "Written to " + command.to.string() + ": " + part.value().words +
           ".\nCheck it before anything is made from it: sillwright check " + command.to.string() + "\n";
}

}  // namespace

ExitCode run(const OtherHand& command) {
    const auto said = write_other_hand(command);
    if (!said) {
        return fail(said.error());
    }
    const auto written = write_out(said.value());
    return written ? ExitCode::all_hold : fail(written.error());
}

}  // namespace sillwright::app::terminal
