#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/finding.h"
#include "core/job.h"

/// How findings read, the same wherever they are shown or written.
namespace sillwright::core {

/// State as a word and a shape; who shows colours adds its own.
struct StateLook {
    std::string word;   ///< "falls short"
    std::string shape;  ///< "◆", UTF-8.
    std::string ascii;  ///< "<!>", where no other letters are to be had.
};

const StateLook& look(State state);

/// Worst first: falls short, close, holds, not measured; within a state the
/// smallest margin first (falling short without one before any, else behind all);
/// equals stay as they came.
std::vector<Finding> worst_first(std::vector<Finding> findings);

/// The worst state of those that count: falls short, not measured, close, holds; not measured if none does.
State worst_state(const std::vector<Finding>& findings, const std::function<bool(const Finding&)>& counts);

/// A finding's numbers for a person.
struct FindingNumbers {
    std::string found;   ///< "found 1.90 mm", or empty.
    std::string needs;   ///< "needs at least 4.00 mm", or empty.
    std::string margin;  ///< "−2.10 mm", sign always, or empty.
};

/// Two decimals; more, the same for all three, where fewer would show a margin
/// that is not zero as zero. Not rounded for any other reason; --json has all digits.
FindingNumbers numbers_of(const Finding& finding);

/// The same with lengths in inches, three decimals or more, for a job whose bare numbers are inches;
/// in millimetres for all others, as gaps are read in them.
FindingNumbers numbers_of(const Finding& finding, BareUnit unit);

/// A mend's words and the margin that was computed with it made; empty without a mend.
std::string mend_words(const Finding& finding);

/// The angles at which a finding's door touches or may touch, neighbours made one.
std::vector<AngleRange> touching_ranges(const Finding& finding);

/// The parts that are not empty, with `between` between them.
std::string joined(const std::vector<std::string>& parts, std::string_view between);

/// How many findings stand how.
struct StateCounts {
    std::size_t falls_short = 0, close = 0, holds = 0, not_measured = 0;

    [[nodiscard]] std::size_t all() const { return falls_short + close + holds + not_measured; }
    friend bool operator==(const StateCounts&, const StateCounts&) = default;
};
/// Of one stage, or of all.
StateCounts count_states(const std::vector<Finding>& findings, std::optional<Stage> stage = std::nullopt);

/// "12 findings: 2 fall short, 1 close, 8 hold, 1 not measured."
std::string count_sentence(const std::vector<Finding>& findings);

}  // namespace sillwright::core
