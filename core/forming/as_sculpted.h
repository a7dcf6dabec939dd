#pragma once

#include <Eigen/Core>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "core/finding.h"
#include "core/forming/mould_chain.h"
#include "core/job.h"
#include "core/survey/solution.h"
#include "geometry/loft.h"
#include "geometry/mesh.h"
#include "geometry/result.h"
#include "geometry/units.h"

/// The prototype as it came from the bench, brought to the part's size, beside the drawn skirt.
///
/// Units and frame: millimetres, (out, up) in the job's frame. Size: what was measured on the plug times the chain's
///   ratio across, about the job's origin; stations are marked on the plug where the buck's ribs stand, at the part's
///   place over the ratio along. The plug's face is that of the last mould: the part's inside on a male one, its
///   outside, bare, on a female one; the drawn line is moved there by the sheet, taken to be as thick as before it is
///   formed.
namespace sillwright::core {

/// A place of the prototype beside the drawn mould face, both at the finished part's size.
struct SculptedPoint {
    Eigen::Vector2d at_mm, drawn_mm;  ///< (out, up)
    geometry::Length proud;           ///< Of the drawn face, outward: cut there; negative: add.
    std::string strip;                ///< "shelf edge to bead", "bead" for a rounding.
};

struct SculptedStation {
    std::string station;
    geometry::Length along;
    std::vector<SculptedPoint> points;
};

struct AsSculpted {
    std::vector<SculptedStation> stations;  ///< With a point each at least.
    geometry::Length sd;                    ///< Of a point; nothing if it is missing.
    std::vector<std::string> missing;
};

/// A scan of the prototype in the job's frame, at the part's size.
struct SculptedScan {
    geometry::Mesh mesh;
    std::optional<geometry::Length> sd;  ///< By its marks' residuals; none where three marks fit exactly.
};

/// The scan that the job names, placed by its marks: these stand on the prototype where the book has them on the car,
/// once it is brought to the part's size. It is never fitted to anything drawn, which would hide what is asked here.
/// Errors: unreadable_file as read_scan; does_not_fit where it is not placed, or the chain is not known: in words.
/// Precondition: the job names one.
geometry::Result<SculptedScan> sculpted_scan(const Job& job, const std::filesystem::path& folder,
                                             const survey::Solution& solution, const std::vector<ChainStep>& chain);

/// Every gauge point (or point of the scan's cuts at the piece's stations) beside the drawn mould face: proud = signed
/// distance from the drawn line, outward, less the face's offset from it. Exact where the foot is on a straight or an
/// arc that is left at that offset.
///
/// Left out: points beyond the line's ends (the mould goes on there), in flutes and recesses (they are routed after),
///   nearer to another drawn piece, and of a scan those further than `k_scan_reach` from the face. With neither lines
///   nor a scan there are no stations, and nothing is missing.
/// Missing: chain, mould, sheet, the standard deviation of a point; the scan while it is not given.
AsSculpted as_sculpted(const Job& job, const Piece& piece, const geometry::Loft& line,
                       const std::vector<ChainStep>& chain, const SculptedScan* scan = nullptr);

/// The job with its skirt drawn anew through the measured places: what all checks are run on if it says so; the job as
/// it is if it does not.
///
/// At each measured station every straight between two nodes is laid through its points by least squares (square
/// distances); nodes go where neighbouring straights meet, roundings stay. Points on roundings decide nothing. A
/// straight whose points do not fix its direction to `k_direction_sure` keeps it and is shifted; one without points
/// stays. Ends are moved square to their straight. Where two straights turn by less than `k_flat_corner` the node is
/// moved square to them. Errors: does_not_fit where no section can be put through them, led by the station; where
/// something is missing (see
///   as_sculpted), or a piece that spans a measured station has no section there.
geometry::Result<Job> sculpted_job(const Job& job, const SculptedScan* scan = nullptr);

/// `forming/<piece>/sculpted`, if anything was measured: the greatest |proud| is at most 2 sqrt(sd² + forming_sd²). It
/// says where to cut and to add; its mend draws the sections as they were sculpted.
std::vector<Finding> sculpted_findings(const Job& job, const Piece& piece, const AsSculpted& sculpted, Mends mends,
                                       const SculptedScan* scan = nullptr);

/// Further from the drawn face than any bench error, nearer than the table under it. Common practice, no source.
constexpr geometry::Length k_scan_reach = geometry::millimetres(20.0);
/// A straight's direction is taken from its points if they fix it to this standard deviation: 1 mm over 40.
constexpr geometry::Angle k_direction_sure = geometry::degrees(1.5);
/// The crossing of straights that turn by less is moved along them by more than forty times a point's error.
constexpr geometry::Angle k_flat_corner = geometry::degrees(1.4);

}  // namespace sillwright::core
