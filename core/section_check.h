#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>

#include "core/job.h"

namespace sillwright::core {

/// Two straights of a section line that cross inside both, by the numbers of
/// the nodes (from 0) at which they begin, the smaller first. Radii are not
/// looked at; straights that only touch do not cross.
/// Accuracy: an orientation test in doubles; crossings by less than about 1e-12
///   of the section's size may be missed.
std::optional<std::pair<std::size_t, std::size_t>> first_crossing(const Section& section, bool closed);

/// Why the line of one section cannot be drawn: its roundings do not fit, it turns back on itself, or it
/// crosses itself, the straight that closes an outline included. None if it can, and none for a section
/// of too few nodes. Begins small and ends with a full stop: to be led by where it is.
std::optional<std::string> section_misfit(const Section& section, bool closed);

/// A node whose name cannot stand where it does if names keep one order along
/// the car.
struct OutOfOrder {
    std::size_t section, node;  ///< From 0.
    std::string name;
};
std::optional<OutOfOrder> first_out_of_order(const Drawn& drawn);

}  // namespace sillwright::core
