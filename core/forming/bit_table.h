#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/job.h"
#include "geometry/router_bit.h"

namespace sillwright::core {

/// The table of router bits: resources/bits.json, which says where they are from.
const std::vector<Bit>& bit_table();

/// Bits of the job, or of the table where it has none.
std::vector<Bit> bits_of(const Router& router);

/// The bit of that name: the job's, else the table's; no value if neither has it.
std::optional<Bit> find_bit(const Router& router, const std::string& name);

/// The form of its end. No value while its diameter, or a V's angle, is not given; what is greater than the bit has
/// room for is taken as no more than that.
std::optional<geometry::RouterBit> form_of(const Bit& bit);

}  // namespace sillwright::core
