#pragma once

#include <optional>
#include <string>

#include "core/job.h"

namespace sillwright::core {

/// Something in a job that cannot be meant.
struct JobFault {
    std::string pointer;  ///< The field in the job file, as a JSON pointer (RFC 6901).
    std::string message;  ///< What is wrong, and what would be right in the file.
    std::string by_hand;  ///< The same to somebody who draws or writes into a table, led by what it is about.
};

/// The first fault of a job that is well formed but cannot be computed with:
/// names used twice or not found, stations out of order, section lines that
/// cross, sizes below zero. What is not measured or not yet drawn to its end is no fault: a body
/// of one section, a section of one node, an outline whose closing line still crosses it.
std::optional<JobFault> first_fault(const Job& job);

/// Longest lists that a job may have; a real one stays far below.
constexpr std::size_t k_most_stations = 500;
constexpr std::size_t k_most_nodes = 200;   ///< Of one section.
constexpr std::size_t k_most_things = 500;  ///< Mounts, keep-outs, doors, bodies, pieces.
constexpr std::size_t k_most_points = 5'000;
constexpr std::size_t k_most_readings = 20'000;

}  // namespace sillwright::core
