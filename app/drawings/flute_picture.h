#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"

namespace sillwright::app {

/// A place along the shelf, and how wide it is there, or where a flute's middle is: from the shelf edge inward.
struct ShelfPoint {
    double along_mm = 0.0, inward_mm = 0.0;
};

/// One flute or recess on the shelf, and what is said of it in the table.
struct FluteRow {
    std::string name;
    bool recess = false;
    double front_mm = 0.0, rear_mm = 0.0;  ///< Its run-outs.
    double width_mm = 0.0;                 ///< On the mould.
    std::vector<ShelfPoint> middle;        ///< Rising along the car.
    core::State state = core::State::not_measured;
    std::string bit;                ///< "round-nose 24"
    std::string depth, passes;      ///< "6", "2"
    std::string mould_width, seen;  ///< On the mould, and on the formed part.
    std::string fence;              ///< From the shelf edge, from and to.
    std::string wood_left, land;    ///< Empty where not known.
    std::vector<std::string> missing;
};

/// The router's base plate where it has least room.
struct BasePlate {
    std::string flute;
    double along_mm = 0.0, middle_mm = 0.0;   ///< From the shelf edge inward.
    double radius_mm = 0.0, needed_mm = 0.0;  ///< Of the plate; what it asks for, from the bit's axis.
    std::optional<double> room_mm;            ///< From the bit's axis to the upstand.
    bool inner = false;                       ///< The upstand is on the car's side.
    double shelf_mm = 0.0;                    ///< Width of the shelf there.
    core::State state = core::State::not_measured;
    std::string words;  ///< "fouls the inner upstand by 3.4 mm at 5 · 1200 mm"
};

/// The shelf seen from above, laid straight: along the car, and inward from its outer edge.
struct FlutePicture {
    std::string piece;
    std::vector<ShelfPoint> inner;  ///< The shelf's inner edge.
    std::vector<FluteRow> rows;     ///< From the shelf edge inward.
    std::optional<BasePlate> plate;
    core::BareUnit unit = core::BareUnit::mm;
    std::string words;  ///< What must be decided first; then nothing is drawn.
};

}  // namespace sillwright::app
