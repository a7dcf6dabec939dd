#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/forming/formed_sheet.h"
#include "core/job.h"
#include "core/mounts/hole_plan.h"
#include "geometry/loft.h"
#include "geometry/units.h"

namespace sillwright::core {

/// How a dimension goes through the chain: paint and sheet come off it before it is scaled.
enum class DimensionKind { spacing, outside, inside, convex_radius, concave_radius };

/// A dimension of the finished part.
struct Dimension {
    std::string name;
    DimensionKind kind = DimensionKind::spacing;
    bool across = false;          ///< Across the car; else along it.
    geometry::Length value;       ///< Of the finished, painted part.
    geometry::Length sheet;       ///< Formed, where it is taken: once for a radius, the mean of the two ends else.
    geometry::Length sheet_sd{};  ///< Of each of its ends.
};

/// One step down the ladder.
struct Rung {
    std::string generation;  ///< "painted part", "part", "male mould, hot", "male mould", ..., "buck"
    geometry::Length value, sd;
    std::optional<geometry::Length> measured;
};

struct LadderOf {
    Dimension dimension;
    std::vector<Rung> rungs;  ///< From the finished part to the buck.
    std::vector<std::string> missing;
};

/// A step of the chain as it is used: measured ticks go before what is assumed.
struct ChainStep {
    std::string name;
    GenerationKind kind = GenerationKind::plug;
    double along = 1.0, across = 1.0;  ///< Size of this generation, of the one before it, both cold.
    double along_sd = 0.0, across_sd = 0.0;
    bool measured_along = false, measured_across = false;
    double hot_growth = 1.0;  ///< Of the mould before it when it runs; 1 where it is counted already.
    std::vector<std::string> missing;
};

/// The chain from the plug to the sheet.
std::vector<ChainStep> chain_of(const Job& job);

/// Sizes at every step, from the finished part down to the buck.
LadderOf ladder(const Job& job, const std::vector<ChainStep>& chain, const Dimension& dimension);

/// The finished part's size that comes of a buck's: the same steps forward.
std::optional<geometry::Length> part_of_buck(const Job& job, const std::vector<ChainStep>& chain,
                                             const Dimension& dimension, geometry::Length buck);

/// The dimensions that every job asks for: length over all, between its end mounts, heights and depths of the section,
/// roundings.
std::vector<Dimension> main_dimensions(const Job& job, const Piece& piece, const geometry::Loft& line,
                                       const FormedSheet* formed);

/// `forming/chain`, `forming/chain/<generation>` (measured against assumed), `forming/<piece>/slots`, .../radius.
std::vector<Finding> ladder_findings(const Job& job, const std::vector<ChainStep>& chain,
                                     const std::vector<LadderOf>& ladders, const MountPlan& plan, Mends mends);

}  // namespace sillwright::core
