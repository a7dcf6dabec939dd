#pragma once

#include <string>
#include <vector>

#include "core/survey/network.h"
#include "core/survey/solution.h"

namespace sillwright::core::survey {

/// Which points the readings leave free to move, and in which directions.
struct Freedom {
    std::vector<int> directions;        ///< By point: 0 if it stands fast, to 3.
    std::vector<Eigen::Matrix3d> axes;  ///< By point: its free directions are the first columns.
    std::vector<bool> lean_free;        ///< By set-up.
};

/// From the normal matrix at `values`: directions that are known no better than k_unknown_sd_mm count as free.
Freedom freedom_of(const Network& network, const Eigen::VectorXd& values);

/// One sentence of each point that is not fast.
std::vector<LackingPoint> lacking_points(const Network& network, const Eigen::VectorXd& values, const Freedom& freedom);

}  // namespace sillwright::core::survey
