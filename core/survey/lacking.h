#pragma once

#include <Eigen/Core>
#include <vector>

#include "core/survey/freedom.h"
#include "core/survey/network.h"
#include "core/survey/solution.h"

namespace sillwright::core::survey {

/// One sentence of each point that is not fast: what it has, and which kind of reading it lacks.
std::vector<LackingPoint> lacking_points(const Network& network, const Eigen::VectorXd& values, const Freedom& freedom);

}  // namespace sillwright::core::survey
