#include "core/survey/start.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <iostream>

#include "tests/core/survey/made_book.h"

namespace sillwright::core::survey {
namespace {

using Eigen::Vector3d;

/// Marks A, B, C as 3-2-1 asks, about a sill's size apart.
MadeBook three_marks() {
    MadeBook made;
    made.truth = {{"A", {0, 0, 0}}, {"B", {1500, 0, 0}}, {"C", {700, 600, 0}}};
    made.hold("A", "aou");
    made.hold("B", "ou");
    made.hold("C", "u");
    return made;
}

void tie_all(MadeBook& made, const std::vector<std::string>& names) {
    for (std::size_t i = 0; i < names.size(); ++i) {
        for (std::size_t j = i + 1; j < names.size(); ++j) {
            made.tie(names[i], names[j]);
        }
    }
}

double worst_miss(const MadeBook& made, const Start& start) {
    double worst = 0.0;
    for (const auto& [name, at] : made.truth) {
        const auto found = start.at_mm.find(name);
        worst = std::max(worst, found == start.at_mm.end() ? 1e9 : (found->second - at).norm());
    }
    return worst;
}

TEST(Start, FindsMarksAndHolesFromTiesAndAHeight) {
    MadeBook made = three_marks();
    made.truth["H1"] = {400, 100, -212};
    tie_all(made, {"A", "B", "C", "H1"});
    made.read(ReadingKind::height, {"A", "H1"});
    const Start start = find_start(made.book);
    EXPECT_LT(worst_miss(made, start), 1e-3);
    EXPECT_TRUE(start.lacking.empty());
}

TEST(Start, FindsRandomNetworks) {
    std::mt19937 random(3);
    std::uniform_real_distribution<double> place(-1000.0, 1000.0);
    int wrong = 0;
    for (int run = 0; run < 200; ++run) {
        MadeBook made;
        made.random.seed(static_cast<unsigned>(run));
        made.noise_sd_mm = 1.0;
        const bool flat = run % 2 == 0;
        std::vector<std::string> names;
        const int n = 6 + run % 10;
        for (int i = 0; i < n; ++i) {
            names.push_back("P" + std::to_string(i));
            made.truth[names.back()] = {place(random), place(random), flat ? 0.0 : place(random)};
            made.hold(names.back(), i < 4 ? "aou" : flat ? "u" : "");
        }
        for (int i = 4; i < n; ++i) {
            std::vector<std::string> others(names.begin(), names.begin() + i);
            std::shuffle(others.begin(), others.end(), random);
            for (std::size_t k = 0; k < std::min<std::size_t>(5, others.size()); ++k) {
                made.tie(names[static_cast<std::size_t>(i)], others[k]);
            }
        }
        std::shuffle(made.book.readings.begin(), made.book.readings.end(), random);
        const Start start = find_start(made.book);
        if (worst_miss(made, start) > 30.0) {
            ++wrong;
            std::cout << "run " << run << " miss " << worst_miss(made, start) << " lacking " << start.lacking.size()
                      << "\n";
        }
    }
    EXPECT_EQ(wrong, 0);
}

TEST(Start, IsQuickOnLargeBooks) {
    MadeBook made;
    made.noise_sd_mm = 1.0;
    std::mt19937 random(9);
    std::uniform_real_distribution<double> unit(0.0, 1.0);
    std::vector<std::string> names;
    for (int i = 0; i < 500; ++i) {
        names.push_back("P" + std::to_string(i));
        made.truth[names.back()] = {4000 * unit(random), 800 * unit(random), 600 * unit(random)};
    }
    for (int i = 0; i < 4; ++i) {
        made.hold(names[static_cast<std::size_t>(i)], "aou");
    }
    for (std::size_t i = 4; i < 500; ++i) {
        for (int k = 0; k < 5; ++k) {
            made.tie(names[i], names[random() % i]);
        }
        made.read(ReadingKind::height, {names[i], names[random() % i]});
    }
    const auto begin = std::chrono::steady_clock::now();
    const Start start = find_start(made.book);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begin;
    std::cout << "took " << took.count() << " s, miss " << worst_miss(made, start) << " lacking "
              << start.lacking.size() << "\n";
    EXPECT_LT(worst_miss(made, start), 50.0);
}

}  // namespace
}  // namespace sillwright::core::survey
