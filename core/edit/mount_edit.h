#pragma once

#include <Eigen/Core>
#include <string>

#include "core/edit/edit.h"
#include "geometry/units.h"

/// Changes of mounts and keep-outs. Places are (along, out, up).
namespace sillwright::core {

/// A hole in the flange as it is to be cut; round if it is as long as it is wide.
struct PartHole {
    geometry::Length length, width, shift;
};

/// A mount at a place, its axis away from the body. Its name is free ("H9"); it is like
/// the mount that is nearest along the car (kind, shape, sizes, fastener, standard deviations), or
/// a round hole of which nothing more is known if it is the first.
geometry::Result<Edit> place_mount(const Job& job, const Eigen::Vector3d& at_mm, const Direction& axis);
/// Errors: invalid_argument if there is no such mount.
geometry::Result<Edit> move_mount(const Job& job, const std::string& mount, const Eigen::Vector3d& to_mm);
/// The part's hole for a mount put so far rearward of where its axis lands. Errors: invalid_argument as move_mount.
geometry::Result<Edit> shift_part_hole(const Job& job, const std::string& mount, geometry::Length shift);
/// The part's hole for a mount made anew: width (or diameter), length over all and shift. Errors: as shift_part_hole.
geometry::Result<Edit> make_part_hole(const Job& job, const std::string& mount, const PartHole& hole);
geometry::Result<Edit> delete_mount(const Job& job, const std::string& mount);
geometry::Result<Edit> delete_keep_out(const Job& job, const std::string& keep_out);

}  // namespace sillwright::core
