#pragma once

#include <Eigen/Core>
#include <span>
#include <vector>

#include "geometry/distance_tree.h"
#include "geometry/result.h"

namespace sillwright::geometry {

/// A motion that the surface hardly resists.
struct WeakMotion {
    Eigen::Vector3d direction = Eigen::Vector3d::Zero();  ///< Unit: of the slide, or of the axis of the turn.
    bool turn = false;
    /// How far it can go (of a turn, at the points' mean distance from their middle) until the misfit that it adds is
    /// as great as what is left now. Millimetres.
    double play_mm = 0.0;
    bool held = false;  ///< So weak that it was left as it was at the start.
};

/// Points moved rigidly to lie best on a surface: moved = rotation * p + shift.
struct MeshFit {
    Eigen::Matrix3d rotation = Eigen::Matrix3d::Identity();
    Eigen::Vector3d shift_mm = Eigen::Vector3d::Zero();
    double rms_mm = 0.0;  ///< Distance from the surface, of the points that count.
    double share = 0.0;   ///< Part of the points that count; the others are too far from it, or beside it.
    int steps = 0;
    bool converged = false;
    std::vector<WeakMotion> weak;
};

/// Moves points to a surface by turns of finding each one's nearest place there and taking out the distances along the
/// surface's normals.
///
/// Units and frame: millimetres; `rotation` and `shift_mm` are where it starts; it leads into the frame of the tree.
/// Method: points further than 3 robust standard deviations (by the median) of all, and those whose nearest place is
///   on a border or an edge, do not count. Motions with play of more than 100 times the misfit are held.
/// Accuracy: the last step moves no point by more than about 1e-4 mm, else `converged` is false. It finds the nearest
///   rest to the start, which need not be the best one.
/// Errors: invalid_argument for fewer than 12 points, or one that is not finite; does_not_fit if at some step fewer
///   than 12 points, or fewer than a tenth of them, lie beside the surface at all.
/// Source: Y. Chen, G. Medioni, Image and Vision Computing 10 (1992) 145, for the distances along normals (from
/// memory).
Result<MeshFit> fit_to_mesh(std::span<const Eigen::Vector3d> points_mm, const DistanceTree& surface,
                            const Eigen::Matrix3d& rotation, const Eigen::Vector3d& shift_mm);

/// A motion is called weak if its play is above this many times the misfit that is left.
constexpr double k_weak_play = 10.0;

}  // namespace sillwright::geometry
