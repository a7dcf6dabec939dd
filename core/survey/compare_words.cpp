#include "core/survey/compare_words.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

#include "core/survey/network_problems.h"

namespace sillwright::core::survey {

using Eigen::Vector3d;

namespace {

/// "3.1".
std::string tenths(double mm) {
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "%.1f", std::abs(mm));
    return text.data();
}

/// "3.1 mm further out": the largest of the three differences.
std::string where(const Vector3d& difference_mm) {
    static const std::array<std::array<const char*, 2>, 3> k_ways{
        {{"further to the rear", "further to the front"}, {"further out", "further in"}, {"higher", "lower"}}};
    Eigen::Index most = 0;
    difference_mm.cwiseAbs().maxCoeff(&most);
    const auto& ways = k_ways[static_cast<std::size_t>(most)];
    return tenths(difference_mm[most]) + " mm " + ways[difference_mm[most] < 0.0 ? 1 : 0];
}

const PointDifference& worst_of(const Comparison& comparison, Verdict verdict) {
    return *std::max_element(comparison.points.begin(), comparison.points.end(), [&](const auto& a, const auto& b) {
        const bool counts_a = a.verdict == verdict;
        const bool counts_b = b.verdict == verdict;
        return counts_a != counts_b ? counts_b : a.bound_mm < b.bound_mm;
    });
}

std::string number_of_points(const Comparison& comparison) {
    return std::to_string(comparison.points.size()) + " common points";
}

/// The two surest other points to measure one from.
std::vector<std::string> surest_marks(const Solution& solution, const std::string& except) {
    std::vector<const PlacedPoint*> marks;
    for (const PlacedPoint& point : solution.points) {
        if (point.kind == PointKind::mark && point.name != except) {
            marks.push_back(&point);
        }
    }
    std::stable_sort(marks.begin(), marks.end(), [](const auto* a, const auto* b) {
        return a->covariance_mm2.trace() < b->covariance_mm2.trace();
    });
    std::vector<std::string> names;
    for (std::size_t i = 0; i < std::min<std::size_t>(marks.size(), 2); ++i) {
        names.push_back(marks[i]->name);
    }
    return names;
}

std::string tape_again(const std::string& name, const Solution& first, const Solution& second) {
    const bool other = second.find(name)->covariance_mm2.trace() > first.find(name)->covariance_mm2.trace();
    const std::vector<std::string> marks = surest_marks(other ? second : first, name);
    return "tape " + name + " again on " + (other ? "the other side" : "this side") +
           (marks.empty() ? "" : ", from " + listed(marks));
}

}  // namespace

std::string lacks_to_compare(const std::vector<std::string>& common) {
    const std::string have = common.empty()       ? "They have no point of the same name in common"
                             : common.size() == 1 ? "They have only " + common[0] + " in common"
                             : common.size() == 2 ? "They have only " + listed(common) + " in common"
                                                  : "Their common points " + listed(common) + " lie on one line";
    return have + ": place at least three points of the same names in both, not on one line.";
}

std::string words_on_sides(const Comparison& comparison, const Solution& first, const Solution& second) {
    const std::string limit = tenths(comparison.limit_mm) + " mm";
    switch (*comparison.verdict) {
        case Verdict::same:
            return "Mirror: both sides agree within " + limit + " at all " + number_of_points(comparison) + ".";
        case Verdict::different: {
            const PointDifference& worst = worst_of(comparison, Verdict::different);
            return "Do not mirror: " + worst.name + " stands " + where(worst.difference_mm) +
                   " on the other side. Give the other side its own holes.";
        }
        case Verdict::measure_better:
            break;
    }
    const PointDifference& worst = worst_of(comparison, Verdict::measure_better);
    return "Measure better: " + worst.name + " differs by " + tenths(worst.distance_mm) + " mm and may differ by " +
           tenths(worst.bound_mm) + ", with " + limit + " allowed. To know, " + tape_again(worst.name, first, second) +
           ".";
}

std::string words_on_set_ups(const Comparison& comparison, const std::string& first_name,
                             const std::string& second_name) {
    const std::string names = "\"" + first_name + "\" and \"" + second_name + "\"";
    const PointDifference& moved = *std::max_element(comparison.points.begin(), comparison.points.end(),
                                                     [](const auto& a, const auto& b) { return a.w < b.w; });
    if (moved.w > k_blunder_w) {
        return "The body changed its shape between " + names + ": " + moved.name + " stands " +
               where(moved.difference_mm) + " in \"" + second_name + "\", " + tenths(moved.w) +
               " times its sd. Measure gaps and doors with the car on its wheels, or look for a wrong reading at " +
               moved.name + ".";
    }
    const PointDifference& worst = worst_of(comparison, *comparison.verdict);
    switch (*comparison.verdict) {
        case Verdict::same:
            return "The body kept its shape between " + names + ", within " + tenths(comparison.limit_mm) +
                   " mm at all " + number_of_points(comparison) + ": both count as one.";
        case Verdict::different:
            return "Between " + names + " " + worst.name + " differs by " + tenths(worst.distance_mm) +
                   " mm, more than the " + tenths(comparison.limit_mm) + " mm allowed.";
        case Verdict::measure_better:
            break;
    }
    return "Nothing says that the body changed its shape between " + names + ", but " + worst.name + " may differ by " +
           tenths(worst.bound_mm) + " mm: measure it once more in each.";
}

}  // namespace sillwright::core::survey
