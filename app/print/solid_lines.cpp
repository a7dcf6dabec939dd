#include "app/print/solid_lines.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>

namespace sillwright::app::print {

using Eigen::Vector3d;

namespace {

constexpr double k_depths_per_pixel = 2.0;
/// Places along a line at which it is asked whether it is hidden, pixels apart.
constexpr double k_step = 1.0;
/// An edge lies on its own body, which is drawn in steps of a place: nearer by so many pixels is not hidden.
constexpr double k_bias_pixels = 2.0;
/// Lines shorter than this are specks where an outline slips below its own body.
constexpr double k_speck_pixels = 1.5;

/// x, y in pixels of the sheet; z towards the eye, in pixels too.
class View {
public:
    View(const SolidLook& look, const QSizeF& sheet)
        : look_{look}, sheet_{sheet}, eye_{look.to_eye()}, per_pixel_{look.mm_per_pixel(sheet)} {}
    [[nodiscard]] Vector3d seen(const Vector3d& p_mm) const {
        const QPointF at = look_.on_sheet(p_mm, sheet_);
        return {at.x(), at.y(), (p_mm - look_.centre_mm).dot(eye_) / per_pixel_};
    }
    [[nodiscard]] const Vector3d& eye() const { return eye_; }

private:
    const SolidLook& look_;
    QSizeF sheet_;
    Vector3d eye_;
    double per_pixel_;
};

/// For each place of the sheet how near to the eye the nearest body is.
class Depths {
public:
    explicit Depths(const QSizeF& sheet)
        : width_{static_cast<int>(std::ceil(sheet.width() * k_depths_per_pixel)) + 1},
          height_{static_cast<int>(std::ceil(sheet.height() * k_depths_per_pixel)) + 1},
          nearest_(static_cast<std::size_t>(width_) * static_cast<std::size_t>(height_),
                   -std::numeric_limits<float>::infinity()) {}

    void cover(const Vector3d& a, const Vector3d& b, const Vector3d& c) {
        const double ax = a.x() * k_depths_per_pixel, ay = a.y() * k_depths_per_pixel;
        const double bx = b.x() * k_depths_per_pixel, by = b.y() * k_depths_per_pixel;
        const double cx = c.x() * k_depths_per_pixel, cy = c.y() * k_depths_per_pixel;
        const double area = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay);
        if (std::abs(area) < std::numeric_limits<double>::epsilon()) {
            return;
        }
        const int left = std::max(0, static_cast<int>(std::ceil(std::min({ax, bx, cx}))));
        const int right = std::min(width_ - 1, static_cast<int>(std::floor(std::max({ax, bx, cx}))));
        const int top = std::max(0, static_cast<int>(std::ceil(std::min({ay, by, cy}))));
        const int bottom = std::min(height_ - 1, static_cast<int>(std::floor(std::max({ay, by, cy}))));
        for (int y = top; y <= bottom; ++y) {
            for (int x = left; x <= right; ++x) {
                const double u = ((x - ax) * (cy - ay) - (cx - ax) * (y - ay)) / area;
                const double v = ((bx - ax) * (y - ay) - (x - ax) * (by - ay)) / area;
                if (u >= 0.0 && v >= 0.0 && u + v <= 1.0) {
                    float& nearest = at(x, y);
                    nearest = std::max(nearest, static_cast<float>(a.z() + u * (b.z() - a.z()) + v * (c.z() - a.z())));
                }
            }
        }
    }

    [[nodiscard]] bool hides(const Vector3d& p) const {
        const int x = static_cast<int>(std::lround(p.x() * k_depths_per_pixel));
        const int y = static_cast<int>(std::lround(p.y() * k_depths_per_pixel));
        if (x < 0 || y < 0 || x >= width_ || y >= height_) {
            return false;
        }
        const auto at = static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) + static_cast<std::size_t>(x);
        return static_cast<double>(nearest_[at]) > p.z() + k_bias_pixels;
    }

private:
    float& at(int x, int y) {
        return nearest_[static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) + static_cast<std::size_t>(x)];
    }
    int width_, height_;
    std::vector<float> nearest_;
};

