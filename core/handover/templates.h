#pragma once

#include <string>
#include <vector>

#include "core/evaluate.h"
#include "geometry/drawing.h"

namespace sillwright::core {

/// A drawing to be laid on the part, at its true size.
///
/// Units and frame: millimetres of the paper, x to the right, y up; seen from the face that is named.
struct Template {
    std::string stem;           ///< "template_flange"
    std::string title;          ///< "Flange drilling, RIGHT SIDE"
    std::string this_side_out;  ///< What faces who reads it: "THIS SIDE OUT: seen from below"
    geometry::Drawing drawing;  ///< Layers: CUT_OUTSIDE trim line, DRILL holes and slots, NOTE words and marks.
    std::vector<std::string> notes;
};

/// Flange drilling (developed flange, holes and slots as planned, datum marked), trim line (the whole developed edge by
/// stations as it is laid on), door envelope at each station (the door limit line beside the section).
/// A template for which something is not measured is left out; `missing` has why.
struct Templates {
    std::vector<Template> all;
    std::vector<std::string> missing;
};
Templates templates(const Evaluation& evaluation);

}  // namespace sillwright::core
