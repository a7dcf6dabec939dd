// What the adjustment promises, held against chance itself: 2000 books with normal errors on one small network, whose
// truth is known.
#include <gtest/gtest.h>

#include <Eigen/Cholesky>
#include <cmath>
#include <random>

#include "core/survey/solve.h"
#include "tests/core/survey/made_book.h"

namespace sillwright::core::survey {
namespace {

using Eigen::Vector3d;

constexpr int k_books = 2000;
/// Chance that a standard normal is beyond k_blunder_w = 3.29 on either side (any table of the normal distribution).
constexpr double k_false_alarm = 0.0010019;

/// Three marks that hold the frame (3-2-1), two more marks, three mounts. Seven are tied to each other and levelled;
/// H3 hangs on three ties alone beside a height, so that its readings check each other little.
MadeBook network(bool flat) {
    MadeBook made;
    const double up = flat ? 0.0 : 1.0;
    made.truth = {{"A", {0, 0, 0}},
                  {"B", {2400, 0, 0}},
                  {"C", {300, 700, 0}},
                  {"D", {2100, 650, 60 * up}},
                  {"E", {1200, 350, 420 * up}},
                  {"H1", {700, 420, -180 * up}},
                  {"H2", {1500, -380, 150 * up}},
                  {"H3", {1900, 300, -250 * up}}};
    made.hold("A", "aou");
    made.hold("B", "ou");
    made.hold("C", "u");
    const std::vector<std::string> names{"A", "B", "C", "D", "E", "H1", "H2"};
    for (std::size_t a = 0; a < names.size(); ++a) {
        for (std::size_t b = a + 1; b < names.size(); ++b) {
            made.tie(names[a], names[b]).sd = MadeBook::entry(b % 2 == 0 ? 0.6 : 1.0);
        }
        if (!flat && a > 0) {
            made.read(ReadingKind::height, {names[a - 1], names[a]}).sd = MadeBook::entry(0.8);
        }
    }
    for (const char* from : {"B", "D", "E"}) {
        made.tie(from, "H3").sd = MadeBook::entry(0.8);
    }
    made.read(ReadingKind::out, {"C", "H1"}).sd = MadeBook::entry(1.0);
    made.read(ReadingKind::along, {"A", "H2"}).sd = MadeBook::entry(1.0);
    made.read(ReadingKind::offset, {"A", "B", "H3"}).sd = MadeBook::entry(1.2);
    if (flat) {
        for (const auto& [name, at] : made.truth) {
            made.hold(name, "u");
        }
    } else {
        made.read(ReadingKind::height, {"B", "H3"}).sd = MadeBook::entry(0.8);
    }
    for (const auto& [name, at] : made.truth) {
        made.about(name, at);
    }
    return made;
}

void add_errors(Book& book, std::mt19937& random) {
    std::normal_distribution<double> normal;
    for (Reading& reading : book.readings) {
        reading.value = MadeBook::entry(in_mm(reading.value->value) + in_mm(reading.sd->value) * normal(random));
    }
}

/// Whether the truth lies within the 95 % ellipse or ellipsoid of the coordinates that are not held.
bool holds_truth(const PlacedPoint& point, const Vector3d& truth) {
    std::vector<Eigen::Index> free;
    for (Eigen::Index k = 0; k < 3; ++k) {
        if (point.parameters[static_cast<std::size_t>(k)] >= 0) {
            free.push_back(k);
        }
    }
    const Eigen::VectorXd off = (point.at_mm - truth)(free);
    const Eigen::MatrixXd covariance = point.covariance_mm2(free, free);
    const double factor = factor_95(static_cast<int>(free.size()));
    return off.dot(covariance.ldlt().solve(off)) <= factor * factor;
}

class SurveyMonteCarlo : public testing::TestWithParam<bool> {};

TEST_P(SurveyMonteCarlo, EllipsesHoldTheTruthAndAlarmsAreAsRareAsStated) {
    const MadeBook made = network(GetParam());
    std::mt19937 random(17);
    std::map<std::string, int> held;
    int books_outside = 0;
    int books_flagged = 0;
    int alarms = 0;
    int tested = 0;
    for (int i = 0; i < k_books; ++i) {
        Book book = made.book;
        add_errors(book, random);
        const Solution s = solve(book, false);
        ASSERT_EQ(s.points.size(), made.truth.size());
        for (const PlacedPoint& point : s.points) {
            if (point.name != "A") {
                held[point.name] += holds_truth(point, made.truth.at(point.name)) ? 1 : 0;
            }
        }
        for (const ReadingResult& reading : s.readings) {
            ASSERT_EQ(reading.use, ReadingUse::used);
            tested += reading.numbers[0].w ? 1 : 0;
            alarms += reading.numbers[0].w && *reading.numbers[0].w > k_blunder_w ? 1 : 0;
        }
        books_flagged += s.suspect ? 1 : 0;
        books_outside += s.global.holds ? 0 : 1;
    }
    ASSERT_EQ(held.size(), made.truth.size() - 1);
    for (const auto& [name, count] : held) {
        EXPECT_GE(count, 0.93 * k_books) << name;
        EXPECT_LE(count, 0.97 * k_books) << name;
    }
    // Each reading alarms in 0.001; about 60 alarms in all have a scatter of 13 % if they were independent, and
    // somewhat more as residuals move together: half as much more or less is beyond three times that.
    EXPECT_NEAR(alarms, k_false_alarm * tested, 0.5 * k_false_alarm * tested);
    // A whole book of n readings is flagged in 1 - (1 - 0.001)^n at most, however its residuals move together (Sidak's
    // inequality for normal variables), plus three times the scatter of a count.
    const double a_book = 1.0 - std::pow(1.0 - k_false_alarm, static_cast<double>(tested) / k_books);
    EXPECT_LE(books_flagged, k_books * a_book + 3.0 * std::sqrt(k_books * a_book));
    EXPECT_GE(books_flagged, k_books * k_false_alarm) << "no book alarms less often than one of its readings";
    // Two-sided 95 %: 100 of 2000, with a scatter of 10.
    EXPECT_NEAR(books_outside, 0.05 * k_books, 30.0);
}

TEST_P(SurveyMonteCarlo, BlundersOfTwiceTheLeastAreFoundAndNamed) {
    const MadeBook made = network(GetParam());
    const Solution exact = solve(made.book, false);
    std::mt19937 random(23);
    std::uniform_int_distribution<std::size_t> any(0, made.book.readings.size() - 1);
    int books = 0;
    int found = 0;
    int told = 0;
    int named = 0;
    while (books < k_books) {
        const std::size_t wrong = any(random);
        const auto& least = exact.readings[wrong].numbers[0].least_blunder;
        if (!least) {
            continue;  // no other checks it
        }
        ++books;
        Book book = made.book;
        add_errors(book, random);
        const double blunder = random() % 2 == 0 ? 2.0 * *least : -2.0 * *least;
        Entry& value = *book.readings[wrong].value;
        value = MadeBook::entry(in_mm(value.value) + blunder);
        const Solution s = solve(book, false);
        if (!s.suspect) {
            continue;
        }
        ++found;
        if (s.suspect->told_apart) {
            ++told;
            named += s.suspect->reading == wrong ? 1 : 0;
        } else {
            EXPECT_FALSE(s.suspect->others.empty());
        }
    }
    EXPECT_GE(found, 0.99 * k_books);
    EXPECT_GE(told, 0.5 * k_books) << "the network lets most be told";
    EXPECT_GE(named, 0.80 * told);
}

INSTANTIATE_TEST_SUITE_P(InPlaneAndSpace, SurveyMonteCarlo, testing::Bool(),
                         [](const auto& flat) { return flat.param ? "plane" : "space"; });

}  // namespace
}  // namespace sillwright::core::survey
