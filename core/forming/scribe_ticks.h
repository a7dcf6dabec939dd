#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/forming/mould_chain.h"
#include "core/job.h"
#include "geometry/units.h"

namespace sillwright::core {

/// A distance between ticks on one generation.
struct TickSize {
    std::string generation;
    geometry::Length expected;                 ///< By the chain as far as it is known.
    geometry::Length limit;                    ///< Two standard deviations of it either way.
    std::optional<geometry::Length> measured;  ///< What the job has for it.
};

/// A distance that is scribed on the plug and measured again on each generation.
struct TickLine {
    std::string name;  ///< "500 along": of a tick in the job, so that what is measured finds its place.
    bool across = false;
    std::vector<TickSize> sizes;  ///< The plug first.
};

struct ScribeTicks {
    std::vector<TickLine> lines;
    std::vector<std::string> missing;  ///< Without which sizes end at the generation before.
};

/// What to scribe on the plug: 500, 1000 and all but `k_tick_inset` at either end along a part that is long enough,
/// else thirds of the latter; and one across, of what `across` has without the same insets. In whole millimetres on the
/// plug.
ScribeTicks scribe_ticks(const Job& job, const std::vector<ChainStep>& chain, geometry::Length along,
                         geometry::Length across);

/// Ticks stand clear of trimmed ends and of the flange's rounding. Common practice, no source.
constexpr geometry::Length k_tick_inset = geometry::millimetres(25.0);
/// On a narrow face.
constexpr geometry::Length k_tick_inset_across = geometry::millimetres(10.0);

}  // namespace sillwright::core
