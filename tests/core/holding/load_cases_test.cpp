#include "core/holding/load_cases.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::in_newtons;
using geometry::millimetres;

// Worked with rho = 1.225: 130 km/h gives 798.7 Pa, 200 km/h 1890.4 Pa; on 1.8 x 0.15 m² 215.6 N, 27.0 N on each of
// eight fixings; 3 kg at 5 g 147.1 N.
TEST(LoadCases, WorkedLoads) {
    EXPECT_NEAR(stagnation_pressure_pa(130), 798.7, 0.05);
    EXPECT_NEAR(stagnation_pressure_pa(200), 1890.4, 0.05);
    const double air = in_newtons(pressure_force(stagnation_pressure_pa(130), 1800.0 * 150.0));
    EXPECT_NEAR(air, 215.6, 0.1);  // 798.7 · 0.27 is 215.65
    EXPECT_NEAR(air / 8, 27.0, 0.05);
    EXPECT_NEAR(in_newtons(weight_force(3, 5)), 147.1, 0.05);
}

std::vector<PartSection> two_sections() {
    PartSection one{};
    one.from = millimetres(0);
    one.to = millimetres(800);
    one.moments.area_mm2 = 900;
    one.moments.centroid_mm = {110, 60};
    one.low_mm = {35, 10};
    one.high_mm = {150, 160};
    PartSection other = one;
    other.from = millimetres(800);
    other.to = millimetres(1800);
    return {one, other};
}

double total(const LoadCase& one) {
    double sum = 0.0;
    for (const auto& load : one.loads.spread) {
        sum += load.n_per_mm * in_mm(load.to - load.from);
    }
    for (const auto& load : one.loads.points) {
        sum += in_newtons(load.force);
    }
    return sum;
}

const LoadCase& named(const std::vector<LoadCase>& all, const std::string& name) {
    const auto found = std::find_if(all.begin(), all.end(), [&](const LoadCase& one) { return one.name == name; });
    EXPECT_NE(found, all.end()) << name;
    return found == all.end() ? all.front() : *found;
}

TEST(LoadCases, OfAPart) {
    Loads loads;
    loads.stepping = Stepping::stood_on;
    const std::vector<StepPlace> places{{millimetres(10), {112, 118}, {140, 116}, "at the front"}};
    const auto all = load_cases(loads, 1050.0, two_sections(), places);
    // By hand: 1050 kg/m³ · 900 mm² · 1.8 m = 1.701 kg.
    const double weight = 1.701 * 9.80665;
    EXPECT_NEAR(total(named(all, "weight")), weight, 1e-9);
    EXPECT_TRUE(named(all, "weight").lasting);
    EXPECT_NEAR(total(named(all, "weight and shaking down")), 6 * weight, 1e-9);
    EXPECT_NEAR(total(named(all, "shaking up")), -4 * weight, 1e-9);
    EXPECT_NEAR(total(named(all, "shaking outward")), 5 * weight, 1e-9);
    EXPECT_NEAR(total(named(all, "shaking inward")), -5 * weight, 1e-9);
    EXPECT_NEAR(total(named(all, "air outward")), 215.6, 0.1);
    EXPECT_NEAR(total(named(all, "air inward")), -215.6, 0.1);
    EXPECT_NEAR(named(all, "air inward").spread_at[0].p_mm.y(), 85, 1e-12);
    const LoadCase& foot = named(all, "foot at the front");
    EXPECT_NEAR(total(foot), 1000 + weight, 1e-9);
    // It stands on the part as a whole: from 0 to 60.
    EXPECT_NEAR(in_mm(foot.loads.spread.back().from), 0, 1e-12);
    EXPECT_NEAR(in_mm(foot.loads.spread.back().to), 60, 1e-12);
    EXPECT_NEAR(total(named(all, "heel at the front")), -250, 1e-12);
    for (const LoadCase& one : all) {
        EXPECT_EQ(one.loads.spread.size(), one.spread_at.size());
        EXPECT_EQ(one.loads.points.size(), one.points_at.size());
    }
}

TEST(LoadCases, LeaveOutWhatIsNotKnownOrNotAllowed) {
    Loads loads;
    const std::vector<StepPlace> places{{millimetres(10), {112, 118}, {140, 116}, "there"}};
    const auto count = [&](std::optional<double> density) {
        return load_cases(loads, density, two_sections(), places).size();
    };
    EXPECT_EQ(count(1050.0), 5U + 2U + 1U);
    loads.stepping = Stepping::refused;
    EXPECT_EQ(count(1050.0), 5U + 2U + 1U);
    EXPECT_EQ(count(std::nullopt), 2U + 1U);
    loads.stepping = Stepping::stood_on;
    EXPECT_EQ(count(std::nullopt), 2U + 2U);
    EXPECT_NEAR(total(named(load_cases(loads, std::nullopt, two_sections(), places), "foot there")), 1000, 1e-9);
    EXPECT_TRUE(load_cases(loads, 1050.0, {}, places).empty());
}

}  // namespace
}  // namespace sillwright::core
