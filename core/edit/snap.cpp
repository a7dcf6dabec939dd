#include "core/edit/snap.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <variant>

#include "core/drawn_loft.h"
#include "core/edit/drawn_id.h"
#include "core/edit/whole_unit.h"
#include "core/sill_frame.h"
#include "geometry/profile.h"

namespace sillwright::core {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::ArcSegment;
using geometry::in_mm;
using geometry::Length;
using geometry::LineSegment;
using geometry::millimetres;
using geometry::Profile;
using geometry::Segment;

namespace {

/// A place found by arithmetic is on the line if it is as near as this.
constexpr Length k_on_line = millimetres(1e-7);
/// A line that encloses less than this part of the square of its length has no side of its own.
constexpr double k_least_enclosed = 1e-3;

/// A place on a profile and the direction of the line there.
struct OnLine {
    Vector2d p_mm;
    Vector2d direction;
};

OnLine on_line(const Segment& segment, const Vector2d& p_mm) {
    const double fraction = geometry::nearest_fraction(segment, p_mm);
    return {geometry::point_at(segment, fraction), geometry::direction_at(segment, fraction)};
}

/// The places of a segment's whole line or circle where coordinate `axis` has a value.
std::vector<Vector2d> places_with(const Segment& segment, Eigen::Index axis, double value) {
    std::vector<Vector2d> places;
    const Eigen::Index other = 1 - axis;
    if (const auto* line = std::get_if<LineSegment>(&segment.shape)) {
        const Vector2d way = line->to - line->from;
        if (way[axis] != 0.0) {
            Vector2d p;
            p[axis] = value;
            p[other] = line->from[other] + (value - line->from[axis]) / way[axis] * way[other];
            places.push_back(p);
        }
        return places;
    }
    const auto& arc = std::get<ArcSegment>(segment.shape);
    const double off = value - arc.centre[axis];
    const double squared = arc.radius_mm * arc.radius_mm - off * off;
    if (squared >= 0.0) {
        for (const double sign : {-1.0, 1.0}) {
            Vector2d p;
            p[axis] = value;
            p[other] = arc.centre[other] + sign * std::sqrt(squared);
            places.push_back(p);
        }
    }
    return places;
}

/// The place on the profile nearest to `at` with a whole number for the coordinate along the
/// line's greater direction; none if it would be further off than a whole unit goes on a slope.
std::optional<OnLine> at_whole_unit(const Profile& profile, const OnLine& at, BareUnit unit) {
    const Eigen::Index axis = std::abs(at.direction.x()) >= std::abs(at.direction.y()) ? 0 : 1;
    const double whole = in_mm(to_whole_unit(millimetres(at.p_mm[axis]), unit));
    std::optional<OnLine> best;
    double best_off = in_mm(whole_unit(unit));
    for (const Segment& segment : profile.segments) {
        for (const Vector2d& p : places_with(segment, axis, whole)) {
            const double off = (p - at.p_mm).norm();
            if (off < best_off && geometry::distance_to(segment, p) < k_on_line) {
                best = OnLine{p, on_line(segment, p).direction};
                best_off = off;
            }
        }
    }
    return best;
}

/// Square to the line, away from what it encloses; of a line without a side of its own, downwards.
Direction away_from(const Profile& profile, const Vector2d& direction) {
    Vector2d left(-direction.y(), direction.x());
    const double area = geometry::enclosed_area_mm2(profile);
    const double size = in_mm(geometry::length(profile));
    const bool sided = std::abs(area) > k_least_enclosed * size * size;
    if (sided ? area > 0.0 : left.y() > 0.0) {
        left = -left;
    }
    return Direction(0.0, left.x(), left.y()).normalized();
}

std::optional<Snapped> to_hole(const Job& job, const Vector3d& at_mm, Length reach) {
    const Mount* nearest = nullptr;
    double nearest_off = in_mm(reach);
    for (const Mount& mount : job.mounts) {
        const double off = (in_mm(mount.at) - at_mm).norm();
        if (off <= nearest_off) {
            nearest = &mount;
            nearest_off = off;
        }
    }
    if (nearest == nullptr) {
        return std::nullopt;
    }
    const std::string kind = nearest->kind == MountKind::hole   ? "hole "
                             : nearest->kind == MountKind::stud ? "stud "
                                                                : "nut ";
    return Snapped{in_mm(nearest->at), nearest->axis, {kind + nearest->name}};
}

}  // namespace

std::optional<Snapped> snap_mount(const Job& job, const CarModel& car, Length along, const Vector2d& at_mm,
                                  Length reach) {
    if (const auto hole = to_hole(job, {in_mm(along), at_mm.x(), at_mm.y()}, reach)) {
        return hole;
    }
    if (!car.body || along < car.body->front() || along > car.body->rear()) {
        return std::nullopt;
    }
    const auto profile = car.body->section_at(along);
    if (!profile || profile.value().segments.empty()) {
        return std::nullopt;
    }
    const auto nearest = geometry::nearest_point(profile.value(), at_mm);
    if (nearest.distance > reach) {
        return std::nullopt;
    }
    OnLine place = on_line(profile.value().segments[nearest.segment], nearest.p_mm);
    Snapped snapped;
    snapped.to.emplace_back("the body's line");
    if (const auto whole = at_whole_unit(profile.value(), place, job.unit)) {
        place = *whole;
        snapped.to.push_back(whole_unit_words(job.unit));
    }
    snapped.at_mm = {in_mm(along), place.p_mm.x(), place.p_mm.y()};
    snapped.axis = away_from(profile.value(), place.direction);
    return snapped;
}

Snapped snap_node(const Job& job, const std::string& node_id, const Vector2d& at_mm, Length reach) {
    Snapped snapped;
    snapped.at_mm = {0.0, at_mm.x(), at_mm.y()};
    const auto place = find_node(job, node_id);
    if (!place) {
        return snapped;
    }
    const std::vector<Section>& sections = drawn(job, place->drawn).sections;
    const Section& here = sections[place->section];
    snapped.at_mm.x() = in_mm(station_of(job, here.station).along.value);
    const Node* fellow = nullptr;
    const Section* fellow_section = nullptr;
    double fellow_off = in_mm(reach);
    const auto look_at = [&](const Section& section) {
        for (const Node& node : section.nodes) {
            const double off = (Vector2d(in_mm(node.out.value), in_mm(node.up.value)) - at_mm).norm();
            if (node.name == here.nodes[place->node].name && off <= fellow_off) {
                fellow = &node;
                fellow_section = &section;
                fellow_off = off;
            }
        }
    };
    if (place->section > 0) {
        look_at(sections[place->section - 1]);
    }
    if (place->section + 1 < sections.size()) {
        look_at(sections[place->section + 1]);
    }
    if (fellow != nullptr) {
        snapped.at_mm.tail<2>() = Vector2d(in_mm(fellow->out.value), in_mm(fellow->up.value));
        snapped.to.push_back(fellow->name + " at station " + fellow_section->station);
        return snapped;
    }
    for (const Eigen::Index axis : {1, 2}) {
        const double whole = in_mm(to_whole_unit(millimetres(snapped.at_mm[axis]), job.unit));
        if (std::abs(whole - snapped.at_mm[axis]) <= in_mm(reach)) {
            snapped.at_mm[axis] = whole;
            snapped.to = {whole_unit_words(job.unit)};
        }
    }
    return snapped;
}

}  // namespace sillwright::core
