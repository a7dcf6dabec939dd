#pragma once

#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/job.h"
#include "geometry/drawing.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::core {

/// What every drawing of the part says: it must not be taken for the buck's.
inline constexpr const char* k_not_for_buck_warning = "PART SIZE, NOT FOR THE BUCK";

/// The section of everything at one station.
///
/// Units and frame: millimetres; x is out, y is up. Out is to the right for either side of the car, so a right-hand
///   section is seen looking forward, a left-hand one looking rearward.
/// Layers: SKIRT_DRAWN the drawn line; SKIRT_INSIDE and SKIRT_OUTSIDE the sheet's faces, as thick as it is formed where
///   that is computed; SKIRT_PAINTED the outside with its film; CAR_BODY; DOOR_SHUT doors as they stand shut; MOUNT
///   seat and axis of what is near; NAMED_POINT the drawn nodes; NOTE the words: a number at each named point, and
///   beside the section a list of them with out, up and radius.
struct SectionDrawing {
    std::string stem;  ///< "section_3", unlike any other's.
    geometry::Length along;
    geometry::Drawing drawing;
    std::vector<std::string> notes;  ///< What is not drawn for want of a number.
};

/// One for each station at which a piece of the skirt is, in their order.
///
/// Accuracy: exact lines and arcs; a face that follows a formed thickness is a line of straights within 0.01 mm; a door
///   that is trimmed or comes from a file is cut from its mesh.
/// Errors: as core::loft_of, geometry::Loft::section_at and geometry::parallel, led by the station.
geometry::Result<std::vector<SectionDrawing>> section_drawings(const Job& job, const CarModel& car);

/// Mounts further off than this along the car are not in a section.
constexpr geometry::Length k_mount_near = geometry::millimetres(25.0);

}  // namespace sillwright::core
