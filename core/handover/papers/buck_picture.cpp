#include "core/handover/papers/buck_picture.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <utility>
#include <variant>

namespace sillwright::core {

using Eigen::AlignedBox2d;
using Eigen::Vector2d;
using geometry::Drawing;
using geometry::DrawnChain;
using geometry::millimetres;

namespace {

constexpr const char* k_outline = "CUT_OUTSIDE";
constexpr const char* k_edge = "SHEET_EDGE";
constexpr const char* k_note = "NOTE";
/// Letters, of a picture's length: they are read at arm's length when it is as wide as a page.
constexpr double k_letters = 1.0 / 60.0;
/// Between two views, in letters.
constexpr double k_between_views = 8.0;

Drawing blank() {
    return {{{k_outline, 7}, {k_edge, 8}, {k_note, 8}}, {}};
}

void add_box(Drawing& drawing, const char* layer, const Vector2d& low, const Vector2d& high) {
    DrawnChain chain;
    chain.closed = true;
    for (const Vector2d& p : {low, Vector2d(high.x(), low.y()), high, Vector2d(low.x(), high.y())}) {
        chain.vertices.push_back({p, 0.0});
    }
    drawing.entities.push_back({layer, std::move(chain)});
}

void add_text(Drawing& drawing, const Vector2d& middle, double height_mm, std::string words) {
    drawing.entities.push_back(
        {k_note,
         geometry::DrawnText{middle, millimetres(height_mm), {}, std::move(words), geometry::TextPlace::middle}});
}

/// The buck's reach in x, and of its ribs across.
AlignedBox2d plan_of(const PieceBuck& buck) {
    AlignedBox2d box;
    for (const Rib& rib : buck.ribs) {
        const AlignedBox2d outline = box_of(rib.outline);
        if (!outline.isEmpty()) {
            box.extend(Vector2d(rib.front_mm(), outline.min().x()));
            box.extend(Vector2d(rib.rear_mm(), outline.max().x()));
        }
    }
    for (const Spine& spine : buck.spines) {
        box.extend(Vector2d(spine.front_mm, spine.side_mm));
        box.extend(Vector2d(spine.rear_mm, spine.side_mm));
    }
    if (buck.base) {
        box.extend(Vector2d(buck.base->front_mm, buck.base->low_mm));
        box.extend(Vector2d(buck.base->rear_mm, buck.base->high_mm));
    }
    return box;
}

void add_plan(Drawing& drawing, const PieceBuck& buck, double letters) {
    if (buck.base) {
        add_box(drawing, k_edge, {buck.base->front_mm, buck.base->low_mm}, {buck.base->rear_mm, buck.base->high_mm});
    }
    for (const Spine& spine : buck.spines) {
        const double half = spine.thickness_mm / 2.0;
        add_box(drawing, k_outline, {spine.front_mm, spine.side_mm - half}, {spine.rear_mm, spine.side_mm + half});
        add_text(drawing, {spine.rear_mm + 2.0 * letters, spine.side_mm}, letters, spine.label);
    }
    for (const Rib& rib : buck.ribs) {
        const AlignedBox2d outline = box_of(rib.outline);
        add_box(drawing, k_outline, {rib.front_mm(), outline.min().x()}, {rib.rear_mm(), outline.max().x()});
        const double edge = buck.base ? std::max(buck.base->high_mm, outline.max().x()) : outline.max().x();
        add_text(drawing, {(rib.front_mm() + rib.rear_mm()) / 2.0, edge + letters}, letters, rib.label);
    }
}

void add_side(Drawing& drawing, const PieceBuck& buck, double letters, double lift) {
    if (buck.base) {
        add_box(drawing, k_edge, {buck.base->front_mm, lift - buck.base->thickness_mm}, {buck.base->rear_mm, lift});
    }
    for (const Spine& spine : buck.spines) {
        add_box(drawing, k_outline, {spine.front_mm, lift}, {spine.rear_mm, lift + spine.height_mm});
    }
    for (const Rib& rib : buck.ribs) {
        const AlignedBox2d outline = box_of(rib.outline);
        add_box(drawing, k_outline, {rib.front_mm(), lift + outline.min().y()},
                {rib.rear_mm(), lift + outline.max().y()});
        add_text(drawing, {(rib.front_mm() + rib.rear_mm()) / 2.0, lift + outline.max().y() + letters}, letters,
                 rib.label);
    }
}

}  // namespace

AlignedBox2d box_of(const geometry::Profile& outline) {
    const auto shape = geometry::shape_of(outline);
    if (!shape) {
        return {};
    }
    return geometry::bounds_mm({{{k_outline, 7}}, {{k_outline, shape.value()}}});
}

Drawing assembly_picture(const PieceBuck& buck) {
    Drawing drawing = blank();
    const AlignedBox2d plan = plan_of(buck);
    if (plan.isEmpty()) {
        return drawing;
    }
    const double letters = plan.sizes().x() * k_letters;
    add_plan(drawing, buck, letters);
    add_side(drawing, buck, letters, plan.max().y() + k_between_views * letters);
    add_text(drawing, {plan.min().x() - 4.0 * letters, plan.center().y()}, letters, "FRONT");
    return drawing;
}

geometry::Result<Drawing> sheet_picture(const std::vector<CutPart>& parts, const NestedSheet& sheet,
                                        const Board* board) {
    Drawing drawing = blank();
    double length = sheet.used_mm.x();
    if (board != nullptr && board->length && board->width) {
        length = geometry::in_mm(board->length->value);
        add_box(drawing, k_edge, Vector2d::Zero(), {length, geometry::in_mm(board->width->value)});
    }
    for (const PlacedPart& placed : sheet.parts) {
        const CutPart& part = parts.at(placed.part);
        auto shape = geometry::shape_of(part.outline);
        if (!shape) {
            return geometry::Error{shape.error().code, part.label + ": " + shape.error().message};
        }
        const Eigen::Rotation2Dd turn(geometry::in_rad(placed.turned));
        AlignedBox2d box;
        geometry::DrawnShape moved = std::move(shape).value();
        if (auto* chain = std::get_if<DrawnChain>(&moved)) {
            for (geometry::ChainVertex& vertex : chain->vertices) {
                vertex.p_mm = turn * vertex.p_mm + placed.moved_mm;
                box.extend(vertex.p_mm);
            }
        } else if (auto* circle = std::get_if<geometry::DrawnCircle>(&moved)) {
            circle->centre_mm = turn * circle->centre_mm + placed.moved_mm;
            box.extend(circle->centre_mm);
        }
        drawing.entities.push_back({k_outline, std::move(moved)});
        add_text(drawing, box.center(), length * k_letters, part.label);
    }
    return drawing;
}

}  // namespace sillwright::core
