#include "app/terminal/findings_text.h"

#include <langinfo.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <clocale>
#include <string_view>
#include <utility>
#include <vector>

#include "app/finding_look.h"
#include "app/terminal/plain_text.h"

namespace sillwright::app::terminal {

using core::Finding;

namespace {

/// Columns that shape and word of a state take: the longest is "[ ] not measured".
constexpr std::size_t k_indent = 18;
constexpr std::size_t k_narrow = 80;
constexpr std::size_t k_wide = 100;
/// Columns of the words that start a line: "measure".
constexpr std::size_t k_lead = 9;

/// Puts lines together within a width.
class Page {
public:
    explicit Page(const TextLook& look) : look_{look} {}

    [[nodiscard]] std::string fit(std::string_view text) const {
        const std::string clean = without_controls(text);
        return look_.utf8 ? clean : in_ascii(clean);
    }

    void add(const std::string& line) { text_ += line + "\n"; }

    /// `lead` at the indent, and `body` wrapped beside it.
    void paragraph(const std::string& lead, std::string_view body) {
        const std::size_t inset = k_indent + (lead.empty() ? 0 : k_lead);
        std::string start = std::string(k_indent, ' ') + lead;
        for (const std::string& line : wrapped(fit(body), look_.width - inset)) {
            start.resize(inset, ' ');
            add(start + line);
            start.clear();
        }
    }

    /// State, title and margin; the title wrapped between the two.
    void headline(const StateLook& state, std::string_view title, std::string_view margin) {
        const std::string right = fit(margin);
        const std::size_t room = look_.width - k_indent - (right.empty() ? 0 : columns(right) + 2);
        std::string start = (look_.utf8 ? state.shape : state.ascii) + " " + state.word;
        std::string_view end = right;
        for (const std::string& line : wrapped(fit(title), room)) {
            start += std::string(k_indent - columns(start), ' ') + line;
            if (!end.empty()) {
                start += std::string(look_.width - columns(start) - columns(end), ' ') + std::string(end);
            }
            add(start);
            start.clear();
            end = {};
        }
    }

    void unindented(std::string_view body) {
        for (const std::string& line : wrapped(fit(body), look_.width)) {
            add(line);
        }
    }

    [[nodiscard]] const std::string& text() const { return text_; }

private:
    TextLook look_;
    std::string text_;
};

/// One line for what holds and has nothing to add; all that is known for the rest.
void add_finding(Page& page, const Finding& finding) {
    const FindingNumbers numbers = numbers_of(finding);
    page.headline(look(finding.state), finding.title, numbers.margin);
    if (finding.state == core::State::holds) {
        return;
    }
    for (const std::string& facts : {core::joined({numbers.found, numbers.needs}, " · "), finding.place.words}) {
        if (!facts.empty()) {
            page.paragraph("", facts);
        }
    }
    if (!finding.why.empty()) {
        page.paragraph("why", finding.why);
    }
    for (const std::string& missing : finding.missing) {
        page.paragraph("measure", missing);
    }
    if (finding.mend) {
        page.paragraph("mend", core::mend_words(finding));
    }
    page.add("");
}

std::string heading(const CheckedJob& checked) {
    const core::Job& job = checked.job;
    return core::joined({job.vehicle, job.revision.empty() ? "" : "revision " + job.revision,
                         job.side == core::Side::right ? "RIGHT SIDE" : "LEFT SIDE", checked.file.filename().string()},
                        " · ");
}

std::string summary(const std::vector<Finding>& sorted) {
    std::string words = count_sentence(sorted);
    if (!sorted.empty() && sorted.front().margin) {
        words += " Worst margin: " + numbers_of(sorted.front()).margin + ", " + sorted.front().title + ".";
    }
    return words;
}

}  // namespace

TextLook look_of_standard_output() {
    TextLook look;
    winsize size{};
    if (isatty(STDOUT_FILENO) == 1 && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0) {
        look.width = std::clamp<std::size_t>(size.ws_col, k_narrow, k_wide);
    }
    // Letters only: numbers keep the C locale.
    std::setlocale(LC_CTYPE, "");
    look.utf8 = std::string_view(nl_langinfo(CODESET)) == "UTF-8";
    return look;
}

std::string findings_text(const CheckedJob& checked, const TextLook& look) {
    const std::vector<Finding> sorted = worst_first(checked.findings);
    Page page(look);
    page.unindented(heading(checked));
    page.add("");
    bool in_lines = false;  // Those that hold stand close together, a line each.
    for (const Finding& finding : sorted) {
        if (std::exchange(in_lines, finding.state == core::State::holds) && !in_lines) {
            page.add("");
        }
        add_finding(page, finding);
    }
    if (in_lines) {
        page.add("");
    }
    page.unindented(summary(sorted));
    return page.text();
}

}  // namespace sillwright::app::terminal
