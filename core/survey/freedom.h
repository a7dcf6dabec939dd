#pragma once

#include <Eigen/Core>
#include <vector>

#include "core/survey/network.h"
#include "core/survey/placing.h"

namespace sillwright::core::survey {

/// Which points the readings leave free to move, and in which directions.
struct Freedom {
    std::vector<int> directions;        ///< By point: 0 if it stands fast, to 3.
    std::vector<Eigen::Matrix3d> axes;  ///< By point: its free directions are the first columns.
    std::vector<bool> lean;             ///< By set-up: whether it is free.
    bool frame = false;                 ///< All of it may move as one rigid body.
};

/// From the normal matrix at the places found: directions that are known no better than k_unknown_sd_mm count as free.
Freedom freedom_of(const Network& network, const Placing& placing);

}  // namespace sillwright::core::survey
