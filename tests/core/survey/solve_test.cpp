#include "core/survey/solve.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/survey/shown.h"
#include "tests/core/survey/small_book.h"

namespace sillwright::core::survey {
namespace {

using Eigen::Vector3d;
using geometry::degrees;
using geometry::in_deg;
using geometry::in_rad;
using tests::add;
using tests::held;
using tests::reading;
using tests::unheld;

// C. D. Ghilani, Adjustment Computations, Example 14.2: a point by three distances, in feet (here as if they were
// millimetres: the numbers have no unit). The adjusted values are recomputed from its data, as is the case with 5 ft
// more in one distance; the book prints two decimals.
Book ghilani(double bu) {
    Book book;
    book.points = {held("A", {865.40, 4527.15, 0}), held("B", {2432.55, 2047.25, 0}), held("C", {2865.22, 27.15, 0}),
                   unheld("U")};
    book.points[3].up = tests::mm(0.0);
    add(book, reading(ReadingKind::tie, {"A", "U"}, 6049.00));
    add(book, reading(ReadingKind::tie, {"B", "U"}, bu));
    add(book, reading(ReadingKind::tie, {"C", "U"}, 5446.49));
    return book;
}

Start ghilani_start(const Book& book) {
    Start start;
    for (const Point& point : book.points) {
        start.at_mm[point.name] = point.name == "U" ? Vector3d(6900, 3700, 0)
                                                    : Vector3d(in_mm(point.along->value), in_mm(point.out->value), 0);
    }
    return start;
}

TEST(Solve, TrilaterationOfGhilanisExample) {
    const Book book = ghilani(4736.83);
    const Solution s = solve(book, ghilani_start(book));
    const PlacedPoint* u = s.find("U");
    ASSERT_NE(u, nullptr);
    EXPECT_NEAR(u->at_mm.x(), 6861.3168, 0.00005);
    EXPECT_NEAR(u->at_mm.y(), 3727.8186, 0.00005);
    EXPECT_NEAR(s.readings[0].numbers[0].residual, -0.03737, 0.000005);
    EXPECT_NEAR(s.readings[1].numbers[0].residual, 0.07679, 0.000005);
    EXPECT_NEAR(s.readings[2].numbers[0].residual, -0.04737, 0.000005);
    ASSERT_EQ(s.global.degrees_of_freedom, 1);
    const double s0 = std::sqrt(s.global.sum);
    EXPECT_NEAR(s0, 0.09766, 0.000005);
    EXPECT_NEAR(s0 * std::sqrt(u->covariance_mm2(0, 0)), 0.0775, 0.00005);
    EXPECT_NEAR(s0 * std::sqrt(u->covariance_mm2(1, 1)), 0.1542, 0.00005);
    EXPECT_FALSE(s.suspect);
}

TEST(Solve, ABlunderOfFiveFeetIsFoundButNotNamed) {
    const Book book = ghilani(4741.83);
    const Solution s = solve(book, ghilani_start(book));
    const PlacedPoint* u = s.find("U");
    ASSERT_NE(u, nullptr);
    EXPECT_NEAR(u->at_mm.x(), 6862.9705, 0.00005);
    EXPECT_NEAR(u->at_mm.y(), 3728.8394, 0.00005);
    EXPECT_NEAR(s.readings[0].numbers[0].residual, 1.4671, 0.00005);
    EXPECT_NEAR(s.readings[1].numbers[0].residual, -3.0149, 0.00005);
    EXPECT_NEAR(s.readings[2].numbers[0].residual, 1.8596, 0.00005);
    EXPECT_NEAR(std::sqrt(s.global.sum), 3.8341, 0.00005);
    EXPECT_FALSE(s.global.holds);
    // One degree of freedom: all residuals move together.
    ASSERT_TRUE(s.suspect);
    EXPECT_NEAR(s.suspect->w, 3.8341, 0.00005);
    EXPECT_FALSE(s.suspect->told_apart);
    EXPECT_EQ(s.suspect->others.size(), 2U);
}

}  // namespace
}  // namespace sillwright::core::survey
