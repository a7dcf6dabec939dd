#pragma once

#include <optional>

#include "core/forming/bit_table.h"
#include "core/forming/flute_form.h"
#include "core/job.h"

namespace sillwright::core {

/// What is to be cut into the plug.
struct ToCut {
    GrooveSection plug;                              ///< Its width, and its bottom's radius, of a flute.
    std::optional<geometry::Length> outline_radius;  ///< Of a recess: the corners of its outline.
};

/// How a bit does it, millimetres.
struct BitFit {
    Bit bit;
    geometry::Length width;        ///< That it cuts at the depth; of a recess its diameter.
    geometry::Length radius;       ///< Of the bottom's corners that it leaves.
    geometry::Length width_off;    ///< Its cut, less the flute's width; zero of a recess.
    geometry::Length radius_over;  ///< Bottom's or outline's radius that it needs, less what there is; never negative.
    std::optional<geometry::Length> reach_left;  ///< Its reach, less the depth; none if the reach is not known.
    int passes = 0;                              ///< At growing depth.

    /// The least of what is left of the three: within zero it does.
    [[nodiscard]] geometry::Length margin() const;
};

/// A flute's width, and radii, may be off by this: common practice, no source.
constexpr geometry::Length k_cut_tolerance = geometry::millimetres(0.5);

/// No value for a bit without a form (bit_table.h).
std::optional<BitFit> fit_of(const Router& router, const Bit& bit, const ToCut& cut);

/// The bit that a maker would take, of the job's or of the table's: one that does it in a single run side by side, the
/// nearest in width and radius; for a recess the widest flat one. Where none does it, the one that comes nearest.
/// V bits are never proposed: a flute's walls are drawn square.
std::optional<BitFit> best_fit(const Router& router, const ToCut& cut);

}  // namespace sillwright::core
