#pragma once

#include <string>
#include <string_view>

namespace sillwright::geometry {

/// The SHA-256 of `bytes`, 64 small hex digits.
/// Source: FIPS 180-4, sections 4.1.2, 4.2.2, 5.1.1, 5.3.3 and 6.2.
std::string sha256(std::string_view bytes);

}  // namespace sillwright::geometry
