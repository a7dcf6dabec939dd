#pragma once

#include <Eigen/Geometry>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "core/buck/cut_part.h"
#include "core/finding.h"
#include "core/job.h"
#include "geometry/motion_distance.h"
#include "geometry/result.h"

namespace sillwright::core {

/// A part on a sheet: turned by `turned`, then moved.
struct PlacedPart {
    std::size_t part = 0;  ///< Number in the list of cut parts.
    geometry::Angle turned;
    Eigen::Vector2d moved_mm = Eigen::Vector2d::Zero();

    [[nodiscard]] Eigen::Vector2d on_sheet_mm(const Eigen::Vector2d& on_part_mm) const;
};

/// One sheet with its parts. Frame: millimetres, its length to the right, its width up, from its lower left corner.
struct NestedSheet {
    std::string board;
    std::size_t number = 0;  ///< Of this board's sheets, from 1.
    std::vector<PlacedPart> parts;
    Eigen::Vector2d used_mm = Eigen::Vector2d::Zero();  ///< Upper right corner of the box from the lower left corner
                                                        ///< that holds all parts.
    double parts_area_mm2 = 0.0;
    Eigen::Vector2d left_mm = Eigen::Vector2d::Zero();  ///< Size of the largest off-cut beside that box, to keep.
};

struct Nesting {
    std::vector<NestedSheet> sheets;
    std::vector<std::size_t> left_out;  ///< Parts that no board takes, or for which there are too few.
    std::size_t least_sheets = 0;       ///< No nest of these parts can need fewer, by area.
    std::size_t tries = 0;              ///< That were computed; the best stands.
    double gap_mm = 0.0;
};

/// Lays all parts on the job's boards: those of which there is a number first (off-cuts), then the others.
///
/// Which board: a part's own, and before it boards of which there is a number and whose thickness, as measured, is
///   within k_same_thickness of it.
/// Method: geometry::nest, for each group of parts that share boards, with k_nesting_seed; the same job gives the same
///   nest. `better` is called with the first nest of all parts and each better one; a stop leaves the best.
/// Better: fewer left out, then fewer sheets of which there is no number, then fewer sheets, then less area of the
/// boxes
///   used, of all sheets together.
/// Shape: parts keep `margin` from edges and defects and the gap from one another, measured to their cut outlines;
///   a board with grain turns parts by half a turn only. A part lies on a board without its size nowhere.
/// Accuracy: arcs are taken as chords within k_nesting_chord, which is kept beside gap and margin.
/// Errors: stopped before there was a first; as geometry::nest for an outline, led by the part.
geometry::Result<Nesting> nesting(const Job& job, const std::vector<CutPart>& parts, const geometry::Watch& watch = {},
                                  const std::function<void(const Nesting&)>& better = {});

/// Between parts: the job's; else the bit and k_gap_beside_bit; no value while the bit is not known. A nest is then
/// made with k_assumed_gap, and board_findings says so.
std::optional<geometry::Length> nesting_gap(const Job& job);

/// Parts that no board takes, with the cure; sheets used beside the bound; boards whose size or thickness is missing.
std::vector<Finding> nesting_findings(const Job& job, const std::vector<CutPart>& parts, const Nesting& nesting);
/// What can be said without a nest: parts that fit no board, what is not known of the boards or the gap. None while the
/// job has no board.
std::vector<Finding> board_findings(const Job& job, const std::vector<CutPart>& parts);

/// What is left between two parts that a bit's width has gone between. Common practice, no source.
constexpr geometry::Length k_gap_beside_bit = geometry::millimetres(2.0);
/// For a bit of 6 mm, which most boards are cut with. Common practice, no source.
constexpr geometry::Length k_assumed_gap = geometry::millimetres(8.0);
/// Boards that differ by no more are of one thickness: a slot's fit still takes both. Common practice, no source.
constexpr geometry::Length k_same_thickness = geometry::millimetres(0.2);
constexpr geometry::Length k_nesting_chord = geometry::millimetres(0.02);
constexpr unsigned k_nesting_seed = 1;

}  // namespace sillwright::core
