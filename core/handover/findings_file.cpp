#include "core/handover/findings_file.h"

#include <string_view>

#include "core/finding_words.h"
#include "core/handover/text_page.h"

namespace sillwright::core {

namespace {

void add(TextPage& page, std::string_view lead, const std::string& words) {
    if (!words.empty()) {
        page.paragraph(words, lead);
    }
}

std::string input_words(const Finding& finding) {
    std::vector<std::string> inputs;
    for (const Input& input : finding.inputs) {
        inputs.push_back(input.name + " " + input.value);
    }
    return joined(inputs, ", ");
}

void add_finding(TextPage& page, const Finding& finding) {
    const FindingNumbers numbers = numbers_of(finding);
    page.paragraph(look(finding.state).word + ": " + finding.title, look(finding.state).shape + " ");
    const std::string margin = numbers.margin.empty() ? "" : "margin " + numbers.margin;
    add(page, "  ", joined({numbers.found, numbers.needs, margin}, " · "));
    add(page, "  place    ", finding.place.words);
    add(page, "  why      ", finding.why);
    add(page, "  with     ", input_words(finding));
    add(page, "  measure  ", joined(finding.missing, "; "));
    add(page, "  mend     ", mend_words(finding));
    add(page, "  formula  ", finding.formula);
    add(page, "  source   ", finding.source);
    page.blank();
}

}  // namespace

std::string job_heading(const Job& job) {
    return joined({job.vehicle, job.revision.empty() ? "" : "revision " + job.revision, job.date,
                   job.side == Side::right ? "RIGHT SIDE" : "LEFT SIDE"},
                  " · ");
}

std::string findings_file(const Job& job, const std::vector<Finding>& findings) {
    TextPage page;
    page.heading(job_heading(job));
    page.paragraph(count_sentence(findings));
    page.blank();
    for (const Finding& finding : worst_first(findings)) {
        add_finding(page, finding);
    }
    return page.text();
}

}  // namespace sillwright::core
