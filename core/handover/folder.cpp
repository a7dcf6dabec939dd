#include "core/handover/folder.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cassert>
#include <cerrno>
#include <cstdio>
#include <optional>
#include <set>
#include <system_error>
#include <utility>

#include "core/handover/manifest.h"
#include "geometry/file_text.h"
#include "geometry/sha256.h"

namespace sillwright::core {

namespace fs = std::filesystem;
using geometry::Error;
using geometry::ErrorCode;
using geometry::Result;
using geometry::Status;

namespace {

/// More than any handover has; keeps memory bounded when somebody else's file is met.
constexpr std::uintmax_t k_most_bytes = std::uintmax_t{1} << 30U;
/// Names of hidden folders that are tried; more than one is needed only after a crash.
constexpr int k_name_attempts = 100;
/// Of a folder made by us, before the user's umask takes its share.
constexpr mode_t k_new_folder_mode = 0777;

Error failure(const fs::path& path, const std::string& what) {
    return {ErrorCode::unreadable_file, "\"" + path.string() + "\" " + what};
}

Error system_failure(const fs::path& path, const std::string& doing, int code) {
    return failure(path, doing + ": " + std::generic_category().message(code) +
                             "; make room, change the permissions, or give another folder.");
}

/// The folder's real place: without a slash at its end, symbolic links followed.
fs::path real_place(const fs::path& folder) {
    std::error_code none;
    const fs::path plain = folder.has_filename() ? folder : folder.parent_path();
    const fs::path real = fs::weakly_canonical(fs::absolute(plain, none), none);
    return none || real.empty() ? plain : real;
}

/// What stands at the place already.
struct Standing {
    bool exists = false;
    std::vector<std::string> ours;  ///< Paths in its manifest, and the manifest.
    std::vector<fs::path> theirs;   ///< Files, links and the like of somebody else; relative.
    std::vector<fs::path> folders;  ///< All folders inside, outer ones first; relative.
};

Status read_entries(const fs::path& folder, Standing& standing) {
    const std::set<std::string> ours(standing.ours.begin(), standing.ours.end());
    std::error_code error;
    for (fs::recursive_directory_iterator it(folder, error), end; !error && it != end; it.increment(error)) {
        const fs::path relative = it->path().lexically_relative(folder);
        const fs::file_status status = it->symlink_status(error);
        if (!error && status.type() == fs::file_type::directory) {
            standing.folders.push_back(relative);
        } else if (!ours.contains(relative.generic_string()) || status.type() != fs::file_type::regular) {
            standing.theirs.push_back(relative);
        }
    }
    if (error) {
        return system_failure(folder, "cannot be looked through", error.value());
    }
    return std::monostate{};
}

/// Our files are replaced only if they still are what we wrote.
Status check_unchanged(const fs::path& folder, const std::vector<ManifestLine>& lines) {
    for (const ManifestLine& line : lines) {
        std::error_code none;
        const fs::path path = folder / line.path;
        if (!fs::exists(fs::symlink_status(path, none))) {
            continue;  // taken away by its owner
        }
        const auto bytes = geometry::read_file(path, k_most_bytes);
        if (!bytes || geometry::sha256(bytes.value()) != line.sha256) {
            return failure(path,
                           "was changed after it was written, so the folder is not replaced. Move the file "
                           "elsewhere, or give another folder.");
        }
    }
    return std::monostate{};
}

Result<Standing> look_at(const fs::path& folder) {
    Standing standing;
    std::error_code error;
    const fs::file_status status = fs::status(folder, error);
    if (status.type() == fs::file_type::not_found) {
        return standing;
    }
    if (status.type() != fs::file_type::directory) {
        return failure(folder, "is not a folder that can be used. Give the name of a new one.");
    }
    standing.exists = true;
    const bool empty = fs::is_empty(folder, error);
    if (error) {
        return system_failure(folder, "cannot be looked through", error.value());
    }
    if (empty) {
        return standing;
    }
    const auto text = geometry::read_file(folder / k_manifest_name, k_most_bytes);
    const auto lines = text ? parse_manifest(text.value()) : std::nullopt;
    if (!lines) {
        return failure(folder, "holds files and is no handover folder of this program. Give a new or empty folder.");
    }
    if (auto unchanged = check_unchanged(folder, *lines); !unchanged) {
        return unchanged.error();
    }
    standing.ours.emplace_back(k_manifest_name);
    for (const ManifestLine& line : *lines) {
        standing.ours.push_back(line.path);
    }
    if (auto read = read_entries(folder, standing); !read) {
        return read.error();
    }
    return standing;
}

/// Refuses where a path of theirs is one that we need, or the folder of one.
Status check_room(const fs::path& folder, const Standing& standing, const std::vector<HandoverFile>& files) {
    std::set<fs::path> needed_files{k_manifest_name};
    std::set<fs::path> needed_folders;
    for (const HandoverFile& file : files) {
        const fs::path path(file.path);
        needed_files.insert(path);
        for (fs::path above = path.parent_path(); !above.empty(); above = above.parent_path()) {
            needed_folders.insert(above);
        }
    }
    const auto refuse = [&](const fs::path& path) {
        return failure(folder / path,
                       "is not from this program, and the handover needs its name. Rename it, or give "
                       "another folder.");
    };
    for (const fs::path& path : standing.theirs) {
        if (needed_files.contains(path) || needed_folders.contains(path)) {
            return refuse(path);
        }
    }
    for (const fs::path& path : standing.folders) {
        if (needed_files.contains(path)) {
            return refuse(path);
        }
    }
    return std::monostate{};
}

/// A folder that is gone when this is, unless it was handed on.
class HiddenFolder {
public:
    /// Beside `target`; an errno value if there can be none.
    static std::optional<int> make(const fs::path& target, HiddenFolder& made) {
        for (int attempt = 0; attempt < k_name_attempts; ++attempt) {
            const fs::path path = target.parent_path() / (".sillwright-" + std::to_string(::getpid()) + "-" +
                                                          std::to_string(attempt) + ".new");
            if (::mkdir(path.c_str(), k_new_folder_mode) == 0) {
                made.path_ = path;
                return std::nullopt;
            }
            if (errno != EEXIST) {
                return errno;
            }
        }
        return EEXIST;
    }
    HiddenFolder() = default;
    HiddenFolder(const HiddenFolder&) = delete;
    HiddenFolder& operator=(const HiddenFolder&) = delete;
    ~HiddenFolder() {
        if (!path_.empty()) {
            std::error_code ignored;  // nothing more can be done about it; the target is as it was
            fs::remove_all(path_, ignored);
        }
    }
    [[nodiscard]] const fs::path& path() const { return path_; }
    void hand_on() { path_.clear(); }

private:
    fs::path path_;
};

Status fill(const fs::path& folder, const std::vector<HandoverFile>& files) {
    std::error_code error;
    for (const HandoverFile& file : files) {
        assert(stays_inside(file.path));
        const fs::path path = folder / file.path;
        fs::create_directories(path.parent_path(), error);
        if (error) {
            return system_failure(path.parent_path(), "cannot be made", error.value());
        }
        if (auto written = geometry::write_file(path, file.bytes); !written) {
            return written;
        }
    }
    return geometry::write_file(folder / k_manifest_name, manifest_text(files));
}

/// The same file under a second name; a copy where the disk knows no second names.
std::error_code carry_over(const fs::path& from, const fs::path& to) {
    if (::linkat(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), 0) == 0) {
        return {};
    }
    std::error_code error;
    if (fs::is_symlink(fs::symlink_status(from, error))) {
        fs::copy_symlink(from, to, error);
        return error;
    }
    fs::copy_file(from, to, error);
    if (!error) {
        const auto time = fs::last_write_time(from, error);
        if (!error) {
            fs::last_write_time(to, time, error);
        }
    }
    return error;
}

Status carry_over(const fs::path& from, const Standing& standing, const fs::path& to) {
    std::error_code error;
    const auto holds_theirs = [&](const fs::path& folder) {
        return std::any_of(standing.theirs.begin(), standing.theirs.end(), [&](const fs::path& path) {
            return path.generic_string().starts_with(folder.generic_string() + "/");
        });
    };
    const auto holds_ours = [&](const fs::path& folder) {
        return std::any_of(standing.ours.begin(), standing.ours.end(),
                           [&](const std::string& path) { return path.starts_with(folder.generic_string() + "/"); });
    };
    for (const fs::path& folder : standing.folders) {
        if (holds_theirs(folder) || !holds_ours(folder)) {
            fs::create_directories(to / folder, error);
            if (error) {
                return system_failure(to / folder, "cannot be made", error.value());
            }
        }
    }
    for (const fs::path& path : standing.theirs) {
        if (const auto why = carry_over(from / path, to / path)) {
            return system_failure(from / path, "cannot be carried over to the new folder", why.value());
        }
    }
    return std::monostate{};
}

/// Without this the step itself could be lost when the power goes. Some file systems
/// cannot flush a folder; the files' own bytes are safe even then.
void flush_folder(const fs::path& folder) {
    const int fd = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (fd >= 0) {
        ::fsync(fd);
        ::close(fd);
    }
}

/// The two folders change names in one step where the system can, else in two, the
/// first of which is taken back if the second fails. An errno value if it fails.
std::optional<int> exchange(const fs::path& fresh, const fs::path& standing) {
    if (::renameat2(AT_FDCWD, fresh.c_str(), AT_FDCWD, standing.c_str(), RENAME_EXCHANGE) == 0) {
        return std::nullopt;
    }
    if (errno != ENOSYS && errno != EINVAL) {
        return errno;
    }
    const fs::path aside = fs::path(fresh).replace_extension(".old");
    if (::rename(standing.c_str(), aside.c_str()) != 0) {
        return errno;
    }
    if (::rename(fresh.c_str(), standing.c_str()) != 0) {
        const int code = errno;
        ::rename(aside.c_str(), standing.c_str());
        return code;
    }
    return ::rename(aside.c_str(), fresh.c_str()) == 0 ? std::nullopt : std::optional(errno);
}

/// Takes away the names that the new folder has or has replaced; what came since
/// stays, and then the folder does. Whether all is gone.
bool remove_old(const fs::path& folder, const Standing& standing) {
    std::error_code ignored;  // what cannot be removed makes the last step fail, which is reported
    for (const std::string& path : standing.ours) {
        fs::remove(folder / path, ignored);
    }
    for (const fs::path& path : standing.theirs) {
        fs::remove(folder / path, ignored);
    }
    for (auto inner = standing.folders.rbegin(); inner != standing.folders.rend(); ++inner) {
        ::rmdir((folder / *inner).c_str());
    }
    return ::rmdir(folder.c_str()) == 0;
}

}  // namespace