struct Side {
    std::array<std::int32_t, 2> edge;
    std::size_t triangle;
};

/// Edges that are drawn, as pairs of numbers of points.
std::vector<std::array<std::int32_t, 2>> edges_of(const geometry::Mesh& mesh, const Vector3d& eye) {
    std::vector<Vector3d> normals;
    std::vector<Side> sides;
    normals.reserve(mesh.triangles.size());
    sides.reserve(3 * mesh.triangles.size());
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        const geometry::Triangle& t = mesh.triangles[i];
        const auto point = [&](std::size_t k) { return Vector3d(mesh.points[static_cast<std::size_t>(t[k])]); };
        normals.push_back((point(1) - point(0)).cross(point(2) - point(0)).normalized());
        for (std::size_t k = 0; k < 3; ++k) {
            const std::int32_t a = t[k];
            const std::int32_t b = t[(k + 1) % 3];
            sides.push_back({{std::min(a, b), std::max(a, b)}, i});
        }
    }
    std::sort(sides.begin(), sides.end(), [](const Side& a, const Side& b) { return a.edge < b.edge; });
    const double lean = std::cos(geometry::in_rad(k_edge_lean));
    std::vector<std::array<std::int32_t, 2>> edges;
    for (std::size_t i = 0; i < sides.size();) {
        std::size_t end = i;
        while (end < sides.size() && sides[end].edge == sides[i].edge) {
            ++end;
        }
        bool drawn = end - i != 2;
        if (!drawn) {
            const Vector3d& a = normals[sides[i].triangle];
            const Vector3d& b = normals[sides[i + 1].triangle];
            drawn = a.dot(b) < lean || (a.dot(eye) > 0.0) != (b.dot(eye) > 0.0);
        }
        if (drawn) {
            edges.push_back(sides[i].edge);
        }
        i = end;
    }
    return edges;
}

/// The parts of an edge that nothing hides.
void add_seen(std::vector<SolidLine>& lines, const Vector3d& from, const Vector3d& to, const Depths& depths,
              SolidRole role) {
    const double length = (to - from).head<2>().norm();
    const int steps = std::max(1, static_cast<int>(std::ceil(length / k_step)));
    const auto place = [&](double part) { return Vector3d(from + part * (to - from)); };
    const auto point = [&](double part) { return QPointF(place(part).x(), place(part).y()); };
    int begin = -1;
    for (int i = 0; i <= steps; ++i) {
        // A step is seen if its middle is; behind the last step nothing is.
        const bool seen = i < steps && !depths.hides(place((i + 0.5) / steps));
        if (seen && begin < 0) {
            begin = i;
        } else if (!seen && begin >= 0) {
            const QLineF line(point(static_cast<double>(begin) / steps), point(static_cast<double>(i) / steps));
            if (i - begin == steps || line.length() > k_speck_pixels) {
                lines.push_back({line, role});
            }
            begin = -1;
        }
    }
}

}  // namespace

std::vector<SolidLine> solid_lines(const SolidScene& scene, const SolidLook& look, const QSizeF& sheet) {
    const View view(look, sheet);
    Depths depths(sheet);
    std::vector<std::vector<Vector3d>> seen;
    for (const SolidBody& body : scene.bodies) {
        std::vector<Vector3d> points;
        points.reserve(body.mesh->points.size());
        for (const auto& p : body.mesh->points) {
            points.push_back(view.seen(p));
        }
        for (const geometry::Triangle& t : body.mesh->triangles) {
            depths.cover(points[static_cast<std::size_t>(t[0])], points[static_cast<std::size_t>(t[1])],
                         points[static_cast<std::size_t>(t[2])]);
        }
        seen.push_back(std::move(points));
    }
    std::vector<SolidLine> lines;
    for (std::size_t i = 0; i < scene.bodies.size(); ++i) {
        const SolidBody& body = scene.bodies[i];
        for (const auto& edge : edges_of(*body.mesh, view.eye())) {
            add_seen(lines, seen[i][static_cast<std::size_t>(edge[0])], seen[i][static_cast<std::size_t>(edge[1])],
                     depths, body.role);
        }
    }
    return lines;
}

}  // namespace sillwright::app::print
