#include "core/survey/next_reading.h"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

#include "core/survey/solve.h"
#include "tests/core/survey/shop_net.h"

namespace sillwright::core::survey {
namespace {

using tests::add;
using tests::held;
using tests::mm;
using tests::reading;
using tests::shop_net;
using tests::ShopNet;
using tests::unheld;

// The gain that is told is the gain of adjusting again with that reading in the book.
TEST(NextReading, TheGainIsThatOfTheReadingOnceTaken) {
    ShopNet net = shop_net();
    std::erase_if(net.book.readings, [](const Reading& r) { return r.kind == ReadingKind::height; });
    const Solution before = solve(net.book, net.truth, true);
    ASSERT_TRUE(before.next);
    const NextReading next = *before.next;
    EXPECT_LT(next.after_mm, next.before_mm);
    Reading taken;
    taken.id = "next";
    taken.kind = next.kind;
    taken.points = next.points;
    const std::vector<Eigen::Vector3d> at{net.truth.at_mm.at(next.points[0]), net.truth.at_mm.at(next.points[1])};
    taken.value = mm(shown(next.kind, 0, at, Eigen::Vector2d::Zero(), 0.0).value);
    net.book.readings.push_back(taken);
    const Solution after = solve(net.book, net.truth, true);
    const auto half_axis = [&](const Solution& s) {
        const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> eigen(s.find(next.for_point)->covariance_mm2);
        return factor_95(3) * std::sqrt(eigen.eigenvalues()[2]);
    };
    EXPECT_NEAR(half_axis(before), next.before_mm, 1e-9);
    EXPECT_NEAR(half_axis(after), next.after_mm, 1e-6);
    // It is not offered twice.
    ASSERT_TRUE(after.next);
    EXPECT_FALSE(after.next->kind == next.kind && after.next->points == next.points);
}

// A mount whose height alone is loose: any reading that helps gives its height.
TEST(NextReading, AsksForWhatIsLoose) {
    Book book;
    book.points = {held("A", {0, 0, 0}), held("B", {500, 0, 0}), unheld("H", PointKind::mount)};
    add(book, reading(ReadingKind::along, {"A", "H"}, 200.0, 0.5));
    add(book, reading(ReadingKind::out, {"A", "H"}, 30.0, 0.5));
    add(book, reading(ReadingKind::up, {"A", "H"}, -40.0, 8.0));
    const Solution s =
        solve(book, tests::start_at({{"A", {0, 0, 0}}, {"B", {500, 0, 0}}, {"H", {200, 30, -40}}}), true);
    ASSERT_TRUE(s.next);
    EXPECT_TRUE(s.next->kind == ReadingKind::height || s.next->kind == ReadingKind::up);
    EXPECT_EQ(s.next->for_point, "H");
    // Half-axis 2.7955 * 8 = 22.4 before; a level of 1 mm beside it: 2.7955 * 8 / sqrt(65) = 2.8 after.
    EXPECT_NEAR(s.next->before_mm, 22.364, 0.001);
    EXPECT_NEAR(s.next->after_mm, 2.774, 0.001);
    EXPECT_NE(s.next->words.find("H known to 2.8 mm instead of 22.4."), std::string::npos) << s.next->words;
}

TEST(NextReading, WithAllHeldThereIsNone) {
    Book book;
    book.points = {held("A", {0, 0, 0}), held("B", {500, 0, 0})};
    add(book, reading(ReadingKind::tie, {"A", "B"}, 500.4));
    const Solution s = solve(book, tests::start_at({{"A", {0, 0, 0}}, {"B", {500, 0, 0}}}), true);
    ASSERT_TRUE(s.adjustment);
    EXPECT_FALSE(s.next);
}

// No other reading that could be taken gains more: each is put into the book and adjusted.
TEST(NextReading, NoOtherGainsMore) {
    ShopNet net = shop_net();
    std::erase_if(net.book.readings, [&](const Reading& r) { return r.kind != ReadingKind::tie; });
    add(net.book, reading(ReadingKind::height, {"A", "H1"}, -180.0, 3.0));
    const Solution before = solve(net.book, net.truth, true);
    ASSERT_TRUE(before.next);
    for (const auto& [from, from_mm] : net.truth.at_mm) {
        for (const auto& [to, to_mm] : net.truth.at_mm) {
            if (from == to || (from == "A" && to == "H1")) {
                continue;
            }
            Book book = net.book;
            Reading height;
            height.id = "try";
            height.kind = ReadingKind::height;
            height.points = {from, to};
            height.value = mm(to_mm.z() - from_mm.z());
            book.readings.push_back(height);
            const Solution s = solve(book, net.truth, false);
            const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> eigen(s.find(before.next->for_point)->covariance_mm2);
            EXPECT_GE(factor_95(3) * std::sqrt(eigen.eigenvalues()[2]), before.next->after_mm - 1e-6);
        }
    }
}

}  // namespace
}  // namespace sillwright::core::survey
