#pragma once

#include <Eigen/Core>
#include <limits>
#include <string>
#include <vector>

#include "geometry/guide_line.h"
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

/// Where a feature ends (or begins): between a station that has the node and its
/// neighbour station, which has not. Beyond, the node lies on the straight
/// between the nearest nodes that are there, without radius.
struct RunOut {
    std::string name;
    Length along;
};

/// A stretch of the car.
struct AlongRange {
    Length from, to;
};

struct MovedLoft;

/// Nodes of one name joined along the car by smooth guide lines.
///
/// The guide line is the cubic through the stations with Akima's slopes, one each
/// for out, up and radius: it passes through every station, is straight where the
/// stations are, adds no wiggle beside a kink, and is local: a node moved at one
/// station is felt up to the third station to either side (`k_reach`), and nowhere
/// else (see guide_line.h). With two stations it is the straight. Radii follow
/// the same curve, never below zero.
///
/// Run-outs: the guide line of a name runs through its stations and ends at the
///   run-out with radius zero on the straight between its neighbours there. Beyond,
///   the node divides that straight in a constant ratio, which is taken from the
///   station with the most nodes (the first of equals). With no neighbour on one
///   side (the end of an open line) the node lies at its one neighbour. Run-outs
///   that end on one another's lines are solved together. A run-out within the
///   reach of a moved node carries the move on by the reach of its own line; a move
///   at the station that gives the ratios also shifts nodes beyond run-outs along
///   their straights. `moved` reports all of this exactly.
class Loft {
public:
    /// Stations to either side of a moved node within which its guide line changes.
    static constexpr std::size_t k_reach = GuideLine::k_reach;

    /// Errors: invalid_argument for fewer than two sections, stations that do not
    ///   rise, values not finite, a negative radius, a name used twice in a section,
    ///   names in another order at another station, fewer than two names (three if
    ///   closed) that go through from a station to the next, a name that goes and
    ///   comes again, a run-out outside the gap in which its name disappears, or a
    ///   name that disappears without one; does_not_fit if roundings do not fit at a
    ///   station or its straights cross. Each names the station (from 1) and the node.
    static Result<Loft> make(std::vector<LoftSection> sections, const std::vector<RunOut>& run_outs, bool closed);

    /// The same loft with one node at one station (from 0) moved, and the stretch
    /// in which anything changed. Much cheaper than `make`.
    /// Errors: invalid_argument if the station has no such node or the place is not
    ///   finite; does_not_fit if roundings no longer fit at that station.
    [[nodiscard]] Result<MovedLoft> moved(const std::string& name, std::size_t station,
                                          const Eigen::Vector2d& p_mm) const;

    /// All names in their one order.
    [[nodiscard]] const std::vector<std::string>& names() const { return names_; }
    [[nodiscard]] const std::vector<LoftSection>& sections() const { return sections_; }
    [[nodiscard]] bool closed() const { return closed_; }
    [[nodiscard]] Length front() const { return sections_.front().along; }
    [[nodiscard]] Length rear() const { return sections_.back().along; }

    /// One node for every name at `along` (clamped to front..rear), from the guide
    /// lines directly. A node whose feature has run out lies between its neighbours.
    [[nodiscard]] std::vector<ProfileNode> nodes_at(Length along) const;
    /// The same, written over `nodes`.
    void nodes_at(Length along, std::vector<ProfileNode>& nodes) const;

    /// One of them alone.
    [[nodiscard]] ProfileNode node_at(std::size_t name, Length along) const;

    /// Whether the feature of name number `name` is there (its ends included).
    [[nodiscard]] bool present_at(std::size_t name, Length along) const;

    /// The section there as lines and arcs. Errors: does_not_fit as make_profile.
    [[nodiscard]] Result<Profile> section_at(Length along) const;

    /// "1234.00 mm (between stations 3 and 4)" or "... (station 3)", for messages.
    [[nodiscard]] std::string place(Length along) const;

    /// Places where a surface may not be smooth: stations and run-outs, rising.
    [[nodiscard]] std::vector<Length> key_places() const;
    /// Those of them where the surface may have an edge across: the run-outs.
    [[nodiscard]] std::vector<Length> run_out_places() const;

private:
    /// A name's stations, where it runs out before and behind them, and its lines.
    struct Guide {
        std::size_t first = 0, last = 0;  ///< Stations.
        bool runs_out_before = false, runs_out_behind = false;
        Length from, to;
        std::vector<GuideLine> lines;                                                          ///< Out, up, radius.
        Eigen::Vector2d start_mm = Eigen::Vector2d::Zero(), end_mm = Eigen::Vector2d::Zero();  ///< At the run-outs.

        [[nodiscard]] bool goes_through(Length along) const;
    };

    Loft() = default;
    [[nodiscard]] Status order_names();
    [[nodiscard]] Status find_extents(const std::vector<RunOut>& run_outs);
    [[nodiscard]] Status check_enough_names() const;
    [[nodiscard]] Status check_station(std::size_t station) const;
    void take_ratios();
    void draw_lines();
    void draw_line(std::size_t name, bool with_run_outs);
    [[nodiscard]] bool settle_run_outs();
    [[nodiscard]] Eigen::Vector2d run_out_point(std::size_t name, Length along) const;
    [[nodiscard]] Eigen::Vector2d line_point(std::size_t name, Length along) const;
    /// Nearest name before (step n-1) or behind (step 1) for which `there` holds; `name` itself if none.
    template <class There>
    [[nodiscard]] std::size_t neighbour(std::size_t name, bool behind, const There& there) const;
    [[nodiscard]] double ratio(std::size_t before, std::size_t name, std::size_t behind) const;
    [[nodiscard]] AlongRange difference(const Loft& other) const;

    std::vector<std::string> names_;
    std::vector<LoftSection> sections_;
    std::vector<std::vector<std::size_t>> number_;  ///< Name number of each node of each section.
    std::vector<Guide> guides_;
    std::vector<double> mark_;  ///< Running length round the fullest section, by name; one more for the way round.
    bool closed_ = false;
};

/// A loft after a move, and the stretch outside of which it is the same bit for
/// bit (from = to if nothing changed).
struct MovedLoft {
    Loft loft;
    AlongRange changed;
};

}  // namespace sillwright::geometry
