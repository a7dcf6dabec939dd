#include "tests/bench/swing_measure.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <ctime>
#include <limits>
#include <map>
#include <optional>
#include <string>
#include <utility>

#include "tests/bench/measure.h"
#include "tests/support/fcl/fcl_distance.h"

namespace sillwright::bench {

using geometry::degrees;
using geometry::DistanceTree;
using geometry::radians;
using tests::SwingScene;

namespace {

constexpr double k_unlimited = std::numeric_limits<double>::max();

/// Poses for a best to begin with, as our own search has.
constexpr int k_coarse_poses = 16;

/// Part of a step that is given up for a quicker answer. Measured in clear: 0.3 to 0.6 are best, and a fifth quicker
/// than none.
constexpr double k_may_miss_part = 0.5;

/// The library's steps are given up after this, either way: a minute and more in glide.
constexpr double k_longest_ms = 5000.0;

/// Poses that stand for all where all cost alike.
constexpr int k_few_poses = 5;

SwingScene turned(SwingScene scene) {
    Eigen::Isometry3d turn = Eigen::Isometry3d::Identity();
    turn.linear() = Eigen::AngleAxisd(1.1, Eigen::Vector3d(0.3, -0.5, 0.8).normalized()).toRotationMatrix();
    turn.translation() = Eigen::Vector3d(300.0, -900.0, 150.0);
    for (geometry::Mesh* mesh : {&scene.fixed, &scene.moving}) {
        for (Eigen::Vector3d& p : mesh->points) {
            p = turn * p;
        }
    }
    scene.motion.axis_point_mm = turn * scene.motion.axis_point_mm;
    scene.motion.axis_direction = turn.linear() * scene.motion.axis_direction;
    scene.motion.sag_direction = turn.linear() * scene.motion.sag_direction;
    return scene;
}

/// Greatest distance of a moving point from the hinge axis: no point is faster, without sag.
double greatest_radius(const SwingScene& s) {
    double greatest = 0.0;
    for (const Eigen::Vector3d& p : s.moving.points) {
        greatest = std::max(greatest, (p - s.motion.axis_point_mm).cross(s.motion.axis_direction).norm());
    }
    return greatest;
}

double even_step(const SwingScene& s) {
    return 2.0 * in_mm(full_swing().tolerance) / greatest_radius(s);
}

/// Nothing is nearer than `proven`; with a pair at hand for `attained`.
struct Near {
    double attained, proven;
};

/// The library's two bodies, with the pair of triangles that was nearest last.
class Bodies {
public:
    explicit Bodies(const SwingScene& s) : fixed_{s.fixed}, moving_{s.moving}, motion_{s.motion} {}

    /// The distance at an angle, or `nearer_than` if it is not below that.
    double at(double angle, double nearer_than) {
        const Eigen::Isometry3d place = pose(motion_, radians(angle));
        if (last_) {
            nearer_than = std::min(nearer_than, fcl_pair_distance(fixed_, moving_, place, *last_));
        }
        return look(place, nearer_than).distance_mm;
    }

    /// The distance at an angle, as far as it is above `floor`: only what is nearer than the last pair by a part of
    /// that is looked for, since the exact distance costs far more than it wins. Needs an earlier look.
    Near about(double angle, double floor) {
        const Eigen::Isometry3d place = pose(motion_, radians(angle));
        const double attained = fcl_pair_distance(fixed_, moving_, place, last_.value());
        const tests::FclNearest nearest = look(place, attained - k_may_miss_part * (attained - floor));
        return {nearest.pair ? nearest.distance_mm : attained, nearest.distance_mm};
    }

    /// The least of some poses over all of the swing.
    double coarse_best() {
        double best = k_unlimited;
        for (int i = 0; i < k_coarse_poses; ++i) {
            best = at(in_rad(full_swing().to) * i / (k_coarse_poses - 1), best);
        }
        return best;
    }

private:
    tests::FclNearest look(const Eigen::Isometry3d& place, double nearer_than) {
        tests::FclNearest nearest = fcl_distance(fixed_, moving_, place, nearer_than);
        last_ = nearest.pair ? nearest.pair : last_;
        return nearest;
    }

