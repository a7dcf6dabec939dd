#include "app/link/section_mounts.h"

#include <algorithm>
#include <cmath>

#include "app/length_words.h"
#include "app/link/section_strokes.h"
#include "core/sill_frame.h"

namespace sillwright::app {

using core::Mount;
using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::in_mm;
using geometry::Length;

namespace {

/// A mount further off than this says nothing about the section.
constexpr Length k_mount_reach = geometry::millimetres(25.0);
constexpr double k_axis_behind_mm = 12.0;
constexpr double k_axis_ahead_mm = 28.0;

/// ", 12 mm beyond" for a mount behind the section as it is looked at, "this side" before it.
std::string how_far(const core::Job& job, Length rearward) {
    if (std::abs(in_mm(rearward)) <= in_mm(k_in_section)) {
        return "";
    }
    const bool looking_forward = job.side == core::Side::right;
    const bool beyond = looking_forward == (rearward < Length{});
    const Length whole = geometry::millimetres(std::round(std::abs(in_mm(rearward))));
    const Length shown = job.unit == core::BareUnit::mm ? whole : std::max(rearward, -rearward);
    return ", " + shortest_words(shown, job.unit) + " " + unit_word(job.unit) + (beyond ? " beyond" : " this side");
}

std::string kind_words(const core::Job& job, const Mount& mount) {
    const std::string kind = mount.kind == core::MountKind::stud    ? "stud"
                             : mount.kind == core::MountKind::nut   ? "nut"
                             : mount.shape == core::HoleShape::slot ? "slot"
                                                                    : "hole";
    if (!mount.size) {
        return kind + ", size not measured";
    }
    const bool across = mount.kind == core::MountKind::hole && mount.shape != core::HoleShape::round;
    return kind + (across ? " " : " Ø ") + entry_words(*mount.size, job.unit);
}

std::string grip_words(const core::Job& job, const Mount& mount, const std::vector<core::Finding>& findings) {
    const auto found = std::find_if(findings.begin(), findings.end(), [&](const core::Finding& finding) {
        return finding.id == "mounts/" + mount.name + "/grip";
    });
    if (found == findings.end() || !found->found || found->state == core::State::not_measured ||
        !mount.fastener.grip_least || !mount.fastener.grip_most) {
        return "";
    }
    const bool in = found->state != core::State::falls_short;
    return "stack " + short_number(geometry::millimetres(*found->found), job.unit) +
           (in ? " in grip " : " not in grip ") + short_number(mount.fastener.grip_least->value, job.unit) + "–" +
           short_number(mount.fastener.grip_most->value, job.unit);
}

}  // namespace

void add_mount(SectionPicture& picture, const core::Job& job, const Mount& mount, Length along,
               const std::vector<core::Finding>* findings) {
    const Length rearward = mount.at.along.value - along;
    if (std::abs(in_mm(rearward)) > in_mm(k_mount_reach)) {
        return;
    }
    const Vector3d at = core::in_mm(mount.at);
    const Vector2d seat(at.y(), at.z());
    const Vector2d axis(mount.axis.y(), mount.axis.z());
    const Item item{Item::Kind::mount, mount.name};
    picture.lines.push_back(
        {SectionRole::mount_axis, {seat - k_axis_behind_mm * axis, seat + k_axis_ahead_mm * axis}, false, "", item});
    std::string words = mount.name + how_far(job, rearward) + "\n" + kind_words(job, mount);
    if (findings != nullptr) {
        const std::string grip = grip_words(job, mount, *findings);
        words += grip.empty() ? "" : "\n" + grip;
    }
    picture.points.push_back({SectionRole::mount_axis, seat, words, Vector2d::Zero(), item});
}

}  // namespace sillwright::app
