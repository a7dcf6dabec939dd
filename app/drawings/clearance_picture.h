#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/job.h"
#include "geometry/units.h"

namespace sillwright::app {

/// Least distance of a door to a piece of the skirt at one opening.
struct ClearanceAtAngle {
    geometry::Angle door_angle;
    geometry::Length clearance;

    friend bool operator==(const ClearanceAtAngle&, const ClearanceAtAngle&) = default;
};

/// What swings, and how near it comes at each opening, angles rising.
struct ClearanceLine {
    std::string moving;
    std::vector<ClearanceAtAngle> points;

    friend bool operator==(const ClearanceLine&, const ClearanceLine&) = default;
};

/// What a finding says of the swing: the least clearance and the one that is needed.
struct ClearanceMark {
    core::State state = core::State::holds;
    geometry::Angle at;
    geometry::Length least;  ///< Zero where it touches.
    std::optional<geometry::Length> needed;
    std::string words;  ///< "1.90 at 6.2°"
    std::vector<core::AngleRange> touching;

    friend bool operator==(const ClearanceMark&, const ClearanceMark&) = default;
};

/// Clearance against opening of one door.
struct ClearancePicture {
    std::string door;
    geometry::Angle stop;     ///< Its full opening.
    geometry::Angle opening;  ///< How far it is open now.
    core::BareUnit unit = core::BareUnit::mm;
    std::vector<ClearanceLine> lines;
    std::vector<ClearanceMark> marks;
    bool old_lines = false;  ///< Of an earlier state of the job.
    bool old_marks = false;
    std::string sentence;  ///< What is said where there are no lines.

    friend bool operator==(const ClearancePicture&, const ClearancePicture&) = default;
};

}  // namespace sillwright::app
