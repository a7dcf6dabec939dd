#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <string>
#include <vector>

#include "core/job.h"

namespace sillwright::app {

struct RibSlot {
    double at_mm = 0.0, width_mm = 0.0, depth_mm = 0.0;
    std::string words;  ///< "S1: 12.1 wide, 48.5 deep"
};

/// What is said of an edge, at a place of it.
struct RibEdge {
    Eigen::Vector2d at_mm = Eigen::Vector2d::Zero();
    std::string words;  ///< "bevel 4.2°", "gap 0.8 mm"
    bool gap = false;   ///< The skin bridges it.
};

/// One rib of the buck, as it is cut: the face that lies on its place.
///
/// Units and frame: millimetres of the buck, (side, height): the base is height 0.
struct RibPicture {
    std::string label;  ///< "R3"
    std::string where;  ///< "station 3 · 375 mm"
    std::string about;  ///< "front face on its place · seen from the front · board mdf 12, 11.93 thick"
    std::size_t number = 0, count = 0;  ///< From 1.
    std::vector<Eigen::Vector2d> outline_mm, far_mm;
    std::vector<RibSlot> laps;  ///< Its slots.
    std::vector<Eigen::Vector2d> pins_mm;
    double pin_mm = 0.0;  ///< Diameter.
    double level_mm = 0.0;
    std::vector<RibEdge> edges;
    core::BareUnit unit = core::BareUnit::mm;
    std::string words;  ///< What must be decided first; then nothing is drawn.
};

}  // namespace sillwright::app
