#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "core/handover/contents.h"
#include "geometry/result.h"

namespace sillwright::core {

/// Writes the files and their manifest as the folder at `folder`, whole or not at all;
/// returns what its caller must be told, which is nothing as a rule.
///
/// It is filled as a hidden folder beside it, then takes its name in one step. At
/// `folder` there may be nothing, an empty folder, or one that this function wrote
/// before: then files in it that are not in its manifest are carried over untouched
/// (as the same file where the disk allows, else as a copy), and the old one stands
/// until the new one does. A symbolic link is followed and stays.
/// Errors: unreadable_file, with the cure, if the folder above is missing or cannot be
///   written to, the disk is full, `folder` is a file or holds files without our manifest,
///   one of our files in it was changed by hand, or one of theirs has a name that we
///   need. Then all is as it was.
/// Precondition: every path stays_inside.
geometry::Result<std::vector<std::string>> write_folder(const std::vector<HandoverFile>& files,
                                                        const std::filesystem::path& folder);

}  // namespace sillwright::core
