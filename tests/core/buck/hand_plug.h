#pragma once

#include <string>
#include <vector>

#include "core/buck/plug_surface.h"
#include "geometry/loft.h"

namespace sillwright::core {

/// A corner of a drawn section: (out, up), and its rounding.
struct HandNode {
    double out, up, radius = 0.0;
};

/// A line through two or more sections, 1000 mm from the first to the last.
inline geometry::Loft hand_line(const std::vector<std::vector<HandNode>>& sections) {
    std::vector<geometry::LoftSection> drawn;
    for (std::size_t i = 0; i < sections.size(); ++i) {
        geometry::LoftSection section;
        section.along =
            geometry::millimetres(1000.0 * static_cast<double>(i) / static_cast<double>(sections.size() - 1));
        for (std::size_t k = 0; k < sections[i].size(); ++k) {
            const HandNode& node = sections[i][k];
            section.nodes.push_back(
                {"n" + std::to_string(k + 1), {node.out, node.up}, geometry::millimetres(node.radius)});
        }
        drawn.push_back(section);
    }
    return geometry::Loft::make(drawn, {}, false).value();
}

inline PlugMaking plain_making(double skin_mm = 3.0) {
    PlugMaking making;
    making.skin = geometry::millimetres(skin_mm);
    making.allowance = geometry::millimetres(20.0);
    return making;
}

/// Drawn on the mould's face.
inline PlugSurface hand_plug(const geometry::Loft& line, const PlugMaking& making) {
    return {Piece{}, line, geometry::OffsetLaw::same({}), making};
}

/// A U open to the car, `radius` at both corners: 100 wide, its crown at out 150.
inline std::vector<HandNode> u_section(double radius, double out = 150.0) {
    return {{110, 100}, {out, 100, radius}, {out, 0, radius}, {110, 0}};
}

}  // namespace sillwright::core
