#pragma once

#include <Eigen/Core>
#include <span>
#include <vector>

#include "geometry/result.h"
#include "geometry/units.h"

namespace sillwright::geometry {

/// Where a point of a body on a hinge was seen when the body stood in one of several positions.
struct Sighting {
    int point = 0;     ///< From 0, none left out.
    int position = 0;  ///< From 0, none left out.
    Eigen::Vector3d at_mm = Eigen::Vector3d::Zero();
};

/// A fixed axis about which all sightings are turns of the same points, by angles that nobody measured.
struct HingeFit {
    Eigen::Vector3d middle_mm = Eigen::Vector3d::Zero();  ///< On the axis, nearest to the middle of the sightings.
    Eigen::Vector3d direction = Eigen::Vector3d::UnitZ();
    std::vector<Angle> angles;  ///< Of each position from position 0; right-hand rule.
    std::vector<Angle> angle_sds;
    std::vector<Eigen::Vector3d> points_mm;  ///< Fitted places in position 0.

    std::vector<Eigen::Vector3d> residuals_mm;  ///< Of each sighting: fitted minus seen.
    /// Of each sighting, the largest of its three numbers: a blunder in it alone, over the sd at which it would show.
    /// Zero where nothing checks them.
    std::vector<double> w;
    double sum_of_squares = 0.0;
    int degrees_of_freedom = 0;

    /// Of the axis: shifts of its middle across it (mm), then slopes of its direction, both along `across`.
    Eigen::Matrix4d covariance = Eigen::Matrix4d::Zero();
    Eigen::Matrix<double, 3, 2> across = Eigen::Matrix<double, 3, 2>::Zero();

    /// The place on the axis that far from the middle.
    [[nodiscard]] Eigen::Vector3d place_mm(double along_mm) const { return middle_mm + along_mm * direction; }
    /// Covariance of two such places (mm², first then second); none along the axis, as they are chosen there.
    [[nodiscard]] Eigen::Matrix<double, 6, 6> covariance_of_places_mm2(double first_mm, double second_mm) const;
};

/// Least squares of all sightings with their joint covariance (three rows and columns a sighting): unknown are the
/// axis, the angles and the points.
///
/// Units and frame: millimetres in one Cartesian frame. The direction's sense is such that it points up rather than
///   down (or, of a level axis, along its largest coordinate): the caller may turn it round with `turned_round`.
/// Shape: enough sightings that 3 n >= 4 + (positions - 1) + 3 points; a point's sightings in three positions, or two
///   points in two, are the least.
/// Accuracy: the covariance is first order, good while the axis' sd is small against the points' distance from it.
/// Errors: invalid_argument for too few sightings, an index that is left out, a covariance that has no root;
///   does_not_fit if the points do not turn (all sightings alike) or leave the axis free.
/// Source: the observations' joint adjustment as in geometry/least_squares.h, with w of correlated observations by
///   W. Baarda, 1968 (from memory); first centre by I. Kasa, IEEE Trans. Instrum. Meas. 25 (1976) 8 (from memory).
Result<HingeFit> fit_hinge(std::span<const Sighting> sightings, const Eigen::MatrixXd& covariance_mm2);

/// The same axis with its direction and all angles the other way.
HingeFit turned_round(HingeFit fit);

}  // namespace sillwright::geometry
