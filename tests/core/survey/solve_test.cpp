#include "core/survey/solve.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/core/survey/made_book.h"
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

/// Four held marks; mounts H1 and H2 by ties and a height in the set-up "wheels", which is level.
MadeBook small(double noise_sd_mm) {
    MadeBook made;
    made.noise_sd_mm = noise_sd_mm;
    made.truth = {{"A", {0, 0, 0}},        {"B", {2000, 0, 50}},    {"C", {300, 600, 0}},
                  {"D", {1800, 500, 350}}, {"H1", {600, 200, 180}}, {"H2", {1200, 250, 160}}};
    made.book.set_ups = {{"wheels", true, {}, {}, {}, {}}};
    for (const char* mark : {"A", "B", "C", "D"}) {
        made.hold(mark, "aou");
        for (const char* mount : {"H1", "H2"}) {
            made.tie(mark, mount);
        }
    }
    made.read(ReadingKind::height, {"A", "H1"});
    for (const char* mount : {"H1", "H2"}) {
        made.about(mount, made.truth.at(mount));
    }
    return made;
}

Vector3d at(const Solution& s, const std::string& name) {
    const PlacedPoint* point = s.find(name);
    return point == nullptr ? Vector3d::Constant(std::nan("")) : point->at_mm;
}

TEST(Solve, ADroppedReadingTakesNoPartButShowsWhatItWouldHaveBeen) {
    MadeBook made = small(0.8);
    const Solution without = solve(made.book);
    made.tie("C", "H2", 50.0).dropped = "tape on the wrong hole";
    const Solution s = solve(made.book);
    EXPECT_EQ(at(s, "H2"), at(without, "H2"));
    EXPECT_EQ(s.global.sum, without.global.sum);
    const ReadingResult& dropped = s.readings.back();
    ASSERT_EQ(dropped.use, ReadingUse::dropped);
    ASSERT_EQ(dropped.numbers.size(), 1U);
    EXPECT_NEAR(dropped.numbers[0].adjusted, (at(s, "H2") - made.truth.at("C")).norm(), 1e-9);
    EXPECT_EQ(dropped.numbers[0].redundancy, 1.0);
    EXPECT_GT(*dropped.numbers[0].w, 30.0);
}

TEST(Solve, APointThatLacksReadingsWaitsAndStopsNobody) {
    MadeBook made = small(0.0);
    made.truth["H3"] = {900, 300, 100};
    made.tie("A", "H3");
    made.tie("H3", "H1");
    const Solution s = solve(made.book);
    EXPECT_EQ(s.find("H3"), nullptr);
    ASSERT_EQ(s.lacking.size(), 1U);
    EXPECT_EQ(s.lacking[0].name, "H3");
    EXPECT_EQ(s.readings.back().use, ReadingUse::waiting);
    EXPECT_NE(s.readings.back().why.find("H3"), std::string::npos);
    EXPECT_LT((at(s, "H1") - made.truth.at("H1")).norm(), 1e-6);
}

TEST(Solve, AReadingWithoutSenseIsNotUsedAndSaysWhy) {
    MadeBook made = small(0.0);
    made.tie("A", "H1").value = std::nullopt;
    made.tie("A", "H1").points = {"H1", "H1"};
    made.tie("A", "H1").value = MadeBook::entry(-300.0);
    const Solution s = solve(made.book);
    for (std::size_t i = made.book.readings.size() - 3; i < made.book.readings.size(); ++i) {
        EXPECT_EQ(s.readings[i].use, ReadingUse::not_usable) << i;
        EXPECT_FALSE(s.readings[i].why.empty()) << i;
    }
    EXPECT_LT((at(s, "H1") - made.truth.at("H1")).norm(), 1e-6);
}

// By hand: the mean of two numbers of one sd; one degree of freedom, half of it to each.
TEST(Solve, GapsAtAPlaceAreAveragedWithoutCoordinates) {
    Book book;
    for (const double value : {4.0, 5.0}) {
        add(book, reading(ReadingKind::gap, {"rear edge"}, value, 0.5));
    }
    add(book, reading(ReadingKind::depth, {"rear edge"}, 11.0, 0.5));
    const Solution s = solve(book);
    ASSERT_EQ(s.readings[0].use, ReadingUse::used);
    EXPECT_NEAR(s.readings[0].numbers[0].adjusted, 4.5, 1e-12);
    EXPECT_NEAR(s.readings[1].numbers[0].redundancy, 0.5, 1e-12);
    EXPECT_NEAR(s.readings[2].numbers[0].adjusted, 11.0, 1e-12);
    EXPECT_FALSE(s.readings[2].numbers[0].w) << "a depth is no gap: nothing checks it";
    EXPECT_EQ(s.global.degrees_of_freedom, 1);
}

