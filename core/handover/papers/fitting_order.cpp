#include "core/handover/papers/fitting_order.h"

#include <algorithm>
#include <utility>

#include "core/handover/papers/hole_words.h"
#include "core/mounts/flat_flange.h"
#include "core/skirt/flange_face.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::Drawing;
using geometry::DrawnChain;
using geometry::millimetres;

namespace {

constexpr geometry::Length k_row_step = millimetres(20.0);
/// Letters, of the flange's length: it is as wide as a page.
constexpr double k_letters = 1.0 / 55.0;

std::vector<const HolePlan*> holes_of(const MountPlan& plan, std::size_t piece) {
    std::vector<const HolePlan*> all;
    for (const HolePlan& hole : plan.holes) {
        if (hole.piece == piece) {
            all.push_back(&hole);
        }
    }
    return all;
}

/// A slot along x, or a circle.
geometry::DrawnShape hole_shape(const Vector2d& middle, const HoleSize& size) {
    const double radius = size.width_mm / 2.0;
    const double half = (size.length_mm - size.width_mm) / 2.0;
    if (half <= 0.0) {
        return geometry::DrawnCircle{middle, millimetres(radius)};
    }
    DrawnChain chain;
    chain.closed = true;
    // A bulge of one is half a turn.
    chain.vertices = {{middle + Vector2d(-half, -radius), 0.0},
                      {middle + Vector2d(half, -radius), 1.0},
                      {middle + Vector2d(half, radius), 0.0},
                      {middle + Vector2d(-half, radius), 1.0}};
    return chain;
}

void add_text(Drawing& drawing, const Vector2d& middle, double height_mm, std::string words) {
    drawing.entities.push_back(
        {"NOTE",
         geometry::DrawnText{middle, millimetres(height_mm), {}, std::move(words), geometry::TextPlace::middle}});
}

DrawnChain outline_of(const FlatFlange& flat, double sign) {
    DrawnChain chain;
    chain.closed = true;
    for (const FlatRow& row : flat.rows) {
        chain.vertices.push_back({{row.along_mm, 0.0}, 0.0});
    }
    for (auto row = flat.rows.rbegin(); row != flat.rows.rend(); ++row) {
        chain.vertices.push_back({{row->along_mm, sign * row->free_edge_mm}, 0.0});
    }
    return chain;
}

}  // namespace

std::vector<std::string> fitting_order(const MountPlan& plan, std::size_t piece) {
    const auto holes = holes_of(plan, piece);
    std::vector<std::string> order;
    const auto locator =
        std::find_if(holes.begin(), holes.end(), [](const HolePlan* hole) { return hole->role == HoleRole::locator; });
    if (locator == holes.end()) {
        for (const HolePlan* hole : holes) {
            order.push_back(hole->mount);
        }
        return order;
    }
    const auto guide =
        std::find_if(holes.begin(), holes.end(), [](const HolePlan* hole) { return hole->role == HoleRole::guide; });
    std::vector<const HolePlan*> ahead(std::make_reverse_iterator(locator), holes.rend());
    std::vector<const HolePlan*> behind(locator + 1, holes.end());
    const bool front_first = guide != holes.end() && guide < locator;
    auto& first = front_first ? ahead : behind;
    auto& second = front_first ? behind : ahead;
    order.push_back((*locator)->mount);
    for (std::size_t i = 0; i < std::max(first.size(), second.size()); ++i) {
        for (const auto* side : {&first, &second}) {
            if (i < side->size()) {
                order.push_back((*side)[i]->mount);
            }
        }
    }
    return order;
}

Drawing order_picture(const Job& job, const CarModel& car, const MountPlan& plan, std::size_t piece) {
    Drawing drawing{{{"CUT_OUTSIDE", 7}, {"DRILL", 1}, {"NOTE", 8}}, {}};
    const PieceModel& model = car.pieces[piece];
    const auto face = model.line ? FlangeFace::of(job.skirt.pieces[piece], *model.line, model.formed.get())
                                 : std::optional<FlangeFace>{};
    if (!face) {
        return drawing;
    }
    const FlatFlange flat = flat_flange(*face, k_row_step);
    if (flat.rows.size() < 2) {
        return drawing;
    }
    const double sign = job.side == Side::right ? 1.0 : -1.0;
    drawing.entities.push_back({"CUT_OUTSIDE", outline_of(flat, sign)});
    const double length = flat.rows.back().along_mm - flat.rows.front().along_mm;
    const double letters = length * k_letters;
    double edge = 0.0;
    for (const FlatRow& row : flat.rows) {
        edge = std::max(edge, row.free_edge_mm);
    }
    const double above = std::max(0.0, sign * edge) + 1.2 * letters;
    const auto order = fitting_order(plan, piece);
    for (const HolePlan* hole : holes_of(plan, piece)) {
        const auto at = on_flat(*face, hole->landing.p_mm);
        if (!at) {
            continue;
        }
        const MadeHole made = made_hole(*hole);
        drawing.entities.push_back({"DRILL", hole_shape({at->x() + made.shift_mm, sign * at->y()}, made.size)});
        const auto number = std::find(order.begin(), order.end(), hole->mount) - order.begin() + 1;
        add_text(drawing, {at->x(), above}, letters, std::to_string(number) + ": " + hole->mount);
    }
    add_text(drawing, {flat.rows.front().along_mm + 2.5 * letters, std::min(0.0, sign * edge) - 1.2 * letters}, letters,
             "FRONT");
    return drawing;
}

}  // namespace sillwright::core
