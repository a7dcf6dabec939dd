#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <vector>

#include "core/job.h"
#include "core/skirt/flange_face.h"

namespace sillwright::core {

/// What bounds the flat of a flange at a mount.
enum class FlangeBound { free_edge, bend, front_end, rear_end };

/// Distance from a place on the flange to one of its bounds: negative beyond it.
struct ToBound {
    FlangeBound bound = FlangeBound::free_edge;
    double distance_mm = 0.0;
    Eigen::Vector3d away = Eigen::Vector3d::Zero();  ///< Unit direction in which the distance grows.
};

/// Where a mount's axis meets the flange's inside face (or the face carried on
/// beyond its bounds).
///
/// Units and frame: millimetres, (along, out, up). Distances are straight, in
///   space; those to the piece's ends along the car.
/// Accuracy: the place to 1e-9 mm; distances to the edges to 1e-9 mm, found within
///   `k_edge_search_mm` along the car.
struct Landing {
    Eigen::Vector3d p_mm;
    Eigen::Vector3d normal;           ///< Of the face, towards the car.
    double down_axis_mm = 0.0;        ///< From the mount's centre along its axis.
    ToBound free_edge, bend;          ///< Of the hole's centre.
    ToBound front_end, rear_end;      ///< Likewise.
    std::vector<ToBound> hole_edges;  ///< To the free edge and the ends: of the hole's centre (moved by its
                                      ///< shift), then of a slot's two ends.
    std::vector<ToBound> hole_bends;  ///< To the bend, likewise.
    std::optional<Eigen::Matrix3d> covariance_mm2;  ///< Of the mount's place; none if not measured.

    /// The four bounds of the hole's centre.
    [[nodiscard]] std::vector<ToBound> bounds() const;
};

/// Covariance of a mount's place by its three deviations, which it takes as independent; none if one is not given.
std::optional<Eigen::Matrix3d> typed_covariance_mm2(const Mount& mount);

/// The covariance is the typed one.
/// No value if the axis does not meet the face between `k_look_back_mm` inside the
/// body and `k_look_ahead_mm` away from it, from the car's side.
std::optional<Landing> landing(const Mount& mount, const FlangeFace& face);

constexpr double k_look_back_mm = 60.0;
constexpr double k_look_ahead_mm = 300.0;
constexpr double k_edge_search_mm = 100.0;

/// Half the length of a mount's slot in the part, from its centre to the centre of
/// its rounded end; zero for a round hole.
double slot_half_mm(const Mount& mount);

/// Standard deviation of where the axis lands, in a direction on the face: the
/// mount's own, carried along its axis onto the face. No value if it is not measured.
std::optional<double> landing_sd_mm(const Mount& mount, const Landing& landing, const Eigen::Vector3d& direction);

/// Standard deviation of the distance to the face along the axis.
std::optional<double> gap_sd_mm(const Mount& mount, const Landing& landing);

}  // namespace sillwright::core