TEST(Solve, WhatNothingElseChecksHasNoRedundancy) {
    MadeBook made = small(0.5);
    made.truth["H3"] = {900, 300, 100};
    made.about("H3", made.truth["H3"]);
    const std::size_t first = made.book.readings.size();
    for (const char* mark : {"A", "B", "D"}) {
        made.tie(mark, "H3");
    }
    const Solution s = solve(made.book);
    ASSERT_NE(s.find("H3"), nullptr);
    for (std::size_t i = first; i < first + 3; ++i) {
        ASSERT_EQ(s.readings[i].use, ReadingUse::used);
        EXPECT_NEAR(s.readings[i].numbers[0].redundancy, 0.0, 1e-9);
        EXPECT_FALSE(s.readings[i].numbers[0].w);
        EXPECT_FALSE(s.readings[i].numbers[0].least_blunder);
        EXPECT_NEAR(s.readings[i].numbers[0].residual, 0.0, 1e-9);
    }
}

TEST(Solve, RedundanciesSumToTheDegreesOfFreedom) {
    const MadeBook made = small(0.5);
    const Solution s = solve(made.book);
    double sum = 0.0;
    for (const ReadingResult& one : s.readings) {
        sum += one.numbers[0].redundancy;
    }
    EXPECT_EQ(s.global.degrees_of_freedom, 3) << "nine readings, two points";
    EXPECT_NEAR(sum, 3.0, 1e-10);
}

TEST(Solve, AGaugesTiltIsFoundFromItsPoints) {
    MadeBook made = small(0.0);
    const double tilt = in_rad(degrees(0.4));
    made.truth["G1"] = made.truth["A"] + Vector3d(0, 250, 30);
    made.truth["G2"] = made.truth["A"] + Vector3d(0, 400, -60);
    for (const char* point : {"G1", "G2"}) {
        made.read(ReadingKind::gauge, {"A", point}, 0.0, "", tilt, "at A").sd = MadeBook::entry(0.1);
    }
    // The far one is known, too: from it the tilt comes, and with it the near one.
    made.read(ReadingKind::up, {"A", "G2"}).sd = MadeBook::entry(0.01);
    made.read(ReadingKind::out, {"A", "G2"}).sd = MadeBook::entry(0.01);
    const Solution s = solve(made.book);
    ASSERT_NE(s.find("G1"), nullptr);
    // That the gauge was level to 0.5 degrees pulls by (0.1 / 400 rad / 0.5 degrees) squared: nothing.
    EXPECT_LT((at(s, "G1") - made.truth["G1"]).norm(), 0.01);
    EXPECT_LT((at(s, "G2") - made.truth["G2"]).norm(), 0.01);
    ASSERT_EQ(s.readings[made.book.readings.size() - 3].numbers.size(), 3U);
    EXPECT_EQ(s.readings[made.book.readings.size() - 3].numbers[1].what, "up");
}

TEST(Solve, HowASetUpLeansIsFoundFromHeightsOfKnownMarks) {
    MadeBook made = small(0.0);
    made.book.set_ups.push_back({"lift", false, {}, {}, {}, {}});
    made.lean_rad["lift"] = {in_rad(degrees(0.8)), in_rad(degrees(-0.5))};
    made.truth["H3"] = {900, 300, 100};
    made.about("H3", made.truth["H3"]);
    for (const char* mark : {"B", "C", "D"}) {
        made.read(ReadingKind::height, {"A", mark}, 0.0, "lift");
    }
    made.tie("A", "H3");
    made.tie("C", "H3");
    made.read(ReadingKind::height, {"A", "H3"}, 0.0, "lift");
    const Solution s = solve(made.book);
    ASSERT_EQ(s.set_ups.size(), 2U);
    EXPECT_TRUE(s.set_ups[1].found);
    EXPECT_NEAR(in_deg(s.set_ups[1].roll), 0.8, 1e-6);
    EXPECT_NEAR(in_deg(s.set_ups[1].pitch), -0.5, 1e-6);
    EXPECT_GT(in_rad(s.set_ups[1].roll_sd), 0.0);
    EXPECT_LT((at(s, "H3") - made.truth["H3"]).norm(), 1e-5);
    EXPECT_TRUE(s.set_ups[0].found);
    EXPECT_EQ(in_rad(s.set_ups[0].roll_sd), 0.0);
}

