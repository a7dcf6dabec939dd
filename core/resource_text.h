#pragma once

#include <string_view>

/// Files of the folder resources that are built into the program, word for word.
namespace sillwright::core {

std::string_view materials_text();  ///< materials.json
std::string_view fasteners_text();  ///< fasteners.json

}  // namespace sillwright::core
