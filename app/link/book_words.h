#pragma once

#include <string>

#include "core/finding.h"
#include "core/job.h"
#include "core/survey/checked.h"
#include "core/survey/compare.h"
#include "core/survey/reading_line.h"
#include "core/survey/results.h"

/// How the measuring book and what it says read, the same in its table, its drawing and beside them.
namespace sillwright::app {

/// "A → H1", "A, B, H1": the points of a reading.
std::string over_words(const core::survey::Reading& reading);
/// "tie A → H1"
std::string reading_words(const core::survey::Reading& reading);
/// What was read, as it was typed; empty if it lacks.
std::string value_words(const core::survey::Reading& reading, core::BareUnit unit);

/// A number of a reading of that kind, mm or rad, with its unit: "1473.9 mm", "12.40°"; with a sign if asked.
enum class Sign { if_negative, always };
std::string number_words(core::survey::ReadingKind kind, double number, core::BareUnit unit,
                         Sign sign = Sign::if_negative);

std::string checked_words(core::survey::Checked checked);
/// A verdict as the state that it looks like.
core::State state_of(core::survey::Verdict verdict);

/// "Reading 12. Put the tape again on A-H1: expected 1473.9 mm, the book says 1484.0." Empty without a suspect.
std::string worst_words(const core::Job& job, const core::survey::Solution& solution);
/// One sentence on whether all readings together agree as well as they should.
std::string global_words(const core::survey::GlobalTest& test);
/// "3 readings are checked by no other: a misreading there would not show." Empty if there are none.
std::string unchecked_words(const core::survey::Book& book, const core::survey::Solution& solution);
/// "lift leans 0.30° outward, 0.10° rearward (found)"
std::string lean_words(const core::survey::PlacedSetUp& set_up);

}  // namespace sillwright::app
