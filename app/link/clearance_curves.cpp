#include "app/link/clearance_curves.h"

#include <algorithm>
#include <array>

#include "core/finding_words.h"
#include "core/number_text.h"
#include "core/typed.h"

namespace sillwright::app {

namespace {

constexpr geometry::Angle k_step = geometry::degrees(0.5);  ///< Fine enough to be drawn as it is.

/// The finding that a moving body's gap is in; ids as core::swing_questions makes them.
std::string finding_id(const std::string& door, core::MovingKind kind) {
    const std::string stem = "swing/" + door + "/";
    switch (kind) {
        case core::MovingKind::cladding:
            return stem + "cladding moving";
        case core::MovingKind::carried:
            return stem + "carried moving";
        case core::MovingKind::edge:
            break;
    }
    return stem + "moving";
}

std::string number_words(geometry::Length length, core::BareUnit unit) {
    constexpr int k_inch_decimals = 3;
    return unit == core::BareUnit::in ? core::fixed_text(core::to_unit(length, unit), k_inch_decimals)
                                      : core::fixed_text(geometry::in_mm(length), 2);
}

/// "touches 2.8° to 5.4°, 30.1° to 31.0°"
std::string touching_words(const core::Finding& finding) {
    std::string words;
    for (const core::AngleRange& range : core::touching_ranges(finding)) {
        words += words.empty() ? "touches " : ", ";
        words += core::degree_text(range.from, 1) + " to " + core::degree_text(range.to, 1);
    }
    return words;
}

std::optional<ClearanceMark> mark_of(const core::Finding& finding, core::BareUnit unit) {
    const auto& angle = finding.place.door_angle;
    if (!angle || (!finding.found && finding.touching.empty())) {
        return std::nullopt;
    }
    ClearanceMark mark;
    mark.state = finding.state;
    mark.at = *angle;
    mark.touching = core::touching_ranges(finding);
    mark.least = geometry::millimetres(std::max(0.0, finding.found.value_or(0.0)));
    if (finding.required) {
        mark.needed = geometry::millimetres(*finding.required);
    }
    mark.words = finding.touching.empty() ? number_words(mark.least, unit) + " at " + core::degree_text(*angle, 1)
                                          : touching_words(finding);
    return mark;
}

}  // namespace

geometry::Result<std::vector<ClearanceCurve>> clearance_curves(const core::Evaluation& evaluation,
                                                               const std::optional<std::string>& wanted,
                                                               const geometry::Watch& watch) {
    std::vector<ClearanceCurve> curves;
    for (const core::SwingOutcome& outcome : evaluation.outcomes) {
        if (watch.stop.stop_requested()) {
            return geometry::Error{geometry::ErrorCode::stopped, "The clearance by angle was stopped."};
        }
        const core::SwingPair& pair = outcome.pair;
        const core::DoorModel& door = evaluation.car.doors[pair.door];
        if (outcome.which != core::SwingCase::moving || (wanted && door.name != *wanted)) {
            continue;
        }
        const auto poses = geometry::clearance_curve(*pair.fixed->tree, *pair.moving->tree, outcome.motion,
                                                     geometry::Angle{}, *door.opening, k_step, watch);
        if (!poses) {
            return poses.error();
        }
        ClearanceCurve curve{finding_id(door.name, pair.kind), door.name, pair.moving->name, pair.fixed->name, {}};
        for (const geometry::PoseDistance& pose : poses.value()) {
            curve.points.push_back({pose.at, pose.distance});
        }
        curves.push_back(std::move(curve));
    }
    return curves;
}

std::vector<ClearanceLine> clearance_lines(const std::vector<ClearanceCurve>& curves) {
    std::vector<ClearanceLine> lines;
    for (const ClearanceCurve& curve : curves) {
        const auto line = std::find_if(lines.begin(), lines.end(), [&](const ClearanceLine& one) {
            return one.moving == curve.moving && one.points.size() == curve.points.size();
        });
        if (line == lines.end()) {
            lines.push_back({curve.moving, curve.points});
            continue;
        }
        for (std::size_t i = 0; i < curve.points.size(); ++i) {
            line->points[i].clearance = std::min(line->points[i].clearance, curve.points[i].clearance);
        }
    }
    return lines;
}

std::vector<ClearanceMark> clearance_marks(const std::vector<core::Finding>& findings, const std::string& door,
                                           core::BareUnit unit) {
    using enum core::MovingKind;
    std::vector<ClearanceMark> marks;
    for (const core::MovingKind kind : {edge, cladding, carried}) {
        const std::string id = finding_id(door, kind);
        for (const core::Finding& finding : findings) {
            if (finding.id == id) {
                if (auto mark = mark_of(finding, unit)) {
                    marks.push_back(*std::move(mark));
                }
            }
        }
    }
    return marks;
}

}  // namespace sillwright::app
