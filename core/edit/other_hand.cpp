#include "core/edit/other_hand.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "core/edit/drawn_change.h"
#include "core/edit/drawn_id.h"
#include "core/edit/new_names.h"
#include "core/number_text.h"
#include "core/sill_frame.h"

namespace sillwright::core {

using Eigen::Vector3d;
using geometry::Error;
using geometry::ErrorCode;
using geometry::in_mm;
using geometry::millimetres;
using survey::Comparison;
using survey::PointDifference;
using survey::Verdict;

namespace {

/// Stations nearer together than this cannot both be there. Common practice, no source.
constexpr double k_least_station_gap_mm = 1.0;
/// Stations that are one: a length as typed comes back to far less.
constexpr double k_same_station_mm = 1e-6;

std::string side_word(Side side) {
    return side == Side::left ? "left" : "right";
}

std::string quoted(const std::string& name) {
    return "\"" + name + "\"";
}

Error misfit(std::string message) {
    return {ErrorCode::does_not_fit, std::move(message)};
}

Error bad(std::string message) {
    return {ErrorCode::invalid_argument, std::move(message)};
}

std::optional<Error> not_alike(const std::optional<Comparison>& comparison) {
    if (!comparison || !comparison->verdict) {
        std::string message = "The two sides have not been compared: measure the other side first";
        if (comparison && !comparison->lacks.empty()) {
            message += " (" + comparison->lacks + ")";
        }
        return bad(message + ".");
    }
    const PointDifference* worst = nullptr;
    for (const PointDifference& point : comparison->points) {
        if (point.verdict == Verdict::different && (worst == nullptr || point.distance_mm > worst->distance_mm)) {
            worst = &point;
        }
    }
    if (worst == nullptr) {
        return std::nullopt;
    }
    return misfit("The sides differ by " + mm_text(millimetres(worst->distance_mm), 1) + " at " + worst->name +
                  ", more than " + mm_text(millimetres(comparison->limit_mm), 1) +
                  ": a part in the mirror would not fit there. Draw the other side's part on its own measurements.");
}

/// Where this side's frame puts a place that the other's has under the same numbers.
std::optional<Error> another_origin(const Job& job, const Comparison& comparison) {
    double most = 0.0;
    std::string where;
    for (const Mount& mount : job.mounts) {
        const Vector3d here = in_mm(mount.at);
        const Vector3d there = comparison.rotation.transpose() * (here - comparison.shift_mm);
        if (const double apart = (there - here).norm(); apart > most) {
            most = apart;
            where = mount.name;
        }
    }
    if (most <= comparison.limit_mm) {
        return std::nullopt;
    }
    return misfit("The two jobs do not count from the same origin: at " + where + " the same numbers are " +
                  mm_text(millimetres(most), 1) +
                  " apart. Hold the same marks at the same places in the other side's book.");
}

std::optional<Error> not_mirrored(const Job& job, const Job& other) {
    if (job.side == other.side) {
        return bad("Both jobs are of the " + side_word(job.side) + " side. Choose the job of the other side.");
    }
    if (job.unit != other.unit) {
        return misfit(
            "The two jobs are written in different units. Make the other side's job in the unit of this one.");
    }
    if (job.skirt.pieces.empty()) {
        return bad("This job has no skirt yet. Draw it first.");
    }
    for (const Piece& piece : job.skirt.pieces) {
        if (piece.file) {
            return misfit("Piece " + quoted(piece.name) + " is a file, " + piece.file->path +
                          ", which is of one hand. Draw it by sections.");
        }
        const bool carried =
            piece.carried_by == "body" || std::any_of(other.doors.begin(), other.doors.end(),
                                                      [&](const Door& door) { return door.name == piece.carried_by; });
        if (!carried) {
            return bad("Piece " + quoted(piece.name) + " swings with " + quoted(piece.carried_by) +
                       ", and the other side has no door of that name. Give its door that name first.");
        }
    }
    return std::nullopt;
}

/// Names of the design's stations, front to rear.
std::vector<std::string> stations_of(const Job& job) {
    std::set<std::string> used;
    for (const Piece& piece : job.skirt.pieces) {
        for (const Section& section : piece.drawn.sections) {
            used.insert(section.station);
        }
    }
    std::vector<std::string> names;
    for (const Station& station : job.stations) {
        if (used.contains(station.name)) {
            names.push_back(station.name);
        }
    }
    return names;
}

/// The number of the other job's station at a place; one is made where none is.
geometry::Result<std::size_t> station_made(Job& other, const Entry& along) {
    for (std::size_t i = 0; i < other.stations.size(); ++i) {
        const double apart = std::abs(in_mm(other.stations[i].along.value - along.value));
        if (apart <= k_same_station_mm) {
            return i;
        }
        if (apart < k_least_station_gap_mm) {
            return misfit("Station " + other.stations[i].name + " of the other side stands at " +
                          mm_text(other.stations[i].along.value) + ", too near to " + mm_text(along.value) +
                          ", where a section of the part is. Move one onto the other first.");
        }
    }
    const auto behind = std::find_if(other.stations.begin(), other.stations.end(),
                                     [&](const Station& station) { return station.along.value > along.value; });
    const auto index = static_cast<std::size_t>(behind - other.stations.begin());
    const bool numbered = numbered_in_order(other.stations);
    std::set<std::string> taken;
    for (const Station& station : other.stations) {
        taken.insert(station.name);
    }
    other.stations.insert(behind, Station{next_name(taken, "station "), along, {}});
    if (numbered) {
        number_stations(other);
    }
    return index;
}

/// New ids for those of the design that something else of the other side has.
void part_ids(Job& job) {
    std::set<std::string> taken;
    for (const DrawnId id : all_drawn(job)) {
        if (id.kind != DrawnId::Kind::piece) {
            for (const Section& section : drawn(job, id).sections) {
                for (const Node& node : section.nodes) {
                    taken.insert(node.id);
                }
            }
        }
    }
    NodeIds ids(job);
    for (Piece& piece : job.skirt.pieces) {
        for (Section& section : piece.drawn.sections) {
            for (Node& node : section.nodes) {
                if (taken.contains(node.id)) {
                    node.id = ids.next();
                }
            }
        }
    }
}

void take_choice(std::string& theirs, const std::string& ours, const Job& other) {
    const bool there = std::any_of(other.mounts.begin(), other.mounts.end(), [&](const Mount& mount) {
        return mount.name == ours && mount.use == MountUse::flange;
    });
    if (ours.empty() || there) {
        theirs = ours;
    }
}

/// Ticks were measured on the moulds of their own side, and the prototype stood on it.
void take_forming(const Forming& ours, Forming& theirs) {
    Forming own = std::exchange(theirs, ours);
    theirs.sculpted = std::move(own.sculpted);
    theirs.unknown = std::move(own.unknown);
    for (Generation& generation : theirs.generations) {
        const auto there = std::find_if(own.generations.begin(), own.generations.end(),
                                        [&](const Generation& one) { return one.name == generation.name; });
        generation.ticks = there == own.generations.end() ? std::vector<Tick>() : std::move(there->ticks);
    }
}

void take_decisions(const Job& job, Job& other) {
    const Fitting own = other.fitting;
    other.fitting = job.fitting;
    other.fitting.locator = own.locator;
    other.fitting.guide = own.guide;
    other.fitting.unknown = own.unknown;
    take_choice(other.fitting.locator, job.fitting.locator, other);
    take_choice(other.fitting.guide, job.fitting.guide, other);
    other.limits = job.limits;
    other.loads = job.loads;
    other.road.clearance_least = job.road.clearance_least;
    other.road.bump_clearance_least = job.road.bump_clearance_least;
    other.road.breakover_least = job.road.breakover_least;
    other.road.shelf_fall_least = job.road.shelf_fall_least;
    other.road.drain_least = job.road.drain_least;
    other.road.end_gap_least = job.road.end_gap_least;
    other.road.end_gap_most = job.road.end_gap_most;
    take_forming(job.forming, other.forming);
    const Unknown of_buck = std::exchange(other.buck, job.buck).unknown;
    other.buck.unknown = of_buck;
    const Unknown of_papers = std::exchange(other.papers, job.papers).unknown;
    other.papers.unknown = of_papers;
}

}  // namespace

geometry::Result<Edit> other_hand_part(const Job& job, const Job& other, const std::optional<Comparison>& comparison) {
    if (auto error = not_mirrored(job, other)) {
        return *error;
    }
    if (auto error = not_alike(comparison)) {
        return *error;
    }
    if (auto error = another_origin(job, *comparison)) {
        return *error;
    }
    Job made = other;
    // The skirt that was there goes first: its sections need not follow new names of stations.
    made.skirt.pieces.clear();
    const std::vector<std::string> names = stations_of(job);
    for (const std::string& name : names) {
        const auto station = station_made(made, job.stations[*station_index(job, name)].along);
        if (!station) {
            return station.error();
        }
    }
    made.skirt = job.skirt;
    for (Piece& piece : made.skirt.pieces) {
        for (Section& section : piece.drawn.sections) {
            const Entry& along = job.stations[*station_index(job, section.station)].along;
            const auto there = std::find_if(made.stations.begin(), made.stations.end(), [&](const Station& station) {
                return std::abs(in_mm(station.along.value - along.value)) <= k_same_station_mm;
            });
            section.station = there->name;
        }
    }
    part_ids(made);
    take_decisions(job, made);
    std::string words = "take the part of the " + side_word(job.side) + " side in the mirror";
    if (comparison->verdict != Verdict::same) {
        words += ", though it is not sure yet that the sides are alike";
    }
    return checked_edit(std::move(made), std::move(words));
}

}  // namespace sillwright::core
