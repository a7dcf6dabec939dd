#include "core/handover/papers/door_sheet.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/drawn_loft.h"
#include "core/finding_words.h"
#include "core/handover/papers/paper.h"
#include "core/number_text.h"
#include "core/sill_frame.h"
#include "core/survey/results.h"
#include "core/survey/solution.h"
#include "core/swing/swing_check.h"

namespace sillwright::core {

using geometry::in_mm;

namespace {

constexpr const char* k_not_measured = "not measured";

std::string place_text(const Eigen::Vector3d& p_mm) {
    return "along " + cell_mm(p_mm.x()) + ", out " + cell_mm(p_mm.y()) + ", up " + cell_mm(p_mm.z()) + " mm";
}

std::string pin_text(const Door& door, bool upper) {
    if (!door.hinge) {
        return k_not_measured;
    }
    const auto pin = in_mm(upper ? door.hinge->upper : door.hinge->lower);
    return pin ? place_text(*pin) : std::string(k_not_measured);
}

std::string direction_text(const Door& door) {
    const auto lower = door.hinge ? in_mm(door.hinge->lower) : std::nullopt;
    const auto upper = door.hinge ? in_mm(door.hinge->upper) : std::nullopt;
    if (!lower || !upper || lower->isApprox(*upper)) {
        return k_not_measured;
    }
    const Eigen::Vector3d way = (*upper - *lower).normalized();
    return "along " + fixed_text(way.x(), 4) + ", out " + fixed_text(way.y(), 4) + ", up " + fixed_text(way.z(), 4) +
           " (of length one, from the lower pin to the upper)";
}

/// How sure two places on the axis are, 95 %.
void add_sureness(std::vector<Input>& lines, const DoorModel& model, const survey::Results* results) {
    if (!model.axis) {
        lines.push_back({"how sure the axis is", "not known: its pins are typed, not kept from the book"});
        return;
    }
    const survey::HingeAxis& axis = *model.axis;
    const auto half = [&](int i) {
        return cell_mm(survey::factor_95(1) * std::sqrt(std::max(axis.covariance_mm2(i, i), 0.0)), 2);
    };
    lines.push_back({"axis low down",
                     place_text(axis.lower_mm) + "; ± " + half(0) + ", " + half(1) + ", " + half(2) + " mm (95 %)"});
    lines.push_back({"axis high up",
                     place_text(axis.upper_mm) + "; ± " + half(3) + ", " + half(4) + ", " + half(5) + " mm (95 %)"});
    if (results == nullptr) {
        return;
    }
    if (const auto corner = results->corners.find(model.name); corner != results->corners.end()) {
        lines.push_back({"lower rear corner, standard deviation by the axis",
                         cell_mm(corner->second.worst.sd_mm, 2) + " mm at " + degree_text(corner->second.worst.at, 1)});
    }
}

std::vector<Input> motion_lines(const Door& door, const DoorModel& model, const survey::Results* results) {
    std::vector<Input> lines{{"lower hinge pin", pin_text(door, false)},
                             {"upper hinge pin", pin_text(door, true)},
                             {"direction of the axis", direction_text(door)}};
    add_sureness(lines, model, results);
    lines.push_back({"opens to", door.opening ? degree_text(*door.opening, 1) : k_not_measured});
    const bool sag = door.sag && door.sag->drop && door.sag->distance;
    lines.push_back({"sag off the striker", sag ? mm_text(door.sag->drop->value) + " down at " +
                                                      mm_text(door.sag->distance->value, 0) + " from the hinge"
                                                : k_not_measured});
    if (sag) {
        lines.push_back({"standard deviation of the sag",
                         door.sag->sd ? mm_text(door.sag->sd->value) : std::string(k_not_measured)});
        lines.push_back({"part of the sag that comes at once", fixed_text(100.0 * door.sag->share_at_once, 0) + " %"});
    }
    const bool slam = door.over_slam && door.over_slam->travel && door.over_slam->distance;
    lines.push_back({"travel past shut", slam ? mm_text(door.over_slam->travel->value) + " inboard at " +
                                                    mm_text(door.over_slam->distance->value, 0) + " from the hinge"
                                              : k_not_measured});
    if (door.painted_after) {
        lines.push_back({"paint", "the door is painted after it was measured: one more film in the gap"});
    }
    return lines;
}

/// "swing/front door/": what its findings begin with.
std::string lead_of(const std::string& door) {
    return "swing/" + door + "/";
}

std::string angle_cell(const Finding& finding) {
    const auto ranges = touching_ranges(finding);
    if (ranges.empty()) {
        return finding.place.door_angle ? degree_text(*finding.place.door_angle, 1) : "";
    }
    std::vector<std::string> words;
    for (const AngleRange& range : ranges) {
        words.push_back(degree_text(range.from, 1) + " to " + degree_text(range.to, 1));
    }
    return "touches at " + joined(words, ", ");
}

std::string after(const std::string& text, const std::string& mark) {
    const auto at = text.find(mark);
    return at == std::string::npos ? text : text.substr(at + mark.size());
}

void add_gaps(Document& paper, const Evaluation& evaluation, const std::string& door) {
    Grid grid{{"case", "least gap, proven", "needed", "margin", "opening there", "where", "stands"}, {}, {}};
    std::vector<std::string> remarks;
    for (const Finding& finding : evaluation.findings) {
        if (!finding.id.starts_with(lead_of(door))) {
            continue;
        }
        const FindingCells cells = cells_of(finding);
        const auto& along = finding.place.along;
        grid.rows.push_back({after(finding.title, "to skirt, "), cells.found, cells.needs, cells.margin,
                             angle_cell(finding), along ? place_words(evaluation.job, *along) : "",
                             look(finding.state).word});
        if (finding.state != State::holds) {
            remarks.push_back(finding.title + ": " + told(finding));
        }
    }
    add_grid(paper, std::move(grid));
    add_items(paper, std::move(remarks));
}

const char* case_words(SwingCase which) {
    switch (which) {
        case SwingCase::striker:
            return "shut, on its striker";
        case SwingCase::released:
            return "shut, off its striker";
        case SwingCase::moving:
            return "opening";
        case SwingCase::over_slam:
            break;
    }
    return "slammed past shut";
}

void add_pairs(Document& paper, const Evaluation& evaluation, std::size_t door) {
    Grid grid{{"what moves", "against", "case", "least gap, proven, mm", "opening there", "where", "at its stop, mm"},
              {},
              {}};
    for (const SwingOutcome& outcome : evaluation.outcomes) {
        if (outcome.pair.door != door) {
            continue;
        }
        const geometry::MotionDistance& distance = outcome.distance;
        grid.rows.push_back(
            {outcome.pair.moving->name, outcome.pair.fixed->name, case_words(outcome.which),
             distance.touches ? "touches" : cell(outcome.bound(), 2), degree_text(distance.at, 1),
             place_words(evaluation.job, geometry::millimetres(distance.on_fixed_mm.x())),
             outcome.at_stop
                 ? cell(*outcome.at_stop - outcome.pair.moving->mesh.deviation - outcome.pair.fixed->mesh.deviation, 2)
                 : ""});
    }
    if (!grid.rows.empty()) {
        add_words(paper, "Each part of the door in each case:");
    }
    add_grid(paper, std::move(grid));
}

void add_door(Document& paper, const Evaluation& evaluation, std::size_t number) {
    const Door& door = evaluation.job.doors[number];
    const DoorModel& model = evaluation.car.doors[number];
    add_heading(paper, door.name);
    add_values(paper, motion_lines(door, model, evaluation.survey.get()));
    add_gaps(paper, evaluation, door.name);
    add_pairs(paper, evaluation, number);
    const bool swings =
        std::any_of(evaluation.outcomes.begin(), evaluation.outcomes.end(),
                    [&](const SwingOutcome& one) { return one.pair.door == number && one.which == SwingCase::moving; });
    if (swings) {
        Figure figure;
        figure.kind = FigureKind::clearance;
        figure.name = door.name;
        figure.caption = "Gap of " + door.name + " by how far it is open";
        figure.height_share = 0.3;
        paper.blocks.emplace_back(std::move(figure));
        add_words(paper,
                  "How far down " + door.name +
                      " reaches at each station, and the gap that it needs, is drawn full size on its templates.");
    }
}

}  // namespace

std::optional<Document> door_sheet(const Evaluation& evaluation) {
    if (evaluation.job.doors.empty() || evaluation.car.doors.size() != evaluation.job.doors.size()) {
        return std::nullopt;
    }
    Document paper = begun(evaluation, {"door_sheet",
                                        "Doors and hinges",
                                        "for who draws the sections, and who fits doors",
                                        {Caution::lifted_vehicle, Caution::no_proof},
                                        {Stage::swing}});
    for (std::size_t i = 0; i < evaluation.job.doors.size(); ++i) {
        add_door(paper, evaluation, i);
    }
    const bool unsure = std::any_of(evaluation.findings.begin(), evaluation.findings.end(), [](const Finding& finding) {
        return finding.stage == Stage::swing && !finding.unsure_by.empty();
    });
    if (unsure) {
        Figure figure;
        figure.kind = FigureKind::bars;
        figure.caption = "What makes the worst gap unsure: the longest bar is to be measured better first";
        figure.height_share = 0.25;
        paper.blocks.emplace_back(std::move(figure));
    }
    return paper;
}

}  // namespace sillwright::core
