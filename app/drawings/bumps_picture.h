#pragma once

#include <string>
#include <vector>

namespace sillwright::app {

/// A station of a line, and how far it stands off the fair line.
struct BumpMark {
    std::string node_id, station;
    double along_mm = 0.0;
    double off_mm = 0.0;  ///< Signed: proud of the fair line is positive, inside it negative.

    friend bool operator==(const BumpMark&, const BumpMark&) = default;
};

/// A named line along the car with its bumps, forward to rearward.
struct BumpsLine {
    std::string of;  ///< "the skirt": whose line it is.
    std::string name;
    double from_mm = 0.0, to_mm = 0.0;
    std::vector<BumpMark> bumps;
    bool judged = true;  ///< Whether it has stations enough.
    bool ours = true;    ///< Drawn for the part, so that it can be faired; else measured on the car.

    friend bool operator==(const BumpsLine&, const BumpsLine&) = default;
};

/// How fair the lines of a job run along the car.
///
/// Units and frame: millimetres; along rearward.
struct BumpsPicture {
    double front_mm = 0.0, rear_mm = 0.0;
    double limit_mm = 0.0;  ///< A bump beyond this falls short.
    std::vector<BumpsLine> lines;

    friend bool operator==(const BumpsPicture&, const BumpsPicture&) = default;
};

}  // namespace sillwright::app
