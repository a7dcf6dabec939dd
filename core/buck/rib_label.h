#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "core/buck/station_outline.h"
#include "core/job.h"
#include "geometry/drawing.h"

namespace sillwright::core {

/// Width that is kept for a letter, in heights. The plainest of the DXF fonts is one
/// height wide with its gap; others are narrower (from memory).
constexpr double k_letter_width = 1.0;
/// From base line to base line, in heights.
constexpr double k_line_pitch = 1.7;

/// Words in lines of one height.
struct TextBlock {
    std::vector<std::string> lines;
    double title_scale = 1.0;  ///< Of the first line.
    bool arrows = false;       ///< A last line with the marks for FRONT and OUT.

    [[nodiscard]] double width_mm(double height_mm) const;
    [[nodiscard]] double height_mm(double height_mm) const;
};

/// What stands on a rib: station, side, vehicle, revision, which face it is.
TextBlock rib_label(const Job& job, const StationOutline& outline);

/// The block drawn on a layer, its lower left corner at `corner_mm`. The mark beside
/// FRONT is that of an arrow seen from behind (a cross in a circle: front lies
/// behind the drawing) or from ahead (a dot in it).
std::vector<geometry::DrawnEntity> drawn_block(const TextBlock& block, const std::string& layer,
                                               const Eigen::Vector2d& corner_mm, double height_mm, Side side);

}  // namespace sillwright::core
