#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/handover/contents.h"

namespace sillwright::core {

inline constexpr const char* k_manifest_name = "manifest.txt";

/// A file that we wrote.
struct ManifestLine {
    std::string path;
    std::string sha256;
};

/// The manifest of a folder: a first line that says whose it is, then a line for every
/// file as sha256sum prints it, so that `sha256sum -c manifest.txt` checks the folder.
std::string manifest_text(const std::vector<HandoverFile>& files);

/// The lines of a manifest that manifest_text made; none for any other text, or one
/// that was cut short or names a file outside of the folder.
std::optional<std::vector<ManifestLine>> parse_manifest(std::string_view text);

/// Whether a path stays in the folder: relative, plain, without ".." or an empty part.
bool stays_inside(std::string_view path);

}  // namespace sillwright::core
