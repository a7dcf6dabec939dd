#include "core/skirt/fluted_section.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

#include "core/number_text.h"

namespace sillwright::core {

using Eigen::Vector2d;
using geometry::Error;
using geometry::ErrorCode;
using geometry::in_mm;
using geometry::Length;
using geometry::Loft;
using geometry::millimetres;
using geometry::ProfileNode;

namespace {

/// What numbers typed to a hundredth may overlap by.
constexpr double k_slack_mm = 1e-6;

/// The shelf in one section: from its edge inward, and square to it away from the outside.
struct Shelf {
    std::size_t inner = 0;  ///< Number of its node; the edge is the next.
    Vector2d edge_mm = Vector2d::Zero(), inward = Vector2d::Zero(), down = Vector2d::Zero();
    double free_from_mm = 0.0, free_to_mm = 0.0;  ///< Between the two roundings, from the edge.
};

double turned(const Vector2d& before, const Vector2d& after) {
    return std::abs(std::atan2(before.x() * after.y() - before.y() * after.x(), before.dot(after)));
}

/// What a node's rounding takes of the straight beside it; none at a line's end.
double setback(const std::vector<ProfileNode>& nodes, std::size_t i) {
    if (i == 0 || i + 1 == nodes.size()) {
        return 0.0;
    }
    const Vector2d before = nodes[i].p_mm - nodes[i - 1].p_mm;
    const Vector2d after = nodes[i + 1].p_mm - nodes[i].p_mm;
    return in_mm(nodes[i].radius) * std::tan(turned(before, after) / 2.0);
}

std::optional<Shelf> shelf_of(const Loft& line, const std::vector<ProfileNode>& nodes) {
    const auto& names = line.names();
    const auto inner = std::find(names.begin(), names.end(), k_shelf_inner);
    if (inner == names.end() || std::next(inner) == names.end() || *std::next(inner) != k_shelf_edge) {
        return std::nullopt;
    }
    Shelf shelf;
    shelf.inner = static_cast<std::size_t>(inner - names.begin());
    shelf.edge_mm = nodes[shelf.inner + 1].p_mm;
    const Vector2d way = nodes[shelf.inner].p_mm - shelf.edge_mm;
    if (way.norm() <= k_slack_mm) {
        return std::nullopt;
    }
    shelf.inward = way.normalized();
    // The outside is on the line's left, and the line runs outward along the shelf.
    shelf.down = {-shelf.inward.y(), shelf.inward.x()};
    shelf.free_from_mm = setback(nodes, shelf.inner + 1);
    shelf.free_to_mm = way.norm() - setback(nodes, shelf.inner);
    return shelf;
}

/// Greatest radius for which both corners of the bottom have room.
double largest_radius(double width, double depth) {
    return depth >= width / 2.0 ? width / 2.0 : (width * width / 4.0 + depth * depth) / (2.0 * depth);
}

std::string mm(double value) {
    return mm_text(millimetres(value));
}

/// What is wrong with one flute, and what would be right.
std::optional<std::string> fault(const Piece& piece, const Flute& flute, const Shelf& shelf) {
    const double width = in_mm(flute.width.value);
    const double depth = in_mm(flute.depth.value);
    const double offset = in_mm(flute.offset.value);
    const double radius = in_mm(flute.bottom_radius.value);
    if (!(width > 0.0) || !(depth > 0.0)) {
        return "has no width or no depth. Give both.";
    }
    if (flute.front && flute.rear && !(flute.front->value < flute.rear->value)) {
        return "runs out in front before it begins. Its front run-out must lie ahead of its rear one.";
    }
    if (offset - width / 2.0 < shelf.free_from_mm - k_slack_mm) {
        return "reaches into the rounding of the shelf edge. Move its middle to " +
               mm(shelf.free_from_mm + width / 2.0) + " or more from the edge, or make it " +
               mm(std::max(0.0, 2.0 * (offset - shelf.free_from_mm))) + " wide.";
    }
    if (offset + width / 2.0 > shelf.free_to_mm + k_slack_mm) {
        return "reaches into the shelf's inner rounding. Move its middle to " + mm(shelf.free_to_mm - width / 2.0) +
               " or less from the edge, or make it " + mm(std::max(0.0, 2.0 * (shelf.free_to_mm - offset))) + " wide.";
    }
    if (const double largest = largest_radius(width, depth); radius > largest + k_slack_mm) {
        return "has no room for the radius of its bottom, " + mm(radius) + ". The largest that fits is " +
               mm(std::floor(largest * 100.0) / 100.0) + ".";
    }
    if (piece.sheet && piece.drawn_face == DrawnFace::inside && width <= 2.0 * in_mm(piece.sheet->value)) {
        return "is closed by the sheet that is laid on it. Make it wider than " + mm(2.0 * in_mm(piece.sheet->value)) +
               ", twice the sheet.";
    }
    return std::nullopt;
}

void add_flute(const Flute& flute, const Shelf& shelf, std::vector<ProfileNode>& nodes) {
    const double half = in_mm(flute.width.value) / 2.0;
    const double depth = in_mm(flute.depth.value);
    const double radius = std::min(in_mm(flute.bottom_radius.value), largest_radius(2.0 * half, depth));
    const auto at = [&](double from_edge, double down) {
        return Vector2d{shelf.edge_mm + from_edge * shelf.inward + down * shelf.down};
    };
    const double offset = in_mm(flute.offset.value);
    double in = 0.0;  // of the bottom's corners from the mouth
    if (radius > depth) {
        const double slope = std::acos((radius - depth) / radius);
        in = radius * std::tan(slope / 2.0) * std::cos(slope);
    }
    nodes.push_back({at(offset + half, 0.0), {}});
    nodes.push_back({at(offset + half - in, depth), millimetres(radius)});
    nodes.push_back({at(offset - half + in, depth), millimetres(radius)});
    nodes.push_back({at(offset - half, 0.0), {}});
}

}  // namespace

bool runs_at(const Flute& flute, Length along) {
    return (!flute.front || along >= flute.front->value) && (!flute.rear || along <= flute.rear->value);
}

geometry::Result<std::vector<ProfileNode>> fluted_nodes(const Piece& piece, const Loft& line, Length along) {
    const std::vector<ProfileNode> plain = line.nodes_at(along);
    std::vector<const Flute*> flutes;
    for (const Flute& flute : piece.flutes) {
        if (runs_at(flute, along)) {
            flutes.push_back(&flute);
        }
    }
    if (flutes.empty()) {
        return plain;
    }
    const auto refuse = [&](const Flute& flute, const std::string& what) {
        return Error{ErrorCode::does_not_fit, "At " + line.place(along) + ": flute \"" + flute.name + "\" " + what};
    };
    const auto shelf = shelf_of(line, plain);
    if (!shelf) {
        return refuse(*flutes.front(),
                      "has no shelf to lie on. Draw nodes \"shelf inner\" and \"shelf edge\" next to "
                      "one another, or take the flute out.");
    }
    std::stable_sort(flutes.begin(), flutes.end(),
                     [](const Flute* a, const Flute* b) { return a->offset.value > b->offset.value; });
    std::vector<ProfileNode> nodes(plain.begin(), plain.begin() + static_cast<std::ptrdiff_t>(shelf->inner) + 1);
    for (std::size_t i = 0; i < flutes.size(); ++i) {
        const Flute& flute = *flutes[i];
        if (const auto wrong = fault(piece, flute, *shelf)) {
            return refuse(flute, *wrong);
        }
        if (i > 0) {
            const Flute& inner = *flutes[i - 1];
            const Length apart = 0.5 * (flute.width.value + inner.width.value);
            if (inner.offset.value - flute.offset.value < apart - millimetres(k_slack_mm)) {
                return refuse(flute, "runs into flute \"" + inner.name + "\". Their middles must be " + mm_text(apart) +
                                         " apart or more.");
            }
        }
        add_flute(flute, *shelf, nodes);
    }
    nodes.insert(nodes.end(), plain.begin() + static_cast<std::ptrdiff_t>(shelf->inner) + 1, plain.end());
    return nodes;
}

}  // namespace sillwright::core
