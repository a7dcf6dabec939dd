#pragma once

#include <Eigen/Geometry>
#include <cmath>
#include <random>
#include <string>

#include "core/car_model.h"
#include "core/job.h"
#include "core/job_file.h"
#include "core/sill_frame.h"
#include "core/survey/scan.h"
#include "geometry/loft.h"
#include "geometry/mesh.h"
#include "geometry/profile.h"

/// A scan of Estate A's body as the program's own loft has it, moved by a known motion.
namespace sillwright::tests {

struct ScanWorld {
    core::Job job;
    geometry::Loft body;
    Eigen::Matrix3d rotation;  ///< From the scanner's frame to the car's.
    Eigen::Vector3d shift_mm;
    geometry::Mesh scan;  ///< In the scanner's frame, millimetres.

    /// (along, out, up) as the scanner sees it.
    [[nodiscard]] Eigen::Vector3d seen(const Eigen::Vector3d& p_sill_mm) const {
        return rotation.transpose() * (core::SillFrame(job).car_from_sill(p_sill_mm) - shift_mm);
    }
};

inline ScanWorld scan_world(double noise_mm, core::Side side = core::Side::right) {
    core::Job job = core::read_job(std::string(SILLWRIGHT_SOURCE_DIR) + "/samples/estate_a.sillwright").value();
    job.side = side;
    geometry::Loft body =
        *core::car_model(job, SILLWRIGHT_SOURCE_DIR "/samples", geometry::millimetres(0.5)).value().body;
    ScanWorld world{std::move(job),
                    std::move(body),
                    Eigen::AngleAxisd(0.5, Eigen::Vector3d(1, 2, 3).normalized()).toRotationMatrix(),
                    Eigen::Vector3d(400, -300, 120),
                    {}};
    std::mt19937_64 engine{4};
    std::normal_distribution<double> noise(0.0, 1.0);
    constexpr int k_rows = 190;
    constexpr int k_columns = 240;
    const double front = in_mm(world.body.front());
    const double rear = in_mm(world.body.rear());
    for (int row = 0; row <= k_rows; ++row) {
        const double along = front + (rear - front) * row / k_rows;
        const auto profile = world.body.section_at(geometry::millimetres(along)).value();
        const auto line = geometry::polyline(profile, geometry::millimetres(0.02)).value();
        std::vector<double> run{0.0};
        for (std::size_t i = 1; i < line.size(); ++i) {
            run.push_back(run.back() + (line[i] - line[i - 1]).norm());
        }
        std::size_t at = 1;
        for (int column = 0; column <= k_columns; ++column) {
            const double here = run.back() * column / k_columns;
            while (at + 1 < run.size() && run[at] < here) {
                ++at;
            }
            const double share = (here - run[at - 1]) / (run[at] - run[at - 1]);
            const Eigen::Vector2d p = line[at - 1] + share * (line[at] - line[at - 1]);
            const Eigen::Vector3d off(noise(engine), noise(engine), noise(engine));
            world.scan.points.push_back(world.seen({along, p.x(), p.y()}) + noise_mm * off);
        }
    }
    constexpr std::int32_t k_step = k_columns + 1;
    for (std::int32_t row = 0; row < k_rows; ++row) {
        for (std::int32_t column = 0; column < k_columns; ++column) {
            const std::int32_t a = row * k_step + column;
            world.scan.triangles.push_back({a, a + k_step, a + k_step + 1});
            world.scan.triangles.push_back({a, a + k_step + 1, a + 1});
        }
    }
    return world;
}

/// The book has these points, and the scan their marks: corners of the body at its ends, and between.
inline core::survey::Solution marked(const ScanWorld& world, core::survey::Scan& scan, std::size_t count) {
    core::survey::Solution solution;
    const auto last = world.body.sections().back().nodes.size() - 1;
    const auto mark = [&](const std::string& name, std::size_t section, std::size_t node) {
        const geometry::LoftSection& at = world.body.sections()[section];
        core::survey::PlacedPoint point;
        point.name = name;
        point.at_mm = Eigen::Vector3d(in_mm(at.along), at.nodes[node].p_mm.x(), at.nodes[node].p_mm.y());
        solution.points.push_back(point);
        const Eigen::Vector3d seen = world.seen(point.at_mm);
        scan.marks.push_back({name, seen.x(), seen.y(), seen.z(), {}});
    };
    const auto rear = world.body.sections().size() - 1;
    const std::vector<std::tuple<std::string, std::size_t, std::size_t>> all{
        {"A", 0, 0}, {"B", rear, 0}, {"C", 4, last}, {"D", 0, last}};
    for (std::size_t i = 0; i < std::min(count, all.size()); ++i) {
        mark(std::get<0>(all[i]), std::get<1>(all[i]), std::get<2>(all[i]));
    }
    return solution;
}

}  // namespace sillwright::tests
