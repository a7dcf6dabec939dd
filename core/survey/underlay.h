#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/entry.h"

/// Photos and scans that lie under the drawings: plain values.
namespace sillwright::core::survey {

/// The plane that a photo is rectified to.
enum class PhotoPlane {
    section,    ///< Across the car at a station: (out, up).
    elevation,  ///< The car's side: (along, up).
};

/// A place in the photo whose place in the plane is known: a point of the book, or typed.
struct PhotoPoint {
    double right_px = 0.0, down_px = 0.0;  ///< From the photo's upper left corner.
    std::string point;                     ///< Name in the book; empty: the two numbers below.
    std::optional<Entry> across, up;       ///< out (section) or along (elevation), and up.
    Unknown unknown{};

    friend bool operator==(const PhotoPoint&, const PhotoPoint&) = default;
};

struct Photo {
    std::string name;      ///< Unique.
    std::string path;      ///< Relative to the job file's folder, never out of it.
    std::string checksum;  ///< SHA-256 in hex, or empty if not taken yet.
    PhotoPlane plane = PhotoPlane::section;
    std::string station;             ///< Of a section: the station's name.
    std::vector<PhotoPoint> points;  ///< Four or more rectify it.
    Unknown unknown{};

    friend bool operator==(const Photo&, const Photo&) = default;
};

/// A mark found on the scan, and the book's point that it is.
struct ScanMark {
    std::string point;
    double x = 0.0, y = 0.0, z = 0.0;  ///< In the scan's own frame and unit.
    Unknown unknown{};

    friend bool operator==(const ScanMark&, const ScanMark&) = default;
};

/// A mesh of the real sill in its scanner's frame (STL, OBJ, PLY).
struct Scan {
    std::string name;  ///< Unique.
    std::string path;
    std::string checksum;
    BareUnit unit = BareUnit::mm;
    std::vector<ScanMark> marks;     ///< Three or more place it.
    bool fitted = false;             ///< Moved from there to lie best on the body as drawn.
    std::optional<Entry> deviation;  ///< Largest that a thinned profile may leave the cut by; 0.2 mm if not given.
    Unknown unknown{};

    friend bool operator==(const Scan&, const Scan&) = default;
};

}  // namespace sillwright::core::survey
