#include "core/survey/mirror_question.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace sillwright::core::survey {

using Eigen::Vector3d;
using Eigen::VectorXd;

namespace {

constexpr std::array<std::array<const char*, 2>, 3> k_sides{
    {{"to the rear of", "to the front of"}, {"outside", "inside"}, {"above", "below"}}};

std::string mm_text(double mm) {
    return std::to_string(std::lround(std::abs(mm))) + " mm";
}

/// "212 mm below".
std::string side_text(int coordinate, double mm) {
    const auto& side = k_sides[static_cast<std::size_t>(coordinate)];
    return mm_text(mm) + " " + side[mm < 0.0 ? 1 : 0];
}

std::string called(const Book& book, const std::string& name) {
    const auto found =
        std::find_if(book.points.begin(), book.points.end(), [&](const Point& p) { return p.name == name; });
    return (found == book.points.end() || found->kind == PointKind::mark ? "mark " : "") + name;
}

int most_moved(const std::vector<int>& group, const VectorXd& here, const VectorXd& there) {
    return *std::max_element(group.begin(), group.end(), [&](int a, int b) {
        return (here.segment<3>(3 * a) - there.segment<3>(3 * a)).norm() <
               (here.segment<3>(3 * b) - there.segment<3>(3 * b)).norm();
    });
}

}  // namespace

Mirrored mirror_question(const Network& network, const Book& book, const std::vector<int>& group,
                         const std::vector<int>& stays, const VectorXd& here, const VectorXd& there) {
    Mirrored mirrored;
    for (const int p : group) {
        mirrored.points.push_back(network.names[static_cast<std::size_t>(p)]);
        mirrored.here_mm.emplace_back(here.segment<3>(3 * p));
        mirrored.there_mm.emplace_back(there.segment<3>(3 * p));
    }
    const int asked = most_moved(group, here, there);
    const Vector3d at = here.segment<3>(3 * asked);
    const Vector3d other = there.segment<3>(3 * asked);
    Eigen::Index coordinate = 0;
    (at - other).cwiseAbs().maxCoeff(&coordinate);
    const int c = static_cast<int>(coordinate);
    mirrored.asked = static_cast<std::size_t>(std::find(group.begin(), group.end(), asked) - group.begin());
    mirrored.coordinate = c;
    mirrored.question = network.names[static_cast<std::size_t>(asked)] + ": ";
    if (stays.empty()) {
        mirrored.question += std::to_string(std::lround(at[c])) + " or " + std::to_string(std::lround(other[c])) +
                             " mm " +
                             (c == 0   ? "along?"
                              : c == 1 ? "out?"
                                       : "up?");
        return mirrored;
    }
    const Vector3d from = here.segment<3>(3 * stays.front());
    mirrored.question += side_text(c, (at - from)[c]) + " " +
                         called(book, network.names[static_cast<std::size_t>(stays.front())]) + ", or " +
                         side_text(c, (other - from)[c]) + " it?";
    return mirrored;
}

}  // namespace sillwright::core::survey
