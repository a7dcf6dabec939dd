#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <string>
#include <vector>

#include "core/forming/formed_sheet.h"
#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/offset_law.h"
#include "geometry/result.h"
#include "geometry/units.h"
#include "geometry/varying_parallel.h"

namespace sillwright::core {

/// Of what a plug's surface is made besides the drawn piece.
struct PlugMaking {
    geometry::Angle tilt;  ///< Of the draw direction.
    double along_size = 1.0, across_size = 1.0;
    geometry::Length skin, allowance;  ///< The allowance at the part's size, as the forming has it.
};

/// A strip of a plug's section: a straight between two nodes, a node's rounding, or the wall beyond an end.
struct PlugStrip {
    std::string name;  ///< "shelf edge to bead", "shelf edge", "beyond flange end"
    bool rounding = false;
    std::size_t node = 0;             ///< The line's number of its node, or of the one before it.
    std::size_t first = 0, last = 0;  ///< Numbers of its points.
};

/// Into what points a section is divided; the same for sections near to each other.
struct PlugLayout {
    geometry::FaceLayout face;
    std::vector<PlugStrip> strips;
};

/// A point of the skin's inner surface in a plane across the car.
struct PlugPoint {
    Eigen::Vector2d at_mm;  ///< (side, height), height from the job's origin and not yet from the base.
    Eigen::Vector2d
        outer_mm;             ///< (side, height) of the point of the plug's surface that the skin's thickness leads to,
    double outer_x_mm = 0.0;  ///< and its x.
    Eigen::Vector2d outward;  ///< Unit, square to the section.
    double growth = 0.0;      ///< By how much the section grows square to itself, for each millimetre rearward.
};

/// The outer surface of a plug and, a skin's thickness square to it in space, the inner surface of its skin.
///
/// Units and frame: millimetres of the buck (buck_plan.h); height is measured from the job's origin. Sections run from
///   the top return end to the flange end, anticlockwise, with the plug on their left.
/// Surface: the part's mould face with its formed thickness, scaled along and across; beyond each end straight on by
/// the
///   allowance, along the draw direction where the end leans from it by more than k_lean_most at any section drawn.
/// Accuracy: of a point within 0.001 mm where the surface's bend along the car changes by no more than 1e-3 / mm within
///   a millimetre; at a run-out, where the surface may have an edge across, within the skin times the turn of that
///   edge.
/// Beyond the piece's ends it goes on by the bend that it has there.
class PlugSurface {
public:
    /// Precondition: the mould face's law is known; its address and the line's must outlive this.
    PlugSurface(const Piece& piece, const geometry::Loft& line, geometry::OffsetLaw mould_face,
                const PlugMaking& making);

    [[nodiscard]] double length_mm() const;
    [[nodiscard]] double x_mm(geometry::Length along) const;
    [[nodiscard]] geometry::Length along(double x_mm) const;

    /// How the section at x is divided: roundings into equal turns, straights at quarters and where the sheet's
    /// thickness bends; with `between`, at other places than these.
    /// Errors: does_not_fit as geometry::find_corners and check_room, led by nothing.
    [[nodiscard]] geometry::Result<PlugLayout> layout(double x_mm, bool between = false) const;

    /// The skin's inner surface in the plane at x, one point for each of the layout's, loops and all: where a rounding
    /// is smaller than the skin its points run backwards.
    /// Errors: as layout.
    [[nodiscard]] geometry::Result<std::vector<PlugPoint>> inner(double x_mm, const PlugLayout& layout) const;

private:
    struct Section {
        std::vector<Eigen::Vector2d> p_mm, outward;
    };

    [[nodiscard]] geometry::Status corners_at(geometry::Length along, std::vector<geometry::Corner>& corners,
                                              geometry::OffsetRow& offsets) const;
    [[nodiscard]] geometry::Status section(geometry::Length along, const PlugLayout& layout, Section& made) const;
    [[nodiscard]] Eigen::Vector2d turned(const Eigen::Vector2d& out_up) const;
    [[nodiscard]] double end_lean(bool first) const;

    const geometry::Loft* line_;
    geometry::OffsetLaw law_;
    PlugMaking making_;
    std::vector<double> marks_;
    std::size_t flange_root_ = 0;  ///< 0: the flange is formed as it is drawn.
    bool first_upright_ = false, last_upright_ = false;
};

}  // namespace sillwright::core
