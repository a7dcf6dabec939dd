#pragma once

#include <string>

#include "core/job.h"
#include "core/mounts/hole_plan.h"

/// Holes and fasteners in words, the same on all papers.
namespace sillwright::core {

/// The hole that is made in the part: the job's own where it has one, as findings are about that; else as planned.
struct MadeHole {
    HoleSize size;
    double shift_mm = 0.0;  ///< Of its centre, rearward, from where the mount's axis lands.
    bool of_job = false;
};
MadeHole made_hole(const HolePlan& plan);

/// "11.0 × 19.5", or "round 6.5"
std::string size_words(const HoleSize& size);
/// "LOCATOR", "guide", "slot"
std::string role_words(HoleRole role);
/// "round hole 9.0 mm", "slot 9.0 × 14.0 mm", "stud 6.0 mm"; its size left out where it is not measured.
std::string body_words(const Mount& mount);
/// "pressed in", "screw with a loose nut", "screw into a fixed nut"
std::string fixing_words(const Fastener& fastener);
/// Its name, or "not chosen".
std::string fastener_words(const Fastener& fastener);

}  // namespace sillwright::core
