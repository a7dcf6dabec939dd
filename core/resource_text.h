#pragma once

#include <string_view>

/// Files of the folder resources that are built into the program, word for word.
namespace sillwright::core {

std::string_view materials_text();  ///< materials.json
std::string_view fasteners_text();  ///< fasteners.json
std::string_view machines_text();   ///< machines.json
std::string_view bits_text();       ///< bits.json
std::string_view stock_text();      ///< stock.json

}  // namespace sillwright::core
