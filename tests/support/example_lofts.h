#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "geometry/loft.h"

/// Invented lofts that several tests share.
namespace sillwright::geometry::examples {

inline LoftNode node(const std::string& name, double out, double up, double radius = 0.0) {
    return {name, {out, up}, millimetres(radius)};
}

/// A plain skirt: six names at nine stations, bowed and tapered.
inline std::vector<LoftSection> skirt_sections() {
    std::vector<LoftSection> sections;
    for (int i = 0; i < 9; ++i) {
        const double s = 200.0 * i;
        const double bow = 12.0 * std::sin(s / 500.0);
        sections.push_back({millimetres(s),
                            {node("top return end", 2.0 + bow, 172.0), node("shelf inner", 12.0 + bow, 170.0, 6.0),
                             node("shelf edge", 62.0 + bow, 150.0 + s / 100.0, 12.0),
                             node("lower edge", 70.0 + bow, 30.0 - s / 200.0, 15.0),
                             node("flange root", 30.0 + bow, 20.0, 8.0), node("flange end", -10.0 + bow, 21.0)}});
    }
    return sections;
}

inline Loft skirt() {
    return Loft::make(skirt_sections(), {}, false).value();
}

/// The skirt with a flute that runs out at both ends.
inline Loft fluted_skirt() {
    auto sections = skirt_sections();
    for (std::size_t i = 2; i <= 5; ++i) {
        auto& nodes = sections[i].nodes;
        const Eigen::Vector2d a = nodes[2].p_mm;
        const Eigen::Vector2d d = nodes[3].p_mm;
        const Eigen::Vector2d in = 5.0 * Eigen::Vector2d(d.y() - a.y(), a.x() - d.x()).normalized();
        nodes.insert(nodes.begin() + 3, {{"flute top", a + 0.45 * (d - a) + in, millimetres(4.0)},
                                         {"flute foot", a + 0.55 * (d - a) + in, millimetres(4.0)}});
    }
    return Loft::make(sections,
                      {{"flute top", millimetres(320.0)},
                       {"flute foot", millimetres(330.0)},
                       {"flute top", millimetres(1090.0)},
                       {"flute foot", millimetres(1090.0)}},
                      false)
        .value();
}

/// Corners whose radius passes the sheet's thickness along the car, one of them
/// sharp, one that turns from left to right, and much twist.
inline Loft awkward() {
    std::vector<LoftSection> sections;
    for (int i = 0; i < 6; ++i) {
        const double s = 90.0 * i;
        sections.push_back({millimetres(s),
                            {node("a", 0.0, 100.0 + 8.0 * i), node("b", 50.0, 95.0, 1.0 + i),
                             node("c", 62.0 - 4.0 * i, 50.0, 6.0), node("d", 55.0 + 2.0 * i, 5.0 - i * i),
                             node("e", 5.0 + 3.0 * i, 0.0, 5.0 - i), node("f", 0.0, 30.0 + 2.0 * i)}});
    }
    return Loft::make(sections, {}, false).value();
}

/// A door panel's closed outline, anticlockwise seen from behind the car's rear
/// end, or the other way round.
inline Loft panel(bool clockwise = false) {
    std::vector<LoftSection> sections;
    for (int i = 0; i < 5; ++i) {
        const double s = 150.0 * i;
        const double bow = 9.0 * std::sin(s / 300.0);
        std::vector<LoftNode> nodes{node("inner foot", -30.0 + bow, 0.0, 4.0), node("outer foot", 4.0 + bow, -2.0, 5.0),
                                    node("outer waist", 22.0 + bow + i, 140.0, 60.0),
                                    node("outer top", 6.0 + bow, 300.0, 3.0), node("inner top", -25.0 + bow, 300.0)};
        if (clockwise) {
            nodes = {nodes.rbegin(), nodes.rend()};
        }
        sections.push_back({millimetres(s), nodes});
    }
    return Loft::make(sections, {}, true).value();
}

}  // namespace sillwright::geometry::examples
