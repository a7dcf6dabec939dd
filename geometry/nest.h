#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <compare>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "geometry/motion_distance.h"
#include "geometry/nest_shape.h"
#include "geometry/result.h"
#include "geometry/units.h"

/// Laying outlines on rectangular sheets so that few sheets are needed and little of the last one.
namespace sillwright::geometry {

/// A kind of sheet. Frame: its length to the right, its width up, from its lower left corner.
struct NestBoard {
    Eigen::Vector2d size_mm = Eigen::Vector2d::Zero();
    std::vector<Eigen::AlignedBox2d> defects;  ///< The same on each.
    bool half_turns_only = false;
    std::optional<std::size_t> count;  ///< None: as many as needed.
};

struct NestPart {
    Polygon outline_mm;               ///< Simple, anticlockwise, in any frame.
    std::vector<std::size_t> boards;  ///< That take it, by number: the first ones are filled first.
};

struct NestQuestion {
    std::vector<NestBoard> boards;
    std::vector<NestPart> parts;
    Length gap;     ///< Between parts.
    Length margin;  ///< Of edges and defects.
    Length
        chord{};  ///< By which the true edge of a part may stand outside its outline; it is kept beside gap and margin.
    std::uint64_t seed = 1;
    double effort = 1.0;  ///< Part of the usual number of tries; 0: one, or two where the first leaves parts out.
};

/// A part on a sheet: turned, then moved.
struct NestPlace {
    std::size_t part = 0;
    Angle turned;
    Eigen::Vector2d moved_mm = Eigen::Vector2d::Zero();
};

struct LaidSheet {
    std::size_t board = 0;
    std::vector<NestPlace> places;
    Eigen::Vector2d used_mm = Eigen::Vector2d::Zero();  ///< Upper right corner of the box from the sheet's lower left
                                                        ///< corner that holds all its outlines.
};

/// Smaller is better, by its members in their order.
struct NestScore {
    std::size_t left_out = 0;
    std::size_t whole_sheets = 0;  ///< Of boards without a count.
    std::size_t sheets = 0;
    double used_mm2 = 0.0;  ///< Area of the boxes used, of all sheets together.

    friend auto operator<=>(const NestScore&, const NestScore&) = default;
};

struct NestLayout {
    std::vector<LaidSheet> sheets;      ///< By board, then as they were begun.
    std::vector<std::size_t> left_out;  ///< Rising.
    NestScore score;
    std::size_t tries = 0;  ///< Layouts that were computed until now.
};

/// Lays all parts, and keeps on looking for a better way.
///
/// Units and frame: millimetres, of each sheet.
/// Method: parts in an order, each in the best place that is left by exact no-fit polygons (so that they go into one
///   another's hollows), with several orders, weights and quarter turns; some settings of libnest2d where all parts
///   share one kind of sheet without defects; then other orders by seeded exchange; last the emptiest sheet is laid
///   anew within less room. `better` is called with the first layout and each better one.
/// Shape: turns are whole quarters (whole halves where the board has grain), libnest2d's may be eighths. Each layout
///   was checked edge by edge (sheet_fault), and is dropped if it does not keep gap and margin.
/// Accuracy: gap and margin are kept to 1e-6 mm; the same question gives the same layout.
/// Errors: invalid_argument for an outline as grown_ring, a board's number that is not there, a gap, margin or chord
///   that is negative or not finite; stopped before there was a first layout. A stop after that gives the best so far.
Result<NestLayout> nest(const NestQuestion& question, const Watch& watch = {},
                        const std::function<void(const NestLayout&)>& better = {});

/// The outline where a place has it.
Polygon placed_ring(const Polygon& outline_mm, const NestPlace& place);

}  // namespace sillwright::geometry
