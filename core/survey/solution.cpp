#include "core/survey/solution.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "geometry/chi_squared.h"

namespace sillwright::core::survey {

const PlacedPoint* Solution::find(const std::string& name) const {
    const auto found = std::find_if(points.begin(), points.end(), [&](const auto& p) { return p.name == name; });
    return found == points.end() ? nullptr : &*found;
}

Eigen::MatrixXd Solution::covariance_mm2(const std::vector<std::string>& names) const {
    std::vector<int> parameters;
    std::vector<Eigen::Index> rows;
    std::vector<Eigen::Matrix3d> own;
    for (std::size_t i = 0; i < names.size(); ++i) {
        const PlacedPoint* point = find(names[i]);
        assert(point != nullptr);
        own.push_back(point->covariance_mm2);
        for (std::size_t k = 0; k < 3; ++k) {
            if (point->parameters[k] >= 0) {
                parameters.push_back(point->parameters[k]);
                rows.push_back(static_cast<Eigen::Index>(3 * i + k));
            }
        }
    }
    const Eigen::Index size = 3 * std::ssize(names);
    Eigen::MatrixXd covariance = Eigen::MatrixXd::Zero(size, size);
    if (adjustment && !parameters.empty()) {
        covariance(rows, rows) = adjustment->covariance(parameters);
    } else if (!adjustment) {
        for (std::size_t i = 0; i < own.size(); ++i) {
            const auto row = static_cast<Eigen::Index>(3 * i);
            covariance.block<3, 3>(row, row) = own[i];
        }
    }
    return covariance;
}

double factor_95(int dimensions) {
    return std::sqrt(geometry::chi_squared_point(0.95, dimensions));
}

}  // namespace sillwright::core::survey
