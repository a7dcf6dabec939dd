#include "core/job_file.h"

#include <system_error>

#include "core/job_check.h"
#include "core/job_file/fields.h"
#include "core/job_file/json_text.h"
#include "core/job_file/reader.h"
#include "core/job_file/writer.h"
#include "geometry/file_text.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Result;
using geometry::Status;

namespace {

Error refuse(const std::string& text, const std::string& file, const std::string& pointer, const std::string& what) {
    const auto line = job_file::line_of(text, pointer);
    const std::string place = pointer.empty() ? "" : " " + pointer;
    return {ErrorCode::unreadable_file,
            file + ":" + place + (line ? " (line " + std::to_string(*line) + "): " : ": ") + what};
}

/// Why the file named in the job cannot be used; nothing if it can.
std::optional<std::string> missing_file(const std::filesystem::path& folder, const std::string& path) {
    std::error_code error;
    const auto whole = std::filesystem::weakly_canonical(folder / path, error);
    if (error || !std::filesystem::is_regular_file(whole, error)) {
        return "there is no file " + job_file::in_quotes(path) +
               " in the job's folder. Copy it there, or correct the path.";
    }
    const auto home = std::filesystem::canonical(folder, error);
    const auto inside = whole.lexically_relative(home);
    if (error || inside.empty() || *inside.begin() == "..") {
        return "the file " + job_file::in_quotes(path) +
               " is a link that leads out of the job's folder. Copy the file " + "itself into the folder.";
    }
    return std::nullopt;
}

struct NamedFile {
    std::string pointer, path;
};

std::vector<NamedFile> named_files(const Job& job) {
    std::vector<NamedFile> files;
    for (std::size_t i = 0; i < job.doors.size(); ++i) {
        for (std::size_t k = 0; k < job.doors[i].bodies.size(); ++k) {
            if (const auto& file = job.doors[i].bodies[k].file) {
                files.push_back(
                    {"/doors/" + std::to_string(i) + "/bodies/" + std::to_string(k) + "/file/path", file->path});
            }
        }
    }
    for (std::size_t i = 0; i < job.skirt.pieces.size(); ++i) {
        if (const auto& file = job.skirt.pieces[i].file) {
            files.push_back({"/skirt/pieces/" + std::to_string(i) + "/file/path", file->path});
        }
    }
    return files;
}

}  // namespace

Result<Job> parse_job(const std::string& text, const std::string& file) {
    const auto json = job_file::parse_json(text, file);
    if (!json) {
        return json.error();
    }
    Job job;
    job_file::Reading reading;
    job_file::JobReader reader(json.value(), "", reading);
    describe(reader, job);
    if (reading.first) {
        return refuse(text, file, reading.first->pointer, reading.first->message);
    }
    if (const auto fault = first_fault(job)) {
        return refuse(text, file, fault->pointer, fault->message);
    }
    return job;
}

Result<Job> read_job(const std::filesystem::path& path) {
    const auto text = geometry::read_file(path, job_file::k_most_bytes);
    if (!text) {
        return text.error();
    }
    auto job = parse_job(text.value(), path.string());
    if (!job) {
        return job;
    }
    const auto folder = path.has_parent_path() ? path.parent_path() : std::filesystem::path(".");
    for (const NamedFile& file : named_files(job.value())) {
        if (const auto why = missing_file(folder, file.path)) {
            return refuse(text.value(), path.string(), file.pointer, *why);
        }
    }
    return job;
}

std::string job_text(const Job& job) {
    Job copy = job;  // describe() takes what it may fill
    job_file::JobWriter writer(job.unit);
    describe(writer, copy);
    return job_file::layout(writer.json());
}

Status save_job(const Job& job, const std::filesystem::path& path) {
    const std::string text = job_text(job);
    if (const auto again = parse_job(text, path.string()); !again) {
        return Error{ErrorCode::invalid_argument, "Not saved. " + again.error().message};
    }
    std::error_code error;
    if (std::filesystem::exists(path, error)) {
        const auto previous = geometry::read_file(path, job_file::k_most_bytes);
        if (!previous) {
            return previous.error();
        }
        if (previous.value() != text) {
            const auto kept = geometry::write_file(path.string() + "~", previous.value());
            if (!kept) {
                return kept;
            }
        }
    }
    return geometry::write_file(path, text);
}

}  // namespace sillwright::core
