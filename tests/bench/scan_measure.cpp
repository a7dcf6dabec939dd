#include "tests/bench/scan_measure.h"

#include <cmath>
#include <vector>

#include "geometry/mesh_section.h"
#include "tests/bench/measure.h"

namespace sillwright::bench {

using Eigen::Vector3d;

namespace {

/// An open strip of 2 m, 1000 x 500 quads, its height waved so that no two rows are alike.
geometry::Mesh scanned_strip() {
    constexpr std::int32_t k_rows = 1000;
    constexpr std::int32_t k_columns = 500;
    geometry::Mesh mesh;
    for (std::int32_t row = 0; row <= k_rows; ++row) {
        for (std::int32_t column = 0; column <= k_columns; ++column) {
            const double s = 0.8 * column;
            mesh.points.emplace_back(2.0 * row + 0.3 * std::sin(0.7 * column), s,
                                     40.0 * std::sin(s / 60.0) + std::sin(0.01 * row));
        }
    }
    constexpr std::int32_t k_step = k_columns + 1;
    for (std::int32_t row = 0; row < k_rows; ++row) {
        for (std::int32_t column = 0; column < k_columns; ++column) {
            const std::int32_t a = row * k_step + column;
            mesh.triangles.push_back({a, a + k_step, a + k_step + 1});
            mesh.triangles.push_back({a, a + k_step + 1, a + 1});
        }
    }
    return mesh;
}

}  // namespace

ScanTimes measure_scan() {
    const geometry::Mesh mesh = scanned_strip();
    std::vector<double> stations;
    for (int i = 0; i < 20; ++i) {
        stations.push_back(50.0 + 100.0 * i);
    }
    ScanTimes times;
    times.triangles = mesh.triangles.size();
    times.cut_ms = least_ms(3, [&] {
        times.lines = 0;
        for (const auto& lines : geometry::mesh_sections(mesh, Vector3d::UnitX(), stations)) {
            times.lines += lines.size();
        }
    });
    return times;
}

}  // namespace sillwright::bench
