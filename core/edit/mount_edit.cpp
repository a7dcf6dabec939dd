#include "core/edit/mount_edit.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <utility>

#include "core/edit/new_names.h"
#include "core/typed.h"

namespace sillwright::core {

using geometry::Error;
using geometry::ErrorCode;
using geometry::millimetres;
using geometry::Result;

namespace {

/// A direction shorter than this has no sure sense; as the job file takes it.
constexpr double k_least_direction = 1e-9;

template <class Thing>
std::optional<std::size_t> find(const std::vector<Thing>& things, const std::string& name) {
    const auto found = std::find_if(things.begin(), things.end(), [&](const Thing& one) { return one.name == name; });
    if (found == things.end()) {
        return std::nullopt;
    }
    return static_cast<std::size_t>(found - things.begin());
}

Error no_such(const std::string& what, const std::string& name) {
    return {ErrorCode::invalid_argument, "There is no " + what + " \"" + name + "\" in this job."};
}

void put(Position& position, const Eigen::Vector3d& at_mm) {
    position.along = entry(millimetres(at_mm.x()));
    position.out = entry(millimetres(at_mm.y()));
    position.up = entry(millimetres(at_mm.z()));
}

/// The mount that is nearest along the car, its name, place and unknown fields left out; a bare one if there is none.
Mount like_nearest(const Job& job, double along_mm) {
    const auto off = [&](const Mount& mount) { return std::abs(geometry::in_mm(mount.at.along.value) - along_mm); };
    const auto nearest = std::min_element(job.mounts.begin(), job.mounts.end(),
                                          [&](const Mount& a, const Mount& b) { return off(a) < off(b); });
    Mount mount;
    if (nearest != job.mounts.end()) {
        mount = *nearest;
        mount.unknown = {};
        mount.fastener.unknown = {};
        mount.at = {};
    }
    return mount;
}

}  // namespace

Result<Edit> place_mount(const Job& job, const Eigen::Vector3d& at_mm, const Direction& axis) {
    if (!axis.allFinite() || !(axis.norm() > k_least_direction)) {
        return Error{ErrorCode::invalid_argument,
                     "The mount's axis has no length. Give a direction away from the body, such as 0 0 -1 for down."};
    }
    std::set<std::string> taken;
    for (const Mount& mount : job.mounts) {
        taken.insert(mount.name);
    }
    Mount mount = like_nearest(job, at_mm.x());
    mount.name = next_name(taken, "H");
    mount.axis = axis.normalized();
    put(mount.at, at_mm);
    Job placed = job;
    placed.mounts.push_back(mount);
    return checked_edit(std::move(placed), "place mount " + mount.name);
}

Result<Edit> move_mount(const Job& job, const std::string& mount, const Eigen::Vector3d& to_mm) {
    const auto index = find(job.mounts, mount);
    if (!index) {
        return no_such("mount", mount);
    }
    Job moved = job;
    put(moved.mounts[*index].at, to_mm);
    return checked_edit(std::move(moved), "move mount " + mount);
}

Result<Edit> shift_part_hole(const Job& job, const std::string& mount, geometry::Length shift) {
    const auto index = find(job.mounts, mount);
    if (!index) {
        return no_such("mount", mount);
    }
    Job moved = job;
    moved.mounts[*index].part_shift = entry(shift);
    return checked_edit(std::move(moved), "move the hole for " + mount);
}

Result<Edit> make_part_hole(const Job& job, const std::string& mount, const PartHole& hole) {
    const auto index = find(job.mounts, mount);
    if (!index) {
        return no_such("mount", mount);
    }
    Job made = job;
    Mount& one = made.mounts[*index];
    one.part_hole = entry(hole.width);
    one.part_slot = hole.length > hole.width ? std::optional(entry(hole.length)) : std::nullopt;
    one.part_shift = hole.shift == geometry::Length{} ? std::nullopt : std::optional(entry(hole.shift));
    return checked_edit(std::move(made), "make the hole for " + mount);
}

Result<Edit> delete_mount(const Job& job, const std::string& mount) {
    const auto index = find(job.mounts, mount);
    if (!index) {
        return no_such("mount", mount);
    }
    Job left = job;
    left.mounts.erase(left.mounts.begin() + static_cast<std::ptrdiff_t>(*index));
    return checked_edit(std::move(left), "delete mount " + mount);
}

Result<Edit> delete_keep_out(const Job& job, const std::string& keep_out) {
    const auto index = find(job.keep_outs, keep_out);
    if (!index) {
        return no_such("keep-out", keep_out);
    }
    Job left = job;
    left.keep_outs.erase(left.keep_outs.begin() + static_cast<std::ptrdiff_t>(*index));
    return checked_edit(std::move(left), "delete keep-out " + keep_out);
}

}  // namespace sillwright::core
