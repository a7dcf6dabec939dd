#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/forming/bit_table.h"
#include "core/forming/formed_sheet.h"
#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/units.h"

namespace sillwright::core {

/// A flute at one place along its lane.
struct LaneRow {
    geometry::Length along;
    Eigen::Vector2d middle_mm;     ///< (out, up), on the drawn line.
    geometry::Length edge_offset;  ///< From the shelf edge along the shelf; on the face from the bead down.
    /// From the shelf edge outward to a fence on its outer side, along which the base plate's rim runs: base plate's
    /// radius less `edge_offset`; negative lies on the shelf. A fence on the car's side stands at `edge_offset` and the
    /// radius inward of the edge. None while the radius is not given.
    std::optional<geometry::Length> fence;
    std::optional<geometry::Length> room;  ///< Least distance from the bit's axis to an upstand (plate_bed.h).
    bool room_is_inner = false;            ///< On the car's side (on the face: below); else on the outer one.
    std::optional<double> bearing;  ///< Part of the base plate that lies on the shelf, and what is level with it.
    geometry::Length flat_left;     ///< From the nearer side of the mouth to the rounding there.
};

/// One flute, or a recess, as it is cut and as it comes out.
struct FluteLane {
    std::string name;
    bool recess = false;
    std::size_t number = 0;                    ///< In the piece's flutes or recesses.
    std::string bit;                           ///< That cuts it, or is proposed; empty if there is none.
    bool bit_proposed = true;                  ///< The job names none.
    geometry::Length bit_width;                ///< What that bit cuts at its depth; of a recess its diameter.
    geometry::Length mould_width, part_width;  ///< On the mould, which is the plug's, and seen on the formed part.
    geometry::Length mould_radius;             ///< Of its bottom's corners, on the mould, as the bit leaves them.
    geometry::Length depth;
    geometry::Angle mouth;  ///< Between shelf and wall.
    std::optional<geometry::Length> wood_left;
    int passes = 0;                                    ///< At growing depth.
    std::optional<geometry::Length> sheet;             ///< As formed, beside it, the mean along it.
    std::optional<geometry::Length> bottom_thickness;  ///< Formed, in its bottom, the least along it.
    std::optional<geometry::Length> undercut;          ///< That the part must spring over there, the most along it.
    geometry::Length front, rear;                      ///< Where it runs out, or the piece ends.
    bool opens_front = false, opens_rear = false;      ///< It goes through to the piece's end.
    std::optional<geometry::Length> front_room,
        rear_room;                           ///< From its end (of a flute: its round end) to the shelf's.
    std::optional<geometry::Length> land;    ///< To the next one inward, the least along it.
    std::string land_to;                     ///< Name of that one.
    bool fence_straight = true;              ///< Else the fence is a batten.
    std::optional<geometry::Length> batten;  ///< Its least bend radius.
    std::vector<LaneRow> rows;
    std::vector<std::string> missing;
};

/// All flutes of a piece by their order in the job, then its recesses. Empty if it has none.
///
/// Units and frame: millimetres, along, out, up.
/// Shape: rows no more than `k_lane_pitch_mm` apart, and at stations. Where nodes for its strip are missing a lane has
/// no
///   rows and says so.
/// Widths: as core/forming/flute_form.h; the chain's shrinkage (ladder.h) is not in them: 0.6 % of 24 mm are 0.14.
std::vector<FluteLane> flute_lanes(const Job& job, const Piece& piece, const geometry::Loft& line,
                                   const FormedSheet* formed);

/// Of every flute `forming/<piece>/flute/<name>/bit`, .../wood, .../base plate, .../bearing, .../run-out, .../land
/// (where there is a neighbour inward), .../shelf (it lies on the straight), .../form, .../undercut; the same of a
/// recess, `forming/<piece>/recess/<name>/...`.
std::vector<Finding> flute_findings(const Job& job, const Piece& piece, const geometry::Loft& line,
                                    const FormedSheet* formed, const std::vector<FluteLane>& lanes, Mends mends);

/// Rows of a lane are no further apart than this.
constexpr double k_lane_pitch_mm = 20.0;

/// A fence whose plan is straight to this is a straight one: a string beside it shows no more.
constexpr geometry::Length k_straight_fence = geometry::millimetres(0.3);

/// Over this length a batten's bend is taken: it smooths out what is shorter.
constexpr geometry::Length k_batten_span = geometry::millimetres(100.0);

}  // namespace sillwright::core
