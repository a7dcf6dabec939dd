#pragma once

#include <cstddef>
#include <string>

namespace sillwright::tests {

/// What a command left behind: its status (-1 if it did not end by itself) and what it
/// printed, errors included.
struct Output {
    int status;
    std::string text;
};
Output run(const std::string& command);

/// How often `part` stands in `text`.
std::size_t count(const std::string& text, const std::string& part);

}  // namespace sillwright::tests
