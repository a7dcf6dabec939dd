#pragma once

#include <Eigen/Core>
#include <span>
#include <utility>
#include <vector>

#include "core/survey/network.h"

namespace sillwright::core::survey {

/// A place of one point that suits the readings to points whose places are taken as known.
struct Candidate {
    Eigen::Vector3d at_mm = Eigen::Vector3d::Zero();
    double sum = 0.0;
};

/// What those readings allow.
struct Candidates {
    bool determined = false;        ///< They fix all coordinates (that are not held) at the best place.
    std::vector<Candidate> places;  ///< Best first; two or more only if they suit about alike.
    std::size_t numbers = 0;        ///< How many numbers took part.
};

/// A coordinate that is known no better than this is not known: a skirt is not made from it.
constexpr double k_unknown_sd_mm = 250.0;

/// `numbers`: those of the point's whose other points are placed.
Candidates candidates(const Network& network, int point, std::span<const int> numbers, const Eigen::VectorXd& values,
                      const std::vector<std::pair<int, double>>& rough);

}  // namespace sillwright::core::survey
