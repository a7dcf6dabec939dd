#pragma once

#include <filesystem>

#include "geometry/result.h"

class QWidget;

namespace sillwright::app::window {

/// Measures the window that is open, as its user feels it, and writes the numbers to a new file as JSON, in
/// milliseconds: from the program's start to painted drawings that take input; a node of the skirt dragged round
/// a small circle, from each move of the pointer until all drawings are painted with what became of it; from
/// letting go to full accuracy; turning a door in the solid picture; a reading typed into a book of 30 points, from
/// Enter until the network is painted with it. And the machine it was measured on. What could not be measured is null,
/// and a sentence says why.
///
/// `window` is shown at 1366 x 768. The job it shows is put back as it was; nothing is saved.
/// Errors: unreadable_file where the file is there already or cannot be written.
geometry::Status measure_frames(QWidget& window, const std::filesystem::path& file);

}  // namespace sillwright::app::window
