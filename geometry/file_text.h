#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>

#include "geometry/result.h"

namespace sillwright::geometry {

/// The whole content of a file, byte for byte.
///
/// Errors: unreadable_file, naming the file, if it is missing, is no ordinary
///   file, may not be read, or is larger than `max_bytes` (then nothing of it
///   is read, so memory stays bounded).
Result<std::string> read_file(const std::filesystem::path& path, std::uintmax_t max_bytes);

/// Makes `path` hold exactly `bytes`, or leaves what stands there untouched:
/// written to a temporary file in the same folder, flushed to the disk, then
/// renamed over the old one. An old file's permissions stay; a symbolic link
/// stays a link and the file that it names is replaced.
///
/// Errors: unreadable_file, naming the file, if the folder is missing or
///   cannot be written to, the disk is full, or something other than an
///   ordinary file stands at `path`. No temporary file is left behind.
Status write_file(const std::filesystem::path& path, std::string_view bytes);

}  // namespace sillwright::geometry
