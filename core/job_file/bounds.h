#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

/// What a file may ask of us, looked at before any of it is taken apart.
namespace sillwright::core::job_file {

/// Bounds on memory, stack and time, each far above any job.
constexpr std::size_t k_most_bytes = 64U * 1024U * 1024U;
constexpr std::size_t k_most_depth = 64;
constexpr std::size_t k_most_values = 1'000'000;
constexpr std::size_t k_most_members = 1'000;  ///< Of one object: looked up one by one.

/// Something wrong at a byte, and what would be right.
struct Fault {
    std::size_t byte;
    std::string message;
};

/// The first byte that is not UTF-8.
std::optional<Fault> utf8_fault(std::string_view text);

/// One pass over the text: depth, number of values, keys that stand twice in one
/// object, and words that JSON has not. Text that is not JSON may pass.
std::optional<Fault> bounds_fault(std::string_view text);

}  // namespace sillwright::core::job_file
