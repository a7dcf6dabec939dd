#include "core/stage.h"

#include <algorithm>
#include <utility>

namespace sillwright::core {

namespace {

using Needs = std::vector<StageNeed>;

bool sd_given(const Mount& mount) {
    return std::all_of(mount.sd.begin(), mount.sd.end(), [](const auto& sd) { return sd.has_value(); });
}

/// A need of each of several things, as one line: there if it is of all of them, and there are any.
template <class List, class Given>
StageNeed of_all(std::string what, std::string where, const List& list, const Given& given) {
    return {std::move(what), !list.empty() && std::all_of(list.begin(), list.end(), given), std::move(where)};
}

bool warmth_given(const Fitting& fitting) {
    const auto given = [](const std::optional<Warmth>& warmth) { return warmth && warmth->part && warmth->body; };
    return given(fitting.hot) && given(fitting.cold) && given(fitting.fitted);
}

Needs measure_needs(const Job& job) {
    return {
        {"stations along the sill", job.stations.size() > 1, "stations"},
        {"the line of the rocker, the pinch weld and the floor edge at two stations or more",
         job.body.sections.size() > 1, "section"},
        of_all("clip holes, studs and nuts under the sill", "mounts", job.mounts, [](const Mount&) { return true; }),
        of_all("how sure each of them is, along, out and up", "mounts", job.mounts, sd_given),
        of_all("how thick the panel is at each", "mounts", job.mounts,
               [](const Mount& mount) { return mount.panel_thickness.has_value(); }),
        {"how sure a point on the body is", job.survey_sd.has_value(), "job file"},
        {"the distance of the zero line to the car's mid-plane", job.zero_to_midplane.has_value(), "job file"},
        {"the readings of the measuring book", !job.book.readings.empty(), "book"}};
}

Needs sections_needs(const Job& job) {
    const auto& pieces = job.skirt.pieces;
    return {{"the body's sections", job.body.sections.size() > 1, "section"},
            of_all("the skirt's sections", "section", pieces,
                   [](const Piece& piece) { return piece.file || piece.drawn.sections.size() > 1; }),
            of_all("how thick the sheet is", "job file", pieces,
                   [](const Piece& piece) { return piece.file || piece.sheet; })};
}

Needs mounts_needs(const Job& job) {
    const auto used = [](const auto& given) {
        return [given](const Mount& mount) { return mount.use == MountUse::unused || given(mount); };
    };
    return {of_all("places of the mounts", "mounts", job.mounts, [](const Mount&) { return true; }),
            of_all("fasteners with their diameters", "mounts", job.mounts,
                   used([](const Mount& mount) { return mount.fastener.diameter.has_value(); })),
            of_all("grip of each fastener", "mounts", job.mounts,
                   used([](const Mount& mount) { return mount.fastener.grip_least && mount.fastener.grip_most; })),
            of_all("the hole to be made in the part", "mounts", job.mounts,
                   used([](const Mount& mount) { return mount.part_hole.has_value(); })),
            {"temperatures of part and body, hot, cold and as fitted", warmth_given(job.fitting), "mounts, fitting"},
            {"what the sheet and the body are made of",
             !job.skirt.material.name.empty() && !job.fitting.body_material.empty(), "mounts, fitting and sheet"},
            {"how far a drilled hole may be from its place", job.fitting.part_half.has_value(), "mounts, fitting"},
            of_all("what each fastener holds", "mounts", job.mounts,
                   used([](const Mount& mount) { return mount.fastener.holds.has_value(); })),
            {"whether people may step on it", job.loads.stepping.has_value(), "mounts, loads"},
            {"how the car stands on the road", job.road.ground && job.road.front_wheel && job.road.rear_wheel,
             "mounts, road"}};
}

Needs swing_needs(const Job& job) {
    const auto& doors = job.doors;
    return {of_all("the hinge axis of each door", "doors", doors, [](const Door& d) { return d.hinge.has_value(); }),
            of_all("how far each door opens", "doors", doors, [](const Door& d) { return d.opening.has_value(); }),
            of_all("how far each door sags", "doors", doors, [](const Door& d) { return d.sag.has_value(); }),
            of_all("how far each door goes in when it is slammed", "doors", doors,
                   [](const Door& d) { return d.over_slam.has_value(); }),
            of_all("the lower edge or cladding of each door", "section", doors,
                   [](const Door& d) { return !d.bodies.empty(); }),
            {"how sure the formed surface is", job.skirt.forming_sd.has_value(), "job file"}};
}

Needs forming_needs(const Job& job) {
    return {sections_needs(job)[1],
            sections_needs(job)[2],
            {"whether the last mould is male or female", job.forming.mould.has_value(), "forming, settings"},
            {"the machine on which it is formed", !job.forming.machine.empty(), "forming, settings"},
            {"from the mould's foot to the clamp line", job.forming.clamp_distance.has_value(), "forming, settings"},
            {"the mould chain with its shrinkages", job.forming.generations.size() > 1, "forming, lists"}};
}

Needs buck_needs(const Job& job) {
    return {sections_needs(job)[1],
            of_all("the boards, each with its thickness as measured", "buck, boards", job.buck.boards,
                   [](const Board& board) { return board.thickness_1 || board.thickness_2 || board.thickness_3; }),
            {"the bit that cuts out", !job.buck.bit.empty(), "buck, settings"},
            {"the mould chain, which gives the buck its size", job.forming.generations.size() > 1, "forming, lists"},
            {"the plug's skin over the ribs", job.forming.skin.has_value(), "forming, settings"}};
}

Needs handover_needs(const Job& job) {
    return {{"the vehicle's name", !job.vehicle.empty(), "job file"},
            {"the revision", !job.revision.empty(), "job file"},
            {"the date", !job.date.empty(), "job file"},
            sections_needs(job)[1],
            {"whom the installer calls", !job.papers.call.empty(), "handover, papers"},
            {"the longest box, and the most length and girth, that the carrier takes",
             job.papers.longest && job.papers.girth_most, "handover, papers"}};
}

}  // namespace

const StageWords& words(Stage stage) {
    static const std::array<StageWords, k_stages.size()> all{{
        {"measure", "Measure", "What was read under the car: stations, mounts, doors, what must stay free."},
        {"sections", "Sections", "The skirt drawn section by section, fair along the car."},
        {"mounts", "Mounts", "Whether the flange reaches the holes that are there, with room for washer and edge."},
        {"swing", "Swing", "Whether each door clears the skirt from shut to its stop."},
        {"forming", "Forming", "Whether hot sheet takes this form, comes off the mould and fits the machine."},
        {"buck", "Buck", "The ribs that are cut on the router, at the size that the mould chain asks for."},
        {"handover", "Handover", "All that leaves the shop for this job, in one folder."},
    }};
    return all.at(static_cast<std::size_t>(stage));
}

Needs stage_needs(const Job& job, Stage stage) {
    switch (stage) {
        case Stage::measure:
            return measure_needs(job);
        case Stage::sections:
            return sections_needs(job);
        case Stage::mounts:
            return mounts_needs(job);
        case Stage::swing:
            return swing_needs(job);
        case Stage::forming:
            return forming_needs(job);
        case Stage::buck:
            return buck_needs(job);
        case Stage::handover:
            break;
    }
    return handover_needs(job);
}

}  // namespace sillwright::core
