#include "app/terminal/survey_json.h"

#include <cmath>
#include <nlohmann/json.hpp>

#include "app/terminal/findings_json.h"
#include "core/edit/cell.h"
#include "core/job_file/words.h"
#include "core/survey/reading_line.h"
#include "core/survey/survey_findings.h"

namespace sillwright::app::terminal {

using core::survey::AdjustedNumber;
using core::survey::Comparison;
using core::survey::Reading;
using core::survey::ReadingKind;
using core::survey::ReadingUse;
using core::survey::Solution;
using geometry::in_deg;
using nlohmann::ordered_json;

namespace {

constexpr int k_format = 1;

template <class List, class OneJson>
ordered_json list_json(const List& list, OneJson one_json) {
    ordered_json json = ordered_json::array();
    for (const auto& one : list) {
        json.push_back(one_json(one));
    }
    return json;
}

/// A number that is none has no place in JSON, and none among results.
ordered_json number(const std::optional<double>& value) {
    return value ? ordered_json(*value) : ordered_json(nullptr);
}

ordered_json place_json(const Eigen::Vector3d& at_mm) {
    return {{"along_mm", at_mm.x()}, {"out_mm", at_mm.y()}, {"up_mm", at_mm.z()}};
}

template <class Matrix>
ordered_json matrix_json(const Matrix& matrix) {
    ordered_json rows = ordered_json::array();
    for (Eigen::Index i = 0; i < matrix.rows(); ++i) {
        ordered_json row = ordered_json::array();
        for (Eigen::Index k = 0; k < matrix.cols(); ++k) {
            row.push_back(matrix(i, k));
        }
        rows.push_back(std::move(row));
    }
    return rows;
}

ordered_json point_json(const core::survey::PlacedPoint& point) {
    const auto half = [&](int i) { return core::survey::factor_95(1) * std::sqrt(point.covariance_mm2(i, i)); };
    ordered_json json{{"name", point.name}, {"kind", core::word_cell(core::job_file::k_point_words, point.kind)}};
    json.update(place_json(point.at_mm));
    json["half_95_along_mm"] = half(0);
    json["half_95_out_mm"] = half(1);
    json["half_95_up_mm"] = half(2);
    json["covariance_mm2"] = matrix_json(point.covariance_mm2);
    return json;
}

const char* word(ReadingUse use) {
    switch (use) {
        case ReadingUse::used:
            return "used";
        case ReadingUse::dropped:
            return "dropped";
        case ReadingUse::waiting:
            return "waiting";
        case ReadingUse::not_usable:
            break;
    }
    return "not_usable";
}

const char* word(core::survey::Verdict verdict) {
    switch (verdict) {
        case core::survey::Verdict::same:
            return "same";
        case core::survey::Verdict::different:
            return "different";
        case core::survey::Verdict::measure_better:
            break;
    }
    return "measure_better";
}

bool by_angle(ReadingKind kind) {
    return kind == ReadingKind::angle || kind == ReadingKind::slope;
}

/// Numbers of angle and slope are in degrees there.
void put(ordered_json& json, const std::string& stem, ReadingKind kind, const std::optional<double>& value) {
    if (by_angle(kind)) {
        json[stem + "_deg"] = number(value ? std::optional(in_deg(geometry::radians(*value))) : std::nullopt);
    } else {
        json[stem + "_mm"] = number(value);
    }
}

ordered_json adjusted_json(const AdjustedNumber& one, ReadingKind kind) {
    ordered_json json{{"what", one.what}};
    put(json, "observed", kind, one.observed);
    put(json, "adjusted", kind, one.adjusted);
    put(json, "residual", kind, one.residual);
    put(json, "sd", kind, one.sd);
    json["redundancy"] = one.redundancy;
    json["w"] = number(one.w);
    put(json, "least_blunder", kind, one.least_blunder);
    return json;
}

ordered_json readings_json(const core::Job& job, const Solution& solution) {
    ordered_json all = ordered_json::array();
    for (std::size_t i = 0; i < solution.readings.size(); ++i) {
        const Reading& reading = job.book.readings[i];
        const core::survey::ReadingResult& result = solution.readings[i];
        ordered_json json{{"id", reading.id},
                          {"line", core::survey::line_of_reading(reading, job.unit)},
                          {"kind", core::survey::kind_word(reading.kind)},
                          {"points", reading.points},
                          {"set_up", reading.set_up},
                          {"use", word(result.use)},
                          {"why", reading.dropped.empty() ? result.why : reading.dropped}};
        json["numbers"] =
            list_json(result.numbers, [&](const AdjustedNumber& one) { return adjusted_json(one, reading.kind); });
        all.push_back(std::move(json));
    }
    return all;
}

ordered_json set_up_json(const core::survey::PlacedSetUp& set_up) {
    return {{"name", set_up.name},
            {"found", set_up.found},
            {"roll_deg", in_deg(set_up.roll)},
            {"pitch_deg", in_deg(set_up.pitch)},
            {"roll_sd_deg", in_deg(set_up.roll_sd)},
            {"pitch_sd_deg", in_deg(set_up.pitch_sd)}};
}

ordered_json suspect_json(const core::Job& job, const Solution& solution) {
    if (!solution.suspect) {
        return nullptr;
    }
    const core::survey::Suspect& suspect = *solution.suspect;
    const Reading& reading = job.book.readings[suspect.reading];
    ordered_json json{{"reading", reading.id},
                      {"what", solution.readings[suspect.reading].numbers[suspect.number].what},
                      {"w", suspect.w}};
    put(json, "expected", reading.kind, suspect.expected);
    json["told_apart"] = suspect.told_apart;
    json["others"] = list_json(suspect.others, [&](std::size_t other) { return job.book.readings[other].id; });
    json["words"] = core::suspect_words(job, solution);
    return json;
}

ordered_json next_json(const Solution& solution) {
    if (!solution.next) {
        return nullptr;
    }
    const core::survey::NextReading& next = *solution.next;
    return {{"kind", core::survey::kind_word(next.kind)},
            {"points", next.points},
            {"set_up", next.set_up},
            {"for_point", next.for_point},
            {"before_mm", next.before_mm},
            {"after_mm", next.after_mm},
            {"words", next.words}};
}

ordered_json axis_json(const core::survey::HingeAxis& axis, const core::survey::Results& results) {
    ordered_json json{
        {"lower", place_json(axis.lower_mm)}, {"upper", place_json(axis.upper_mm)}, {"from_pins", axis.from_pins}};
    json["openings"] = ordered_json::array();
    for (std::size_t i = 0; i < axis.openings.size(); ++i) {
        json["openings"].push_back(
            {{"opening_deg", in_deg(axis.openings[i])}, {"sd_deg", in_deg(axis.opening_sds[i])}});
    }
    json["covariance_mm2"] = matrix_json(axis.covariance_mm2);
    json["misses"] = list_json(axis.misses, [](const core::survey::TargetMiss& miss) {
        return ordered_json{{"target", miss.target}, {"opening", miss.opening}, {"w", miss.w}};
    });
    json["suspect"] = axis.suspect ? ordered_json(*axis.suspect) : ordered_json(nullptr);
    json["weaknesses"] = axis.weaknesses;
    const auto corner = results.corners.find(axis.door);
    const bool known = corner != results.corners.end();
    json["corner_sd_mm"] = known ? ordered_json(corner->second.worst.sd_mm) : ordered_json(nullptr);
    json["corner_at_deg"] = known ? ordered_json(in_deg(corner->second.worst.at)) : ordered_json(nullptr);
    return json;
}

ordered_json comparison_json(const std::optional<Comparison>& comparison) {
    if (!comparison) {
        return nullptr;
    }
    ordered_json json;
    json["verdict"] = comparison->verdict ? ordered_json(word(*comparison->verdict)) : ordered_json(nullptr);
    json["words"] = comparison->words;
    json["lacks"] = comparison->lacks;
    json["limit_mm"] = comparison->limit_mm;
    json["rms_mm"] = comparison->rms_mm;
    json["points"] = list_json(comparison->points, [](const core::survey::PointDifference& point) {
        ordered_json one{{"name", point.name}};
        one.update(place_json(point.difference_mm));
        one["distance_mm"] = point.distance_mm;
        one["sd_mm"] = point.sd_mm;
        one["bound_mm"] = point.bound_mm;
        one["w"] = point.w;
        one["verdict"] = word(point.verdict);
        return one;
    });
    return json;
}

}  // namespace

std::string survey_json(const SurveyedJob& surveyed) {
    const core::Job& job = surveyed.job;
    const core::survey::Results& results = surveyed.results;
    const Solution& solution = results.solution;
    ordered_json json{{"format", k_format}, {"program", "sillwright"}, {"version", SILLWRIGHT_VERSION}};
    json["job"] = {{"file", surveyed.file.string()},
                   {"vehicle", job.vehicle},
                   {"revision", job.revision},
                   {"date", job.date},
                   {"side", job.side == core::Side::right ? "right" : "left"}};
    json["book"] = {{"who", job.book.who}, {"date", job.book.date}, {"temperature_c", number(job.book.temperature)}};
    json["points"] = list_json(solution.points, point_json);
    json["lacking"] = list_json(solution.lacking, [](const core::survey::LackingPoint& point) {
        return ordered_json{{"name", point.name}, {"lacks", point.lacks}};
    });
    json["problems"] = solution.problems;
    json["mirrored"] = list_json(solution.mirrored, [](const core::survey::Mirrored& question) {
        return ordered_json{{"points", question.points},
                            {"question", question.question},
                            {"here", list_json(question.here_mm, place_json)},
                            {"there", list_json(question.there_mm, place_json)}};
    });
    json["readings"] = readings_json(job, solution);
    json["set_ups"] = list_json(solution.set_ups, set_up_json);
    json["global_test"] = {{"sum", solution.global.sum},
                           {"degrees_of_freedom", solution.global.degrees_of_freedom},
                           {"lower", solution.global.lower},
                           {"upper", solution.global.upper},
                           {"holds", solution.global.holds}};
    json["suspect"] = suspect_json(job, solution);
    json["next_reading"] = next_json(solution);
    json["hinges"] = list_json(results.hinges, [&](const core::survey::HingeOutcome& outcome) {
        return ordered_json{{"door", outcome.door},
                            {"lacks", outcome.lacks},
                            {"axis", outcome.axis ? axis_json(*outcome.axis, results) : ordered_json(nullptr)}};
    });
    json["set_ups_compared"] = comparison_json(results.set_ups);
    json["other_hand"] = comparison_json(results.other_hand);
    json["other_hand_lacks"] = results.other_hand_lacks;
    json["findings"] = ordered_json::parse(findings_array(surveyed.findings));
    return json.dump(2, ' ', false, ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace sillwright::app::terminal
