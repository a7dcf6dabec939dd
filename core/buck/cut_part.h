#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/buck/buck_plan.h"
#include "core/job.h"
#include "geometry/profile.h"
#include "geometry/result.h"

namespace sillwright::core {

enum class PartKind { rib, spine, base };

/// A straight or an arrow that is engraved.
struct EngravedLine {
    Eigen::Vector2d from_mm, to_mm;
    bool arrow = false;  ///< At `to_mm`.
};

struct EngravedWords {
    std::string words;      ///< ASCII.
    Eigen::Vector2d at_mm;  ///< Lower left corner of the first letter.
    double height_mm = 0.0;
};

struct DrilledHole {
    Eigen::Vector2d at_mm;
    double diameter_mm = 0.0;
    std::string what;  ///< "datum rod 1, milled or drilled", or "..., drilled" where it is smaller than the bit.
};

/// Where a tab is left, on the outline: its middle.
struct Tab {
    Eigen::Vector2d at_mm;
    geometry::Angle direction;  ///< Of the outline there.
};

/// One part as the router cuts it, lying as it is drawn: the face up that carries the words.
///
/// Frame: millimetres of the part. A rib: side to the right, height up. A spine: x to the right, height up. The base as
///   it is seen from outside the car: side up, and x to the right on a car's left-hand side; on its right-hand side x
///   runs to the left and the first coordinate is -x, as else its lower face would be up.
struct CutPart {
    PartKind kind = PartKind::rib;
    std::size_t piece = 0;
    std::string label;  ///< Unique among all parts.
    std::string board;  ///< Name of the board that it is cut from.
    double thickness_mm = 0.0;
    geometry::Profile finished;  ///< Closed, anticlockwise: the edge as it is when the part is in use, slots included,
                                 ///< without relief of inside corners.
    geometry::Profile outline;   ///< The same with what the bit takes at inside corners: what is cut.
    std::vector<geometry::Profile> inside;  ///< Cut-outs that are too large to drill.
    std::vector<DrilledHole> holes;
    std::vector<Tab> tabs;
    std::vector<EngravedLine> lines;
    std::vector<EngravedWords> words;
    std::string face_up;                  ///< "front face", "rear face", "upper face", "lower face"
    std::vector<std::string> left_out{};  ///< Words that found no room, whole or shortened.
    std::string unrelieved{};             ///< Why inside corners have no relief where they should have; else empty.
};

/// A rib, a spine, the base of a piece.
/// Errors: as slotted (a slot that does not lie in its part), led by the part; as geometry::relieved never: then there
/// is
///   no relief, and `unrelieved` says why.
geometry::Result<CutPart> cut_rib(const Job& job, const PieceBuck& buck, const Rib& rib);
geometry::Result<CutPart> cut_spine(const Job& job, const PieceBuck& buck, const Spine& spine);
geometry::Result<CutPart> cut_base(const Job& job, const PieceBuck& buck);

/// Parts of all pieces: ribs, spines, base, in the order of the plan. One that cannot be cut is left out; cut_findings
/// says which, and why.
///
/// Relief: of buck.relief, with a bit of buck.bit, `k_relief_room` wider than it. Where the bit is not known there is
///   none, and a finding says so.
/// Errors: kernel_failure, led by the part.
geometry::Result<std::vector<CutPart>> cut_parts(const Job& job, const BuckPlan& plan);

/// The job's bit that cuts out, if it is known and cuts straight down.
std::optional<geometry::Length> cutting_diameter(const Job& job);

/// By which a relief is wider than the bit, in radius, so that it is cut clear.
constexpr geometry::Length k_relief_room = geometry::millimetres(0.1);

}  // namespace sillwright::core
