#include "geometry/kernel/step_file.h"

#include <fcntl.h>
#include <unistd.h>

#include <IFSelect_ReturnStatus.hxx>
#include <Interface_Static.hxx>
#include <STEPControl_Reader.hxx>
#include <STEPControl_Writer.hxx>
#include <fstream>
#include <iterator>
#include <random>
#include <system_error>

#include "geometry/kernel/shape_access.h"

namespace sillwright::geometry {

namespace {

/// A file that is gone when this is, unless it was moved away.
class TemporaryFile {
public:
    explicit TemporaryFile(const std::filesystem::path& folder) {
        std::random_device random;
        path_ = folder / (".sillwright-" + std::to_string(random()) + std::to_string(random()) + ".stp");
    }
    ~TemporaryFile() {
        std::error_code ignored;  // nothing to remove is the usual case
        std::filesystem::remove(path_, ignored);
    }
    TemporaryFile(const TemporaryFile&) = delete;
    TemporaryFile& operator=(const TemporaryFile&) = delete;
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

Error cannot_write(const std::filesystem::path& path, const std::string& why) {
    return {ErrorCode::unreadable_file, "Cannot write " + path.string() + ": " + why + "."};
}

/// Asks the system to have the file on the disk before it takes the old one's place.
bool flush_to_disk(const std::filesystem::path& path) {
    const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (file < 0) {
        return false;
    }
    const bool done = ::fsync(file) == 0;
    return ::close(file) == 0 && done;
}

Status write_plainly(const std::filesystem::path& path, const std::vector<NamedShape>& shapes) {
    return at_kernel_border("writing a STEP file", [&]() -> Status {
        STEPControl_Writer writer;
        Interface_Static::SetCVal("write.step.unit", "MM");
        for (const NamedShape& named : shapes) {
            Interface_Static::SetCVal("write.step.product.name", named.name.c_str());
            if (writer.Transfer(kernel_shape(named.shape), STEPControl_AsIs) != IFSelect_RetDone) {
                return Error{ErrorCode::kernel_failure,
                             "The modelling kernel could not put '" + named.name + "' into a STEP file."};
            }
        }
        if (writer.Write(path.c_str()) != IFSelect_RetDone) {
            return cannot_write(path, "the folder is missing, full or not writable");
        }
        return std::monostate{};
    });
}

Status check_folder(const std::filesystem::path& folder, const std::filesystem::path& path) {
    std::error_code error;
    if (!std::filesystem::is_directory(folder, error) || ::access(folder.c_str(), W_OK) != 0) {
        return cannot_write(path, "its folder is missing or not writable");
    }
    return std::monostate{};
}

/// Whether the file starts and ends as ISO 10303-21 asks.
Status check_frame(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) {
        return Error{ErrorCode::unreadable_file, "Cannot read " + path.string() + "; is the file there?"};
    }
    constexpr std::size_t k_window = 4096;  // leading comments and trailing blanks are allowed
    std::string head(k_window, '\0');
    in.read(head.data(), static_cast<std::streamsize>(head.size()));
    head.resize(static_cast<std::size_t>(in.gcount()));
    in.clear();
    in.seekg(0, std::ios::end);
    const auto size = static_cast<std::size_t>(in.tellg());
    in.seekg(static_cast<std::streamoff>(size - std::min(size, k_window)));
    const std::string tail{std::istreambuf_iterator<char>(in), {}};
    if (head.find("ISO-10303-21;") == std::string::npos) {
        return Error{ErrorCode::unreadable_file,
                     path.string() +
                         " is not a STEP file: it does not start with ISO-10303-21; export it again as "
                         "STEP."};
    }
    if (tail.find("END-ISO-10303-21;") == std::string::npos) {
        return Error{ErrorCode::unreadable_file,
                     path.string() + " is cut short: END-ISO-10303-21 is missing at its end; copy it again."};
    }
    return std::monostate{};
}

}  // namespace

Status write_step(const std::filesystem::path& path, const std::vector<NamedShape>& shapes) {
    if (shapes.empty()) {
        return Error{ErrorCode::invalid_argument, "There is no solid to write to " + path.string() + "."};
    }
    const std::filesystem::path folder = path.has_parent_path() ? path.parent_path() : std::filesystem::path(".");
    if (auto status = check_folder(folder, path); !status) {
        return status;
    }
    const TemporaryFile temporary(folder);
    if (auto status = write_plainly(temporary.path(), shapes); !status) {
        return status;
    }
    if (auto status = check_frame(temporary.path()); !status) {
        return cannot_write(path, "the disk may be full");
    }
    std::error_code error;
    if (!flush_to_disk(temporary.path())) {
        return cannot_write(path, "the disk may be full");
    }
    std::filesystem::rename(temporary.path(), path, error);
    if (error) {
        return cannot_write(path, error.message());
    }
    return std::monostate{};
}

Result<std::string> step_text(const std::vector<NamedShape>& shapes) {
    std::error_code error;
    const auto folder = std::filesystem::temp_directory_path(error);
    if (error) {
        return cannot_write("a temporary file", error.message());
    }
    const TemporaryFile temporary(folder);
    if (auto status = write_step(temporary.path(), shapes); !status) {
        return status.error();
    }
    std::ifstream in(temporary.path(), std::ios::binary);
    return std::string{std::istreambuf_iterator<char>(in), {}};
}

Result<Shape> read_step(const std::filesystem::path& path) {
    if (auto status = check_frame(path); !status) {
        return status.error();
    }
    return at_kernel_border("reading " + path.string(), [&]() -> Result<Shape> {
        STEPControl_Reader reader;
        if (reader.ReadFile(path.c_str()) != IFSelect_RetDone) {
            return Error{ErrorCode::unreadable_file, path.string() +
                                                         " is not a STEP file that can be read; export it again as "
                                                         "AP214 or AP242."};
        }
        reader.TransferRoots();
        if (reader.NbShapes() == 0 || reader.OneShape().IsNull()) {
            return Error{ErrorCode::unreadable_file, path.string() + " has no shape in it."};
        }
        return owned(reader.OneShape());
    });
}

}  // namespace sillwright::geometry
