#pragma once

#include <Eigen/Core>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "geometry/profile.h"
#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// Where a node stands at one station. Millimetres in the section plane.
struct LoftNode {
    std::string name;
    Eigen::Vector2d p_mm = Eigen::Vector2d::Zero();
    Length radius;
};

/// One drawn section: its place along the car, and its nodes in order.
struct LoftSection {
    Length along;
    std::vector<LoftNode> nodes;
};

/// Where a feature ends: between the last station that has the node and the
/// next, which has not. From there on the node lies on the straight between its
/// neighbours, without radius.
struct RunOut {
    std::string name;
    Length along;
};

/// Nodes of one name joined along the car by smooth guide lines.
///
/// The guide line is the cubic through the stations with Akima's slopes
/// (H. Akima, J. ACM 17 (1970) 589-602): it passes through every station, is
/// straight where three neighbouring differences are straight, adds no wiggle
/// beside a kink, and is local: a node moved at one station is felt up to the
/// third station to either side (`k_reach`), and nowhere else. With two stations
/// it is the straight line. Radii follow the same curve, never below zero.
class Loft {
public:
    /// Stations to either side of a moved node within which the surface changes.
    static constexpr std::size_t k_reach = 3;

    /// Errors: invalid_argument for fewer than two sections, stations that do not
    ///   rise, values not finite, a name used twice in a section, names in another
    ///   order at another station, fewer than two names (three if closed), a run-out
    ///   outside the gap in which the name disappears, or a name that disappears
    ///   without one; does_not_fit if roundings do not fit at a station. Each names
    ///   the station (from 1) and the node.
    static Result<Loft> make(std::vector<LoftSection> sections, std::vector<RunOut> run_outs, bool closed);

    /// All names in their one order.
    [[nodiscard]] const std::vector<std::string>& names() const { return names_; }
    [[nodiscard]] const std::vector<LoftSection>& sections() const { return sections_; }
    [[nodiscard]] bool closed() const { return closed_; }
    [[nodiscard]] Length front() const { return sections_.front().along; }
    [[nodiscard]] Length rear() const { return sections_.back().along; }

    /// One node for every name at `along` (clamped to front..rear), from the guide
    /// lines directly. A node whose feature has run out lies between its neighbours.
    [[nodiscard]] std::vector<ProfileNode> nodes_at(Length along) const;

    /// The section there as lines and arcs. Errors: does_not_fit as make_profile.
    [[nodiscard]] Result<Profile> section_at(Length along) const;

    /// Places where a surface may not be smooth: stations and run-outs, rising.
    [[nodiscard]] std::vector<Length> key_places() const;

private:
    Loft() = default;
    std::vector<std::string> names_;
    std::vector<LoftSection> sections_;
    bool closed_ = false;
};

}  // namespace sillwright::geometry
