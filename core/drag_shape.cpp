#include "core/drag_shape.h"

#include <algorithm>
#include <utility>

#include "core/skirt/sheet_body.h"

namespace sillwright::core {

using geometry::AlongRange;
using geometry::DistanceTree;
using geometry::Length;
using geometry::Loft;
using geometry::Mesh;
using geometry::Result;
using geometry::RingBody;
using geometry::RingMesh;
using geometry::Status;

namespace {

/// Of the deviation asked for, the part that roundings may take, as for the full check.
constexpr double k_sagitta_part = 0.4;

/// A shape that follows may deviate by this much more than was asked for, before it is made anew.
constexpr double k_most_deviation = 2.0;

geometry::Error led_by(const std::string& what, const geometry::Error& error) {
    return {error.code, what + ": " + error.message};
}

/// The line itself, and with the node moved by k_near to each side, as far as these have a shape.
std::vector<Loft> trials(const Loft& line, const std::string& name, std::size_t section, const Eigen::Vector2d& p_mm) {
    std::vector<Loft> all{line};
    const double by = geometry::in_mm(DragShape::k_near);
    for (const Eigen::Vector2d& way :
         {Eigen::Vector2d(by, 0.0), Eigen::Vector2d(-by, 0.0), Eigen::Vector2d(0.0, by), Eigen::Vector2d(0.0, -by)}) {
        if (auto moved = line.moved(name, section, p_mm + way)) {
            all.push_back(std::move(moved).value().loft);
        }
    }
    return all;
}

/// Between each two key places the rows of the mesh that has most there.
std::vector<Length> most_rows(const std::vector<Length>& keys, const std::vector<RingMesh>& meshes) {
    std::vector<Length> rows{keys.front()};
    for (std::size_t k = 0; k + 1 < keys.size(); ++k) {
        std::vector<Length> most;
        for (const RingMesh& mesh : meshes) {
            const auto from = std::upper_bound(mesh.rows.begin(), mesh.rows.end(), keys[k]);
            const auto to = std::upper_bound(from, mesh.rows.end(), keys[k + 1]);
            if (static_cast<std::size_t>(to - from) > most.size()) {
                most.assign(from, to);
            }
        }
        rows.insert(rows.end(), most.begin(), most.end());
    }
    return rows;
}

/// Triangles of which a corner stands elsewhere.
std::vector<std::int32_t> moved_triangles(const Mesh& before, const Mesh& after) {
    std::vector<bool> moved(after.points.size());
    for (std::size_t i = 0; i < after.points.size(); ++i) {
        moved[i] = before.points[i] != after.points[i];
    }
    std::vector<std::int32_t> triangles;
    for (std::size_t i = 0; i < after.triangles.size(); ++i) {
        const geometry::Triangle& t = after.triangles[i];
        if (std::any_of(t.begin(), t.end(), [&](std::int32_t p) { return moved[static_cast<std::size_t>(p)]; })) {
            triangles.push_back(static_cast<std::int32_t>(i));
        }
    }
    return triangles;
}

}  // namespace

Result<DragShape> DragShape::begin(const Piece& piece, const Loft& line, const std::string& name, std::size_t section,
                                   Length deviation, std::shared_ptr<const FormedSheet> formed) {
    DragShape shape;
    shape.formed_ = std::move(formed);
    const FormedSheet* const thickness = shape.formed_.get();
    shape.wanted_ = deviation;
    for (const geometry::LoftNode& node : line.sections()[section].nodes) {
        shape.start_mm_ = node.name == name ? node.p_mm : shape.start_mm_;
    }
    const std::vector<Loft> lofts = trials(line, name, section, shape.start_mm_);
    for (const Loft& loft : lofts) {
        if (const auto layout = layout_of_piece(piece, loft, thickness, k_sagitta_part * deviation)) {
            widen(shape.layout_, layout.value());
        }
    }
    std::vector<RingMesh> meshes;
    for (const Loft& loft : lofts) {
        auto mesh = sheet_body(piece, loft, thickness, shape.layout_).and_then([&](const RingBody& body) {
            return geometry::mesh_of(body, deviation);
        });
        if (mesh) {
            meshes.push_back(std::move(mesh).value());
        }
    }
    auto body = sheet_body(piece, line, thickness, shape.layout_);
    if (!body) {
        return led_by(piece_words(piece), body.error());
    }
    RingBody with_rows = body.value();
    with_rows.key_places = most_rows(body.value().key_places, meshes);
    auto ring = geometry::mesh_of(with_rows, deviation);
    if (!ring) {
        return led_by(piece_words(piece), ring.error());
    }
    shape.ring_ = std::move(ring).value();
    auto mesh = with_end_caps(piece, body.value(), shape.ring_.mesh, deviation);
    if (!mesh) {
        return mesh.error();
    }
    shape.mesh_ = std::move(mesh).value();
    auto tree = DistanceTree::build(shape.mesh_);
    if (!tree) {
        return led_by(piece_words(piece), tree.error());
    }
    shape.tree_ = std::make_shared<DistanceTree>(tree.value());
    shape.start_tree_ = std::make_shared<const DistanceTree>(std::move(tree).value());
    shape.ring_deviation_ = shape.mesh_.deviation;
    shape.body_ = {piece.name, shape.mesh_, shape.ring_, shape.tree_};
    shape.body_.mesh.deviation = shape.ring_deviation_ + k_drag_margin;
    return shape;
}

Status DragShape::to(const Piece& piece, const Loft& line, AlongRange changed, const Eigen::Vector2d& p_mm) {
    if ((p_mm - start_mm_).norm() <= geometry::in_mm(k_near) && follow(piece, line, changed)) {
        return std::monostate{};
    }
    return make_anew(piece, line);
}

bool DragShape::follow(const Piece& piece, const Loft& line, AlongRange changed) {
    const auto body = sheet_body(piece, line, formed_.get(), layout_);
    if (!body) {
        return false;
    }
    auto remeshed = geometry::remesh(ring_, body.value(), changed);
    if (!remeshed || !remeshed.value().same_triangles) {
        return false;
    }
    RingMesh ring = std::move(remeshed).value().ring_mesh;
    auto closed = with_end_caps(piece, body.value(), ring.mesh, wanted_);
    if (!closed || closed.value().deviation > k_most_deviation * wanted_ ||
        closed.value().triangles != mesh_.triangles || closed.value().points.size() != mesh_.points.size()) {
        return false;
    }
    Mesh mesh = std::move(closed).value();
    *tree_ = *start_tree_;
    tree_->refit(mesh, moved_triangles(mesh_, mesh), DistanceTree::Axes::of_leaves);
    moved_ = geometry::moved_by_node(*start_tree_, *tree_);
    ring_deviation_ = mesh.deviation;
    mesh.deviation = ring_deviation_ + k_drag_margin;
    body_.mesh = std::move(mesh);
    body_.ring = std::move(ring);
    body_.tree = tree_;
    follows_ = true;
    return true;
}

Status DragShape::make_anew(const Piece& piece, const Loft& line) {
    const auto body =
        layout_of_piece(piece, line, formed_.get(), k_sagitta_part * wanted_).and_then([&](const SheetLayout& layout) {
            return sheet_body(piece, line, formed_.get(), layout);
        });
    if (!body) {
        return led_by(piece_words(piece), body.error());
    }
    auto ring = geometry::mesh_of(body.value(), wanted_);
    if (!ring) {
        return led_by(piece_words(piece), ring.error());
    }
    auto mesh = with_end_caps(piece, body.value(), ring.value().mesh, wanted_);
    if (!mesh) {
        return mesh.error();
    }
    auto tree = DistanceTree::build(mesh.value());
    if (!tree) {
        return led_by(piece_words(piece), tree.error());
    }
    ring_deviation_ = mesh.value().deviation;
    body_.mesh = std::move(mesh).value();
    body_.mesh.deviation = ring_deviation_ + k_drag_margin;
    body_.ring = std::move(ring).value();
    body_.tree = std::make_shared<const DistanceTree>(std::move(tree).value());
    follows_ = false;
    return std::monostate{};
}

}  // namespace sillwright::core
