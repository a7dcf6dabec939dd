#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/survey/solution.h"

namespace sillwright::core::survey {

/// What the differences of two sets of the same points allow to be said.
enum class Verdict {
    same,       ///< 95 % bound of every difference is within the limit: mirror the part, or use both set-ups as one.
    different,  ///< At some point the difference is surely over the limit.
    measure_better,  ///< Neither is sure.
};

/// One point that both sets have, after the second was moved rigidly onto the first.
struct PointDifference {
    std::string name;
    Eigen::Vector3d difference_mm = Eigen::Vector3d::Zero();  ///< Second minus first, in the first's frame.
    double distance_mm = 0.0;
    double sd_mm = 0.0;     ///< Of the difference, along itself.
    double bound_mm = 0.0;  ///< distance + 1.96 sd.
    double w = 0.0;         ///< distance / sd, of the residual that the fit leaves.
    Verdict verdict = Verdict::measure_better;
};

struct Comparison {
    std::vector<PointDifference> points;
    Eigen::Matrix3d rotation = Eigen::Matrix3d::Identity();  ///< first = rotation * second + shift.
    Eigen::Vector3d shift_mm = Eigen::Vector3d::Zero();
    double rms_mm = 0.0;
    double limit_mm = 2.0;
    std::optional<Verdict> verdict;  ///< None if it could not be made; then `lacks` says why.
    std::string words;               ///< One or two sentences, with what to do.
    std::string lacks;
};

/// The usual limit: common practice, no source.
constexpr double k_mirror_limit_mm = 2.0;

/// Left against right (either first): both in along, out, up, so that one is the other's mirror image.
/// Needs three common points that do not lie on one line.
/// Source: B. K. P. Horn, J. Opt. Soc. Am. A 4 (1987) 629 (from memory).
Comparison compare_sides(const Solution& first, const Solution& second, double limit_mm = k_mirror_limit_mm);

/// Each set-up's readings adjusted alone, then the second moved onto the first: whether the body kept its shape on the
/// lift, |w| above 3.29 said in words. None of one set-up only; `lacks` says what is missing.
std::optional<Comparison> compare_set_ups(const Book& book, double limit_mm = k_mirror_limit_mm);

}  // namespace sillwright::core::survey