    tests::FclBody fixed_, moving_;
    geometry::HingeMotion motion_;
    std::optional<tests::FclPair> last_;
};

void by_even_steps(const SwingScene& s, Bodies& bodies, Library& library) {
    const double to = in_rad(full_swing().to);
    const int steps = static_cast<int>(std::ceil(to / even_step(s)));
    double best = bodies.coarse_best();
    const std::clock_t start = std::clock();
    int i = 0;
    for (; i <= steps && ms_since(start) < k_longest_ms; ++i) {
        best = bodies.at(to * i / steps, best);
    }
    library.even_mm = best;
    library.even_poses = i + k_coarse_poses;
    library.even_reached = radians(to * (i - 1) / steps);
    library.even_finished = i > steps;
}

/// From a distance d nothing comes nearer than best - tolerance within (d - best + tolerance) / r_max, and the next
/// pose answers for tolerance / r_max before itself.
void by_motion_bound(const SwingScene& s, Bodies& bodies, Library& library) {
    const double radius = greatest_radius(s);
    const double to = in_rad(full_swing().to);
    const double tolerance = in_mm(full_swing().tolerance);
    double best = bodies.coarse_best();
    int poses = k_coarse_poses;
    const std::clock_t start = std::clock();
    library.bound_finished = false;
    for (double angle = 0.0; ms_since(start) < k_longest_ms; angle = std::min(angle, to)) {
        const Near near = bodies.about(angle, best - 2.0 * tolerance);
        ++poses;
        best = std::min(best, near.attained);
        library.bound_reached = radians(angle);
        if (angle >= to) {
            library.bound_finished = true;
            break;
        }
        angle += (near.proven - best + 2.0 * tolerance) / radius;
    }
    library.bound_mm = best;
    library.bound_poses = poses;
}

}  // namespace

geometry::MotionQuestion full_swing() {
    return {degrees(0.0), degrees(70.0)};
}

const SwingScene& full_scene(std::string_view name) {
    static std::map<std::string, SwingScene, std::less<>> scenes;
    auto found = scenes.find(name);
    if (found == scenes.end()) {
        SwingScene scene = name == "clear"          ? tests::clear_scene()
                           : name == "glide"        ? tests::glide_scene()
                           : name == "level glide"  ? tests::level_glide_scene()
                           : name == "turned clear" ? turned(tests::clear_scene())
                                                    : turned(tests::glide_scene());
        found = scenes.emplace(std::string(name), std::move(scene)).first;
    }
    return found->second;
}

DistanceTree tree_of(const geometry::Mesh& mesh) {
    return std::move(DistanceTree::build(mesh)).value();
}

Edit local_edit(geometry::Mesh mesh) {
    constexpr double k_at = 800.0;
    constexpr double k_reach = 50.0;
    const auto moves = [](const Eigen::Vector3d& p) { return std::abs(p.x() - k_at) <= k_reach; };
    Edit edit;
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        const auto& t = mesh.triangles[i];
        if (std::any_of(t.begin(), t.end(), [&](auto k) { return moves(mesh.points[static_cast<std::size_t>(k)]); })) {
            edit.triangles.push_back(static_cast<std::int32_t>(i));
        }
    }
    for (Eigen::Vector3d& p : mesh.points) {
        if (moves(p)) {
            p.y() += 1.0;
        }
    }
    edit.mesh = std::move(mesh);
    return edit;
}

Ours measure_ours(const SwingScene& s) {
    constexpr int k_runs = 7;
    Ours ours;
    DistanceTree fixed = tree_of(s.fixed);
    DistanceTree moving = tree_of(s.moving);
    ours.build_ms = std::max(least_ms(k_runs, [&] { fixed = tree_of(s.fixed); }),
                             least_ms(k_runs, [&] { moving = tree_of(s.moving); }));
    ours.least_ms = least_ms(k_runs, [&] {
        const auto found = least_distance(fixed, moving, s.motion, full_swing());
        ours.least_mm = in_mm(found.value().least);
        ours.proven_mm = in_mm(found.value().proven);
    });
    const Edit edit = local_edit(s.fixed);
    ours.refit_ms = least_ms(k_runs, [&] { fixed.refit(edit.mesh, edit.triangles); });
    return ours;
}

Library measure_library(const SwingScene& s) {
    Library library;
    Bodies bodies(s);
    bodies.at(0.0, k_unlimited);  // Warm.
    library.even_ms = least_ms(1, [&] { by_even_steps(s, bodies, library); });
    library.bound_ms = least_ms(1, [&] { by_motion_bound(s, bodies, library); });
    return library;
}

Library extrapolate_library(const SwingScene& s) {
    Library library;
    Bodies bodies(s);
    library.even_mm = bodies.at(0.0, k_unlimited);
    const double few_ms = least_ms(1, [&] {
        for (int i = 0; i < k_few_poses; ++i) {
            library.even_mm = std::min(library.even_mm, bodies.at((i + 1) * even_step(s), library.even_mm));
        }
    });
    library.even_poses = in_rad(full_swing().to) / even_step(s);
    library.even_ms = few_ms / k_few_poses * library.even_poses;
    library.bound_ms = library.even_ms;
    library.bound_mm = library.even_mm;
    library.bound_poses = library.even_poses;
    library.bound_reached = full_swing().to;
    library.bound_finished = true;
    library.even_reached = full_swing().to;
    library.even_finished = true;
    return library;
}

}  // namespace sillwright::bench
