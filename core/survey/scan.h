#pragma once

#include <Eigen/Core>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "core/job.h"
#include "core/survey/solution.h"
#include "geometry/loft.h"
#include "geometry/mesh.h"
#include "geometry/mesh_fit.h"
#include "geometry/profile_thinning.h"
#include "geometry/result.h"
#include "geometry/units.h"

/// Scans of a job: meshes of the real sill, placed in the job and cut at its stations.
///
/// Units and frame: millimetres; a scan in its own frame is right-handed, as all solid things are; placed it is in the
///   job's (along, out, up), on the left side of the car by way of the mirror (core/sill_frame.h).
namespace sillwright::core::survey {

/// Largest that a thinned profile may leave the cut by, if the scan does not say. Common practice, no source.
constexpr geometry::Length k_scan_deviation = geometry::millimetres(0.2);
/// A mark further than this from where the others put it is named. Common practice, no source.
constexpr double k_mark_limit_mm = 2.0;

/// The mesh of a scan, in its own frame.
/// Errors: unreadable_file, as read_mesh, and where the file is other than the checksum in the job says.
geometry::Result<geometry::Mesh> read_scan(const Scan& scan, const std::filesystem::path& folder);

/// A mark after placing; one of each of the scan's, in their order.
struct PlacedMark {
    std::optional<Eigen::Vector3d> residual_mm;  ///< Where the placed scan has it, less the book's place.
    std::string lacks;                           ///< Why it takes no part.
};

struct PlacedScan {
    std::optional<geometry::Mesh> mesh;  ///< In the job's frame; none if it cannot be placed.
    std::vector<PlacedMark> marks;
    double rms_mm = 0.0;                   ///< Of the marks' residuals before any fit.
    std::optional<geometry::MeshFit> fit;  ///< If it was moved to the body as drawn.
    std::string how;                       ///< "by 4 marks, 0.8 mm rms", with the fit's figures if it was fitted.
    std::string lacks;                     ///< If it is not placed: what to do.
    std::vector<std::string> cautions;     ///< Sentences: unit, marks that do not agree, what the fit cannot tell.
};

/// Places `mesh` by the marks of `scan`, then, if it is to be fitted, by the body as drawn (null: there is none).
/// Without three marks a fit begins with the scan as it lies in its file, and with its longest extent along the body's.
/// Never fails: what is missing is said.
PlacedScan place_scan(const Job& job, const Scan& scan, const geometry::Mesh& mesh, const Solution& solution,
                      const geometry::Loft* body);

/// The cut of a placed scan across the car.
struct ScanCut {
    std::vector<geometry::PlaneLine> lines;  ///< (out, up), the longest first, each from its top inner end outward and
                                             ///< down; a closed one ends where it begins.
    std::string lacks;                       ///< If there is none: in words.
    std::string caution;                     ///< Where it is in pieces.
};
/// One for each place, in their order; one pass over the mesh.
std::vector<ScanCut> cut_scan(const geometry::Mesh& placed, const std::vector<geometry::Length>& along);

/// "its numbers look like inches" where a scan that should be `true_mm` large is `scan_mm` in `unit`; empty if the two
/// agree within `tolerance` (of the ratio), or no unit would explain it.
std::string suspected_unit(double true_mm, double scan_mm, BareUnit unit, double tolerance);

}  // namespace sillwright::core::survey
