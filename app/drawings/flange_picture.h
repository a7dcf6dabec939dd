#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"
#include "core/mounts/flat_flange.h"
#include "core/mounts/hole_plan.h"

namespace sillwright::app {

/// One mount on the flange laid flat, and the part's hole for it.
///
/// Units and frame: millimetres on the flat: along rearward, across from root to end. The part's hole is where it is
///   as drawn; growth moves the part.
struct FlangeHole {
    std::string mount;
    core::HoleRole role = core::HoleRole::clearance;
    core::HoleShape shape = core::HoleShape::round;
    double along_mm = 0.0, across_mm = 0.0;
    std::optional<double> size_mm, length_mm;  ///< Of the body's hole, stud or nut.
    double screw_mm = 0.0;
    std::optional<double> head_mm;
    std::optional<core::HoleSize> drawn;  ///< The part's hole as the job has it; none if it is not decided.
    double drawn_shift_mm = 0.0;          ///< Of its centre, rearward.
    core::HoleSize needed;                ///< In the worst case.
    double shift_mm = 0.0;                ///< Of the centre of what is needed, rearward.
    double cold_mm = 0.0, hot_mm = 0.0;   ///< By which the part's hole goes rearward on the body.
    std::optional<Eigen::Matrix2d> covariance_mm2;
    core::State state = core::State::not_measured;  ///< The worst of its findings.
    std::vector<core::FlatRow> rows;                ///< The flange round it.
};

/// The flange of one piece after the other, laid flat.
struct FlangePicture {
    std::vector<FlangeHole> holes;  ///< Front to rear.
    double front_mm = 0.0, rear_mm = 0.0;
    double pitch_most_mm = 0.0;
    core::BareUnit unit = core::BareUnit::mm;
    std::string words;                  ///< What is missing, if there are no holes.
    std::string cold_words, hot_words;  ///< "part −30 °C, body −30 °C"
    bool warmth = false;                ///< Whether growth is known.
};

}  // namespace sillwright::app
