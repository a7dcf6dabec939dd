#pragma once

#include <Eigen/Core>
#include <vector>

#include "core/survey/network.h"
#include "core/survey/solution.h"

namespace sillwright::core::survey {

/// The question that tells two mirrored solutions apart: of the point that differs most, against a point that stays.
/// `group` moves from `here` to `there` (values of all unknowns); `stays` are points that do not.
Mirrored mirror_question(const Network& network, const Book& book, const std::vector<int>& group,
                         const std::vector<int>& stays, const Eigen::VectorXd& here, const Eigen::VectorXd& there);

}  // namespace sillwright::core::survey
