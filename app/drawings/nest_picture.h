#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"

namespace sillwright::app {

/// A part as it lies on its sheet.
struct NestPart {
    std::string label;
    std::vector<Eigen::Vector2d> outline_mm;
    std::vector<std::vector<Eigen::Vector2d>> inside_mm;
};

/// A rectangle on a sheet.
struct NestBox {
    Eigen::Vector2d low_mm = Eigen::Vector2d::Zero(), high_mm = Eigen::Vector2d::Zero();
    std::string words;
};

/// One sheet of board with the parts that are cut from it.
///
/// Units and frame: millimetres, the sheet's length to the right, its width up, from its lower left corner.
struct NestPicture {
    std::string board;
    std::size_t number = 0, count = 0;  ///< Of all sheets, from 1.
    std::string verdict;                ///< "3 sheets · no fewer than 2 by area"
    core::State state = core::State::not_measured;
    std::string about;  ///< "mdf 12, 2440 × 1220 · 14 parts · 61 % used"
    Eigen::Vector2d size_mm = Eigen::Vector2d::Zero();
    double margin_mm = 0.0;
    bool grain = false;  ///< Runs along the length.
    std::vector<NestPart> parts;
    std::vector<NestBox> defects;
    std::vector<NestBox> off_cuts;
    core::BareUnit unit = core::BareUnit::mm;
    std::string words;  ///< What must be decided first; then nothing is drawn.
};

}  // namespace sillwright::app
