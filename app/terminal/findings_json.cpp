#include "app/terminal/findings_json.h"

#include <nlohmann/json.hpp>
#include <optional>

#include "core/evaluate.h"
#include "core/stage.h"

namespace sillwright::app::terminal {

using core::Finding;
using geometry::in_deg;
using geometry::in_mm;
using nlohmann::ordered_json;

namespace {

constexpr int k_format = 1;

const char* word(core::State state) {
    switch (state) {
        case core::State::holds:
            return "holds";
        case core::State::close:
            return "close";
        case core::State::falls_short:
            return "falls_short";
        case core::State::not_measured:
            break;
    }
    return "not_measured";
}

const char* word(core::Unit unit) {
    switch (unit) {
        case core::Unit::mm:
            return "mm";
        case core::Unit::deg:
            return "deg";
        case core::Unit::newton:
            return "n";
        case core::Unit::none:
            break;
    }
    return "none";
}

std::string key(const std::string& stem, core::Unit unit) {
    return unit == core::Unit::none ? stem : stem + "_" + word(unit);
}

ordered_json number(const std::optional<double>& value) {
    return value ? ordered_json(*value) : ordered_json(nullptr);
}

template <class List, class OneJson>
ordered_json list_json(const List& list, OneJson one_json) {
    ordered_json json = ordered_json::array();
    for (const auto& one : list) {
        json.push_back(one_json(one));
    }
    return json;
}

ordered_json range_json(const core::AngleRange& range) {
    return {{"from_door_angle_deg", in_deg(range.from)}, {"to_door_angle_deg", in_deg(range.to)}};
}

void put_point(ordered_json& place, const std::string& stem, const std::optional<Eigen::Vector3d>& point_mm) {
    const auto part = [&](int i) { return point_mm ? ordered_json((*point_mm)[i]) : ordered_json(nullptr); };
    place[stem + "_along_mm"] = part(0);
    place[stem + "_out_mm"] = part(1);
    place[stem + "_up_mm"] = part(2);
}

ordered_json place_json(const core::Place& place) {
    ordered_json json;
    json["words"] = place.words;
    json["along_mm"] = place.along ? ordered_json(in_mm(*place.along)) : ordered_json(nullptr);
    json["door_angle_deg"] = place.door_angle ? ordered_json(in_deg(*place.door_angle)) : ordered_json(nullptr);
    put_point(json, "on_part", place.on_part_mm);
    put_point(json, "on_other", place.on_other_mm);
    return json;
}

ordered_json mend_json(const Finding& finding) {
    if (!finding.mend) {
        return nullptr;
    }
    ordered_json json;
    json["words"] = finding.mend->words;
    json["moves"] = ordered_json::array();
    for (const core::NodeMove& move : finding.mend->moves) {
        json["moves"].push_back({{"node", move.node_id}, {"by_out_mm", move.by_mm.x()}, {"by_up_mm", move.by_mm.y()}});
    }
    json["changes"] = ordered_json::array();
    for (const core::FieldChange& change : finding.mend->changes) {
        json["changes"].push_back({{"pointer", change.pointer}, {"value", ordered_json::parse(change.json)}});
    }
    json[key("proven_margin", finding.unit)] = number(finding.mend->proven_margin);
    return json;
}

ordered_json finding_json(const Finding& finding) {
    ordered_json json;
    json["id"] = finding.id;
    json["title"] = finding.title;
    json["stage"] = core::words(finding.stage).key;
    json["state"] = word(finding.state);
    json["limit"] = finding.at_least ? "at_least" : "at_most";
    json["unit"] = word(finding.unit);
    json[key("found", finding.unit)] = number(finding.found);
    json[key("required", finding.unit)] = number(finding.required);
    json[key("margin", finding.unit)] = number(finding.margin);
    json["place"] = place_json(finding.place);
    json["why"] = finding.why;
    json["formula"] = finding.formula;
    json["source"] = finding.source;
    json["unsure_by"] = ordered_json::array();
    for (const auto& part : finding.unsure_by) {
        json["unsure_by"].push_back({{"name", part.name}, {"sd", part.sd}});
    }
    json["inputs"] = ordered_json::array();
    for (const core::Input& input : finding.inputs) {
        json["inputs"].push_back({{"name", input.name}, {"value", input.value}});
    }
    json["missing"] = finding.missing;
    json["touching"] = list_json(finding.touching, range_json);
    json["mend"] = mend_json(finding);
    return json;
}

ordered_json counts_json(const std::vector<Finding>& findings) {
    ordered_json json{{"falls_short", 0}, {"close", 0}, {"holds", 0}, {"not_measured", 0}};
    for (const Finding& finding : findings) {
        json[word(finding.state)] = json[word(finding.state)].get<int>() + 1;
    }
    return json;
}

ordered_json job_json(const CheckedJob& checked) {
    ordered_json json;
    json["file"] = checked.file.string();
    json["sha256"] = checked.sha256;
    json["vehicle"] = checked.job.vehicle;
    json["revision"] = checked.job.revision;
    json["date"] = checked.job.date;
    json["side"] = checked.job.side == core::Side::right ? "right" : "left";
    return json;
}

ordered_json curve_json(const ClearanceCurve& curve) {
    ordered_json json{{"id", curve.id}, {"door", curve.door}, {"moving", curve.moving}, {"fixed", curve.fixed}};
    json["points"] = ordered_json::array();
    for (const ClearanceAtAngle& point : curve.points) {
        ordered_json clearance;  // Bodies that touch have no distance.
        if (point.clearance > geometry::Length{}) {
            clearance = in_mm(point.clearance);
        }
        json["points"].push_back({{"door_angle_deg", in_deg(point.door_angle)}, {"clearance_mm", clearance}});
    }
    return json;
}

ordered_json limit_json(const DoorLimit& limit) {
    ordered_json json{{"door", limit.door}, {"station", limit.station}, {"along_mm", in_mm(limit.along)}};
    json["chains"] = ordered_json::array();
    for (const auto& chain_mm : limit.chains_mm) {
        ordered_json points = ordered_json::array();
        for (const Eigen::Vector2d& p_mm : chain_mm) {
            points.push_back({{"out_mm", p_mm.x()}, {"up_mm", p_mm.y()}});
        }
        json["chains"].push_back(points);
    }
    return json;
}

const char* word(core::SwingCase which) {
    switch (which) {
        case core::SwingCase::striker:
            return "shut_on_striker";
        case core::SwingCase::released:
            return "shut_off_striker";
        case core::SwingCase::moving:
            return "moving";
        case core::SwingCase::over_slam:
            break;
    }
    return "past_shut";
}

const char* word(geometry::AngleState state) {
    switch (state) {
        case geometry::AngleState::free:
            return "free";
        case geometry::AngleState::touching:
            return "touching";
        case geometry::AngleState::within_tolerance:
            break;
    }
    return "within_tolerance";
}

ordered_json interval_json(const geometry::AngleInterval& interval) {
    return {{"from_door_angle_deg", in_deg(interval.from)},
            {"to_door_angle_deg", in_deg(interval.to)},
            {"state", word(interval.state)}};
}

ordered_json outcome_json(const core::SwingOutcome& outcome, const core::CarModel& car) {
    const geometry::MotionDistance& distance = outcome.distance;
    ordered_json json{{"door", car.doors[outcome.pair.door].name},
                      {"moving", outcome.pair.moving->name},
                      {"fixed", outcome.pair.fixed->name},
                      {"case", word(outcome.which)},
                      {"touches", distance.touches}};
    // A distance of zero would be no measure of bodies that cross.
    const auto if_clear = [&](geometry::Length length) {
        return distance.touches ? ordered_json(nullptr) : ordered_json(in_mm(length));
    };
    json["least_mm"] = if_clear(distance.least);
    json["proven_for_meshes_mm"] = if_clear(distance.proven);
    json["proven_mm"] = if_clear(outcome.bound());
    json["door_angle_deg"] = in_deg(distance.at);
    put_point(json, "on_fixed", distance.on_fixed_mm);
    put_point(json, "on_moving", distance.on_moving_mm);
    const bool deep = distance.touches && distance.depth > geometry::Length{};
    json["depth_at_least_mm"] = deep ? ordered_json(in_mm(distance.depth)) : ordered_json(nullptr);
    json["depth_door_angle_deg"] = deep ? ordered_json(in_deg(distance.depth_at)) : ordered_json(nullptr);
    put_point(json, "depth", deep ? std::optional(distance.depth_point_mm) : std::nullopt);
    json["angles"] = list_json(distance.states, interval_json);
    return json;
}

ordered_json outcomes_json(const CheckedJob& checked) {
    if (!checked.evaluation) {
        return ordered_json::array();
    }
    return list_json(checked.evaluation->outcomes,
                     [&](const core::SwingOutcome& outcome) { return outcome_json(outcome, checked.evaluation->car); });
}

}  // namespace

geometry::Result<std::string> findings_json(const CheckedJob& checked) {
    const auto curves = checked.curves();
    if (!curves) {
        return curves.error();
    }
    const auto limits = checked.door_limits();
    if (!limits) {
        return limits.error();
    }
    ordered_json json;
    json["format"] = k_format;
    json["program"] = "sillwright";
    json["version"] = SILLWRIGHT_VERSION;
    json["job"] = job_json(checked);
    json["counts"] = counts_json(checked.findings);
    json["findings"] = list_json(checked.findings, finding_json);
    json["swing_distances"] = outcomes_json(checked);
    json["clearance_curves"] = list_json(curves.value(), curve_json);
    json["door_limits"] = list_json(limits.value(), limit_json);
    // A file name need not be UTF-8; what is not is shown as U+FFFD.
    return json.dump(2, ' ', false, ordered_json::error_handler_t::replace) + "\n";
}

std::string findings_array(const std::vector<Finding>& findings) {
    return list_json(findings, finding_json).dump(2, ' ', false, ordered_json::error_handler_t::replace);
}

}  // namespace sillwright::app::terminal
