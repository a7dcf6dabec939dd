#include "core/road/least_change.h"

#include <algorithm>

namespace sillwright::core {

namespace {

/// Halvings from any change to far below any slack.
constexpr int k_halvings = 60;

}  // namespace

std::optional<LeastChange> least_change(const std::function<std::optional<double>(double)>& margin, double first,
                                        double most, double slack) {
    double low = 0.0;
    double high = std::min(first, most);
    auto there = margin(high);
    while (there && *there < 0.0 && high < most) {
        low = high;
        high = std::min(2.0 * high, most);
        there = margin(high);
    }
    if (!there || *there < 0.0) {
        return std::nullopt;
    }
    for (int i = 0; i<k_halvings&& * there> slack; ++i) {
        const double middle = 0.5 * (low + high);
        const auto at_middle = margin(middle);
        if (at_middle && *at_middle >= 0.0) {
            high = middle;
            there = at_middle;
        } else {
            low = middle;
        }
    }
    return *there <= slack ? std::optional(LeastChange{high, *there}) : std::nullopt;
}

}  // namespace sillwright::core
