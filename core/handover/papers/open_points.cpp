#include "core/handover/papers/open_points.h"

#include <algorithm>
#include <utility>

#include "core/forming/forming_plan.h"
#include "core/handover/papers/paper.h"
#include "core/material.h"
#include "core/number_text.h"

namespace sillwright::core {

namespace {

using Points = std::vector<OpenPoint>;
using enum Stage;

void assume(Points& points, std::string words, std::vector<Stage> stages) {
    points.push_back({std::move(words), std::move(stages), true});
}

void assume_of_the_car(Points& points, const Evaluation& evaluation) {
    const Job& job = evaluation.job;
    if (!job.survey_sd) {
        assume(points, "How well the car was measured is not stated: gaps are asked for without room for it.",
               {measure, mounts, swing});
    }
    if (!job.zero_to_midplane) {
        assume(points, "The distance from the line where out is zero to the car's mid-plane is not measured.",
               {measure});
    }
    if (job.other_hand.empty()) {
        assume(points,
               "This side is not compared with the other one: nothing here is for the " +
                   std::string(job.side == Side::right ? "left" : "right") + " side.",
               {measure, handover});
    }
    for (std::size_t i = 0; i < job.doors.size() && i < evaluation.car.doors.size(); ++i) {
        if (job.doors[i].hinge && !evaluation.car.doors[i].axis) {
            assume(points,
                   "The hinge axis of " + job.doors[i].name +
                       " is taken as typed: it is not kept from the book, and how sure it is counts as nothing.",
                   {swing});
        }
    }
}

void assume_of_the_sheet(Points& points, const Evaluation& evaluation) {
    const Job& job = evaluation.job;
    if (!job.skirt.forming_sd) {
        assume(points, "How true the formed part comes out is not stated: gaps are asked for without room for it.",
               {swing, forming});
    }
    if (!job.skirt.paint) {
        assume(points, "The paint's thickness is not stated.", {sections, mounts, swing, forming});
    }
    for (std::size_t i = 0; i < job.skirt.pieces.size() && i < evaluation.car.pieces.size(); ++i) {
        const Piece& piece = job.skirt.pieces[i];
        if (evaluation.car.pieces[i].formed) {
            assume(
                points,
                piece.name + ": how thick it is when it is formed is computed, not measured. Measure the first part.",
                {sections, mounts, forming, buck});
        } else if (piece.sheet) {
            assume(points, piece.name + " is taken to be as thick as its sheet everywhere; a formed sheet is thinner.",
                   {sections, mounts, swing, forming, buck});
        }
    }
    const MaterialNumbers numbers = numbers_of(job.skirt.material);
    if (!job.skirt.material.expansion_per_k && numbers.expansion_per_k) {
        assume(points,
               "The expansion of " + numbers.name + " is the usual one, " +
                   fixed_text(*numbers.expansion_per_k * 1e6, 0) + " millionths for each kelvin.",
               {mounts});
    }
    if (!job.skirt.material.density_kg_per_m3 && numbers.density_kg_per_m3) {
        assume(points,
               "The density of " + numbers.name + " is the usual one, " + fixed_text(*numbers.density_kg_per_m3, 0) +
                   " kg/m³.",
               {forming, handover});
    }
}

void assume_of_the_holes(Points& points, const Evaluation& evaluation) {
    const MountPlan& plan = evaluation.plan;
    if (plan.holes.empty()) {
        return;
    }
    if (!plan.locator.empty() && plan.locator_proposed) {
        assume(points, plan.locator + " as the locator is proposed, not decided.", {mounts});
    }
    if (!plan.guide.empty() && plan.guide_proposed) {
        assume(points, plan.guide + " as the guide is proposed, not decided.", {mounts});
    }
    if (!evaluation.job.fitting.fits_other_cars) {
        assume(points, "Holes are sized for the car that was measured; another one of its kind may differ.", {mounts});
    }
}

void assume_of_the_moulds(Points& points, const Evaluation& evaluation) {
    const Job& job = evaluation.job;
    if (evaluation.forming == nullptr) {
        return;
    }
    for (const ChainStep& step : evaluation.forming->chain) {
        for (const bool across : {false, true}) {
            if (step.kind != GenerationKind::plug && step.missing_in(across).empty() && !step.measured(across)) {
                assume(points,
                       step.name + ": what it shrinks by " + direction_word(across) + " is assumed, " +
                           fixed_text(100.0 * (1.0 - step.ratio(across)), 2) + " %, not measured yet.",
                       {forming, buck});
            }
        }
    }
    for (const PieceForming& piece : evaluation.forming->pieces) {
        if (!job.forming.tilt && !piece.draw.strips.empty()) {
            assume(points,
                   job.skirt.pieces[piece.piece].name + ": the tilt of the draw direction, " +
                       degree_text(piece.draw.tilt, 1) + ", is the best one found, not decided.",
                   {forming, buck});
        }
        for (const FluteLane& lane : piece.lanes) {
            if (lane.bit_proposed && !lane.bit.empty()) {
                assume(points,
                       std::string(lane.recess ? "Recess " : "Flute ") + lane.name + ": the bit \"" + lane.bit +
                           "\" is proposed, not decided.",
                       {forming});
            }
        }
    }
}

/// One of each thing that is missing, with the first finding that waits for it and how many more do.
struct Missing {
    std::string what, first;
    std::size_t more = 0;
    std::vector<Stage> stages;
};

void note(std::vector<Missing>& all, const std::string& what, const std::string& by, Stage stage) {
    const auto known = std::find_if(all.begin(), all.end(), [&](const Missing& one) { return one.what == what; });
    if (known == all.end()) {
        all.push_back({what, by, 0, {stage}});
        return;
    }
    ++known->more;
    if (std::find(known->stages.begin(), known->stages.end(), stage) == known->stages.end()) {
        known->stages.push_back(stage);
    }
}

void add_missing(Points& points, const Evaluation& evaluation) {
    std::vector<Missing> all;
    for (const Stage stage : {measure, sections, mounts, swing, forming, buck, handover}) {
        for (const Finding& finding : evaluation.findings) {
            if (finding.stage == stage) {
                for (const std::string& what : finding.missing) {
                    note(all, what, finding.title, stage);
                }
            }
        }
    }
    for (Missing& one : all) {
        std::string words = "Not measured: " + one.what + ". It leaves open: " + one.first;
        words += one.more == 0 ? "." : ", and " + std::to_string(one.more) + " more.";
        points.push_back({std::move(words), std::move(one.stages), false});
    }
}

}  // namespace

std::vector<OpenPoint> open_points(const Evaluation& evaluation) {
    Points points;
    assume_of_the_car(points, evaluation);
    assume_of_the_holes(points, evaluation);
    assume_of_the_sheet(points, evaluation);
    assume_of_the_moulds(points, evaluation);
    add_missing(points, evaluation);
    return points;
}

std::vector<std::string> open_words(const std::vector<OpenPoint>& points, const std::vector<Stage>& stages) {
    std::vector<std::string> words;
    for (const OpenPoint& point : points) {
        const bool bears = std::any_of(point.stages.begin(), point.stages.end(), [&](Stage stage) {
            return std::find(stages.begin(), stages.end(), stage) != stages.end();
        });
        if (bears) {
            words.push_back(point.words);
        }
    }
    return words;
}

}  // namespace sillwright::core
