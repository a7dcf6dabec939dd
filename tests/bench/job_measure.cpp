#include "tests/bench/job_measure.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include "core/drag.h"
#include "core/edit/node_edit.h"
#include "core/evaluate.h"
#include "core/forming/draw.h"
#include "core/forming/formed_sheet.h"
#include "core/forming/forming_plan.h"
#include "core/job_file.h"
#include "core/swing/door_limit_line.h"
#include "tests/bench/measure.h"

namespace sillwright::bench {

using core::Evaluation;
using core::Job;
using core::Mends;
using geometry::in_mm;
using geometry::millimetres;

namespace {

constexpr int k_runs = 5;
constexpr int k_moves = 200;
constexpr double k_circle_mm = 3.0;
/// As the window draws them.
constexpr geometry::Length k_limit_step = millimetres(2.0);
constexpr geometry::Angle k_curve_step = geometry::degrees(0.5);

const std::filesystem::path& folder() {
    static const std::filesystem::path samples = SILLWRIGHT_SOURCE_DIR "/samples";
    return samples;
}

void measure_drag(JobTimes& times, const std::shared_ptr<const Evaluation>& from, const core::Node& node) {
    const Eigen::Vector2d start(in_mm(node.out.value), in_mm(node.up.value));
    times.drag_begin_ms = least_ms(k_runs, [&] { times.failed |= !core::Drag::begin(from, node.id).has_value(); });
    auto begun = core::Drag::begin(from, node.id);
    if (!begun) {
        return;
    }
    core::Drag drag = std::move(begun).value();
    std::vector<double> moves;
    for (int i = 0; i < k_moves; ++i) {
        const double turn = 2.0 * std::numbers::pi * i / k_moves;
        const std::clock_t begin = std::clock();
        times.failed |= !drag.to(start + k_circle_mm * Eigen::Vector2d(std::cos(turn), std::sin(turn))).has_value();
        moves.push_back(ms_since(begin));
    }
    std::sort(moves.begin(), moves.end());
    times.drag_median_ms = moves[moves.size() / 2];
    times.drag_most_ms = moves[moves.size() * 95 / 100];
}

double update_ms(JobTimes& times, const Evaluation& before, const Job& job) {
    return least_ms(k_runs,
                    [&] { times.failed |= !core::update(job, before, folder(), {}, Mends::leave).has_value(); });
}

/// The whole stage of a sample, formed thickness too, mends left.
double forming_ms(JobTimes& times, const std::string& sample) {
    const auto job = core::read_job(folder() / sample);
    const auto evaluated = job ? core::evaluate(job.value(), folder(), {}, Mends::leave) : job.error();
    if (!evaluated) {
        times.failed = true;
        return 0.0;
    }
    const Evaluation& evaluation = *evaluated.value();
    return least_ms(k_runs, [&] {
        for (std::size_t i = 0; i < evaluation.job.skirt.pieces.size(); ++i) {
            const geometry::Loft& line = *evaluation.car.pieces[i].line;
            const core::Piece& piece = evaluation.job.skirt.pieces[i];
            const auto sheet =
                core::formed_sheet(evaluation.job, piece, line, core::draw_tilt(evaluation.job, piece, line));
            times.failed |= !sheet.has_value() || sheet.value() == nullptr;
        }
        const core::FormingPlan plan = core::forming_plan(evaluation.job, evaluation.car);
        times.failed |=
            core::forming_findings(evaluation.job, evaluation.car, evaluation.plan, plan, Mends::leave).empty();
    });
}

void measure_drawings(JobTimes& times, const Evaluation& evaluation) {
    for (const core::Station& station : evaluation.job.stations) {
        const geometry::Length along = station.along.value;
        times.limits_ms =
            std::max(times.limits_ms, least_ms(1, [&] {
                         times.failed |= !core::door_limit_lines(evaluation.job, evaluation.car, along,
                                                                 core::window_about(evaluation.car, along),
                                                                 k_limit_step, {}, core::LimitingDoors::standing_there)
                                              .has_value();
                     }));
    }
    for (const core::SwingOutcome& outcome : evaluation.outcomes) {
        if (outcome.which == core::SwingCase::moving) {
            const geometry::Angle stop = *evaluation.car.doors[outcome.pair.door].opening;
            times.curve_ms = std::max(times.curve_ms, least_ms(k_runs, [&] {
                                          times.failed |= !geometry::clearance_curve(
                                                               *outcome.pair.fixed->tree, *outcome.pair.moving->tree,
                                                               outcome.motion, {}, stop, k_curve_step)
                                                               .has_value();
                                      }));
        }
    }
}

}  // namespace

JobTimes measure_job() {
    JobTimes times;
    const auto job = core::read_job(folder() / "estate_a.sillwright");
    const auto evaluated = job ? core::evaluate(job.value(), folder()) : job.error();
    if (!evaluated) {
        times.failed = true;
        return times;
    }
    const auto& sections = job.value().skirt.pieces[0].drawn.sections;
    const core::Node& node = sections[sections.size() / 2].nodes[2];
    measure_drag(times, evaluated.value(), node);
    const Eigen::Vector2d there(in_mm(node.out.value), in_mm(node.up.value) - 1.0);
    const auto moved = core::move_node(job.value(), node.id, there);
    times.failed |= !moved.has_value();
    if (moved) {
        times.node_update_ms = update_ms(times, *evaluated.value(), moved.value().job);
    }
    Job other = job.value();
    other.mounts[1].at.along.value = other.mounts[1].at.along.value + millimetres(5.0);
    times.mount_update_ms = update_ms(times, *evaluated.value(), other);
    times.forming_ms =
        std::max(forming_ms(times, "estate_a.sillwright"), forming_ms(times, "estate_a_flutes.sillwright"));
    measure_drawings(times, *evaluated.value());
    return times;
}

}  // namespace sillwright::bench
