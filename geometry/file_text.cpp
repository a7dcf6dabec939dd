#include "geometry/file_text.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <optional>
#include <system_error>
#include <utility>

namespace sillwright::geometry {

namespace {

/// So many temporary names are tried before we give up; each is new to this
/// process, so more than one is needed only after a crash.
constexpr int k_name_attempts = 100;

/// Of a file made by us, before the user's umask takes its share.
constexpr mode_t k_new_file_mode = 0666;
constexpr mode_t k_permission_bits = 07777;

/// Closes its file when it goes.
class Descriptor {
public:
    explicit Descriptor(int fd) : fd_{fd} {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    ~Descriptor() { close(); }

    [[nodiscard]] int get() const { return fd_; }
    [[nodiscard]] bool is_open() const { return fd_ >= 0; }
    bool close() { return fd_ < 0 || ::close(std::exchange(fd_, -1)) == 0; }

private:
    int fd_;
};

Error failure(const std::filesystem::path& path, const std::string& what) {
    return Error{ErrorCode::unreadable_file, "\"" + path.string() + "\" " + what};
}

/// In words, why the last system call failed, and what to do about it.
std::string reason(int code) {
    switch (code) {
        case ENOENT:
            return "is not there; check the name and the folder.";
        case EACCES:
        case EPERM:
            return "may not be used by you; change its permissions or take another folder.";
        case ENOTDIR:
            return "names a folder that is a file; check the path.";
        case EROFS:
            return "lies on a disk that cannot be written; take another folder.";
        case ENOSPC:
        case EDQUOT:
            return "does not fit: the disk is full; make room or take another disk.";
        case ENAMETOOLONG:
            return "has too long a name; shorten it.";
        default:
            return "failed: " + std::generic_category().message(code) + "; check the disk or take another folder.";
    }
}

bool write_all(int fd, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t n = ::write(fd, bytes.data(), bytes.size());
        if (n < 0 && errno == EINTR) {
            continue;
        }
        if (n <= 0) {
            return false;
        }
        bytes.remove_prefix(static_cast<std::size_t>(n));
    }
    return true;
}

std::filesystem::path folder_of(const std::filesystem::path& path) {
    return path.has_parent_path() ? path.parent_path() : std::filesystem::path{"."};
}

/// Opens a file that was not there before; the name is short, so that it fits
/// wherever the real one does.
int open_new(const std::filesystem::path& folder, std::filesystem::path& name) {
    static std::atomic<unsigned> counter{0};
    for (int attempt = 0; attempt < k_name_attempts; ++attempt) {
        name = folder / (".sillwright-" + std::to_string(::getpid()) + "-" + std::to_string(counter++) + ".tmp");
        const int fd = ::open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, k_new_file_mode);
        if (fd >= 0 || errno != EEXIST) {
            return fd;
        }
    }
    return -1;
}

/// Without this the rename itself could be lost when the power goes. Some file
/// systems cannot flush a folder; the file's own bytes are safe even then.
void flush_folder(const std::filesystem::path& folder) {
    const Descriptor fd{::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)};
    if (fd.is_open()) {
        ::fsync(fd.get());
    }
}

/// Where the bytes really go: the end of a chain of symbolic links.
std::filesystem::path link_target(const std::filesystem::path& path) {
    std::error_code none;
    if (!std::filesystem::is_symlink(path, none)) {
        return path;
    }
    const auto target = std::filesystem::weakly_canonical(path, none);
    return none ? path : target;
}

/// Fills and names the temporary file; an errno value if a step fails.
std::optional<int> fill_and_rename(Descriptor& fd, const std::filesystem::path& temporary,
                                   const std::filesystem::path& target, std::string_view bytes) {
    struct stat old = {};
    const bool replaces = ::stat(target.c_str(), &old) == 0;
    if (!write_all(fd.get(), bytes) || (replaces && ::fchmod(fd.get(), old.st_mode & k_permission_bits) != 0) ||
        ::fsync(fd.get()) != 0 || !fd.close() || ::rename(temporary.c_str(), target.c_str()) != 0) {
        return errno;
    }
    return std::nullopt;
}

}  // namespace

Result<std::string> read_file(const std::filesystem::path& path, std::uintmax_t max_bytes) {
    // Non-blocking, because opening a pipe would otherwise wait for its other end.
    const Descriptor fd{::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK)};
    if (!fd.is_open()) {
        return failure(path, reason(errno));
    }
    struct stat info = {};
    if (::fstat(fd.get(), &info) != 0) {
        return failure(path, reason(errno));
    }
    if (!S_ISREG(info.st_mode)) {
        return failure(path, "is a folder or a device, not a file; give the name of a file.");
    }
    const auto size = static_cast<std::uintmax_t>(info.st_size);
    if (size > max_bytes) {
        return failure(path, "has " + std::to_string(size) + " bytes, more than the " + std::to_string(max_bytes) +
                                 " that are read; make it smaller.");
    }
    std::string bytes(static_cast<std::size_t>(size), '\0');
    std::size_t done = 0;
    while (done < bytes.size()) {
        const ssize_t n = ::read(fd.get(), bytes.data() + done, bytes.size() - done);
        if (n < 0 && errno == EINTR) {
            continue;
        }
        if (n < 0) {
            return failure(path, reason(errno));
        }
        if (n == 0) {
            return failure(path, "became shorter while it was read; wait until it is finished and try again.");
        }
        done += static_cast<std::size_t>(n);
    }
    return bytes;
}

Status write_file(const std::filesystem::path& path, std::string_view bytes) {
    const std::filesystem::path target = link_target(path);
    struct stat old = {};
    if (target.filename().empty() || (::stat(target.c_str(), &old) == 0 && !S_ISREG(old.st_mode))) {
        return failure(path, "is a folder or a device, not a file; give the name of a file.");
    }
    const std::filesystem::path folder = folder_of(target);
    std::filesystem::path temporary;
    Descriptor fd{open_new(folder, temporary)};
    if (!fd.is_open()) {
        const int code = errno;
        return failure(path, "cannot be written: \"" + folder.string() + "\" " + reason(code));
    }
    if (const auto code = fill_and_rename(fd, temporary, target, bytes)) {
        ::unlink(temporary.c_str());
        return failure(path, "cannot be written: it " + reason(*code));
    }
    flush_folder(folder);
    return std::monostate{};
}

}  // namespace sillwright::geometry
