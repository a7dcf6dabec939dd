#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "core/job.h"
#include "core/survey/solution.h"
#include "geometry/homography.h"
#include "geometry/units.h"

/// Photos of a job, straightened to the plane that they show.
///
/// Units and frame: pixels of the photo (right, down) and millimetres of the plane: (out, up) of a section,
///   (along, up) of the car's side.
/// Left out: what a lens bends. A straight edge that is not straight in the photo shows how much.
namespace sillwright::core::survey {

/// How near to a mark's middle a hand picks it. Common practice, no source.
constexpr double k_pick_sd_px = 2.0;
/// Beyond this the drawing shows that a photo is not to be traced. Common practice, no source.
constexpr geometry::Length k_trace_limit = geometry::millimetres(2.0);
/// A known point further than this from the plane is shifted in the photo as if it lay elsewhere in it. Common
/// practice, no source: a camera at 2 m and 30 degrees shifts it by 5 mm.
constexpr double k_off_plane_mm = 10.0;

/// One of a photo's known points.
struct RectifiedPoint {
    std::optional<Eigen::Vector2d> known_mm;     ///< Where it is; none if that is not known yet.
    double sd_mm = 0.0;                          ///< Of each of its coordinates.
    std::optional<Eigen::Vector2d> residual_mm;  ///< Where the straightened photo has it, less that.
    std::string lacks;                           ///< Why it is not known.
};

/// What became of a photo; one point of each of the photo's, in their order.
struct RectifiedPhoto {
    std::optional<geometry::Homography> map;  ///< From photo to plane.
    std::vector<RectifiedPoint> points;
    std::string lacks;                  ///< If there is no map: what to do.
    std::vector<std::string> cautions;  ///< Sentences on points that do not agree, or do not lie in the plane.
    double rms_mm = 0.0;                ///< Of the residuals' lengths; zero for four points, which nothing checks.

    /// How sure a place traced in the photo is: standard deviation along its worst direction, the hand included. It
    /// grows outside the points. None beyond the horizon.
    [[nodiscard]] std::optional<geometry::Length> sd_at(const Eigen::Vector2d& photo_px) const;
};

/// Units and frame: as above.
/// Never fails: what is missing is said in `lacks` and in the points.
RectifiedPhoto rectify(const Job& job, const Photo& photo, const Solution& solution);

}  // namespace sillwright::core::survey
