#pragma once

#include <string>
#include <vector>

namespace sillwright::app {

/// One part of a bar: its share of the whole and what it is.
struct BarPart {
    std::string words;
    double share = 0.0;  ///< 0 to 1.

    friend bool operator==(const BarPart&, const BarPart&) = default;
};

/// One bar made up of parts, the largest first.
struct Bar {
    std::string label;
    std::vector<BarPart> parts;
    std::string words{};  ///< Below it: what to do.

    friend bool operator==(const Bar&, const Bar&) = default;
};

struct BarsPicture {
    std::string heading;
    std::vector<Bar> bars;
    std::string none;  ///< What is said where there is no bar.

    friend bool operator==(const BarsPicture&, const BarsPicture&) = default;
};

}  // namespace sillwright::app
