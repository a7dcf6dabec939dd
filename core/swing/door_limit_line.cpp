#include "core/swing/door_limit_line.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "core/swing/axis_sd.h"
#include "core/swing/gap_budget.h"
#include "core/swing/swing_check.h"
#include "geometry/point_over_motion.h"

namespace sillwright::core {

using Eigen::Vector2d;
using Eigen::Vector3d;
using geometry::Angle;
using geometry::in_mm;
using geometry::Length;
using geometry::Result;

namespace {

/// Between the distance reached and the one proven; a part of the line's slack.
constexpr Length k_tolerance = 0.25 * k_line_slack;

/// Far from the line a distance need be known to this part of itself only, and nearer than this to the line in full.
constexpr double k_part = 0.2;
constexpr Length k_look_closer = geometry::millimetres(2.0);

/// A column that creeps up this often without an end runs beside an upright edge; it ends there.
constexpr int k_most_rises = 200;

/// One body that swings, the angles that are looked at, and the gap that it needs there.
struct Limiting {
    const BodyModel* body;
    Angle from, to;
    GapBudget budget;
};

class Column {
public:
    Column(const std::vector<Limiting>& parts, const geometry::HingeMotion& motion, const geometry::Watch& watch)
        : parts_{parts}, watch_{watch} {
        for (const Limiting& part : parts) {
            searches_.emplace_back(*part.body->tree, motion, part.from, part.to);
        }
    }

    /// The highest free point of the column from `low` up; none if there is none or no limit below `high`.
    Result<std::optional<double>> limit(double along, double out, double low, double high) {
        double up = low;
        for (int rise = 0; rise < k_most_rises; ++rise) {
            if (watch_.stop.stop_requested()) {
                return geometry::Error{geometry::ErrorCode::stopped, "The door limit line was stopped."};
            }
            const double spare = spare_at({along, out, up}, rise == 0);
            if (spare < 0.0 && rise == 0) {
                return std::optional<double>{};  // The window's lower edge is too near already.
            }
            if (spare < in_mm(k_line_slack)) {  // Negative by rounding only, after a rise.
                return std::optional<double>{up};
            }
            up += spare;
            if (up > high) {
                return std::optional<double>{};
            }
        }
        return std::optional<double>{up};
    }

private:
    /// How far at least a point stands off beyond what is required; negative if too near, or inside. From far off a
    /// part of it is enough to go on with.
    double spare_at(const Vector3d& p, bool first) {
        double spare = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i < parts_.size(); ++i) {
            const Limiting& part = parts_[i];
            if (first && searches_[i].inside_at_first(p)) {
                return -1.0;
            }
            const Length taken_off = part.body->mesh.deviation + part.budget.required;
            Length off = searches_[i].proven(p, k_tolerance, k_part) - taken_off;
            if (off < k_look_closer) {
                off = searches_[i].proven(p, k_tolerance) - taken_off;
            }
            spare = std::min(spare, in_mm(off));
        }
        return spare;
    }

