#pragma once

#include <functional>
#include <optional>

namespace sillwright::core {

/// A change of one number, and the margin that it leaves.
struct LeastChange {
    double by = 0.0, margin = 0.0;
};

/// The least change, from zero up, by which a margin that rises with it comes to zero.
///
/// `margin`: no value where nothing can be changed so far.
/// Method: `first` doubled until the margin is not below zero, then halved in between.
/// Accuracy: 0 <= margin <= slack. No value where no change up to `most` does it.
std::optional<LeastChange> least_change(const std::function<std::optional<double>(double)>& margin, double first,
                                        double most, double slack);

}  // namespace sillwright::core
