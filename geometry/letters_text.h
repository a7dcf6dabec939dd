#pragma once

#include <string_view>

namespace sillwright::geometry {

/// resources/letters.txt, which is built into the program, word for word, with its acknowledgements.
std::string_view letters_text();

}  // namespace sillwright::geometry
