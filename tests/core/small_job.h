#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "core/job_file.h"

namespace sillwright::core {

/// The first shipped job file, as text.
inline std::string small_job_text() {
    std::ifstream in(std::filesystem::path(SILLWRIGHT_SOURCE_DIR) / "tests/data/jobs/v1_small.sillwright",
                     std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// `text` with the first `find` in it replaced; a test failure if there is none.
inline std::string edited(std::string text, const std::string& find, const std::string& put) {
    const auto at = text.find(find);
    EXPECT_NE(at, std::string::npos) << "the edit finds nothing: " << find;
    return at == std::string::npos ? text : text.replace(at, find.size(), put);
}

/// A folder of its own for one test, gone with it.
class TestFolder {
public:
    TestFolder() {
        std::string name = (std::filesystem::temp_directory_path() / "sillwright-XXXXXX").string();
        path_ = mkdtemp(name.data()) != nullptr ? name : std::string();
    }
    TestFolder(const TestFolder&) = delete;
    TestFolder& operator=(const TestFolder&) = delete;
    ~TestFolder() {
        std::error_code ignored;  // nothing to be done about a folder that will not go
        std::filesystem::permissions(path_, std::filesystem::perms::owner_all, ignored);
        std::filesystem::remove_all(path_, ignored);
    }
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

inline void put_file(const std::filesystem::path& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary) << bytes;
}

inline std::string file_bytes(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

}  // namespace sillwright::core
