#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <numbers>
#include <random>
#include <string>

#include "geometry/parallel.h"

namespace sillwright::geometry {
namespace {

using Eigen::Vector2d;
using nlohmann::json;

/// Chord tolerance of the polylines that are compared.
constexpr double k_chord_mm = 0.001;

/// Same numbers on every machine, unlike the standard distributions.
class Dice {
public:
    double between(double low, double high) {
        return low + (high - low) * static_cast<double>(engine_() >> 11) * 0x1p-53;
    }
    std::size_t count(std::size_t low, std::size_t high) { return low + engine_() % (high - low + 1); }

private:
    std::mt19937_64 engine_{20240229};
};

/// Anticlockwise about the origin, so it does not cross itself; most are not convex.
std::vector<ProfileNode> star(Dice& dice) {
    const std::size_t n = dice.count(5, 14);
    std::vector<ProfileNode> nodes;
    for (std::size_t i = 0; i < n; ++i) {
        const double turn = (static_cast<double>(i) + dice.between(0.1, 0.9)) / static_cast<double>(n);
        const double angle = 2.0 * std::numbers::pi * turn;
        nodes.push_back({dice.between(25.0, 120.0) * Vector2d{std::cos(angle), std::sin(angle)}, {}});
    }
    return nodes;
}

/// On an ellipse, so convex.
std::vector<ProfileNode> convex(Dice& dice) {
    std::vector<ProfileNode> nodes = star(dice);
    for (ProfileNode& node : nodes) {
        node.p_mm = node.p_mm.normalized().cwiseProduct(Vector2d{110.0, 60.0});
    }
    return nodes;
}

/// A block with slots of random depth and width from the top: many necks.
std::vector<ProfileNode> comb(Dice& dice) {
    const std::size_t slots = dice.count(1, 4);
    std::vector<ProfileNode> nodes{{{0.0, 0.0}, {}}};
    double x = 0.0;
    std::vector<Vector2d> top;
    for (std::size_t i = 0; i < slots; ++i) {
        x += dice.between(15.0, 50.0);
        const double width = dice.between(5.0, 40.0);
        const double depth = dice.between(20.0, 70.0);
        const double height = 80.0 + dice.between(0.0, 20.0);
        top.insert(top.end(),
                   {{x, height}, {x + 1.0, 80.0 - depth}, {x + width, 85.0 - depth}, {x + width + 2.0, height}});
        x += width + 2.0;
    }
    x += dice.between(15.0, 50.0);
    nodes.push_back({{x, 0.0}, {}});
    nodes.push_back({{x, 90.0}, {}});
    for (auto p = top.rbegin(); p != top.rend(); ++p) {
        nodes.push_back({*p, {}});
    }
    nodes.push_back({{0.0, 90.0}, {}});
    return nodes;
}

/// Gives each node up to its share of its two straights, some none.
void round_corners(std::vector<ProfileNode>& nodes, Dice& dice) {
    const std::size_t n = nodes.size();
    for (std::size_t i = 0; i < n; ++i) {
        const Vector2d back = nodes[(i + n - 1) % n].p_mm - nodes[i].p_mm;
        const Vector2d on = nodes[(i + 1) % n].p_mm - nodes[i].p_mm;
        const double half_inside = std::acos(std::clamp(back.normalized().dot(on.normalized()), -1.0, 1.0)) / 2.0;
        const double largest = 0.5 * std::min(back.norm(), on.norm()) * std::tan(half_inside);
        const double share = dice.between(-0.3, 1.0);
        nodes[i].radius = millimetres(share > 0.0 ? std::min(share * largest, 1000.0) : 0.0);
    }
}

struct Case {
    Profile source;
    double distance;
};

std::vector<Case> random_cases(std::size_t count) {
    Dice dice;
    std::vector<Case> cases;
    for (std::size_t i = 0; i < count; ++i) {
        std::vector<ProfileNode> nodes = i % 4 == 0 ? convex(dice) : i % 4 == 1 ? comb(dice) : star(dice);
        round_corners(nodes, dice);
        const auto profile = make_profile(nodes, true);
        const double side = i / 4 % 2 == 0 ? 1.0 : -1.0;
        const double distance = side * dice.between(0.5, 25.0);
        if (profile) {
            cases.push_back({profile.value(), distance});
        } else {
            ADD_FAILURE() << "case " << i << ": " << profile.error().message;
        }
    }
    return cases;
}

json points_of(const Profile& profile) {
    json points = json::array();
    const auto line = polyline(profile, millimetres(k_chord_mm));
    for (const Vector2d& p : line.value()) {
        points.push_back({p.x(), p.y()});
    }
    return points;
}

json chains_of(const Parallel& result) {
    json chains = json::array();
    for (const Profile& chain : result.chains) {
        EXPECT_TRUE(chain.closed);
        chains.push_back(points_of(chain));
    }
    return chains;
}

/// Runs the checker; its answer, or null with a failure that says what to do.
json checked_by_shapely(const json& cases) {
    const std::filesystem::path folder = std::filesystem::path{testing::TempDir()};
    const std::string name = "sillwright_parallel_" + std::to_string(std::random_device{}());
    const std::filesystem::path in = folder / (name + "_cases.json");
    const std::filesystem::path out = folder / (name + "_results.json");
    std::ofstream{in} << cases;
    const std::string command = "/usr/bin/python3 '" SILLWRIGHT_SOURCE_DIR
                                "/tests/reference/parallel_against_shapely.py' '" +
                                in.string() + "' '" + out.string() + "'";
    const int status = std::system(command.c_str());
    json results;
    if (status == 0) {
        results = json::parse(std::ifstream{out}, nullptr, false);
    }
    std::filesystem::remove(in);
    std::filesystem::remove(out);
    if (!results.is_array()) {
        ADD_FAILURE() << "The checker did not run (status " << status
                      << "); it needs /usr/bin/python3 with the package "
                      << "python3-shapely: " << command;
    }
    return results;
}

/// One case against one of the checker's regions, within `off_mm` across the border.
void expect_agreement(const json& region, double off_mm) {
    EXPECT_LE(region["difference_mm2"].get<double>(), off_mm * region["border_mm"].get<double>());
    EXPECT_EQ(region["found_loops"], region["wanted_loops"]);
    // Where two borders cross at a small angle the tip moves by more than they do.
    constexpr double k_tip = 5.0;
    EXPECT_LE(region["hausdorff_mm"].get<double>(), k_tip * off_mm);
}

TEST(ParallelReference, AgreesWithShapelyOnRandomClosedProfiles) {
    const std::vector<Case> cases = random_cases(200);
    json asked = json::array();
    for (const Case& c : cases) {
        const auto result = parallel(c.source, millimetres(c.distance));
        ASSERT_TRUE(result) << result.error().message;
        asked.push_back(
            {{"distance", c.distance}, {"source", points_of(c.source)}, {"chains", chains_of(result.value())}});
    }
    const json results = checked_by_shapely(asked);
    ASSERT_EQ(results.size(), 200U);
    std::size_t split = 0;
    std::size_t gone = 0;
    double worst = 0.0;
    for (std::size_t i = 0; i < results.size(); ++i) {
        SCOPED_TRACE("case " + std::to_string(i) + " at " + std::to_string(cases[i].distance) +
                     " mm: " + results[i].dump());
        // Source and result are each off by a chord.
        expect_agreement(results[i]["strips"], 2.0 * k_chord_mm);
        // GEOS takes vertices up to a hundredth of the distance out of concave stretches.
        expect_agreement(results[i]["buffer"], 2.0 * k_chord_mm + 0.01 * std::abs(cases[i].distance));
        const json& strips = results[i]["strips"];
        worst = std::max(worst, strips["hausdorff_mm"].get<double>());
        split += strips["wanted_loops"] > 1 ? 1 : 0;
        gone += strips["wanted_loops"] == 0 ? 1 : 0;
    }
    RecordProperty("worst_hausdorff_mm", std::to_string(worst));
    // The cases are worth their name only if some split and some vanish.
    EXPECT_GE(split, 8U);
    EXPECT_GE(gone, 2U);
}

}  // namespace
}  // namespace sillwright::geometry
