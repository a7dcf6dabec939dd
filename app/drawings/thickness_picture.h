#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"

namespace sillwright::app {

/// A node's place round the section.
struct ThicknessNode {
    std::string name;
    double round_mm = 0.0;
};

/// A thickness over a length: round the section, or along the car. Millimetres.
struct ThicknessPoint {
    double at_mm = 0.0, thickness_mm = 0.0;
};

/// What is needed of a stretch round the section.
struct ThicknessNeed {
    double from_mm = 0.0, to_mm = 0.0, needed_mm = 0.0;
};

/// One part of the section: its thinnest place of the whole piece, and how it goes along the car.
struct ThicknessPart {
    std::string name;  ///< "flange", "shelf", "bead", "flute 1", "rest"
    double thickness_mm = 0.0, sd_mm = 0.0, needed_mm = 0.0, along_mm = 0.0;
    double sheet_needed_mm = 0.0;
    core::State state = core::State::not_measured;
    std::string place;                   ///< "3.9 · 700 mm"
    std::vector<ThicknessPoint> course;  ///< Its least along the car; empty where that is not known.

    /// Less two standard deviations: what its state is judged by.
    [[nodiscard]] double sure_mm() const { return thickness_mm - 2.0 * sd_mm; }
};

/// How thick the sheet comes out, round one section and along the car.
struct ThicknessPicture {
    std::string piece;
    std::string place;  ///< Of the section: "at 3.9 · 700 mm"
    double along_mm = 0.0, front_mm = 0.0, rear_mm = 0.0, sheet_mm = 0.0;
    std::vector<ThicknessPoint> round;  ///< Rising.
    std::vector<ThicknessNode> nodes;
    std::vector<ThicknessNeed> needs;
    std::vector<ThicknessPart> parts;
    std::optional<ThicknessPoint> least;  ///< Of this section, against what is needed there.
    core::State least_state = core::State::not_measured;
    double draw_ratio = 0.0;
    std::string limits;  ///< Of the model, in a sentence.
    core::BareUnit unit = core::BareUnit::mm;
    std::string words;  ///< What must be decided first; then nothing is drawn.
};

}  // namespace sillwright::app
