#include "core/handover/papers/survey_copy.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/handover/papers/paper.h"
#include "core/number_text.h"
#include "core/survey/reading_line.h"
#include "core/survey/survey_number.h"

namespace sillwright::core {

using survey::Comparison;
using survey::PlacedPoint;
using survey::ReadingResult;
using survey::ReadingUse;
using survey::Solution;

namespace {

/// Half-width of 95 % of one coordinate, of its variance.
std::string plus_minus(double variance_mm2) {
    return cell_mm(survey::factor_95(1) * std::sqrt(std::max(variance_mm2, 0.0)), 2);
}

const char* kind_words(survey::PointKind kind) {
    switch (kind) {
        case survey::PointKind::mark:
            return "mark";
        case survey::PointKind::mount:
            return "mount";
        case survey::PointKind::door_target:
            return "target on a door";
        case survey::PointKind::profile:
            return "point of a section";
        case survey::PointKind::other:
            break;
    }
    return "other point";
}

void add_points(Document& paper, const Solution& solution) {
    Grid grid{{"point", "kind", "along, mm", "± mm", "out, mm", "± mm", "up, mm", "± mm"}, {}, {}};
    for (const PlacedPoint& point : solution.points) {
        std::vector<std::string> row{point.name, kind_words(point.kind)};
        for (int i = 0; i < 3; ++i) {
            row.push_back(cell_mm(point.at_mm[i], 2));
            row.push_back(plus_minus(point.covariance_mm2(i, i)));
        }
        grid.rows.push_back(std::move(row));
    }
    if (!grid.rows.empty()) {
        add_heading(paper, "Points, adjusted");
        add_words(paper, "± holds 95 of 100. A coordinate that is held by the frame has ± 0.00.");
    }
    add_grid(paper, std::move(grid));
    std::vector<std::string> lacking;
    for (const survey::LackingPoint& point : solution.lacking) {
        lacking.push_back(point.lacks);
    }
    add_items(paper, std::move(lacking));
}

/// A number of a reading with its normalised residual.
struct Judged {
    std::size_t reading = 0;
    const survey::AdjustedNumber* number = nullptr;
};

std::vector<Judged> worst_readings(const Solution& solution) {
    std::vector<Judged> all;
    for (std::size_t i = 0; i < solution.readings.size(); ++i) {
        for (const survey::AdjustedNumber& number : solution.readings[i].numbers) {
            if (solution.readings[i].use == ReadingUse::used && number.w) {
                all.push_back({i, &number});
            }
        }
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const Judged& a, const Judged& b) { return *a.number->w > *b.number->w; });
    all.resize(std::min(all.size(), k_worst_readings));
    return all;
}

void add_readings(Document& paper, const Job& job, const Solution& solution) {
    Grid worst{{"reading", "as read", "as adjusted", "standard deviation", "misfit, in its own deviations"}, {}, {}};
    for (const Judged& one : worst_readings(solution)) {
        const survey::Reading& reading = job.book.readings[one.reading];
        const std::string unit = survey::survey_unit(reading.kind, job.unit);
        const auto text = [&](double value) { return survey::survey_number(value, reading.kind, job.unit) + unit; };
        worst.rows.push_back({survey::line_of_reading(reading, job.unit), text(one.number->observed),
                              text(one.number->adjusted), text(one.number->sd), fixed_text(*one.number->w, 2)});
    }
    if (!worst.rows.empty()) {
        add_heading(paper, "Readings that fit least");
        add_words(paper,
                  "Above " + fixed_text(survey::k_blunder_w, 2) + " a reading is called wrong: measure it again.");
    }
    add_grid(paper, std::move(worst));
    Grid dropped{{"reading", "why it does not count"}, {}, {}};
    for (std::size_t i = 0; i < solution.readings.size(); ++i) {
        const ReadingResult& result = solution.readings[i];
        if (result.use != ReadingUse::used) {
            const survey::Reading& reading = job.book.readings[i];
            dropped.rows.push_back({survey::line_of_reading(reading, job.unit),
                                    result.use == ReadingUse::dropped ? "dropped: " + reading.dropped : result.why});
        }
    }
    if (!dropped.rows.empty()) {
        add_heading(paper, "Readings that do not count");
    }
    add_grid(paper, std::move(dropped));
}

void add_comparison(Document& paper, const std::string& title, const Comparison& comparison) {
    add_heading(paper, title);
    add_words(paper, comparison.verdict ? comparison.words : comparison.lacks);
    Grid grid{{"point", "along, mm", "out, mm", "up, mm", "distance, mm", "95 % bound, mm", "limit, mm"}, {}, {}};
    for (const survey::PointDifference& point : comparison.points) {
        grid.rows.push_back({point.name, cell_mm(point.difference_mm.x(), 2), cell_mm(point.difference_mm.y(), 2),
                             cell_mm(point.difference_mm.z(), 2), cell_mm(point.distance_mm, 2),
                             cell_mm(point.bound_mm, 2), cell_mm(comparison.limit_mm, 2)});
    }
    add_grid(paper, std::move(grid));
}

void add_book(Document& paper, const Job& job, const Solution& solution) {
    const survey::Book& book = job.book;
    const auto said = [](const std::string& words) { return words.empty() ? std::string("not written") : words; };
    std::vector<Input> lines{
        {"measured by", said(book.who)}, {"on", said(book.date)}, {"readings", std::to_string(book.readings.size())}};
    for (const survey::PlacedSetUp& set_up : solution.set_ups) {
        lines.push_back({"lean of the car, " + set_up.name, set_up.found ? "outward " + degree_text(set_up.roll) +
                                                                               ", rearward " + degree_text(set_up.pitch)
                                                                         : "no reading says"});
    }
    if (solution.global.degrees_of_freedom > 0) {
        lines.push_back({"squares of the misfits, summed",
                         fixed_text(solution.global.sum, 1) + ", should be within " +
                             fixed_text(solution.global.lower, 1) + " and " + fixed_text(solution.global.upper, 1) +
                             (solution.global.holds ? ": holds" : ": does not hold")});
    }
    for (const survey::Photo& photo : job.photos) {
        lines.push_back({"photo", photo.path});
    }
    add_values(paper, std::move(lines));
}

}  // namespace

std::optional<Document> survey_copy(const Evaluation& evaluation) {
    const Job& job = evaluation.job;
    if (job.book.readings.empty() || evaluation.survey == nullptr) {
        return std::nullopt;
    }
    const survey::Results& results = *evaluation.survey;
    Document paper = begun(evaluation, {"survey",
                                        "What the measuring book says",
                                        "for who measures and who draws",
                                        {Caution::lifted_vehicle, Caution::near_the_sill, Caution::no_proof},
                                        {Stage::measure}});
    add_book(paper, job, results.solution);
    add_items(paper, results.solution.problems);
    if (!results.solution.points.empty()) {
        Figure figure;
        figure.kind = FigureKind::network;
        figure.caption = "The measured points";
        paper.blocks.emplace_back(std::move(figure));
    }
    add_points(paper, results.solution);
    add_readings(paper, job, results.solution);
    if (results.set_ups) {
        add_comparison(paper, "On wheels and on the lift", *results.set_ups);
    }
    if (results.other_hand) {
        add_comparison(paper, "Left and right", *results.other_hand);
    }
    add_words(paper, results.other_hand_lacks);
    return paper;
}

}  // namespace sillwright::core
