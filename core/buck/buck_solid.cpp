#include "core/buck/buck_solid.h"

#include <algorithm>
#include <numbers>
#include <optional>
#include <string>
#include <utility>

#include "geometry/kernel/placement.h"
#include "geometry/kernel/plate_solid.h"

namespace sillwright::core {

using geometry::PlatePlace;
using geometry::Profile;
using geometry::Result;
using geometry::Shape;

namespace {

template <class Board>
const Board* labelled(const std::vector<Board>& boards, const std::string& label) {
    const auto found = std::find_if(boards.begin(), boards.end(), [&](const Board& one) { return one.label == label; });
    return found == boards.end() ? nullptr : &*found;
}

/// x, height, side.
std::optional<PlatePlace> place_of(const PieceBuck& buck, const CutPart& part, Side hand) {
    const Eigen::Vector3d x = Eigen::Vector3d::UnitX();
    const Eigen::Vector3d height = Eigen::Vector3d::UnitY();
    const Eigen::Vector3d side = Eigen::Vector3d::UnitZ();
    if (const Rib* const rib = labelled(buck.ribs, part.label)) {
        return PlatePlace{x * rib->front_mm(), side, height, x * rib->thickness_mm};
    }
    if (const Spine* const spine = labelled(buck.spines, part.label)) {
        return PlatePlace{side * (spine->side_mm - spine->thickness_mm / 2.0), x, height, side * spine->thickness_mm};
    }
    if (buck.base && buck.base->label == part.label) {
        // It is drawn as seen from outside the car.
        const Eigen::Vector3d across = hand == Side::right ? Eigen::Vector3d(-x) : x;
        return PlatePlace{Eigen::Vector3d::Zero(), across, side, -height * buck.base->thickness_mm};
    }
    return std::nullopt;
}

Profile round_hole(const DrilledHole& hole) {
    const geometry::ArcSegment round{hole.at_mm, hole.diameter_mm / 2.0, geometry::radians(0.0),
                                     geometry::radians(2.0 * std::numbers::pi)};
    return {{{round, 0}}, true};
}

}  // namespace

Result<std::vector<geometry::NamedShape>> buck_solids(const Job& job, const BuckPlan& plan,
                                                      const std::vector<CutPart>& parts) {
    const geometry::Mirror mirror = job.side == Side::left ? geometry::Mirror::in_y : geometry::Mirror::none;
    std::vector<geometry::NamedShape> shapes;
    for (const CutPart& part : parts) {
        const auto buck = std::find_if(plan.pieces.begin(), plan.pieces.end(),
                                       [&](const PieceBuck& one) { return one.piece == part.piece; });
        const auto place = buck == plan.pieces.end() ? std::nullopt : place_of(*buck, part, job.side);
        if (!place) {
            continue;
        }
        std::vector<Profile> holes = part.inside;
        std::transform(part.holes.begin(), part.holes.end(), std::back_inserter(holes), round_hole);
        auto solid = geometry::plate_solid(part.outline, holes, *place).and_then([&](const Shape& plate) {
            return geometry::placed(plate, mirror, Eigen::Vector3d::Zero());
        });
        if (!solid) {
            return geometry::Error{solid.error().code, "Buck part " + part.label + ": " + solid.error().message};
        }
        shapes.push_back({part.label, std::move(solid).value()});
    }
    return shapes;
}

}  // namespace sillwright::core
