#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/edit/drawn_id.h"
#include "core/finding.h"
#include "core/job.h"
#include "geometry/units.h"

/// Whether named lines run fair along the car, by the loftsman's way: the batten is lifted off one
/// station, and where it comes to lie then is the fair place of that station.
///
/// Units and frame: millimetres, (out, up).
namespace sillwright::core {

/// A station further off its fair place than this shows as a bump in the finished surface. Common practice,
/// no source: about what an eye finds along a painted edge, and more than a careful rule reads.
constexpr geometry::Length k_fair_limit = geometry::millimetres(0.7);
/// A line needs this many stations: with the lifted one gone a batten must still bend over three.
constexpr std::size_t k_fair_stations = 4;

/// A station of a named line that has one on either side.
struct Bump {
    std::string station, node_id;
    geometry::Length along;
    Eigen::Vector2d drawn_mm = Eigen::Vector2d::Zero();
    Eigen::Vector2d fair_mm = Eigen::Vector2d::Zero();
    bool proud = false;  ///< It stands out of the fair line, away from the car; else it is hollow.

    [[nodiscard]] Eigen::Vector2d departure_mm() const { return drawn_mm - fair_mm; }
    [[nodiscard]] double size_mm() const { return departure_mm().norm(); }
};

/// A named line and its bumps. A name is judged by its own stations alone: beyond a run-out there is none.
struct FairLine {
    std::string name;
    std::size_t stations = 0;
    geometry::Length from, to;  ///< First and last of them; these have no bump.
    std::vector<Bump> bumps;    ///< Forward to rearward; none with fewer than k_fair_stations.

    /// The largest; null if there is none.
    [[nodiscard]] const Bump* worst() const;
};

/// Every named line of something drawn, in the order of its names.
///
/// Accuracy: the fair place is that of the natural cubic spline through the other stations, for out and
///   for up: the batten held at these alone.
/// Source: loftsman's practice; the batten as a natural spline, see geometry/natural_spline.h.
/// Precondition: the job was checked.
std::vector<FairLine> fair_lines(const Job& job, DrawnId id);

/// The line of a node as it would be with that node at its fair place; none without such a bump.
std::optional<FairLine> faired(const Job& job, const std::string& node_id);

/// One finding for each named line of the drawn pieces that has enough stations: its worst bump is at most the
/// limit. Its mend moves one node to its fair place, where that brings the whole line within the limit.
std::vector<Finding> fair_findings(const Job& job);

}  // namespace sillwright::core
