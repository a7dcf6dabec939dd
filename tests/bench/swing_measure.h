#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "geometry/motion_distance.h"
#include "tests/support/swing_scenes.h"

namespace sillwright::bench {

/// The question that every scene is asked: 70 degrees, to 0.01 mm.
geometry::MotionQuestion full_swing();

/// "clear", "glide" or "level glide" at full size; "turned clear" and "turned glide" the same with all of the
/// scene turned and moved as one, so that nothing lies along the frame's axes.
const tests::SwingScene& full_scene(std::string_view name);

geometry::DistanceTree tree_of(const geometry::Mesh& mesh);

/// A mesh of which the points within 50 mm of x = 800 are moved out by 1 mm, and the triangles that they touch.
struct Edit {
    geometry::Mesh mesh;
    std::vector<std::int32_t> triangles;
};
Edit local_edit(geometry::Mesh mesh);

/// Our own times, and the answer. Milliseconds, millimetres.
struct Ours {
    double build_ms = 0.0;  ///< The slower of the two trees.
    double refit_ms = 0.0;
    double least_ms = 0.0;
    double least_mm = 0.0, proven_mm = 0.0;
};
Ours measure_ours(const tests::SwingScene& scene);

/// The Flexible Collision Library's times for the same answer.
///
/// even: steps so fine that between two of them nothing comes nearer by the tolerance.
/// bound: steps as long as the distance and the best so far allow.
/// Both are told the best so far, from some coarse poses at first, and the distance of the last nearest triangles
/// where they are now: only what is nearer is looked for. Both are given up after some seconds.
struct Library {
    double even_ms = 0.0, bound_ms = 0.0;
    double even_mm = 0.0, bound_mm = 0.0;
    double even_poses = 0.0, bound_poses = 0.0;
    geometry::Angle even_reached, bound_reached;  ///< Of the 70 degrees.
    bool even_finished = false, bound_finished = false;
};
Library measure_library(const tests::SwingScene& scene);

/// The same from a few poses, for a scene in which the distance is the least at every pose: there both ways take
/// the same steps, and every pose costs alike.
Library extrapolate_library(const tests::SwingScene& scene);

}  // namespace sillwright::bench
