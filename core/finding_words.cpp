#include "core/finding_words.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>

namespace sillwright::core {

namespace {

constexpr int k_least_decimals = 2;
/// Beyond this a difference is rounding in the computation, not in the print.
constexpr int k_most_decimals = 9;

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

int decimals_for(const Finding& finding) {
    int decimals = k_least_decimals;
    if (finding.margin && *finding.margin != 0.0) {
        while (decimals < k_most_decimals && looks_zero(fixed(*finding.margin, decimals))) {
            ++decimals;
        }
    }
    return decimals;
}

std::string unit_words(Unit unit) {
    switch (unit) {
        case Unit::mm:
            return " mm";
        case Unit::deg:
            return "°";
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

FindingNumbers numbers_of(const Finding& finding) {
    const int decimals = decimals_for(finding);
    const std::string unit = unit_words(finding.unit);
    FindingNumbers numbers;
    if (finding.found) {
        numbers.found = "found " + with_minus(fixed(*finding.found, decimals)) + unit;
    }
    if (finding.required) {
        numbers.needs = std::string("needs at ") + (finding.at_least ? "least " : "most ") +
                        with_minus(fixed(*finding.required, decimals)) + unit;
    }
    if (finding.margin) {
        const std::string text = fixed(*finding.margin, decimals);
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

std::string joined(const std::vector<std::string>& parts, std::string_view between) {
    std::string all;
    for (const std::string& part : parts) {
        if (!part.empty()) {
            all += (all.empty() ? "" : std::string(between)) + part;
        }
    }
    return all;
}

std::string count_sentence(const std::vector<Finding>& findings) {
    std::array<std::size_t, 4> counts{};
    for (const Finding& finding : findings) {
        ++counts.at(static_cast<std::size_t>(rank(finding.state)));
    }
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
