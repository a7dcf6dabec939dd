#include "app/terminal/survey_command.h"

#include <QFile>
#include <QLockFile>
#include <cstdint>
#include <sstream>
#include <string>
#include <utility>

#include "app/drawings/measuring_sheet_print.h"
#include "app/surveyed_job.h"
#include "app/terminal/page_application.h"
#include "app/terminal/run.h"
#include "app/terminal/standard_streams.h"
#include "app/terminal/survey_json.h"
#include "app/terminal/survey_text.h"
#include "app/window/unsaved_work.h"
#include "core/edit/book_edit.h"
#include "core/job_file.h"
#include "core/survey/book_csv.h"
#include "core/survey/measuring_sheet.h"
#include "geometry/file_text.h"

namespace sillwright::app::terminal {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Result;
using geometry::Status;

namespace fs = std::filesystem;

namespace {

/// A book of twenty thousand readings stays far below.
constexpr std::uintmax_t k_most_csv_bytes = 64U << 20U;

/// Held while the job file is read, changed and written: a window that has it open would write over the change.
class HeldJob {
public:
    explicit HeldJob(const fs::path& job) : lock_{QFile::decodeName(unsaved_work::lock_of(job).string().c_str())} {
        lock_.setStaleLockTime(0);
        held_ = lock_.tryLock() || lock_.error() != QLockFile::LockFailedError;
    }
    [[nodiscard]] bool held() const { return held_; }

private:
    QLockFile lock_;
    bool held_ = false;
};

Error open_elsewhere(const fs::path& job) {
    return {ErrorCode::does_not_fit, job.string() +
                                         " is open in a window, which would write over this change. Close it "
                                         "there, or make the change there."};
}

Status write_new(const fs::path& file, const std::string& bytes) {
    std::error_code none;
    if (fs::exists(file, none)) {
        return Error{ErrorCode::unreadable_file,
                     file.string() + " stands there already, and nothing of yours is overwritten. Give another name."};
    }
    return geometry::write_file(file, bytes);
}

/// The job with the wished change, saved; what is to be said of it.
struct Changed {
    core::Job job;
    std::string said;
    bool some_refused = false;
};

Result<Changed> save(core::Job job, const fs::path& file, std::string said, bool some_refused) {
    if (const Status saved = core::save_job(job, file); !saved) {
        return saved.error();
    }
    return Changed{std::move(job), std::move(said), some_refused};
}

Result<Changed> take(const core::Job& job, const Survey& command, const TextLook& look) {
    const auto bytes = geometry::read_file(*command.take, k_most_csv_bytes);
    if (!bytes) {
        return bytes.error();
    }
    const auto csv = core::survey::book_of_csv(bytes.value(), job.book, job.unit);
    if (!csv) {
        return Error{csv.error().code, command.take->string() + ": " + csv.error().message};
    }
    const std::string said = taken_text(csv.value(), look);
    const bool some_refused = !csv.value().refused.empty();
    if (csv.value().readings.empty()) {
        return Changed{job, said, some_refused};
    }
    auto edit = core::add_from_csv(job, csv.value());
    if (!edit) {
        return edit.error();
    }
    return save(std::move(edit).value().job, command.job, said, some_refused);
}

Result<Changed> drop(const core::Job& job, const Survey& command) {
    auto edit = core::drop_reading(job, command.drop, command.why);
    if (!edit) {
        return edit.error();
    }
    std::string said = edit.value().words;
    said.front() = 'D';
    return save(std::move(edit).value().job, command.job, said + ".\n", false);
}

Result<Changed> change(const Survey& command, const TextLook& look) {
    auto job = core::read_job(command.job);
    if (!job) {
        return job.error();
    }
    return command.take ? take(job.value(), command, look) : drop(job.value(), command);
}

/// Standard output is the program's alone then.
void complain_of_each_line(const std::string& text) {
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        if (!line.empty()) {
            complain(line);
        }
    }
}

Status write_files(const Survey& command, const SurveyedJob& surveyed) {
    const core::Job& job = surveyed.job;
    if (command.csv) {
        if (Status done = write_new(*command.csv, core::survey::csv_of_book(job.book, job.unit)); !done) {
            return done;
        }
    }
    if (!command.sheet && !command.copy) {
        return std::monostate{};
    }
    const PageApplication application;
    const PageSize size = job.unit == core::BareUnit::in ? PageSize::letter : PageSize::a4;
    if (command.sheet) {
        if (Status done = write_new(*command.sheet, measuring_sheet_pdf(core::survey::blank_sheet(job), size)); !done) {
            return done;
        }
    }
    if (command.copy) {
        const auto filled = core::survey::filled_sheet(job, surveyed.results.solution);
        if (Status done = write_new(*command.copy, measuring_sheet_pdf(filled, size)); !done) {
            return done;
        }
    }
    return std::monostate{};
}

}  // namespace

ExitCode run(const Survey& command) {
    const TextLook look = look_of_standard_output();
    std::string said;
    bool some_refused = false;
    if (command.take || !command.drop.empty()) {
        const HeldJob held(command.job);
        if (!held.held()) {
            return fail(open_elsewhere(command.job));
        }
        const auto changed = change(command, look);
        if (!changed) {
            return fail(changed.error());
        }
        said = changed.value().said;
        some_refused = changed.value().some_refused;
    }
    const auto surveyed = survey_job(command.job);
    if (!surveyed) {
        return fail(surveyed.error());
    }
    if (const Status files = write_files(command, surveyed.value()); !files) {
        return fail(files.error());
    }
    if (command.json) {
        complain_of_each_line(said);
        said.clear();
    }
    const std::string text = command.json ? survey_json(surveyed.value()) : survey_text(surveyed.value(), look);
    const auto written = write_out(said + (said.empty() ? "" : "\n") + text);
    if (!written) {
        return fail(written.error());
    }
    return some_refused ? ExitCode::bad_input : exit_code_of(surveyed.value().findings);
}

}  // namespace sillwright::app::terminal
