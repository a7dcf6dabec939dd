#pragma once

#include <Eigen/Geometry>
#include <string>

#include "app/drawings/section_picture.h"
#include "core/job.h"
#include "geometry/loft.h"
#include "geometry/mesh.h"
#include "geometry/profile.h"
#include "geometry/result.h"
#include "geometry/units.h"

/// What a section picture is put together from. Lines and arcs become polylines within
/// `k_chord_tolerance`.
namespace sillwright::app {

/// Less than a pixel at any scale that a section is drawn at.
constexpr geometry::Length k_chord_tolerance = geometry::millimetres(0.02);
/// Nearer than this a thing is said to be in the section.
constexpr geometry::Length k_in_section = geometry::millimetres(0.5);

/// How a line is drawn and what is pointed at with it.
struct Stroke {
    SectionRole role = SectionRole::body;
    std::string name{};
    Item item{};
};

/// Errors: as geometry::polyline.
geometry::Status add_profile(SectionPicture& picture, const geometry::Profile& profile, const Stroke& stroke);

/// The cut at `along` of a mesh that stands at `pose`.
void add_cut(SectionPicture& picture, const geometry::Mesh& mesh, geometry::Length along, const Eigen::Isometry3d& pose,
             const Stroke& stroke);

/// A keep-out's box, if it reaches to `along`.
void add_keep_out(SectionPicture& picture, const core::KeepOut& keep_out, geometry::Length along);

bool reaches(const geometry::Loft& loft, geometry::Length along);

}  // namespace sillwright::app
