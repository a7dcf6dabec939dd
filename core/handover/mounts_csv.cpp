#include "core/handover/mounts_csv.h"

#include <algorithm>
#include <optional>
#include <string_view>

#include "core/csv_line.h"
#include "core/finding_words.h"
#include "core/sill_frame.h"

namespace sillwright::core {

namespace {

constexpr std::string_view k_header =
    "name,kind,shape,use,along_mm,out_mm,up_mm,x_mm,y_mm,z_mm,sd_along_mm,sd_out_mm,sd_up_mm,axis_along,axis_out,"
    "axis_up,size_mm,slot_length_mm,panel_thickness_mm,free_depth_mm,part_hole_mm,part_slot_mm,fastener,"
    "fastener_diameter_mm,head_diameter_mm,grip_least_mm,grip_most_mm,spacer_mm,state,findings";

std::string_view words(MountKind kind) {
    return kind == MountKind::hole ? "hole" : kind == MountKind::stud ? "stud" : "nut";
}
std::string_view words(HoleShape shape) {
    return shape == HoleShape::round ? "round" : shape == HoleShape::slot ? "slot" : "square";
}
std::string_view words(MountUse use) {
    return use == MountUse::flange ? "flange" : use == MountUse::top_edge ? "top edge" : "unused";
}

void add_findings(CsvLine& row, const Mount& mount, const std::vector<Finding>& findings) {
    std::vector<Finding> own;
    std::copy_if(findings.begin(), findings.end(), std::back_inserter(own), [&](const Finding& finding) {
        return finding.id == "mounts/" + mount.name || finding.id.starts_with("mounts/" + mount.name + "/");
    });
    std::string all;
    for (const Finding& finding : own) {
        all += (all.empty() ? "" : "; ") + finding.title + ": " + look(finding.state).word;
    }
    const auto is = [](State state) { return [state](const Finding& finding) { return finding.state == state; }; };
    std::string worst;
    for (const State state : {State::falls_short, State::not_measured, State::close, State::holds}) {
        if (worst.empty() && std::any_of(own.begin(), own.end(), is(state))) {
            worst = look(state).word;
        }
    }
    row.add(worst);
    row.add(all);
}

std::string line_of(const Job& job, const Mount& mount, const std::vector<Finding>& findings) {
    const SillFrame frame(job);
    const Eigen::Vector3d sill = in_mm(mount.at);
    const Eigen::Vector3d car = frame.car_from_sill(sill);
    CsvLine row;
    row.add(mount.name);
    row.add(words(mount.kind));
    row.add(words(mount.shape));
    row.add(words(mount.use));
    for (const double number : {sill.x(), sill.y(), sill.z(), car.x()}) {
        row.add(number);
    }
    row.add(frame.placed() ? std::optional(Entry{geometry::millimetres(car.y()), ""}) : std::nullopt);
    row.add(car.z());
    for (const auto& sd : mount.sd) {
        row.add(sd);
    }
    for (const double part : mount.axis) {
        row.add(part);
    }
    for (const auto& entry :
         {mount.size, mount.slot_length, mount.panel_thickness, mount.free_depth, mount.part_hole, mount.part_slot}) {
        row.add(entry);
    }
    const Fastener& fastener = mount.fastener;
    row.add(fastener.name);
    for (const auto& entry :
         {fastener.diameter, fastener.head_diameter, fastener.grip_least, fastener.grip_most, fastener.spacer}) {
        row.add(entry);
    }
    add_findings(row, mount, findings);
    return row.line();
}

}  // namespace

std::string mounts_csv(const Job& job, const std::vector<Finding>& findings) {
    std::string table = std::string(k_header) + "\r\n";
    for (const Mount& mount : job.mounts) {
        table += line_of(job, mount, findings);
    }
    return table;
}

}  // namespace sillwright::core
