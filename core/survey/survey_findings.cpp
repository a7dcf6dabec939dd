#include "core/survey/survey_findings.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <utility>

#include "core/drawn_loft.h"
#include "core/finding_state.h"
#include "core/number_text.h"
#include "core/sill_frame.h"
#include "core/survey/checked.h"
#include "core/survey/reading_line.h"
#include "core/survey/survey_number.h"

namespace sillwright::core {

using geometry::in_mm;
using geometry::millimetres;
using survey::PlacedPoint;
using survey::Reading;
using survey::ReadingKind;
using survey::ReadingResult;
using survey::ReadingUse;
using survey::Results;
using survey::Solution;

namespace {

constexpr const char* k_practice = "common practice, no source";
constexpr const char* k_baarda = "W. Baarda, A testing procedure for use in geodetic networks, 1968";
/// Largest sd of the door's lower rear corner: common practice, no source.
constexpr double k_most_corner_sd_mm = 1.0;
/// A place that is held exactly, and of which no sd is stored, is still no better than this: a scribed mark's width.
/// Common practice, no source.
constexpr double k_least_place_sd_mm = 0.1;
/// More names than this are counted, not listed.
constexpr std::size_t k_most_named = 8;

Finding blank(const std::string& id, const std::string& title) {
    Finding finding;
    finding.id = id;
    finding.title = title;
    finding.stage = Stage::measure;
    finding.unit = Unit::none;
    finding.source = k_practice;
    return finding;
}

void at_most(Finding& finding, double found, double required) {
    finding.at_least = false;
    finding.found = found;
    finding.required = required;
    finding.margin = required - found;
}

/// Nothing of a survey is close: its limits are drawn for certainty already.
void settle(Finding& finding) {
    finding.state = state_of(finding.margin, 0.0, finding.missing);
}

Finding not_measured(const std::string& id, const std::string& title, const std::string& why,
                     std::vector<std::string> missing) {
    Finding finding = blank(id, title);
    finding.why = why;
    finding.formula = "least squares over all readings of the book";
    finding.missing = std::move(missing);
    settle(finding);
    return finding;
}

std::string listed(const std::vector<std::string>& names) {
    std::string words;
    for (std::size_t i = 0; i < std::min(names.size(), k_most_named); ++i) {
        words += (i == 0 ? "" : ", ") + names[i];
    }
    return names.size() > k_most_named ? words + " and " + std::to_string(names.size() - k_most_named) + " more"
                                       : words;
}

/// "E-H1"
std::string between(const Reading& reading) {
    std::string words;
    for (const std::string& name : reading.points) {
        words += (words.empty() ? "" : "-") + name;
    }
    return words;
}

/// "E-H1", "height A-H1"
std::string name_of(const Reading& reading) {
    return (reading.kind == ReadingKind::tie ? "" : survey::kind_word(reading.kind) + " ") + between(reading);
}

std::string again_words(const Reading& reading) {
    switch (reading.kind) {
        case ReadingKind::tie:
            return "Put the tape again on " + between(reading);
        case ReadingKind::gauge:
            return "Lay the gauge again on " + between(reading);
        default:
            break;
    }
    return "Measure the " + survey::kind_word(reading.kind) + " " + between(reading) + " again";
}

/// The place of what a reading is about: its last point that is placed.
Place place_of(const Job& job, const Solution& solution, std::size_t index) {
    const Reading& reading = job.book.readings[index];
    Place place;
    place.words =
        "reading " + std::to_string(index + 1) + " of the book: " + survey::line_of_reading(reading, job.unit);
    for (const std::string& name : reading.points) {
        if (const PlacedPoint* point = solution.find(name)) {
            place.on_other_mm = point->at_mm;
            place.along = millimetres(point->at_mm.x());
        }
        if (std::any_of(job.mounts.begin(), job.mounts.end(), [&](const Mount& one) { return one.name == name; })) {
            place.mount = name;
        }
    }
    return place;
}

Finding agreement(const survey::GlobalTest& global) {
    Finding finding = blank("measure/book/agreement", "Measuring book, all readings together");
    finding.formula =
        "square root of (sum of squared residuals over their variances / degrees of freedom) <= square root of "
        "(97.5 % point of chi-squared / degrees of freedom)";
    finding.source = "the chi-squared test of the variance of unit weight, two-sided, 95 %";
    if (global.degrees_of_freedom <= 0) {
        finding.why = "No reading is more than is needed, so none checks another.";
        finding.missing = {"more readings than are needed: each hole to a third mark, its neighbour, the next but one"};
    } else {
        const double freedom = global.degrees_of_freedom;
        at_most(finding, std::sqrt(global.sum / freedom), std::sqrt(global.upper / freedom));
        finding.why = global.sum > global.upper ? "The readings disagree by more than their standard deviations allow."
                      : global.sum < global.lower
                          ? "The readings agree better than their standard deviations say: these are stated too large."
                          : "The readings agree as well as their standard deviations say.";
        finding.inputs = {{"degrees of freedom", std::to_string(global.degrees_of_freedom)},
                          {"sum of squares", fixed_text(global.sum, 2)},
                          {"95 % of chi-squared", fixed_text(global.lower, 2) + " to " + fixed_text(global.upper, 2)}};
    }
    settle(finding);
    return finding;
}

/// The reading whose normalised residual is the largest, and that.
std::optional<std::pair<std::size_t, double>> worst_reading(const Solution& solution) {
    std::optional<std::pair<std::size_t, double>> worst;
    for (std::size_t i = 0; i < solution.readings.size(); ++i) {
        if (solution.readings[i].use == ReadingUse::used) {
            for (const survey::AdjustedNumber& number : solution.readings[i].numbers) {
                if (number.w && (!worst || *number.w > worst->second)) {
                    worst = {i, *number.w};
                }
            }
        }
    }
    return worst;
}

Finding worst_reading_finding(const Job& job, const Solution& solution) {
    Finding finding = blank("measure/book/worst reading", "Measuring book, its most doubtful reading");
    finding.formula = "|residual| / its standard deviation <= 3.29 (false alarm in 1 of 1000)";
    finding.source = k_baarda;
    const auto worst = solution.suspect ? std::optional(std::pair(solution.suspect->reading, solution.suspect->w))
                                        : worst_reading(solution);
    if (!worst) {
        finding.why = "No reading is checked by others, so a misreading would not show.";
        finding.missing = {"more readings than are needed"};
    } else {
        at_most(finding, worst->second, survey::k_blunder_w);
        finding.place = place_of(job, solution, worst->first);
        finding.why = solution.suspect
                          ? suspect_words(job, solution)
                          : name_of(job.book.readings[worst->first]) + " is farthest from what the others say.";
    }
    settle(finding);
    return finding;
}

Finding unchecked(const Job& job, const Solution& solution) {
    Finding finding = blank("measure/book/unchecked", "Measuring book, each reading checked by others");
    finding.formula = "redundancy number of each reading >= 0.15 (profile points left out)";
    std::vector<std::string> names;
    std::optional<double> least;
    for (std::size_t i = 0; i < solution.readings.size(); ++i) {
        const Reading& reading = job.book.readings[i];
        if (solution.readings[i].use != ReadingUse::used || !survey::wants_check(reading)) {
            continue;
        }
        for (const survey::AdjustedNumber& number : solution.readings[i].numbers) {
            least = std::min(least.value_or(number.redundancy), number.redundancy);
        }
        if (survey::how_checked(solution.readings[i]) != survey::Checked::by_others) {
            names.push_back(name_of(reading));
        }
    }
    finding.found = least;
    finding.required = survey::k_hardly_checked;
    if (names.empty() && least) {
        finding.margin = *least - survey::k_hardly_checked;
        finding.why = "A misreading of any of them would show.";
    } else {
        const bool one = names.size() == 1;
        finding.why =
            (one ? "A misreading would not show of: " : "Misreadings would not show of: ") + listed(names) + ".";
        finding.missing = {one ? "another reading that checks " + names[0]
                               : "further readings of their points, to other marks and neighbours"};
        if (solution.next) {
            finding.missing.push_back(solution.next->words);
        }
    }
    settle(finding);
    return finding;
}

bool is_mount(const Job& job, const std::string& name) {
    const bool in_job =
        std::any_of(job.mounts.begin(), job.mounts.end(), [&](const Mount& mount) { return mount.name == name; });
    return in_job || std::any_of(job.book.points.begin(), job.book.points.end(), [&](const survey::Point& point) {
               return point.name == name && point.kind == survey::PointKind::mount;
           });
}

void add_lacking(std::vector<Finding>& all, const Job& job, const Solution& solution) {
    if (!solution.problems.empty()) {
        all.push_back(not_measured("measure/book/frame", "Measuring book, its frame",
                                   "Not all that was read hangs together.", solution.problems));
    }
    std::vector<std::string> others;
    for (const survey::LackingPoint& point : solution.lacking) {
        if (is_mount(job, point.name)) {
            Finding finding = not_measured("measure/" + point.name + "/placed", point.name + ", placed by the book",
                                           "The readings do not place it yet.", {point.lacks});
            finding.place.mount = point.name;
            finding.place.words = point.name;
            all.push_back(std::move(finding));
        } else {
            others.push_back(point.lacks);
        }
    }
    if (!others.empty()) {
        all.push_back(not_measured("measure/book/points", "Measuring book, its points",
                                   "The readings do not place every point yet.", others));
    }
    for (const survey::Mirrored& question : solution.mirrored) {
        all.push_back(not_measured("measure/book/mirrored/" + question.points.front(),
                                   "Measuring book, which side of the mirror " + listed(question.points) + " is on",
                                   "Two places agree with the readings alike.", {question.question}));
    }
}

/// How far the 95 % ellipsoid of a difference reaches in its own direction.
double reach_95(const Eigen::Matrix3d& covariance_mm2, const Eigen::Vector3d& direction) {
    const Eigen::Matrix3d sure = covariance_mm2 + Eigen::Matrix3d::Identity() * std::pow(k_least_place_sd_mm, 2);
    return survey::factor_95(3) / std::sqrt(direction.dot(sure.ldlt().solve(direction)));
}

Finding mount_place(const Job& job, const Mount& mount, const PlacedPoint& point) {
    Finding finding = blank("measure/" + mount.name + "/place", mount.name + ", its place against the book");
    finding.unit = Unit::mm;
    finding.formula =
        "distance from the job's place to the book's <= reach of the 95 % ellipsoid of their difference in that "
        "direction";
    finding.place.mount = mount.name;
    finding.place.along = mount.at.along.value;
    finding.place.on_other_mm = point.at_mm;
    finding.place.words = mount.name + " " + at_place_words(job, mount.at.along.value);
    const Eigen::Vector3d difference_mm = in_mm(mount.at) - point.at_mm;
    const double distance = difference_mm.norm();
    Eigen::Matrix3d covariance_mm2 = point.covariance_mm2;
    for (int i = 0; i < 3; ++i) {
        if (const auto& sd = mount.sd[static_cast<std::size_t>(i)]) {
            covariance_mm2(i, i) += std::pow(in_mm(sd->value), 2);
        }
    }
    const Eigen::Vector3d direction =
        distance > 0.0 ? Eigen::Vector3d(difference_mm / distance) : Eigen::Vector3d::UnitX();
    at_most(finding, distance, reach_95(covariance_mm2, direction));
    finding.why = *finding.margin < 0.0 ? "The job has " + mount.name +
                                              " elsewhere than the book places it. Take it from the book, or see "
                                              "whether it was mistyped."
                                        : "Job and book have it at one place, as far as can be measured.";
    finding.inputs = {{"book", fixed_text(point.at_mm.x(), 1) + " · " + fixed_text(point.at_mm.y(), 1) + " · " +
                                   fixed_text(point.at_mm.z(), 1) + " mm"}};
    settle(finding);
    return finding;
}

void add_mounts(std::vector<Finding>& all, const Job& job, const Solution& solution) {
    for (const Mount& mount : job.mounts) {
        const PlacedPoint* const point = solution.find(mount.name);
        if (point != nullptr && !mount.from_book) {
            all.push_back(mount_place(job, mount, *point));
        }
    }
}

Finding door_targets(const survey::HingeAxis& axis) {
    Finding finding = blank("measure/" + axis.door + "/targets", axis.door + ", its targets on their circles");
    finding.formula = "largest |residual| / its standard deviation <= 3.29 (false alarm in 1 of 1000)";
    finding.source = k_baarda;
    finding.place.door = axis.door;
    finding.place.words = axis.door;
    const auto worst = std::max_element(axis.misses.begin(), axis.misses.end(),
                                        [](const auto& a, const auto& b) { return a.w < b.w; });
    const std::string where = worst->target + " at opening " + std::to_string(worst->opening);
    at_most(finding, worst->w, survey::k_blunder_w);
    finding.why = axis.suspect ? "Measure " + where + " again: it does not lie where the others turn it."
                               : where + " is farthest from where the others turn it.";
    settle(finding);
    return finding;
}

Finding door_corner(const Results& results, const survey::HingeAxis& axis) {
    Finding finding =
        blank("measure/" + axis.door + "/corner", axis.door + ", how sure its axis is at the lower rear corner");
    finding.unit = Unit::mm;
    finding.formula = "largest standard deviation of where the axis takes the corner, over all openings <= 1.0 mm";
    finding.place.door = axis.door;
    finding.place.words = axis.door;
    const auto corner = results.corners.find(axis.door);
    if (corner == results.corners.end()) {
        finding.why = "It is not known where the corner is.";
        finding.missing = {"the outline of " + axis.door + ", or the section of its lower edge at the rear"};
    } else {
        const survey::CornerSd& worst = corner->second.worst;
        at_most(finding, worst.sd_mm, k_most_corner_sd_mm);
        finding.place.door_angle = worst.at;
        finding.place.along = millimetres(corner->second.shut_mm.x());
        finding.place.words = axis.door + " at " + degree_text(worst.at, 1);
        finding.why = "Worst at " + degree_text(worst.at, 1) + " of opening.";
    }
    for (const std::string& weakness : axis.weaknesses) {
        finding.why += " " + weakness;
    }
    settle(finding);
    return finding;
}

void add_hinges(std::vector<Finding>& all, const Results& results) {
    for (const survey::HingeOutcome& outcome : results.hinges) {
        if (!outcome.axis) {
            Finding finding = not_measured("measure/" + outcome.door + "/axis", outcome.door + ", its hinge axis",
                                           "The book does not give the axis yet.", {outcome.lacks});
            finding.place.door = outcome.door;
            finding.place.words = outcome.door;
            all.push_back(std::move(finding));
            continue;
        }
        if (!outcome.axis->misses.empty()) {
            all.push_back(door_targets(*outcome.axis));
        }
        all.push_back(door_corner(results, *outcome.axis));
    }
}

/// The worst 95 % bound against the limit; where it is over and not surely so, better measuring is what is missing.
Finding compared(const std::string& id, const std::string& title, const survey::Comparison& comparison) {
    Finding finding = blank(id, title);
    finding.unit = Unit::mm;
    finding.formula = "distance at each point after a rigid fit + 1.96 sd <= limit";
    finding.why = comparison.words;
    finding.at_least = false;
    if (!comparison.verdict) {
        finding.missing = {comparison.lacks};
        settle(finding);
        return finding;
    }
    const auto worst = std::max_element(comparison.points.begin(), comparison.points.end(),
                                        [](const auto& a, const auto& b) { return a.bound_mm < b.bound_mm; });
    if (worst != comparison.points.end()) {
        finding.found = worst->bound_mm;
        finding.required = comparison.limit_mm;
        finding.place.words = "worst at " + worst->name;
    }
    if (*comparison.verdict == survey::Verdict::measure_better) {
        finding.missing = {"the common points better: more ties between them, or a finer instrument"};
    } else if (finding.found) {
        finding.margin = comparison.limit_mm - *finding.found;
    }
    settle(finding);
    return finding;
}

bool something_written(const survey::Book& book) {
    return !book.readings.empty() || !book.points.empty();
}

}  // namespace

std::string suspect_words(const Job& job, const Solution& solution) {
    if (!solution.suspect) {
        return {};
    }
    const survey::Suspect& suspect = *solution.suspect;
    const Reading& reading = job.book.readings[suspect.reading];
    const survey::AdjustedNumber& number = solution.readings[suspect.reading].numbers[suspect.number];
    const std::string what = number.what.empty() ? "" : ", " + number.what;
    std::string words = again_words(reading) + what + ": expected " +
                        survey::survey_number(suspect.expected, reading.kind, job.unit) +
                        survey::survey_unit(reading.kind, job.unit) + ", the book says " +
                        survey::survey_number(number.observed, reading.kind, job.unit) + ".";
    if (!suspect.told_apart) {
        std::vector<std::string> others;
        for (const std::size_t other : suspect.others) {
            others.push_back(name_of(job.book.readings[other]));
        }
        words += others.empty() ? " Another reading may be the wrong one instead."
                                : " It may as well be " + listed(others) + " that is wrong: measure these again too.";
    }
    return words;
}

std::vector<Finding> survey_findings(const Job& job, const Results& results) {
    std::vector<Finding> all;
    if (!something_written(job.book)) {
        return all;
    }
    const Solution& solution = results.solution;
    add_lacking(all, job, solution);
    const bool some_used = std::any_of(solution.readings.begin(), solution.readings.end(),
                                       [](const ReadingResult& one) { return one.use == ReadingUse::used; });
    if (some_used) {
        all.push_back(agreement(solution.global));
        all.push_back(worst_reading_finding(job, solution));
        all.push_back(unchecked(job, solution));
    }
    add_mounts(all, job, solution);
    add_hinges(all, results);
    if (results.set_ups) {
        all.push_back(compared("measure/set-ups", "Both set-ups, the same body", *results.set_ups));
    }
    if (results.other_hand) {
        all.push_back(compared("measure/other hand", "Left against right, to be mirrored", *results.other_hand));
    } else if (!results.other_hand_lacks.empty()) {
        all.push_back(not_measured("measure/other hand", "Left against right, to be mirrored",
                                   "The other side could not be compared.", {results.other_hand_lacks}));
    }
    return all;
}

}  // namespace sillwright::core
