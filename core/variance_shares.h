#pragma once

#include <vector>

#include "core/finding.h"

namespace sillwright::core {

/// How much of the variance each standard deviation makes, 0 to 1, in their order; all together 1. Measuring the
/// largest better helps most. All zero if all standard deviations are. Source: variances of independent deviations add
/// (ISO/IEC Guide 98-3, from memory).
std::vector<double> variance_shares(const std::vector<UnsureBy>& parts);

}  // namespace sillwright::core
