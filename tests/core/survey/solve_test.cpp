#include "core/survey/solve.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <random>
#include <utility>
#include <vector>

#include "core/survey/shown.h"
#include "tests/core/survey/shop_net.h"

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

// A law: turned and shifted as a whole, with its frame held along, ties have the same residuals and the ellipsoids turn
// along.
TEST(Solve, ARigidMotionChangesNothingButThePlace) {
    tests::ShopNet net = tests::shop_net();
    std::erase_if(net.book.readings, [](const Reading& r) { return r.kind != ReadingKind::tie; });
    std::mt19937 random(5);
    net.book = tests::noisy(net.book, random);
    const Eigen::Matrix3d turn =
        (Eigen::AngleAxisd(0.7, Vector3d::UnitZ()) * Eigen::AngleAxisd(-0.4, Vector3d::UnitX())).toRotationMatrix();
    const Vector3d shift(300, -200, 90);
    const auto hold_all = [](const Book& book, const Start& truth) {
        Book made = book;
        for (Point& point : made.points) {
            if (point.kind == PointKind::mark) {
                point = held(point.name, truth.at_mm.at(point.name));
            }
        }
        return made;
    };
    Start moved = net.truth;
    for (auto& [name, at] : moved.at_mm) {
        at = turn * at + shift;
    }
    const Solution here = solve(hold_all(net.book, net.truth), net.truth, false);
    const Solution there = solve(hold_all(net.book, moved), moved, false);
    EXPECT_NEAR(here.global.sum, there.global.sum, 1e-8);
    for (std::size_t i = 0; i < here.readings.size(); ++i) {
        EXPECT_NEAR(here.readings[i].numbers[0].residual, there.readings[i].numbers[0].residual, 1e-8);
        EXPECT_NEAR(here.readings[i].numbers[0].redundancy, there.readings[i].numbers[0].redundancy, 1e-8);
    }
    for (const PlacedPoint& point : here.points) {
        const PlacedPoint& other = *there.find(point.name);
        EXPECT_LT((turn * point.at_mm + shift - other.at_mm).norm(), 1e-7);
        EXPECT_LT((turn * point.covariance_mm2 * turn.transpose() - other.covariance_mm2).norm(), 1e-7);
    }
}

// What all readings share of the degrees of freedom is all of them.
TEST(Solve, RedundanciesSumToTheDegreesOfFreedom) {
    const tests::ShopNet net = tests::shop_net();
    const Solution s = solve(net.book, net.truth, false);
    double sum = 0.0;
    for (const ReadingResult& result : s.readings) {
        sum += result.numbers[0].redundancy;
    }
    EXPECT_NEAR(sum, s.global.degrees_of_freedom, 1e-9);
    EXPECT_EQ(s.global.degrees_of_freedom, 33 - 15);
}

// On the lift the car leans by one degree outward and half a degree rearward; heights between marks say so.
TEST(Solve, FindsHowTheSecondSetUpLeans) {
    tests::ShopNet net = tests::shop_net();
    net.book.set_ups = {{"wheels", true, {}, {}, {}, {}}, {"lift", false, {}, {}, {}, {}}};
    const Eigen::Vector2d lean(in_rad(degrees(1.0)), in_rad(degrees(0.5)));
    for (const auto& [from, to] : {std::pair("A", "B"), {"A", "C"}, {"B", "C"}, {"H1", "H4"}, {"C", "H2"}}) {
        const std::vector<Vector3d> at{net.truth.at_mm.at(from), net.truth.at_mm.at(to)};
        Reading height = reading(ReadingKind::height, {from, to}, shown(ReadingKind::height, 0, at, lean, 0.0).value);
        height.set_up = "lift";
        add(net.book, height);
    }
    net.truth.lean_rad["lift"] = {0.0, 0.0};
    const Solution s = solve(net.book, net.truth, false);
    ASSERT_EQ(s.set_ups.size(), 2U);
    EXPECT_TRUE(s.set_ups[0].found);
    EXPECT_TRUE(s.set_ups[1].found);
    EXPECT_NEAR(in_deg(s.set_ups[1].roll), 1.0, 1e-9);
    EXPECT_NEAR(in_deg(s.set_ups[1].pitch), 0.5, 1e-9);
    EXPECT_GT(in_deg(s.set_ups[1].roll_sd), 0.0);
    EXPECT_LT(s.global.sum, 1e-9);
    // By its own rough places, too.
    const Solution own = solve(net.book, false);
    EXPECT_NEAR(in_deg(own.set_ups[1].roll), 1.0, 1e-6);
    EXPECT_EQ(own.points.size(), 7U);
}

// The start says that X is placed, and no reading gives its height.
TEST(Solve, APointThatTheReadingsLeaveFreeIsSaidToLack) {
    tests::ShopNet net = tests::shop_net();
    net.book.points.push_back(unheld("X"));
    net.truth.at_mm["X"] = {400, 50, 60};
    add(net.book, reading(ReadingKind::along, {"A", "X"}, 400));
    add(net.book, reading(ReadingKind::out, {"A", "X"}, 50));
    const Solution s = solve(net.book, net.truth, true);
    ASSERT_TRUE(s.adjustment);
    EXPECT_EQ(s.points.size(), 7U);
    ASSERT_EQ(s.lacking.size(), 1U);
    EXPECT_EQ(s.lacking[0].name, "X");
    EXPECT_NE(s.lacking[0].lacks.find("up of X"), std::string::npos) << s.lacking[0].lacks;
    EXPECT_EQ(s.readings.back().use, ReadingUse::waiting);
}

TEST(Solve, BooksWithNothingToAdjust) {
    const Solution empty = solve(Book{}, Start{}, true);
    EXPECT_TRUE(empty.points.empty() && empty.readings.empty() && !empty.adjustment && empty.global.holds);
    Book book;
    book.points = {held("A", {1, 2, 3})};
    const Solution one = solve(book, tests::start_at({{"A", {1, 2, 3}}}), true);
    ASSERT_EQ(one.points.size(), 1U);
    EXPECT_EQ(one.points[0].at_mm, Vector3d(1, 2, 3));
    EXPECT_EQ(one.covariance_mm2({"A"}), Eigen::Matrix3d::Zero());
}

TEST(Solve, AnInstrumentThatTheBookHasNotIsSaid) {
    tests::ShopNet net = tests::shop_net();
    net.book.readings[0].instrument = net.book.readings[1].instrument = "lost tape";
    const Solution s = solve(net.book, net.truth, false);
    ASSERT_EQ(s.problems.size(), 1U);
    EXPECT_NE(s.problems[0].find("\"lost tape\""), std::string::npos);
}

}  // namespace
}  // namespace sillwright::core::survey
