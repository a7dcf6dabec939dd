#include "core/survey/solution.h"

#include <algorithm>
#include <cmath>

namespace sillwright::core::survey {

const PlacedPoint* Solution::find(const std::string& name) const {
    const auto found = std::find_if(points.begin(), points.end(), [&](const auto& p) { return p.name == name; });
    return found == points.end() ? nullptr : &*found;
}

}  // namespace sillwright::core::survey
