#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/car_model.h"
#include "core/finding.h"
#include "core/job.h"
#include "geometry/units.h"

/// The box in which a piece is sent.
namespace sillwright::core {

/// A piece of foam: length, width and thickness, and how many.
struct FoamPiece {
    std::string where;  ///< "below and above"
    int count = 2;
    geometry::Length length, width, thickness;
};

/// Length is along the part, width and height across it.
struct BoxSize {
    geometry::Length length, width, height;
};

/// How one piece is packed: alone, foam all round, in a box of the least girth.
///
/// Turned: the part about its length, as a section is drawn with out to the right, anticlockwise, -90 to 90 degrees; of
///   all turns the one whose box has the least sum of width and height, its width no less than its height. Exact for
///   the mesh: of all rectangles about a figure the one of least girth has a side on an edge of its hull.
/// Source: H. Freeman, R. Shapira, Comm. ACM 18 (1975) 409, of least area; the same of the girth, as between two edges
/// it
///   is a sum of sines and has no minimum (from memory).
struct Packing {
    std::size_t piece = 0;
    geometry::Angle turned;
    BoxSize part, inner, outer;
    geometry::Length longest;           ///< Of the outer box's three.
    geometry::Length length_and_girth;  ///< The longest and twice the sum of the two others.
    double volumetric_kg = 0.0;         ///< Outer volume in cm³ by k_volumetric_divisor.
    std::optional<double> part_kg;      ///< Volume as formed by density; none without a density.
    std::vector<FoamPiece> foam;        ///< Fills the inner box all round the part's own box.
};

/// Of each piece that has a body, in their order.
std::vector<Packing> packing(const Job& job, const CarModel& car);

/// `handover/<piece>/box`: longest side and girth together, and `handover/<piece>/box length`: the longest side, each
/// against what the carrier takes. None where that is not in the job: carriers differ.
///
/// Mends: thinner foam, down to `k_foam_least`, packed again with it.
std::vector<Finding> packing_findings(const Job& job, const CarModel& car, const std::vector<Packing>& packed);

/// Cubic centimetres that count as a kilogram: common practice of carriers, no source.
constexpr double k_volumetric_divisor = 5000.0;
/// Thinner foam does not save a corner: common practice, no source.
constexpr geometry::Length k_foam_least = geometry::millimetres(20.0);

}  // namespace sillwright::core
