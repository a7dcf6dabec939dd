#pragma once

#include <filesystem>
#include <string>

#include "core/job.h"
#include "geometry/result.h"

namespace sillwright::core {

/// The job file: JSON in UTF-8, `.sillwright`, described by
/// resources/job.schema.json.
///
/// Units: a bare number is in the job's own unit; a length in quotation marks is
///   kept as it was typed. Angles are degrees, by their keys.
/// Shape: what is not measured is left out (or null). Fields that we do not
///   know stay where they were found.
/// Accuracy: lengths and directions come back bit for bit, angles to the last
///   digit of a double; the text is the same from the first writing on.
/// Errors: unreadable_file, in the words `FILE: /json/pointer (line N): what is
///   wrong. What would be right.`

/// The job in `text`; `file` names it in messages. Files that it names are not
/// looked for.
geometry::Result<Job> parse_job(const std::string& text, const std::string& file);

/// The job in the file at `path`, its mesh and STEP files found beside it.
geometry::Result<Job> read_job(const std::filesystem::path& path);

/// The text of a job file.
std::string job_text(const Job& job);

/// Writes the job so that either the whole of it stands at `path` or what stood
/// there before. The previous version is kept beside it, `~` after its name,
/// unless it was the same text.
/// Errors: as geometry::write_file; invalid_argument for a job that parse_job
///   would not take. Then the file at `path` is as it was.
geometry::Status save_job(const Job& job, const std::filesystem::path& path);

}  // namespace sillwright::core
