#pragma once

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

namespace sillwright::project {

inline std::filesystem::path root() {
    return SILLWRIGHT_SOURCE_DIR;
}

inline std::string text_of(const std::string& path) {
    std::ifstream in(root() / path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

inline std::vector<std::string> lines_of(const std::string& path) {
    std::vector<std::string> lines;
    std::ifstream in(root() / path);
    for (std::string line; std::getline(in, line);) {
        lines.push_back(line);
    }
    return lines;
}

/// Files below a folder that end in one of `endings` (".h"), as paths from the root, sorted.
inline std::vector<std::string> files_below(const std::string& folder, const std::vector<std::string>& endings) {
    std::vector<std::string> files;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(root() / folder)) {
        const std::string ending = entry.path().extension().string();
        if (entry.is_regular_file() && std::find(endings.begin(), endings.end(), ending) != endings.end()) {
            files.push_back(entry.path().lexically_relative(root()).generic_string());
        }
    }
    std::sort(files.begin(), files.end());
    return files;
}

/// Folders below a folder, at any depth, as paths from the root with a slash at the end.
inline std::vector<std::string> folders_below(const std::string& folder) {
    std::vector<std::string> folders;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(root() / folder)) {
        if (entry.is_directory()) {
            folders.push_back(entry.path().lexically_relative(root()).generic_string() + "/");
        }
    }
    return folders;
}

inline std::string stem_of(const std::string& path) {
    return path.substr(0, path.rfind('.'));
}

inline bool exists(const std::string& path) {
    return std::filesystem::exists(root() / path);
}

}  // namespace sillwright::project
