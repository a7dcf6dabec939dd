#include "geometry/nest2d_link.h"

#include <cmath>
#include <libnest2d/libnest2d.hpp>

namespace sillwright::geometry {

using Eigen::Vector2d;

namespace {

/// libnest2d's whole numbers: a thousandth of a millimetre.
constexpr double k_per_mm = 1000.0;
constexpr double k_turn = 6.283185307179586;

libnest2d::Coord coord(double mm) {
    return std::llround(mm * k_per_mm);
}

/// It wants its contours clockwise and closed.
libnest2d::Item item_of(const std::vector<Vector2d>& ring) {
    ClipperLib::Path path;
    for (auto p = ring.rbegin(); p != ring.rend(); ++p) {
        path.emplace_back(coord(p->x()), coord(p->y()));
    }
    path.push_back(path.front());
    return libnest2d::Item(libnest2d::PolygonImpl(std::move(path)));
}

libnest2d::NfpPlacer::Config placer_config(const Nest2dSettings& settings) {
    using Config = libnest2d::NfpPlacer::Config;
    const auto corner =
        settings.start == Nest2dSettings::Corner::middle ? Config::Alignment::CENTER : Config::Alignment::BOTTOM_LEFT;
    Config config;
    config.starting_point = corner;
    config.alignment = Config::Alignment::BOTTOM_LEFT;  // the pile goes into the corner once it is done
    config.accuracy = settings.accuracy;
    config.parallel = false;
    config.rotations.clear();
    for (int i = 0; i < settings.rotations; ++i) {
        config.rotations.emplace_back(k_turn * i / settings.rotations);
    }
    return config;
}

template <class Selection>
void lay(std::vector<libnest2d::Item>& items, const libnest2d::Box& bin, const Nest2dSettings& settings,
         const typename Selection::Config& selection, const std::function<bool()>& stop) {
    const libnest2d::NestConfig<libnest2d::NfpPlacer, Selection> config(placer_config(settings), selection);
    libnest2d::nest<libnest2d::NfpPlacer, Selection>(items, bin, 0, config, libnest2d::NestControl(stop));
}

}  // namespace

std::vector<Nest2dPlace> laid_by_nest2d(const std::vector<std::vector<Vector2d>>& rings_mm, const Vector2d& sheet_mm,
                                        const Nest2dSettings& settings, const std::function<bool()>& stop) {
    std::vector<libnest2d::Item> items;
    items.reserve(rings_mm.size());
    for (const auto& ring : rings_mm) {
        items.push_back(item_of(ring));
    }
    const libnest2d::Box bin(coord(sheet_mm.x()), coord(sheet_mm.y()));  // about the origin
    const std::function<bool()> asked = stop ? stop : std::function<bool()>([] { return false; });
    if (settings.pairs) {
        libnest2d::DJDHeuristic::Config selection;
        selection.allow_parallel = false;
        lay<libnest2d::DJDHeuristic>(items, bin, settings, selection, asked);
    } else {
        lay<libnest2d::FirstFitSelection>(items, bin, settings, {}, asked);
    }
    std::vector<Nest2dPlace> places;
    for (const libnest2d::Item& item : items) {
        const auto move = item.translation();
        const libnest2d::Radians turned = item.rotation();
        places.push_back(
            {item.binId(), turned.operator double(),
             Vector2d(static_cast<double>(move.X), static_cast<double>(move.Y)) / k_per_mm + 0.5 * sheet_mm});
    }
    return places;
}

}  // namespace sillwright::geometry
