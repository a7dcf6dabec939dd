#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/forming/formed_sheet.h"
#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/units.h"

namespace sillwright::core {

/// Bits of the job, or of the table (resources/bits.json) where it has none.
std::vector<Bit> bits_of(const Router& router);

/// A flute at one place along its lane.
struct LaneRow {
    geometry::Length along;
    Eigen::Vector2d middle_mm;             ///< (out, up), on the drawn shelf.
    geometry::Length edge_offset;          ///< From the shelf edge, along the shelf.
    geometry::Length fence;                ///< From the shelf edge to where a fence guides the base plate.
    std::optional<geometry::Length> room;  ///< Least distance from the bit's axis to an upstand.
    bool room_is_inner = false;            ///< On the car's side; else on the outer one.
    double bearing = 1.0;                  ///< Part of the base plate that lies on the shelf.
};

/// One flute, or a recess, as it is cut and as it comes out.
struct FluteLane {
    std::string name;
    bool recess = false;
    std::string bit;                           ///< That cuts it, or is proposed; empty if none can.
    geometry::Length bit_width;                ///< What that bit cuts at its depth.
    geometry::Length mould_width, part_width;  ///< On the mould, and seen on the formed part.
    geometry::Length depth;
    std::optional<geometry::Length> wood_left;
    int passes = 0;
    std::optional<geometry::Length> bottom_thickness;  ///< Formed, in its bottom.
    geometry::Length front, rear;                      ///< Where it runs out.
    std::optional<geometry::Length> land;              ///< To the next flute inward, the least along it.
    std::vector<LaneRow> rows;
    std::vector<std::string> missing;
};

std::vector<FluteLane> flute_lanes(const Job& job, const Piece& piece, const geometry::Loft& line,
                                   const FormedSheet* formed);

/// `forming/<piece>/flute/<name>/bit`, .../wood, .../base plate, .../bearing, .../run-out, .../land, .../form.
std::vector<Finding> flute_findings(const Job& job, const Piece& piece, const geometry::Loft& line,
                                    const FormedSheet* formed, const std::vector<FluteLane>& lanes, Mends mends);

}  // namespace sillwright::core
