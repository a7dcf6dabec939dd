#include "core/shape_files.h"

#include <optional>
#include <string>
#include <system_error>

#include "geometry/file_text.h"
#include "geometry/sha256.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;
using geometry::Status;

namespace fs = std::filesystem;

namespace {

Error refuse(const std::string& path, const std::string& what) {
    return {ErrorCode::unreadable_file, "The job names the file \"" + path + "\", " + what};
}

/// Whether `path`, all links followed, lies in `folder`.
bool inside(const fs::path& folder, const fs::path& path) {
    std::error_code error;
    const fs::path home = fs::weakly_canonical(folder, error);
    if (error) {
        return false;
    }
    const fs::path relative = fs::weakly_canonical(path, error).lexically_relative(home);
    return !error && !relative.empty() && *relative.begin() != "..";
}

/// One file on its way to its new place.
struct Copy {
    std::string name;  ///< As the job has it.
    fs::path from, to;
    std::string checksum;
};

/// Nothing if it is there already.
geometry::Result<std::optional<Copy>> plan(const ShapeFile& file, const fs::path& from, const fs::path& to) {
    const Copy copy{file.path, from / file.path, to / file.path, ""};
    if (!inside(from, copy.from) || !inside(to, copy.to)) {
        return refuse(file.path,
                      "which leads out of the job's folder, so it is not copied. Put the file itself into the folder.");
    }
    const auto bytes = geometry::read_file(copy.from, k_most_shape_bytes);
    if (!bytes) {
        return refuse(file.path, "which cannot be copied: " + bytes.error().message);
    }
    const std::string checksum = geometry::sha256(bytes.value());
    if (!file.checksum.empty() && file.checksum != checksum) {
        return refuse(file.path,
                      "but the file of that name is another one than the job was made with: its SHA-256 differs. Put "
                      "the right file back, or take the checksum out of the job file.");
    }
    std::error_code error;
    if (fs::exists(copy.to, error) || fs::is_symlink(copy.to, error)) {
        const auto there = geometry::read_file(copy.to, k_most_shape_bytes);
        if (there && there.value() == bytes.value()) {
            return std::optional<Copy>();
        }
        return refuse(file.path, "but in the folder " + to.string() +
                                     " another file has that name, and nothing is overwritten. Choose another folder.");
    }
    return std::optional(Copy{copy.name, copy.from, copy.to, checksum});
}

Status carry_out(const Copy& copy) {
    std::error_code error;
    fs::create_directories(copy.to.parent_path(), error);
    const auto bytes = geometry::read_file(copy.from, k_most_shape_bytes);
    if (!bytes) {
        return bytes.error();
    }
    if (auto written = geometry::write_file(copy.to, bytes.value()); !written) {
        return refuse(copy.name, "which cannot be copied: " + written.error().message);
    }
    const auto again = geometry::read_file(copy.to, k_most_shape_bytes);
    if (!again || geometry::sha256(again.value()) != copy.checksum) {
        return refuse(copy.name,
                      "whose copy in " + copy.to.parent_path().string() +
                          " reads otherwise than the file itself. Check the disk, or choose another folder.");
    }
    return std::monostate{};
}

}  // namespace

std::vector<ShapeFile> shape_files(const Job& job) {
    std::vector<ShapeFile> files;
    for (const Door& door : job.doors) {
        for (const DoorBody& body : door.bodies) {
            if (body.file) {
                files.push_back(*body.file);
            }
        }
    }
    for (const Piece& piece : job.skirt.pieces) {
        if (piece.file) {
            files.push_back(*piece.file);
        }
    }
    for (const survey::Photo& photo : job.photos) {
        files.push_back({photo.path, photo.checksum});
    }
    for (const survey::Scan& scan : job.scans) {
        files.push_back({scan.path, scan.checksum, scan.unit});
    }
    return files;
}

Status copy_shape_files(const Job& job, const fs::path& from, const fs::path& to) {
    std::vector<Copy> copies;
    for (const ShapeFile& file : shape_files(job)) {
        const auto copy = plan(file, from, to);
        if (!copy) {
            return copy.error();
        }
        if (copy.value()) {
            copies.push_back(*copy.value());
        }
    }
    for (std::size_t i = 0; i < copies.size(); ++i) {
        std::error_code error;
        if (fs::exists(copies[i].to, error)) {
            continue;  // named twice by the job
        }
        if (auto done = carry_out(copies[i]); !done) {
            for (std::size_t k = 0; k <= i; ++k) {
                fs::remove(copies[k].to, error);
            }
            return done;
        }
    }
    return std::monostate{};
}

geometry::Result<BroughtFile> bring_file(const fs::path& file, const fs::path& folder) {
    /// More files of one name than this are no accident.
    constexpr int k_most_of_a_name = 1000;
    const auto bytes = geometry::read_file(file, k_most_shape_bytes);
    if (!bytes) {
        return bytes.error();
    }
    const std::string checksum = geometry::sha256(bytes.value());
    for (int i = 1; i <= k_most_of_a_name; ++i) {
        const std::string name = i == 1 ? file.filename().string()
                                        : file.stem().string() + " " + std::to_string(i) + file.extension().string();
        std::error_code error;
        if (!fs::exists(folder / name, error) && !fs::is_symlink(folder / name, error)) {
            if (auto copied = carry_out({name, file, folder / name, checksum}); !copied) {
                return copied.error();
            }
            return BroughtFile{name, checksum};
        }
        const auto there = geometry::read_file(folder / name, k_most_shape_bytes);
        if (there && there.value() == bytes.value() && inside(folder, folder / name)) {
            return BroughtFile{name, checksum};
        }
    }
    return Error{ErrorCode::unreadable_file, "The folder " + folder.string() + " has too many files of the name " +
                                                 file.filename().string() + ". Give the file another name."};
}

}  // namespace sillwright::core
