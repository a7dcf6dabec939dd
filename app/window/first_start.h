#pragma once

#include <filesystem>
#include <vector>

#include "core/job.h"
#include "geometry/result.h"

namespace sillwright::app {
class JobFiles;
}

/// What the window opens with where no job was named.
namespace sillwright::app::first_start {

/// Where the samples may lie: installed beside the program, or in the source tree it was built from.
/// Needs a QApplication.
std::vector<std::filesystem::path> sample_folders();

/// A worked sample to look round in, as a value: saving it asks for a name, so the sample itself stays.
/// Errors: unreadable_file if it is in none of the folders, or as core::read_job.
geometry::Result<core::Job> sample(const std::vector<std::filesystem::path>& folders);

/// What the window begins with: a job that was never saved and is taken back, else the job that was open
/// last, else the sample. Errors: of the sample.
geometry::Status begin(JobFiles& files, const std::vector<std::filesystem::path>& folders);

constexpr const char* k_sample = "estate_a.sillwright";

}  // namespace sillwright::app::first_start