    const std::vector<Limiting>& parts_;
    const geometry::Watch& watch_;
    std::vector<geometry::PointOverMotion> searches_;  ///< One for each part.
};

/// All that swings with a door, with its gaps: while it moves, past shut included, and shut.
std::vector<Limiting> limiting_parts(const Job& job, const CarModel& car, std::size_t index,
                                     const geometry::HingeMotion& motion) {
    const DoorModel& door = car.doors[index];
    const Angle to = *door.opening;
    // No more than half a turn can be asked for at once.
    const Angle from = std::max(-door.over_slam.value_or(Angle{}), to - geometry::degrees(180.0));
    std::vector<Limiting> parts;
    const auto add = [&](const BodyModel& body, const Entry& asked_moving) {
        const Length lever = sag_lever(body, motion);
        parts.push_back({&body, from, to,
                         gap_budget(job, job.doors[index], asked_moving.value, lever, axis_sd(door, body, from, to))});
        parts.push_back({&body, {}, {}, gap_budget(job, job.doors[index], job.limits.gap_shut.value, lever)});
    };
    for (const DoorPart& part : door.parts) {
        add(part.body,
            part.kind == DoorBodyKind::cladding ? job.limits.gap_moving_cladding : job.limits.gap_moving_edge);
    }
    for (std::size_t i = 0; i < car.pieces.size(); ++i) {
        if (car.pieces[i].body && job.skirt.pieces[i].carried_by == door.name) {
            add(*car.pieces[i].body, job.limits.gap_moving_edge);
        }
    }
    return parts;
}

Result<DoorLimitLine> line_of(const std::vector<Limiting>& parts, const DoorModel& model,
                              const geometry::HingeMotion& motion, Length along, const SectionWindow& window,
                              Length step, const geometry::Watch& watch) {
    DoorLimitLine line{model.name, along, {}, {}};
    for (const Limiting& part : parts) {
        for (const std::string& word : part.budget.missing) {
            if (std::find(line.missing.begin(), line.missing.end(), word) == line.missing.end()) {
                line.missing.push_back(word);
            }
        }
    }
    if (!model.released) {
        line.missing.push_back("the sag of " + model.name + " off its striker");
    }
    Column column(parts, motion, watch);
    bool broken = true;
    const auto columns = static_cast<int>(std::ceil((window.high_mm.x() - window.low_mm.x()) / in_mm(step) - 1e-9));
    for (int i = 0; i <= columns; ++i) {
        const double out = window.low_mm.x() + (window.high_mm.x() - window.low_mm.x()) * i / columns;
        const auto up = column.limit(in_mm(along), out, window.low_mm.y(), window.high_mm.y());
        if (!up) {
            return up.error();
        }
        if (!up.value()) {
            broken = true;
            continue;
        }
        if (std::exchange(broken, false)) {
            line.chains_mm.emplace_back();
        }
        line.chains_mm.back().emplace_back(out, *up.value());
    }
    return line;
}

}  // namespace

bool stands_at(const DoorModel& door, Length along) {
    bool ahead = false;
    bool behind = false;
    for (const DoorPart& part : door.parts) {
        for (const Vector3d& p : part.body.mesh.points) {
            ahead = ahead || p.x() <= in_mm(along);
            behind = behind || p.x() >= in_mm(along);
        }
    }
    return ahead && behind;
}

Result<std::vector<DoorLimitLine>> door_limit_lines(const Job& job, const CarModel& car, Length along,
                                                    const SectionWindow& window, Length step,
                                                    const geometry::Watch& watch, LimitingDoors doors) {
    if (!(step > Length{}) || !(window.high_mm.x() > window.low_mm.x()) || !(window.high_mm.y() > window.low_mm.y())) {
        return geometry::Error{geometry::ErrorCode::invalid_argument,
                               "A door limit line needs a window with a width and a height, and a step above zero."};
    }
    std::vector<DoorLimitLine> lines;
    for (std::size_t i = 0; i < car.doors.size(); ++i) {
        const DoorModel& door = car.doors[i];
        const auto& motion = door.released ? door.released : door.on_striker;
        if (!motion || door.parts.empty() || (doors == LimitingDoors::standing_there && !stands_at(door, along))) {
            continue;
        }
        if (const auto askable = geometry::check_question(*motion, {{}, *door.opening}); !askable) {
            return askable.error();
        }
        auto line = line_of(limiting_parts(job, car, i, *motion), door, *motion, along, window, step, watch);
        if (!line) {
            return line.error();
        }
        lines.push_back(std::move(line).value());
    }
    return lines;
}

SectionWindow window_about(const CarModel& car, Length along) {
    constexpr double k_beside = 25.0;  // Millimetres on each side.
    constexpr double k_above = 80.0;
    Vector2d low(0.0, 0.0);
    Vector2d high(160.0, 120.0);
    bool first = true;
    for (const PieceModel& piece : car.pieces) {
        if (!piece.line || along < piece.line->front() || along > piece.line->rear()) {
            continue;
        }
        for (const geometry::ProfileNode& node : piece.line->nodes_at(along)) {
            low = first ? node.p_mm : Vector2d(low.cwiseMin(node.p_mm));
            high = first ? node.p_mm : Vector2d(high.cwiseMax(node.p_mm));
            first = false;
        }
    }
    return {low - Vector2d(k_beside, k_beside), high + Vector2d(k_beside, k_above)};
}

}  // namespace sillwright::core
