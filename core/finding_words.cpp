#include "core/finding_words.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>

namespace sillwright::core {

namespace {

constexpr int k_least_decimals = 2;
/// A thousandth of an inch is what a gap in inches is read to.
constexpr int k_least_inch_decimals = 3;
constexpr double k_mm_per_inch = 25.4;
/// Beyond this a difference is rounding in the computation, not in the print.
constexpr int k_most_decimals = 9;
/// A probability or a strain is asked for in this many digits at most.
constexpr int k_most_number_decimals = 4;
constexpr double k_number_rounding = 1e-9;

int rank(State state) {
    switch (state) {
        case State::falls_short:
            return 0;
        case State::close:
            return 1;
        case State::holds:
            return 2;
        case State::not_measured:
            break;
    }
    return 3;
}

/// With `decimals` decimals, "." before them in every locale.
std::string fixed(double value, int decimals) {
    std::array<char, 400> buffer{};  // the longest double has 309 digits before the point
    const auto end =
        std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed, decimals);
    std::string text(buffer.data(), end.ptr);
    const bool zero = text.find_first_not_of("-0.") == std::string::npos;
    return zero && text.starts_with('-') ? text.substr(1) : text;
}

bool looks_zero(const std::string& text) {
    return text.find_first_not_of("-0.") == std::string::npos;
}

int decimals_for(std::optional<double> margin, int least) {
    int decimals = least;
    if (margin && *margin != 0.0) {
        while (decimals < k_most_decimals && looks_zero(fixed(*margin, decimals))) {
            ++decimals;
        }
    }
    return decimals;
}

/// A plain number's own digits, such as those of a probability, up to four.
int decimals_of_number(double number, int least) {
    int decimals = least;
    while (decimals < k_most_number_decimals &&
           std::abs(std::remainder(number, std::pow(10.0, -decimals))) > k_number_rounding) {
        ++decimals;
    }
    return decimals;
}

std::string unit_words(Unit unit) {
    switch (unit) {
        case Unit::mm:
            return " mm";
        case Unit::deg:
            return "°";
        case Unit::newton:
            return " N";
        case Unit::none:
            break;
    }
    return "";
}

/// A minus sign is not a dash: it is as wide as the plus.
std::string with_minus(std::string text) {
    return text.starts_with('-') ? "−" + text.substr(1) : text;
}

}  // namespace

const StateLook& look(State state) {
    static const std::array<StateLook, 4> looks{
        {{"falls short", "◆", "<!>"}, {"close", "▲", "/^\\"}, {"holds", "●", "(o)"}, {"not measured", "□", "[ ]"}}};
    return looks.at(static_cast<std::size_t>(rank(state)));
}

std::vector<Finding> worst_first(std::vector<Finding> findings) {
    // What falls short without a number is as bad as can be; what holds without one tells least.
    const auto margin = [](const Finding& f) {
        constexpr double k_most = std::numeric_limits<double>::infinity();
        return f.margin.value_or(f.state == State::falls_short ? -k_most : k_most);
    };
    std::stable_sort(findings.begin(), findings.end(), [&](const Finding& a, const Finding& b) {
        return rank(a.state) != rank(b.state) ? rank(a.state) < rank(b.state) : margin(a) < margin(b);
    });
    return findings;
}

State worst_state(const std::vector<Finding>& findings, const std::function<bool(const Finding&)>& counts) {
    bool any = false;
    std::array<bool, 4> has{};
    for (const Finding& finding : findings) {
        if (counts(finding)) {
            any = has.at(static_cast<std::size_t>(rank(finding.state))) = true;
        }
    }
    for (const State state : {State::falls_short, State::not_measured, State::close}) {
        if (has.at(static_cast<std::size_t>(rank(state)))) {
            return state;
        }
    }
    return any ? State::holds : State::not_measured;
}

FindingNumbers numbers_of(const Finding& finding) {
    return numbers_of(finding, BareUnit::mm);
}

FindingNumbers numbers_of(const Finding& finding, BareUnit bare) {
    const bool inches = bare == BareUnit::in && finding.unit == Unit::mm;
    const auto shown = [&](std::optional<double> number) {
        return number && inches ? std::optional(*number / k_mm_per_inch) : number;
    };
    const std::optional<double> margin = shown(finding.margin);
    const int own = finding.unit == Unit::none && finding.required
                        ? decimals_of_number(*finding.required, k_least_decimals)
                        : k_least_decimals;
    const int decimals = decimals_for(margin, inches ? k_least_inch_decimals : own);
    const std::string unit = inches ? " in" : unit_words(finding.unit);
    FindingNumbers numbers;
    if (const auto found = shown(finding.found)) {
        numbers.found = "found " + with_minus(fixed(*found, decimals)) + unit;
    }
    if (const auto required = shown(finding.required)) {
        numbers.needs = std::string("needs at ") + (finding.at_least ? "least " : "most ") +
                        with_minus(fixed(*required, decimals)) + unit;
    }
    if (margin) {
        const std::string text = fixed(*margin, decimals);
        numbers.margin = (text.starts_with('-') ? with_minus(text) : "+" + text) + unit;
    }
    return numbers;
}

std::string mend_words(const Finding& finding) {
    if (!finding.mend) {
        return {};
    }
    std::string words = finding.mend->words;
    if (finding.mend->proven_margin) {
        Finding mended = finding;
        mended.margin = finding.mend->proven_margin;
        words += " (computed again so: margin " + numbers_of(mended).margin + ")";
    }
    return words;
}

std::vector<AngleRange> touching_ranges(const Finding& finding) {
    std::vector<AngleRange> ranges = finding.touching;
    std::sort(ranges.begin(), ranges.end(), [](const auto& a, const auto& b) { return a.from < b.from; });
    std::vector<AngleRange> whole;
    for (const AngleRange& range : ranges) {
        if (!whole.empty() && range.from <= whole.back().to) {
            whole.back().to = std::max(whole.back().to, range.to);
        } else {
            whole.push_back(range);
        }
    }
    return whole;
}

std::string joined(const std::vector<std::string>& parts, std::string_view between) {
    std::string all;
    for (const std::string& part : parts) {
        if (!part.empty()) {
            all += (all.empty() ? "" : std::string(between)) + part;
        }
    }
    return all;
}

StateCounts count_states(const std::vector<Finding>& findings, std::optional<Stage> stage) {
    StateCounts counts;
    for (const Finding& finding : findings) {
        if (stage && finding.stage != *stage) {
            continue;
        }
        switch (finding.state) {
            case State::falls_short:
                ++counts.falls_short;
                break;
            case State::close:
                ++counts.close;
                break;
            case State::holds:
                ++counts.holds;
                break;
            case State::not_measured:
                ++counts.not_measured;
                break;
        }
    }
    return counts;
}

std::string count_sentence(const std::vector<Finding>& findings) {
    const StateCounts states = count_states(findings);
    const std::array<std::size_t, 4> counts{states.falls_short, states.close, states.holds, states.not_measured};
    const std::array<const char*, 4> one{" falls short", " close", " holds", " not measured"};
    const std::array<const char*, 4> many{" fall short", " close", " hold", " not measured"};
    std::string sentence = std::to_string(findings.size()) + (findings.size() == 1 ? " finding" : " findings");
    const char* separator = ": ";
    for (std::size_t i = 0; i < counts.size(); ++i) {
        if (counts.at(i) > 0) {
            sentence += separator + std::to_string(counts.at(i)) + (counts.at(i) == 1 ? one.at(i) : many.at(i));
            separator = ", ";
        }
    }
    return sentence + ".";
}

}  // namespace sillwright::core
