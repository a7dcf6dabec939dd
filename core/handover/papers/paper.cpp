#include "core/handover/papers/paper.h"

#include <algorithm>
#include <string_view>
#include <utility>

#include "core/finding_words.h"
#include "core/handover/cautions.h"
#include "core/handover/papers/open_points.h"
#include "core/number_text.h"

namespace sillwright::core {

using geometry::in_celsius;

namespace {

std::string without(const std::string& text, std::string_view lead) {
    return text.starts_with(lead) ? text.substr(lead.size()) : text;
}

std::string basis_words(const Job& job) {
    std::string words =
        "All lengths are in millimetres where no other unit stands beside them. Along runs rearward, out away from "
        "the car, up upward, all from the job's own origin. Sizes are those at " +
        fixed_text(in_celsius(job.fitting.drawn), 0) + " °C.";
    if (job.book.temperature) {
        words += " The car was measured at " + fixed_text(*job.book.temperature, 0) + " °C.";
    } else if (!job.book.readings.empty()) {
        words += " At which temperature the car was measured is not written in the book.";
    }
    return words;
}

}  // namespace

const std::string& words(Caution caution) {
    return cautions().at(static_cast<std::size_t>(caution));
}

Document begun(const Evaluation& evaluation, const PaperHead& head) {
    Document paper;
    paper.stem = head.stem;
    paper.title = head.title;
    paper.reader = head.reader;
    const bool right = evaluation.job.side == Side::right;
    add_words(
        paper,
        side_words(evaluation.job) + ": for the " + (right ? "right" : "left") + "-hand sill, as the driver sees it.",
        true);
    add_words(paper, basis_words(evaluation.job));
    for (const Caution caution : head.cautions) {
        paper.cautions.push_back(words(caution));
    }
    for (const Finding& finding : worst_first(evaluation.findings)) {
        if (finding.state == State::falls_short) {
            paper.falls_short.push_back(finding);
        }
    }
    paper.open = open_words(open_points(evaluation), head.bears_on);
    return paper;
}

std::string side_words(const Job& job) {
    return job.side == Side::right ? "RIGHT SIDE" : "LEFT SIDE";
}

void add_heading(Document& paper, std::string words) {
    paper.blocks.emplace_back(Heading{std::move(words)});
}

void add_words(Document& paper, std::string words, bool strong) {
    if (!words.empty()) {
        paper.blocks.emplace_back(Words{std::move(words), strong});
    }
}

void add_items(Document& paper, std::vector<std::string> items, bool numbered) {
    if (!items.empty()) {
        paper.blocks.emplace_back(Items{std::move(items), numbered});
    }
}

void add_values(Document& paper, std::vector<Input> lines) {
    if (!lines.empty()) {
        paper.blocks.emplace_back(Values{std::move(lines)});
    }
}

void add_grid(Document& paper, Grid grid) {
    if (!grid.rows.empty()) {
        paper.blocks.emplace_back(std::move(grid));
    }
}

void add_boxes(Document& paper, std::vector<std::string> questions) {
    if (!questions.empty()) {
        paper.blocks.emplace_back(Boxes{std::move(questions)});
    }
}

const Finding* find_finding(const std::vector<Finding>& findings, const std::string& id) {
    const auto found =
        std::find_if(findings.begin(), findings.end(), [&](const Finding& finding) { return finding.id == id; });
    return found == findings.end() ? nullptr : &*found;
}

FindingCells cells_of(const Finding& finding) {
    const FindingNumbers numbers = numbers_of(finding);
    return {without(numbers.found, "found "), without(numbers.needs, "needs "), numbers.margin};
}

std::string told(const Finding& finding) {
    std::string missing;
    if (!finding.missing.empty()) {
        missing = "Not measured: " + joined(finding.missing, "; ") + ".";
    }
    return joined({finding.why, missing, mend_words(finding)}, " ");
}

std::string cell(geometry::Length length, int decimals) {
    return cell_mm(geometry::in_mm(length), decimals);
}

std::string cell_mm(double mm, int decimals) {
    return fixed_text(mm, decimals);
}

std::string measured_text(const std::optional<Entry>& entry, int decimals) {
    return entry ? mm_text(entry->value, decimals) : "not measured";
}

std::string count_text(std::size_t count, const std::string& one, const std::string& many) {
    return std::to_string(count) + " " + (count == 1 ? one : many);
}

}  // namespace sillwright::core
