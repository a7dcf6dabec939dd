#include "core/survey/compare_words.h"

#include <gtest/gtest.h>

namespace sillwright::core::survey {
namespace {

PointDifference difference(const std::string& name, const Eigen::Vector3d& d, double sd, Verdict verdict) {
    const double size = d.norm();
    return {name, d, size, sd, size + 1.96 * sd, sd > 0.0 ? size / sd : 0.0, verdict};
}

Comparison comparison(std::vector<PointDifference> points, Verdict verdict) {
    Comparison c;
    c.points = std::move(points);
    c.verdict = verdict;
    return c;
}

Solution solution(double variance) {
    Solution s;
    for (const char* name : {"A", "B", "H4"}) {
        s.points.emplace_back().name = name;
        s.points.back().covariance_mm2 = variance * Eigen::Matrix3d::Identity();
    }
    return s;
}

TEST(CompareWords, SayWhatToDo) {
    const auto near = difference("A", {0.1, 0, 0}, 0.1, Verdict::same);
    EXPECT_EQ(words_on_sides(comparison({near, near, near}, Verdict::same), {}, {}),
              "Mirror: both sides agree within 2.0 mm at all 3 common points.");
    const auto out = difference("H4", {0.5, 3.1, -0.2}, 0.2, Verdict::different);
    EXPECT_EQ(words_on_sides(comparison({near, out}, Verdict::different), {}, {}),
              "Do not mirror: H4 stands 3.1 mm further out on the other side. Give the other side its own holes.");
    const auto unsure = difference("H4", {0, 0, -1.5}, 0.5, Verdict::measure_better);
    EXPECT_EQ(words_on_sides(comparison({near, unsure}, Verdict::measure_better), solution(1.0), solution(4.0)),
              "Measure better: H4 differs by 1.5 mm and may differ by 2.5, with 2.0 mm allowed. To know, tape H4 again "
              "on the other side, from A and B.");
}

TEST(CompareWords, SayWhatTheLiftDid) {
    const auto still = difference("A", {0.1, 0, 0}, 0.1, Verdict::same);
    const auto moved = difference("C", {0, 0, -1.6}, 0.2, Verdict::same);
    EXPECT_EQ(
        words_on_set_ups(comparison({still, moved}, Verdict::same), "wheels", "lift"),
        "The body changed its shape between \"wheels\" and \"lift\": C stands 1.6 mm lower in \"lift\", 8.0 times "
        "its sd. Measure gaps and doors with the car on its wheels, or look for a wrong reading at C.");
    EXPECT_EQ(words_on_set_ups(comparison({still}, Verdict::same), "wheels", "lift"),
              "The body kept its shape between \"wheels\" and \"lift\", within 2.0 mm at all 1 common points: both "
              "count as one.");
}

TEST(CompareWords, SayWhatIsLacking) {
    EXPECT_EQ(lacks_to_compare({"A"}),
              "They have only A in common: place at least three points of the same names in both, not on one line.");
}

}  // namespace
}  // namespace sillwright::core::survey
