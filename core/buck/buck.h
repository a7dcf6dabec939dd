#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/entry.h"
#include "geometry/units.h"

/// How the buck is to be made: what it is cut from, how its boards go together, what the router does. Plain values of
/// the job. Usual values are common practice, no source.
namespace sillwright::core {

/// Part of a board that must not be used: a knot, a corner knocked off.
struct BoardDefect {
    std::string name;
    std::optional<Entry> along, across;  ///< Its corner nearest to the board's own corner.
    std::optional<Entry> length, width;
    Unknown unknown{};

    friend bool operator==(const BoardDefect&, const BoardDefect&) = default;
};

/// A kind of sheet that buck parts are cut from: a full size, or an off-cut of which there is one.
struct Board {
    std::string name;
    std::optional<Entry> length, width;
    std::optional<Entry> thickness_1, thickness_2, thickness_3;  ///< As measured at three places.
    std::optional<double> count;                                 ///< How many there are; none: as many as needed.
    bool grain = false;                                          ///< Runs along its length, and parts keep to it.
    std::optional<double> price;                                 ///< Of one, in the shop's own money.
    std::vector<BoardDefect> defects;                            ///< The same on each.
    Unknown unknown{};

    friend bool operator==(const Board&, const Board&) = default;
};

/// Which face of a rib lies on its place along the car: the one where the section is larger, so that the edge is
/// bevelled to the other; the one where it is smaller, so that the skin bridges; or always the same.
enum class RibFace { larger, smaller, front, rear };
enum class SpineCount { one, two };
/// At an inside corner the bit goes on into it: half-way between the two edges, or along the longer of them.
enum class CornerRelief { diagonal, along_edge };
/// What a cut's line in a file is: the finished edge, or the way of the bit's middle.
enum class CutLine { finished, tool_path };
enum class DrawingUnit { millimetres, inches };
/// Of a DXF file: releases 12 and 2000.
enum class DxfRelease { older, newer };

struct Buck {
    std::optional<Entry> chord_most;  ///< Ribs as near as this asks for; none: at the stations.
    RibFace face = RibFace::larger;
    SpineCount spines = SpineCount::two;
    std::optional<Entry> spine_height;                 ///< Of the first one; none: as there is room.
    std::string rib_board, spine_board, base_board;    ///< Names; none: the first board; no base board.
    Entry fit{geometry::millimetres(0.15), ""};        ///< Of a slot, beyond the sheet in it: both sides together.
    Entry slot_extra{geometry::millimetres(0.5), ""};  ///< Of each slot's depth.
    Entry key_step{geometry::millimetres(4.0), ""};    ///< By which the depths of neighbouring half-laps differ.
    Entry base_room{geometry::millimetres(20.0), ""};  ///< From the trim allowance's edge to the base.
    Entry pin{geometry::millimetres(6.0), ""};         ///< Diameter of the datum rods through all ribs.
    std::string bit;                                   ///< That cuts out; a name, of the router's or of the table.
    CutLine line = CutLine::finished;
    CornerRelief relief = CornerRelief::diagonal;
    Entry tab_width{geometry::millimetres(6.0), ""};
    Entry tab_height{geometry::millimetres(2.0), ""};
    Entry tab_pitch{geometry::millimetres(250.0), ""};  ///< Greatest, round an outline.
    Entry letters{geometry::millimetres(8.0), ""};      ///< Height of engraved words.
    Entry margin{geometry::millimetres(10.0), ""};      ///< Of a board's edge.
    std::optional<Entry> gap;                           ///< Between parts; none: the bit and 2 mm.
    DrawingUnit unit = DrawingUnit::millimetres;
    DxfRelease release = DxfRelease::newer;
    std::vector<Board> boards;
    Unknown unknown{};

    friend bool operator==(const Buck&, const Buck&) = default;
};

}  // namespace sillwright::core
