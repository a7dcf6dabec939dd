#pragma once

#include <cstdint>
#include <filesystem>
#include <vector>

#include "core/job.h"
#include "geometry/result.h"

/// The mesh and STEP files, photos and scans that lie beside a job file.
namespace sillwright::core {

/// All that the job names, in its order.
std::vector<ShapeFile> shape_files(const Job& job);

/// Copies the files that the job names from the folder of its file to another one, which is
/// there. Every copy is read back and compared by its SHA-256. A file that is
/// there already, the same byte for byte, stays.
/// Errors: unreadable_file, naming the file, if one is missing, cannot be read or written, is other
///   than the checksum in the job says, leads out of either folder, or if another file has its
///   name at the new place. Nothing is overwritten, and no copy of ours is left behind.
geometry::Status copy_shape_files(const Job& job, const std::filesystem::path& from, const std::filesystem::path& to);

/// A file that was put beside a job file.
struct BroughtFile {
    std::string path;      ///< Its name in the folder.
    std::string checksum;  ///< SHA-256 in hex.
};

/// Puts a copy of a file into a job's folder, under its own name, or with a number behind it where another file has
/// that name; a file that is there already, the same byte for byte, is used as it is. The copy is read back.
/// Errors: unreadable_file, naming the file.
geometry::Result<BroughtFile> bring_file(const std::filesystem::path& file, const std::filesystem::path& folder);

/// Largest file that is copied.
constexpr std::uintmax_t k_most_shape_bytes = 1ULL << 30;

}  // namespace sillwright::core
