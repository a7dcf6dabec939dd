#pragma once

#include <Eigen/Core>
#include <string>

#include "core/edit/edit.h"

/// Changes of mounts and keep-outs. Places are (along, out, up).
namespace sillwright::core {

/// A mount at a place, its axis away from the body. Its name is free ("H9"); it is like
/// the mount that is nearest along the car (kind, shape, sizes, fastener, standard deviations), or
/// a round hole of which nothing more is known if it is the first.
geometry::Result<Edit> place_mount(const Job& job, const Eigen::Vector3d& at_mm, const Direction& axis);
/// Errors: invalid_argument if there is no such mount.
geometry::Result<Edit> move_mount(const Job& job, const std::string& mount, const Eigen::Vector3d& to_mm);
geometry::Result<Edit> delete_mount(const Job& job, const std::string& mount);
geometry::Result<Edit> delete_keep_out(const Job& job, const std::string& keep_out);

}  // namespace sillwright::core
