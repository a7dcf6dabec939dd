#include "app/terminal/findings_json.h"

#include <nlohmann/json.hpp>
#include <optional>

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

const char* word(core::Stage stage) {
    switch (stage) {
        case core::Stage::measure:
            return "measure";
        case core::Stage::sections:
            return "sections";
        case core::Stage::mounts:
            return "mounts";
        case core::Stage::swing:
            return "swing";
        case core::Stage::forming:
            return "forming";
        case core::Stage::buck:
            return "buck";
        case core::Stage::handover:
            break;
    }
    return "handover";
}

const char* word(core::Unit unit) {
    switch (unit) {
        case core::Unit::mm:
            return "mm";
        case core::Unit::deg:
            return "deg";
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
    json[key("proven_margin", finding.unit)] = number(finding.mend->proven_margin);
    return json;
}

ordered_json finding_json(const Finding& finding) {
    ordered_json json;
    json["id"] = finding.id;
    json["title"] = finding.title;
    json["stage"] = word(finding.stage);
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
    json["inputs"] = ordered_json::array();
    for (const core::Input& input : finding.inputs) {
        json["inputs"].push_back({{"name", input.name}, {"value", input.value}});
    }
    json["missing"] = finding.missing;
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
    ordered_json json{{"id", curve.id}, {"door", curve.door}, {"piece", curve.piece}};
    json["points"] = ordered_json::array();
    for (const ClearanceAtAngle& point : curve.points) {
        json["points"].push_back(
            {{"door_angle_deg", in_deg(point.door_angle)}, {"clearance_mm", in_mm(point.clearance)}});
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

template <class List, class OneJson>
ordered_json list_json(const List& list, OneJson one_json) {
    ordered_json json = ordered_json::array();
    for (const auto& one : list) {
        json.push_back(one_json(one));
    }
    return json;
}

}  // namespace

std::string findings_json(const CheckedJob& checked) {
    ordered_json json;
    json["format"] = k_format;
    json["program"] = "sillwright";
    json["version"] = SILLWRIGHT_VERSION;
    json["job"] = job_json(checked);
    json["counts"] = counts_json(checked.findings);
    json["findings"] = list_json(checked.findings, finding_json);
    json["clearance_curves"] = list_json(checked.curves, curve_json);
    json["door_limits"] = list_json(checked.door_limits, limit_json);
    // A file name need not be UTF-8; what is not is shown as U+FFFD.
    return json.dump(2, ' ', false, ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace sillwright::app::terminal
