#pragma once

#include <string>
#include <vector>

namespace sillwright::core {

/// A name as part of a file's name that any file system takes: letters A-Z and a-z,
/// digits, - and _; all else becomes _. Never empty, 60 letters at most.
std::string safe_file_name(const std::string& name);

/// The same, unlike any in `taken` even where capital and small letters are one;
/// a number is added where it must be. The result is added to `taken`.
std::string unique_file_name(const std::string& name, std::vector<std::string>& taken);

}  // namespace sillwright::core
