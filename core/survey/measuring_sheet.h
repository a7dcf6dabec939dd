#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/job.h"
#include "core/survey/solution.h"

/// What is printed for hands under the car, and the copy of the book that goes into the file: as data.
namespace sillwright::core::survey {

/// One line of the sheet. What is to be written in is empty.
struct SheetLine {
    std::string kind;                 ///< "" for a tie, "height", "gauge", ...
    std::vector<std::string> points;  ///< From, to, ...; empty: the whole line is to be written.
    std::string reading;              ///< As typed; a gauge's two parted by " · ".
    std::string adjusted, sd, w;      ///< Of the filled copy; two numbers of a gauge parted by " · ".
    std::string note;                 ///< Why it is dropped or does not count, else its own note.
    bool dropped = false;
};

/// Lines that belong together, in the order of work.
struct SheetPart {
    std::string title;   ///< "ON WHEELS · door gaps"
    std::string advice;  ///< One sentence, or empty.
    std::vector<SheetLine> lines;
};

struct MeasuringSheet {
    std::string vehicle, revision;
    Side side = Side::right;
    std::string who, date, temperature;  ///< Empty: to be written in.
    std::string unit;                    ///< "mm", "cm" or "inches", of numbers without one.
    bool filled = false;
    std::vector<SheetPart> parts;
};

/// The sheet to be filled, in the order of work. On wheels: ties and heights between the marks, door gaps, hinge
/// targets at each opening. On the lift: the marks again, which tie the two together; then the holes from front to
/// rear, each tied to three marks, its neighbour and the next but one, with two heights and its offset from strings
/// between marks (ties along the sill say next to nothing of out and up); then the stations.
/// Names are the job's own; a job without marks, mounts, doors or stations gets the usual ones: A to E, H1 to H8,
/// front and rear door, stations 1 to 7. (Common practice, no source.)
MeasuringSheet blank_sheet(const Job& job);

/// The book as it was written, with what the adjustment made of it, and the points that it places with ± 95 %.
MeasuringSheet filled_sheet(const Job& job, const Solution& solution);

}  // namespace sillwright::core::survey
