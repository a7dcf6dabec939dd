#pragma once

#include <filesystem>
#include <vector>

#include "core/job.h"
#include "geometry/result.h"

/// What the window opens with where no job was named.
namespace sillwright::app::first_start {

/// Where the samples may lie: installed beside the program, or in the source tree it was built from.
/// Needs a QApplication.
std::vector<std::filesystem::path> sample_folders();

/// A worked sample to look round in, as a value: saving it asks for a name, so the sample itself stays.
/// Errors: unreadable_file if it is in none of the folders, or as core::read_job.
geometry::Result<core::Job> sample(const std::vector<std::filesystem::path>& folders);

constexpr const char* k_sample = "estate_a.sillwright";

}  // namespace sillwright::app::first_start
