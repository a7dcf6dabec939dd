#include "core/buck/plug_mesh.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>
#include <vector>

#include "core/buck/plug_surface.h"
#include "core/skirt/surface.h"
#include "geometry/polygon_triangles.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::Result;

namespace {

/// Rows nearer than this are one.
constexpr double k_same_row_mm = 0.01;

std::vector<double> rows_of(const PlugSurface& surface, const geometry::Loft& line) {
    const double length = surface.length_mm();
    const auto steps = static_cast<int>(std::ceil(length / in_mm(k_plug_rows)));
    std::vector<double> rows;
    for (int i = 0; i <= steps; ++i) {
        rows.push_back(length * i / steps);
    }
    for (const geometry::Length place : line.key_places()) {
        rows.push_back(surface.x_mm(place));
    }
    std::sort(rows.begin(), rows.end());
    rows.erase(std::unique(rows.begin(), rows.end(), [](double a, double b) { return b - a < k_same_row_mm; }),
               rows.end());
    return rows;
}

/// The one with the most points: a rounding that runs out has none there.
Result<PlugLayout> fullest_layout(const PlugSurface& surface, const geometry::Loft& line) {
    auto fullest = surface.layout(surface.x_mm(line.front()));
    for (const geometry::LoftSection& section : line.sections()) {
        auto layout = surface.layout(surface.x_mm(section.along));
        if (!layout) {
            return layout.error();
        }
        if (fullest && layout.value().strips.back().last > fullest.value().strips.back().last) {
            fullest = std::move(layout);
        }
    }
    return fullest;
}

/// (side, height), closed along the base, anticlockwise.
Result<std::vector<Eigen::Vector2d>> outline_at(const PlugSurface& surface, double x_mm, const PlugLayout& layout,
                                                double base_mm) {
    const auto points = surface.inner(x_mm, layout);
    if (!points) {
        return points.error();
    }
    std::vector<Eigen::Vector2d> outline;
    for (const PlugPoint& point : points.value()) {
        outline.emplace_back(point.at_mm.x(), point.at_mm.y() - base_mm);
    }
    const double first = outline.front().x();
    outline.emplace_back(outline.back().x(), 0.0);
    outline.emplace_back(first, 0.0);
    return outline;
}

void add_wall(geometry::Mesh& mesh, std::size_t row, std::size_t count) {
    for (std::size_t i = 0; i < count; ++i) {
        const auto at = [&](std::size_t r, std::size_t k) { return static_cast<std::int32_t>(r * count + k % count); };
        mesh.triangles.push_back({at(row, i), at(row + 1, i + 1), at(row, i + 1)});
        mesh.triangles.push_back({at(row, i), at(row + 1, i), at(row + 1, i + 1)});
    }
}

geometry::Status add_end(geometry::Mesh& mesh, const std::vector<Eigen::Vector2d>& outline, std::size_t first,
                         bool front) {
    const auto triangles = geometry::polygon_triangles(outline);
    if (!triangles) {
        return triangles.error();
    }
    for (geometry::Triangle triangle : triangles.value()) {
        for (std::int32_t& corner : triangle) {
            corner += static_cast<std::int32_t>(first);
        }
        if (!front) {
            std::swap(triangle[1], triangle[2]);
        }
        mesh.triangles.push_back(triangle);
    }
    return std::monostate{};
}

}  // namespace

Result<geometry::Mesh> plug_mesh(const Job& job, const CarModel& car, const PieceBuck& buck) {
    const Piece& piece = job.skirt.pieces[buck.piece];
    const PieceModel& model = car.pieces[buck.piece];
    auto law = outward_law(piece, *model.line, model.formed.get(), std::nullopt, Surface::mould_face,
                           job.forming.mould.value_or(MouldKind::male));
    const PlugSurface surface(
        piece, *model.line, std::move(*law),
        {buck.tilt, buck.along_size, buck.across_size, geometry::Length{}, job.forming.trim_allowance.value});
    const auto layout = fullest_layout(surface, *model.line);
    if (!layout) {
        return layout.error();
    }
    geometry::Mesh mesh;
    const std::vector<double> rows = rows_of(surface, *model.line);
    std::vector<Eigen::Vector2d> front, rear;
    for (std::size_t row = 0; row < rows.size(); ++row) {
        auto outline = outline_at(surface, rows[row], layout.value(), buck.base_mm);
        if (!outline) {
            return outline.error();
        }
        for (const Eigen::Vector2d& p : outline.value()) {
            mesh.points.emplace_back(rows[row], p.y(), p.x());
        }
        if (row + 1 < rows.size()) {
            add_wall(mesh, row, outline.value().size());
        }
        (row == 0 ? front : rear) = outline.value();
    }
    auto closed = add_end(mesh, front, 0, true);
    if (closed) {
        closed = add_end(mesh, rear, mesh.points.size() - rear.size(), false);
    }
    if (!closed) {
        return closed.error();
    }
    return job.side == Side::left ? geometry::mirrored_y(mesh) : mesh;
}

}  // namespace sillwright::core
