#include "core/survey/results.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "core/job_file.h"
#include "core/sill_frame.h"
#include "core/typed.h"

namespace sillwright::core::survey {

using Eigen::Vector3d;
using geometry::in_mm;

namespace {

/// Below this a place that the book gives is the place that the job has: far below what can be measured.
constexpr double k_same_place_mm = 1e-9;

/// Whether a door's hinge is kept from the book.
bool kept(const Door& door) {
    return door.hinge && door.hinge->from_book;
}

/// The lowest node of a body's rearmost section.
std::optional<Vector3d> lowest_at_rear(const Job& job, const Drawn& drawn) {
    std::optional<Vector3d> found;
    for (const Section& section : drawn.sections) {
        const auto station = std::find_if(job.stations.begin(), job.stations.end(),
                                          [&](const Station& one) { return one.name == section.station; });
        if (station == job.stations.end()) {
            continue;
        }
        const double along = in_mm(station->along.value);
        for (const Node& node : section.nodes) {
            const Vector3d at(along, in_mm(node.out.value), in_mm(node.up.value));
            if (!found || at.x() > found->x() || (at.x() == found->x() && at.z() < found->z())) {
                found = at;
            }
        }
    }
    return found;
}

/// The door's lower rear corner as it stands shut; none if neither its outline nor a drawn body says where.
std::optional<Vector3d> lower_rear_corner(const Job& job, const Door& door) {
    std::optional<Vector3d> corner;
    for (const DoorBody& body : door.bodies) {
        if (const auto here = lowest_at_rear(job, body.drawn); here && (!corner || here->x() > corner->x())) {
            corner = here;
        }
    }
    if (corner && !door.outline.empty()) {
        const auto reach = [](const OutlinePoint& p) { return in_mm(p.along.value) - in_mm(p.up.value); };
        const auto lowest =
            std::max_element(door.outline.begin(), door.outline.end(),
                             [&](const OutlinePoint& a, const OutlinePoint& b) { return reach(a) < reach(b); });
        corner->x() = in_mm(lowest->along.value);
        corner->z() = std::min(corner->z(), in_mm(lowest->up.value));
    }
    return corner;
}

std::vector<HingeOutcome> hinge_outcomes(const Job& job, const Solution& solution) {
    std::vector<HingeOutcome> all;
    for (const HingeSet& set : job.book.hinges) {
        all.push_back(hinge_from_targets(set, solution));
    }
    for (const Door& door : job.doors) {
        const bool has_set = std::any_of(job.book.hinges.begin(), job.book.hinges.end(),
                                         [&](const HingeSet& set) { return set.door == door.name; });
        if (!has_set) {
            if (HingeOutcome by_pins = hinge_from_pins(door.name, solution); by_pins.axis || kept(door)) {
                all.push_back(std::move(by_pins));
            }
        }
    }
    return all;
}

/// What a job says of places without its book: mounts, and corners of the body's sections.
Solution typed_places(const Job& job) {
    Solution typed;
    const auto add = [&typed](const std::string& name, const Vector3d& at_mm, const Vector3d& sd_mm) {
        PlacedPoint point;
        point.name = name;
        point.at_mm = at_mm;
        point.covariance_mm2 = sd_mm.cwiseAbs2().asDiagonal();
        typed.points.push_back(std::move(point));
    };
    for (const Mount& mount : job.mounts) {
        if (mount.sd[0] && mount.sd[1] && mount.sd[2]) {
            add(mount.name, core::in_mm(mount.at),
                {in_mm(mount.sd[0]->value), in_mm(mount.sd[1]->value), in_mm(mount.sd[2]->value)});
        }
    }
    for (const Section& section : job.body.sections) {
        const auto station = std::find_if(job.stations.begin(), job.stations.end(),
                                          [&](const Station& one) { return one.name == section.station; });
        if (station == job.stations.end() || !job.survey_sd) {
            continue;
        }
        for (const Node& node : section.nodes) {
            add(node.name + " at " + section.station,
                {in_mm(station->along.value), in_mm(node.out.value), in_mm(node.up.value)},
                Vector3d::Constant(in_mm(job.survey_sd->value)));
        }
    }
    return typed;
}

void compare_other_hand(const Job& job, const std::filesystem::path& folder, Results& results) {
    if (job.other_hand.empty()) {
        return;
    }
    const auto other = read_job(folder / job.other_hand);
    if (!other) {
        results.other_hand_lacks = other.error().message;
    } else if (other.value().side == job.side) {
        results.other_hand_lacks = job.other_hand + " is a job of the same side. Name the job of the car's other side.";
    } else {
        results.other_hand = compare_sides(results.solution, solve(other.value().book, false));
        if (!results.other_hand->verdict) {
            Comparison typed = compare_sides(typed_places(job), typed_places(other.value()));
            if (typed.verdict) {
                results.other_hand = std::move(typed);
            }
        }
    }
}

/// `entry` at `mm`, as it was typed if that is where it is.
void move(Entry& entry, double mm) {
    if (std::abs(in_mm(entry.value) - mm) > k_same_place_mm) {
        entry = core::entry(geometry::millimetres(mm));
    }
}

void move(std::optional<Entry>& entry, double mm) {
    if (!entry) {
        entry = core::entry(geometry::millimetres(mm));
    }
    move(*entry, mm);
}

template <class At>
void move(At& at, const Vector3d& to_mm) {
    move(at.along, to_mm.x());
    move(at.out, to_mm.y());
    move(at.up, to_mm.z());
}

}  // namespace

Results survey_results(const Job& job, const std::filesystem::path& folder, bool with_next) {
    Results results;
    results.solution = solve(job.book, with_next);
    results.hinges = hinge_outcomes(job, results.solution);
    for (const HingeOutcome& hinge : results.hinges) {
        const auto door =
            std::find_if(job.doors.begin(), job.doors.end(), [&](const Door& one) { return one.name == hinge.door; });
        if (!hinge.axis || door == job.doors.end() || !door->opening) {
            continue;
        }
        if (const auto corner = lower_rear_corner(job, *door)) {
            results.corners[door->name] = {*corner, worst_corner_sd(*hinge.axis, *corner, *door->opening)};
        }
    }
    results.set_ups = compare_set_ups(job.book);
    compare_other_hand(job, folder, results);
    return results;
}

const HingeAxis* axis_of(const Results& results, const std::string& door) {
    for (const HingeOutcome& hinge : results.hinges) {
        if (hinge.door == door && hinge.axis) {
            return &*hinge.axis;
        }
    }
    return nullptr;
}

Job settled(Job job, const Results& results) {
    for (Mount& mount : job.mounts) {
        const PlacedPoint* const point = mount.from_book ? results.solution.find(mount.name) : nullptr;
        if (point != nullptr) {
            move(mount.at, point->at_mm);
            for (std::size_t i = 0; i < 3; ++i) {
                const auto axis = static_cast<Eigen::Index>(i);
                move(mount.sd.at(i), std::sqrt(point->covariance_mm2(axis, axis)));
            }
        }
    }
    for (Door& door : job.doors) {
        if (const HingeAxis* const axis = kept(door) ? axis_of(results, door.name) : nullptr) {
            move(door.hinge->lower, axis->lower_mm);
            move(door.hinge->upper, axis->upper_mm);
        }
    }
    return job;
}

}  // namespace sillwright::core::survey