TEST(Solve, ASetUpThatNoReadingSaysAnythingOfIsNotFound) {
    MadeBook made = small(0.0);
    made.book.set_ups.push_back({"lift", false, {}, {}, {}, {}});
    made.truth["H3"] = {900, 300, 100};
    made.read(ReadingKind::height, {"A", "H3"}, 0.0, "lift");
    const Solution s = solve(made.book);
    EXPECT_FALSE(s.set_ups[1].found);
    EXPECT_EQ(s.readings.back().use, ReadingUse::waiting);
    EXPECT_EQ(s.find("H3"), nullptr);
}

// By hand: A is held at 0 to 3 mm and read as 10 mm from B, which is exact at 14, to 4 mm: 4 mm apart, shared 9 to 16;
// variance 9 * 16 / 25.
TEST(Solve, ACoordinateHeldWithAnSdGivesWayByItsShare) {
    Book book;
    book.points = {held("A", {0, 0, 0}), held("B", {14, 0, 0})};
    book.points[0].sd = tests::mm(3.0);
    add(book, reading(ReadingKind::along, {"A", "B"}, 10.0, 4.0));
    const Solution s = solve(book);
    EXPECT_NEAR(at(s, "A").x(), 4.0 * 9.0 / 25.0, 1e-10);
    EXPECT_NEAR(s.find("A")->covariance_mm2(0, 0), 9.0 * 16.0 / 25.0, 1e-10);
    EXPECT_NEAR(s.find("A")->covariance_mm2(1, 1), 9.0, 1e-10) << "of its out nothing else is read";
    EXPECT_EQ(at(s, "B"), Vector3d(14, 0, 0));
    EXPECT_EQ(s.find("B")->covariance_mm2.norm(), 0.0);
    EXPECT_NEAR(s.readings[0].numbers[0].redundancy, 16.0 / 25.0, 1e-12);
}

// Ties know nothing of the frame: all that is held moved and turned as one takes the points with it, and what the
// readings say of each other stays.
TEST(Solve, MovesAsOneWithWhatIsHeld) {
    MadeBook made = small(0.8);
    std::erase_if(made.book.readings, [](const Reading& one) { return one.kind != ReadingKind::tie; });
    made.tie("H1", "H2");
    const Solution before = solve(made.book, false);
    const Eigen::Isometry3d motion =
        Eigen::Translation3d(700, -300, 150) * Eigen::AngleAxisd(0.9, Vector3d(1, 2, -1).normalized());
    for (auto& [name, place] : made.truth) {
        place = motion * place;
    }
    for (const char* mark : {"A", "B", "C", "D"}) {
        made.hold(mark, "aou");
    }
    for (const char* mount : {"H1", "H2"}) {
        made.about(mount, made.truth.at(mount));
    }
    const Solution after = solve(made.book, false);
    for (const char* mount : {"H1", "H2"}) {
        EXPECT_LT((at(after, mount) - motion * at(before, mount)).norm(), 1e-6) << mount;
        const Eigen::Matrix3d turned =
            motion.linear() * before.find(mount)->covariance_mm2 * motion.linear().transpose();
        EXPECT_LT((after.find(mount)->covariance_mm2 - turned).norm(), 1e-6 * turned.norm()) << mount;
    }
    for (std::size_t i = 0; i < before.readings.size(); ++i) {
        EXPECT_NEAR(*after.readings[i].numbers[0].w, *before.readings[i].numbers[0].w, 1e-6) << i;
        EXPECT_NEAR(after.readings[i].numbers[0].redundancy, before.readings[i].numbers[0].redundancy, 1e-8) << i;
    }
}

TEST(Solve, AnInstrumentThatTheBookHasNotIsNamed) {
    MadeBook made = small(0.0);
    made.book.readings[0].instrument = "long tape";
    const Solution s = solve(made.book);
    ASSERT_EQ(s.problems.size(), 1U);
    EXPECT_NE(s.problems[0].find("long tape"), std::string::npos);
}

TEST(Solve, AnEmptyBookHasNothingAndNoFault) {
    const Solution s = solve(Book{});
    EXPECT_TRUE(s.points.empty());
    EXPECT_TRUE(s.lacking.empty());
    EXPECT_EQ(s.adjustment, nullptr);
    EXPECT_FALSE(s.suspect);
}

}  // namespace
}  // namespace sillwright::core::survey
