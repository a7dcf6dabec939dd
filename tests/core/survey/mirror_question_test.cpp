#include "core/survey/mirror_question.h"

#include <gtest/gtest.h>

#include "tests/core/survey/made_book.h"

namespace sillwright::core::survey {
namespace {

TEST(MirrorQuestion, NamesTheCoordinateThatDiffersMost) {
    MadeBook made;
    made.truth = {{"A", {0, 0, 10}}, {"H", {300, 50, 0}}, {"K", {0, 0, 0}}};
    made.hold("A", "aou");
    made.tie("A", "H");
    made.tie("H", "K");
    const Network network = network_of(made.book);  // A, H, K
    Eigen::VectorXd here = network.values;
    here.segment<3>(3) << 300, 50, -202;
    Eigen::VectorXd there = here;
    there[5] = 198;
    const Mirrored mirrored = mirror_question(network, made.book, {1, 2}, {0}, here, there);
    EXPECT_EQ(mirrored.question, "H: 212 mm below mark A, or 188 mm above it?");
    EXPECT_EQ(mirrored.points, (std::vector<std::string>{"H", "K"}));

    there = here;
    there[3] = -280;
    EXPECT_EQ(mirror_question(network, made.book, {1}, {0}, here, there).question,
              "H: 300 mm to the rear of mark A, or 280 mm to the front of it?");
    there = here;
    there[4] = 20;
    EXPECT_EQ(mirror_question(network, made.book, {1}, {0}, here, there).question,
              "H: 50 mm outside mark A, or 20 mm outside it?");
    made.point("A").kind = PointKind::mount;
    EXPECT_EQ(mirror_question(network, made.book, {1}, {0}, here, there).question,
              "H: 50 mm outside A, or 20 mm outside it?");
    EXPECT_EQ(mirror_question(network, made.book, {1}, {}, here, there).question, "H: 50 or 20 mm out?");
}

}  // namespace
}  // namespace sillwright::core::survey
