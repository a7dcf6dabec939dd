#include "core/holding/load_cases.h"

#include <algorithm>

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::in_mm;
using geometry::in_newtons;
using geometry::Length;
using geometry::millimetres;
using geometry::newtons;

namespace {

constexpr double k_ms_per_kmh = 1.0 / 3.6;
constexpr double k_mm2_per_m2 = 1e6;
constexpr double k_mm3_per_m3 = 1e9;

double weight_n_per_mm(double density_kg_per_m3, const PartSection& section) {
    return density_kg_per_m3 / k_mm3_per_m3 * section.moments.area_mm2 * k_fall;
}

/// The weight of all sections, so many times over, at their centroids.
LoadCase weight_case(const std::string& name, LoadKind kind, LoadWay way, double times, double density,
                     const std::vector<PartSection>& sections) {
    LoadCase one{name, kind, way, kind == LoadKind::weight, {}, {}, {}};
    for (const PartSection& section : sections) {
        one.loads.spread.push_back({section.from, section.to, times * weight_n_per_mm(density, section)});
        one.spread_at.push_back({section.moments.centroid_mm});
    }
    return one;
}

LoadCase air_case(const std::string& name, double pressure_pa, const std::vector<PartSection>& sections) {
    LoadCase one{name, LoadKind::air, LoadWay::outward, false, {}, {}, {}};
    for (const PartSection& section : sections) {
        const double height = section.high_mm.y() - section.low_mm.y();
        one.loads.spread.push_back({section.from, section.to, in_newtons(pressure_force(pressure_pa, height))});
        one.spread_at.push_back({(section.low_mm + section.high_mm) / 2.0});
    }
    return one;
}

LoadCase foot_case(const Loads& loads, const StepPlace& place, std::optional<double> density,
                   const std::vector<PartSection>& sections) {
    LoadCase one = density ? weight_case({}, LoadKind::foot, LoadWay::down, 1.0, *density, sections) : LoadCase{};
    one.name = "foot " + place.words;
    one.kind = LoadKind::foot;
    const Length front = sections.front().from;
    const Length rear = sections.back().to;
    const Length size = std::min(millimetres(k_foot_mm), rear - front);
    const Length from = std::clamp(place.along - 0.5 * size, front, rear - size);
    one.loads.spread.push_back({from, from + size, in_newtons(loads.foot) / in_mm(size)});
    one.spread_at.push_back({place.foot_mm});
    return one;
}

}  // namespace

double stagnation_pressure_pa(double speed_kmh) {
    const double speed = speed_kmh * k_ms_per_kmh;
    return k_air_density * speed * speed / 2.0;
}

geometry::Force pressure_force(double pressure_pa, double area_mm2) {
    return newtons(pressure_pa * area_mm2 / k_mm2_per_m2);
}

geometry::Force weight_force(double mass_kg, double times) {
    return newtons(mass_kg * k_fall * times);
}

std::vector<LoadCase> load_cases(const Loads& loads, std::optional<double> density,
                                 const std::vector<PartSection>& sections, const std::vector<StepPlace>& places) {
    std::vector<LoadCase> all;
    if (sections.empty()) {
        return all;
    }
    if (density) {
        const auto add = [&](const char* name, LoadKind kind, LoadWay way, double times) {
            all.push_back(weight_case(name, kind, way, times, *density, sections));
        };
        add("weight", LoadKind::weight, LoadWay::down, 1.0);
        add("weight and shaking down", LoadKind::shaking, LoadWay::down, loads.shaking_g + 1.0);
        add("shaking up", LoadKind::shaking, LoadWay::down, 1.0 - loads.shaking_g);
        add("shaking outward", LoadKind::shaking, LoadWay::outward, loads.shaking_g);
        add("shaking inward", LoadKind::shaking, LoadWay::outward, -loads.shaking_g);
    }
    const double pressure = stagnation_pressure_pa(loads.air_speed_kmh) * loads.air_coefficient;
    all.push_back(air_case("air outward", pressure, sections));
    all.push_back(air_case("air inward", -pressure, sections));
    for (const StepPlace& place : places) {
        if (loads.stepping == Stepping::stood_on) {
            all.push_back(foot_case(loads, place, density, sections));
        }
        LoadCase heel{"heel " + place.words, LoadKind::heel, LoadWay::outward, false, {}, {}, {}};
        heel.loads.points.push_back(
            {std::clamp(place.along, sections.front().from, sections.back().to), -1.0 * loads.heel});
        heel.points_at.push_back({place.heel_mm});
        all.push_back(std::move(heel));
    }
    return all;
}

}  // namespace sillwright::core
