#pragma once

#include <filesystem>
#include <string>

#include "geometry/result.h"

namespace sillwright::app {

/// SHA-256 of a file's bytes, 64 hex digits. Source: FIPS 180-4.
/// Errors: unreadable_file.
geometry::Result<std::string> sha256_of(const std::filesystem::path& file);

}  // namespace sillwright::app
