#include "core/handover/manifest.h"

#include <algorithm>

#include "geometry/sha256.h"

namespace sillwright::core {

namespace {

/// sha256sum passes over lines that begin with #.
constexpr std::string_view k_first = "# sillwright handover 1, ";
constexpr std::string_view k_first_end = " files";
constexpr std::size_t k_digits = 64;
/// Between digest and name, for a file read as text; sha256sum's own.
constexpr std::string_view k_between = "  ";

std::string first_line(std::size_t files) {
    return std::string(k_first) + std::to_string(files) + std::string(k_first_end);
}

std::optional<ManifestLine> parse_line(std::string_view line) {
    const std::string_view digest = line.substr(0, k_digits);
    if (line.size() <= k_digits + k_between.size() || line.substr(k_digits, k_between.size()) != k_between ||
        digest.find_first_not_of("0123456789abcdef") != std::string_view::npos) {
        return std::nullopt;
    }
    const std::string_view path = line.substr(k_digits + k_between.size());
    return stays_inside(path) ? std::optional(ManifestLine{std::string(path), std::string(digest)}) : std::nullopt;
}

}  // namespace

bool stays_inside(std::string_view path) {
    if (path.find_first_of("\\\n\r") != std::string_view::npos) {
        return false;
    }
    while (true) {
        const std::size_t slash = path.find('/');
        const std::string_view part = path.substr(0, slash);
        if (part.empty() || part == "." || part == "..") {
            return false;
        }
        if (slash == std::string_view::npos) {
            return true;
        }
        path.remove_prefix(slash + 1);
    }
}

std::string manifest_text(const std::vector<HandoverFile>& files) {
    std::string text = first_line(files.size()) + "\n";
    for (const HandoverFile& file : files) {
        text += geometry::sha256(file.bytes) + std::string(k_between) + file.path + "\n";
    }
    return text;
}

std::optional<std::vector<ManifestLine>> parse_manifest(std::string_view text) {
    std::vector<ManifestLine> lines;
    std::string_view first;
    while (!text.empty()) {
        const std::size_t end = text.find('\n');
        if (end == std::string_view::npos) {
            return std::nullopt;
        }
        if (first.empty()) {
            first = text.substr(0, end);
        } else {
            auto line = parse_line(text.substr(0, end));
            if (!line) {
                return std::nullopt;
            }
            lines.push_back(std::move(*line));
        }
        text.remove_prefix(end + 1);
    }
    return first == first_line(lines.size()) ? std::optional(std::move(lines)) : std::nullopt;
}

}  // namespace sillwright::core
