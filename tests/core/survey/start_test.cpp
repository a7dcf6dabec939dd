#include "core/survey/start.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "core/survey/solve.h"
#include "tests/core/survey/made_book.h"

namespace sillwright::core::survey {
namespace {

using Eigen::Vector3d;

double worst_miss(const MadeBook& made, const Start& start) {
    double worst = 0.0;
    for (const auto& [name, at] : made.truth) {
        const auto found = start.at_mm.find(name);
        worst = std::max(worst, found == start.at_mm.end() ? 1e9 : (found->second - at).norm());
    }
    return worst;
}

TEST(Start, NamesPointsOnceInTheBooksOrder) {
    MadeBook made;
    made.truth = {{"A", {0, 0, 0}}, {"B", {1, 0, 0}}, {"C", {2, 0, 0}}};
    made.point("C");
    made.tie("B", "A");
    made.tie("A", "C");
    EXPECT_EQ(point_names(made.book), (std::vector<std::string>{"C", "B", "A"}));
}

TEST(Start, FindsMarksAndAHoleFromTiesAndAHeight) {
    MadeBook made = made_marks();
    made.truth["H1"] = {400, 100, -212};
    for (const char* mark : {"A", "B", "C"}) {
        made.tie(mark, "H1");
    }
    made.read(ReadingKind::height, {"A", "H1"});
    const Start start = find_start(made.book);
    EXPECT_LT(worst_miss(made, start), 1e-3);
    EXPECT_TRUE(start.lacking.empty());
    EXPECT_TRUE(start.mirrored.empty());
    EXPECT_TRUE(start.problems.empty());
}

TEST(Start, FindsTheLeanOnTheLift) {
    MadeBook made = made_marks();
    made.book.set_ups.push_back({"lift", false, {}, {}, {}, {}});
    made.lean_rad["lift"] = {0.02, -0.01};
    made.truth["H1"] = {400, 100, -212};
    made.tie("A", "H1");
    made.tie("B", "H1");
    for (const char* to : {"B", "C", "H1"}) {
        made.read(ReadingKind::height, {"A", to}, 0.0, "lift");
    }
    const Start start = find_start(made.book);
    EXPECT_LT(worst_miss(made, start), 0.01);
    EXPECT_LT((start.lean_rad.at("lift") - made.lean_rad["lift"]).norm(), 1e-5);
}

/// Four held marks, each further point tied to five before it; every second one in the plane of the marks.
MadeBook random_network(unsigned seed) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> place(-1000.0, 1000.0);
    MadeBook made;
    made.random.seed(seed);
    made.noise_sd_mm = 1.0;
    const bool flat = seed % 2 == 0;
    const std::size_t count = 6 + seed % 10;
    std::vector<std::string> names;
    for (std::size_t i = 0; i < count; ++i) {
        names.push_back("P" + std::to_string(i));
        made.truth[names[i]] = {place(random), place(random), flat ? 0.0 : place(random)};
        made.hold(names[i], i < 4 ? "aou" : flat ? "u" : "");
    }
    for (std::size_t i = 4; i < count; ++i) {
        std::vector<std::string> others(names.begin(), names.begin() + static_cast<std::ptrdiff_t>(i));
        std::shuffle(others.begin(), others.end(), random);
        for (std::size_t k = 0; k < std::min<std::size_t>(5, others.size()); ++k) {
            made.tie(names[i], others[k]);
        }
    }
    std::shuffle(made.book.readings.begin(), made.book.readings.end(), random);
    return made;
}

TEST(Start, FindsRandomNetworks) {
    for (unsigned seed = 0; seed < 60; ++seed) {
        const MadeBook made = random_network(seed);
        // Errors of 1 mm, in networks that are seldom weaker than twenty times that.
        EXPECT_LT(worst_miss(made, find_start(made.book)), 30.0) << seed;
    }
}

TEST(Start, DoesNotDependOnTheOrderOfTheBook) {
    MadeBook made = random_network(7);
    const Start start = find_start(made.book);
    std::mt19937 random(1);
    for (int run = 0; run < 5; ++run) {
        std::shuffle(made.book.readings.begin(), made.book.readings.end(), random);
        std::shuffle(made.book.points.begin(), made.book.points.end(), random);
        const Start again = find_start(made.book);
        ASSERT_EQ(again.at_mm.size(), start.at_mm.size());
        for (const auto& [name, at] : start.at_mm) {
            EXPECT_LT((again.at_mm.at(name) - at).norm(), 0.1) << name;  // a tenth of a reading's sd
        }
    }
}

// A motion of the held marks moves all: nothing in the search depends on where the frame lies.
TEST(Start, MovesWithItsFrame) {
    MadeBook made = random_network(9);
    made.noise_sd_mm = 0.0;
    const Eigen::Isometry3d motion =
        Eigen::Translation3d(5000, -300, 800) * Eigen::AngleAxisd(2.0, Vector3d(1, -1, 2).normalized());
    for (auto& [name, at] : made.truth) {
        at = motion * at;
    }
    for (Point& point : made.book.points) {
        if (point.along) {
            made.hold(point.name, "aou");
        }
    }
    EXPECT_LT(worst_miss(made, find_start(made.book)), 30.0);
}

TEST(Start, SurvivesAGrossBlunder) {
    for (unsigned seed = 3; seed < 13; seed += 2) {
        MadeBook made = random_network(seed);
        Reading& wrong = made.book.readings[made.book.readings.size() / 2];
        wrong.value = MadeBook::entry(in_mm(wrong.value->value) + 300.0);
        const Solution solution = solve(made.book, false);
        EXPECT_TRUE(solution.adjustment != nullptr) << seed;
        EXPECT_TRUE(solution.lacking.empty()) << seed;
        EXPECT_TRUE(solution.suspect.has_value()) << seed;
    }
}

TEST(Start, LeavesOutWhatIsDropped) {
    MadeBook made = made_marks();
    made.truth["H1"] = {400, 100, -212};
    made.tie("A", "H1");
    made.tie("B", "H1");
    made.tie("C", "H1").dropped = "the tape sagged";
    const Start start = find_start(made.book);
    EXPECT_FALSE(start.at_mm.contains("H1"));
    ASSERT_EQ(start.lacking.size(), 1U);
    EXPECT_EQ(start.lacking[0].name, "H1");
}

}  // namespace
}  // namespace sillwright::core::survey