Result<std::vector<std::string>> write_folder(const std::vector<HandoverFile>& files, const fs::path& folder) {
    const fs::path target = real_place(folder);
    const auto standing = look_at(target);
    if (!standing) {
        return standing.error();
    }
    if (auto room = check_room(target, standing.value(), files); !room) {
        return room.error();
    }
    std::error_code none;
    if (!fs::is_directory(target.parent_path(), none)) {
        return failure(target.parent_path(),
                       "is no folder, so nothing can be written into it. Make it first, or give "
                       "another folder.");
    }
    HiddenFolder fresh;
    if (const auto code = HiddenFolder::make(target, fresh)) {
        return system_failure(target, "cannot be written", *code);
    }
    if (auto filled = fill(fresh.path(), files); !filled) {
        return Error{filled.error().code, "\"" + target.string() + "\" was not written. " + filled.error().message};
    }
    if (auto carried = carry_over(target, standing.value(), fresh.path()); !carried) {
        return carried.error();
    }
    std::vector<std::string> notes;
    if (standing.value().ours.empty()) {
        if (::rename(fresh.path().c_str(), target.c_str()) != 0) {
            return system_failure(target, "cannot be written", errno);
        }
    } else {
        if (const auto code = exchange(fresh.path(), target)) {
            return system_failure(target, "cannot be replaced", *code);
        }
        if (!remove_old(fresh.path(), standing.value())) {
            notes.push_back("Something was put into the folder while it was written; it is in \"" +
                            fresh.path().string() + "\".");
        }
    }
    fresh.hand_on();
    flush_folder(target.parent_path());
    return notes;
}

}  // namespace sillwright::core
