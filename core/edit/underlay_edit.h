#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <string>
#include <vector>

#include "core/edit/edit.h"
#include "core/shape_files.h"
#include "core/survey/underlay.h"
#include "geometry/profile_thinning.h"
#include "geometry/units.h"

/// Changes of what lies under the drawings: photos, scans, and sections drawn from a scan.
/// Errors of all: as checked_edit, and invalid_argument where there is no such photo, scan, point or mark.
namespace sillwright::core {

/// A photo whose file was put beside the job; its name is the next of "photo 1", "photo 2", ...
geometry::Result<Edit> add_photo(const Job& job, const BroughtFile& file, survey::PhotoPlane plane,
                                 const std::string& station);
/// The file stays where it is.
geometry::Result<Edit> delete_photo(const Job& job, const std::string& photo);
/// `station` of an elevation is not used.
geometry::Result<Edit> set_photo_plane(const Job& job, const std::string& photo, survey::PhotoPlane plane,
                                       const std::string& station);
/// A place picked in the photo, behind those that are there; what it is comes after.
geometry::Result<Edit> pick_photo_point(const Job& job, const std::string& photo, const Eigen::Vector2d& at_px);
geometry::Result<Edit> move_photo_point(const Job& job, const std::string& photo, std::size_t point,
                                        const Eigen::Vector2d& to_px);
/// That it is a point of the measuring book; an empty name takes that back.
geometry::Result<Edit> name_photo_point(const Job& job, const std::string& photo, std::size_t point,
                                        const std::string& book_point);
enum class PhotoNumber { across, up };
/// One of its two numbers as a person typed it; an empty text is not measured. Errors: also as typed_entry.
geometry::Result<Edit> type_photo_point(const Job& job, const std::string& photo, std::size_t point, PhotoNumber which,
                                        const std::string& typed);
geometry::Result<Edit> delete_photo_point(const Job& job, const std::string& photo, std::size_t point);

/// A scan whose file was put beside the job; its name is the next of "scan 1", "scan 2", ...
geometry::Result<Edit> add_scan(const Job& job, const BroughtFile& file, BareUnit unit);
geometry::Result<Edit> delete_scan(const Job& job, const std::string& scan);
/// What the numbers of its file mean. Marks keep their numbers.
geometry::Result<Edit> set_scan_unit(const Job& job, const std::string& scan, BareUnit unit);
/// Where a point of the book is on the scan, in its own frame and unit; in the place of an earlier one.
geometry::Result<Edit> mark_scan(const Job& job, const std::string& scan, const std::string& book_point,
                                 const Eigen::Vector3d& at);
geometry::Result<Edit> delete_scan_mark(const Job& job, const std::string& scan, const std::string& book_point);
/// Whether it is moved to the body as drawn.
geometry::Result<Edit> fit_scan(const Job& job, const std::string& scan, bool fitted);
/// Errors: also as typed_entry; an empty text is the usual one.
geometry::Result<Edit> type_scan_deviation(const Job& job, const std::string& scan, const std::string& typed);

/// What a scan says of the body at a station.
struct ScanProfile {
    std::string station;
    geometry::PlaneLine line_mm;  ///< (out, up), in the order of the body's sections.
};

/// The body's sections at some stations drawn from a scan, thinned so that no point of its cut is further than `most`
/// from the straights. What the step is called says the deviation that was reached.
///
/// If no other section of the body stays, nodes are named p1, p2, ... and divide all profiles at corresponding places.
/// Else each new section has the nodes of the nearest section that stays, each where the scan is nearest to it in
/// their order, and as many more (p1, p2, ...) as the deviation asks for; the sections that stay get those on their
/// own line, so that their shape stays. What the scan has beyond the first and the last node is left out.
/// `replace`: whether sections that are drawn at those stations may be replaced; else they are an error.
/// Errors: also for no profile, a deviation that is not above zero, a deviation so small that it takes more than
///   k_most_scan_nodes, and as checked_drawing.
geometry::Result<Edit> draw_from_scan(const Job& job, const std::vector<ScanProfile>& profiles, geometry::Length most,
                                      bool replace);

/// A section of more nodes could not be worked on by hand. Common practice, no source.
constexpr std::size_t k_most_scan_nodes = 100;

}  // namespace sillwright::core
