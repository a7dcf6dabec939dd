#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/forming/forming.h"
#include "core/job.h"

/// The mould chain from the plug to the sheet, as ratios of cold sizes.
namespace sillwright::core {

/// A step of the chain as it is used. Where something is missing in a direction, its ratio is 1 and means nothing.
struct ChainStep {
    std::string name;
    GenerationKind kind = GenerationKind::plug;
    double along = 1.0, across = 1.0;  ///< Size of this generation, of the one before it, both cold.
    double along_sd = 0.0, across_sd = 0.0;
    bool measured_along = false, measured_across = false;
    std::optional<double> hot_growth;  ///< Of the mould before it when it runs; no part of the sizes above.
    std::vector<std::string> missing_along, missing_across;
    std::vector<std::string> missing;  ///< Both, each once.

    [[nodiscard]] double ratio(bool is_across) const { return is_across ? across : along; }
    [[nodiscard]] double sd(bool is_across) const { return is_across ? across_sd : along_sd; }
    [[nodiscard]] bool measured(bool is_across) const { return is_across ? measured_across : measured_along; }
    [[nodiscard]] const std::vector<std::string>& missing_in(bool is_across) const {
        return is_across ? missing_across : missing_along;
    }
};

/// One for each of job.forming.generations, in their order. A plug that stands first has no step; where something else
/// does, its step is from the plug.
///
/// Ratio: measured ticks of a direction replace its assumed shrinkage (ratio_of_ticks); else 1 - s, or
///   (1 - s)(1 + α ΔT) where s is quoted from the hot mould before it: cold this = hot mould · (1 - s), hot mould =
///   cold mould · (1 + α ΔT), ΔT from the temperature at which all is drawn. Ticks are measured cold on both, and so
///   have that growth in them already. Quoted from the cold mould, as is usual, growth does not enter: it is never
///   counted twice.
/// Standard deviation: of the ticks, or of the assumed shrinkage; α and ΔT are taken as exact.
/// Missing: shrinkage, its standard deviation, of a hot mould α and temperature, the standard deviation of a tick that
///   was measured. A distance that was not measured on both is no tick yet.
/// Source: linear shrinkage as 1 - s of the generation before: common practice, no source.
std::vector<ChainStep> chain_of(const Job& job);

/// The same without any tick: what a buck is sized by before there is a mould to measure.
std::vector<ChainStep> assumed_chain(const Job& job);

/// Ratio of sizes by measured ticks.
struct TickRatio {
    double ratio = 1.0, sd = 0.0;
    std::size_t ticks = 0;
    std::string worst;        ///< The tick that fits the others least,
    double worst_misfit = 0;  ///< and its normalised residual: how far off it is, by the standard deviation of that.
};

/// By least squares through the origin with errors at both ends: the ratio r that makes the sum of (now - r before)² /
/// (sd² (1 + r²)) least; in closed form r = (B - A + sqrt((B - A)² + 4 C²)) / 2 C with A, B, C the sums of before²,
/// now² and before · now over sd². One tick gives now / before.
///
/// Standard deviation: of first order, sqrt((1 + r²) / A). None without a tick that was measured on both with its sd.
/// Misfit: |now - r before| / (sd sqrt(1 + r²) sqrt(1 - h)), h = before² / (sd² A) the share that the tick has in r: a
///   long tick bends the line to itself and leaves less of its error to be seen. Zero where nothing checks it: of a
///   single tick. Of two ticks both have the same, and which is wrong cannot be told.
/// Source: W. E. Deming, Statistical adjustment of data, 1943 (from memory); normalised residual: W. Baarda, A testing
///   procedure for use in geodetic networks, 1968 (from memory).
std::optional<TickRatio> ratio_of_ticks(const Generation& generation, bool across);

/// Size of the cold part's mould face, of that of the plug.
struct ChainSize {
    double ratio = 1.0, sd = 0.0;
    std::vector<std::string> missing;  ///< If there is anything, the ratio means nothing.
};
/// The product of the steps; their relative standard deviations by the root of the sum of squares.
/// Missing: that of the steps; a list that is empty or does not end in a sheet.
ChainSize chain_size(const std::vector<ChainStep>& chain, bool across);

/// Size of the mould that the sheet is formed on, as it runs, of the cold part: 1 / ratio of the last step, and the
/// growth of that mould when it runs, if that is given. A direction that is not known has 1.
struct MouldSize {
    double along = 1.0, across = 1.0;
    double along_sd = 0.0, across_sd = 0.0;  ///< Of first order, of the ratio alone.
    bool known_along = false, known_across = false;
    bool is_hot = false;  ///< The growth is in it; else it is cold.
};
/// Not known: where the list does not end in a sheet, or something of its last step is missing.
MouldSize mould_size(const std::vector<ChainStep>& chain);

/// "along", "across"
const char* direction_word(bool across);

}  // namespace sillwright::core
