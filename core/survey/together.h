#pragma once

#include <utility>
#include <vector>

#include "core/survey/placing.h"

namespace sillwright::core::survey {

/// Places several points at once where no single one can be placed: a few that hang together, searched from many
/// beginnings (the same ones every time). True if at least one was placed.
bool place_together(const Network& network, const std::vector<std::vector<std::pair<int, double>>>& rough,
                    Placing& placing);

}  // namespace sillwright::core::survey
