#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/forming/formed_sheet.h"
#include "core/forming/mould_chain.h"
#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/units.h"

/// From a size of the finished part down the mould chain to the buck, and up again.
namespace sillwright::core {

/// How a dimension goes through the chain: paint p and sheet t come off it before it is scaled, the plug's skin k
/// after.
///
///                    on a male mould      on a female mould    buck in the plug
///   spacing          D                    D                    D           between marks in one face
///   outside          D - 2 (p + t)        D - 2 p              D - 2 k     over two outer faces
///   inside           D                    D + 2 t              D - 2 k     between two inner faces
///   hollow           D + 2 (p + t)        D + 2 p              D + 2 k     of a hollow in the outside, such as a flute
///   face to edge     D - (p + t)          D - p                D - k       from an outer face to a cut edge
///   convex radius    R - (p + t)          R - p                R - k       of the outside
///   concave radius   R + (p + t)          R + p                R + k       of the outside
///
/// The sheet's inside lies on a male mould, its outside, still bare, on a female one; the film is on the outside alone.
/// What lies on a male mould's face, film and sheet, or on a female one's, the film, is taken off at each end of an
/// outside size, and widens a hollow when it is taken out. Between inner faces a male mould fills the part and has its
/// size; the faces of a female one lie a sheet further apart. The plug is solid where the part has its inside, whatever
/// the last mould is: a size over that solid, inside or outside, loses a skin at each end, and a hollow in it gains
/// one. Of faces about one centre the one further off has the greater radius: a convex one loses what lies on it, a
/// concave one gains it.
enum class DimensionKind { spacing, outside, inside, hollow, face_to_edge, convex_radius, concave_radius };

/// A dimension of the finished part.
struct Dimension {
    std::string name;
    DimensionKind kind = DimensionKind::spacing;
    bool across = false;     ///< Across the car; else along it.
    geometry::Length value;  ///< Of the finished, painted part.
    std::optional<geometry::Length>
        sheet;                    ///< Formed, where it is taken: once for a radius, the mean of the ends else.
    geometry::Length sheet_sd{};  ///< Of each of its ends.
};

/// One step down the ladder. A radius that is not above zero has vanished: the corner is sharp there.
struct Rung {
    std::string generation;      ///< "painted part", "part", "mould face", "male mould, hot", "male mould", ..., "buck"
    geometry::Length value, sd;  ///< What it must be for the part to come out right, and how unsure that is.
    std::optional<geometry::Length> measured;  ///< By a tick of the dimension's name.
};

struct LadderOf {
    Dimension dimension;
    std::vector<Rung> rungs;           ///< From the finished part to the buck; as far as is known.
    std::vector<std::string> missing;  ///< For the rungs that are not there.

    /// Null if it is not there.
    [[nodiscard]] const Rung* find(const std::string& generation) const;
};

/// Sizes at every step: "painted part"; "part", bare; "mould face", at the part's size; each generation before it,
/// cold, down to the plug, and above a mould whose temperature and expansion are given (with the generation taken off
/// it) the same hot; "buck".
///
/// Value: mould face by the kind; of the generation before = of this one / its ratio (mould_chain.h); buck by the kind.
/// Standard deviation: of first order. Each end has its own film (k_film_sd_share of it, core/mounts/stack.h) and
/// sheet,
///   each step its own ratio; all independent. The skin is taken as exact.
/// Missing: mould, paint, sheet, where the kind asks for them; the chain; the skin.
/// Source: (D - 2 t) / ((1 - s1)(1 - s2)(1 - s3)) - 2 k: common practice, no source.
LadderOf ladder(const Job& job, const std::vector<ChainStep>& chain, const Dimension& dimension);

/// The finished part's size that comes of a buck's: the same steps forward; dimension.value is not read. None where
/// anything is missing.
std::optional<geometry::Length> part_of_buck(const Job& job, const std::vector<ChainStep>& chain,
                                             const Dimension& dimension, geometry::Length buck);

/// Name of the main dimension over the section, upward.
inline constexpr const char* k_section_height = "section height";

/// The dimensions that every job asks for:
///   "length over all"; "H1 to H9", the holes in the part for the outermost mounts that are used for the flange; at the
///   middle of the piece "section height" and "section depth" over all; "inside at the flange", from the flange's
///   inside square to it to the inside face opposite; "<node> rounding" of every rounded node.
///
/// Value: of the finished part. Film and sheet are added square to the drawn line: where an extreme face leans from the
///   dimension by an angle a (a return that slopes), the sheet's 1 - cos a is left out, 0.005 mm of 3 mm at 3.4
///   degrees.
/// Sheet: `formed`, or the same everywhere (null); its sd: half of k_forming_spread (core/skirt/thickness.h).
/// Left out: a size that needs a sheet or a film that is not given.
std::vector<Dimension> main_dimensions(const Job& job, const Piece& piece, const geometry::Loft& line,
                                       const FormedSheet* formed);

/// A rounding of the drawn line as a dimension of the painted outside; none for a node that is not a rounded corner in
/// `nodes`, or without sheet or film where they are needed. `node` is a number in `line.names()`.
std::optional<Dimension> rounding(const Job& job, const Piece& piece, const geometry::Loft& line,
                                  const FormedSheet* formed, std::size_t node, geometry::Length along);

}  // namespace sillwright::core
