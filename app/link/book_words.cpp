#include "app/link/book_words.h"

#include <cmath>

#include "app/length_words.h"
#include "core/finding_words.h"
#include "core/number_text.h"
#include "core/survey/survey_findings.h"
#include "core/typed.h"

namespace sillwright::app {

using core::fixed_text;
using core::survey::Reading;
using core::survey::ReadingKind;
using geometry::in_deg;

namespace {

bool is_angle(ReadingKind kind) {
    return kind == ReadingKind::angle || kind == ReadingKind::slope;
}

std::string count(std::size_t number, const char* one, const char* many) {
    return std::to_string(number) + " " + (number == 1 ? one : many);
}

std::string lean(geometry::Angle angle, const char* positive, const char* negative) {
    return core::degree_text(geometry::radians(std::abs(geometry::in_rad(angle)))) + " " +
           (geometry::in_rad(angle) < 0.0 ? negative : positive);
}

}  // namespace

std::string over_words(const Reading& reading) {
    return core::joined(reading.points, reading.points.size() == 2 ? " → " : ", ");
}

std::string reading_words(const Reading& reading) {
    return core::survey::kind_word(reading.kind) + " " + over_words(reading);
}

std::string value_words(const Reading& reading, core::BareUnit unit) {
    if (is_angle(reading.kind)) {
        return reading.angle ? core::number_text(std::round(1e9 * in_deg(*reading.angle)) / 1e9) + "°" : "";
    }
    std::string words = reading.value ? core::entry_text(*reading.value, unit) : "";
    if (reading.up) {
        words += ", " + core::entry_text(*reading.up, unit);
    }
    return words;
}

std::string number_words(ReadingKind kind, double number, core::BareUnit unit, Sign sign) {
    std::string words = is_angle(kind) ? core::degree_text(geometry::radians(number))
                                       : short_number(geometry::millimetres(number), unit) + " " + unit_word(unit);
    const bool signed_already = words.starts_with('-');
    if (signed_already) {
        words.replace(0, 1, "−");
    }
    return sign == Sign::always && !signed_already ? "+" + words : words;
}

std::string checked_words(core::survey::Checked checked) {
    switch (checked) {
        case core::survey::Checked::by_others:
            return "checked by others";
        case core::survey::Checked::hardly:
            return "hardly checked";
        case core::survey::Checked::not_at_all:
            break;
    }
    return "only reading";
}

core::State state_of(core::survey::Verdict verdict) {
    switch (verdict) {
        case core::survey::Verdict::same:
            return core::State::holds;
        case core::survey::Verdict::different:
            return core::State::falls_short;
        case core::survey::Verdict::measure_better:
            break;
    }
    return core::State::close;
}

std::string worst_words(const core::Job& job, const core::survey::Solution& solution) {
    if (solution.readings.size() != job.book.readings.size()) {
        return {};  // of an earlier book
    }
    const std::string words = core::suspect_words(job, solution);
    return words.empty() ? words : "Reading " + std::to_string(solution.suspect->reading + 1) + ". " + words;
}

std::string global_words(const core::survey::GlobalTest& test) {
    if (test.degrees_of_freedom <= 0) {
        return "No reading checks another yet: nothing can be said of how well they agree.";
    }
    const std::string numbers = " (" + fixed_text(test.sum, 1) + ", expected " + fixed_text(test.lower, 1) + " to " +
                                fixed_text(test.upper, 1) + " with " +
                                count(static_cast<std::size_t>(test.degrees_of_freedom), "check", "checks") + ").";
    if (test.holds) {
        return "All readings together agree as well as their instruments promise" + numbers;
    }
    return test.sum > test.upper
               ? "The readings agree worse than their instruments promise" + numbers
               : "The readings agree better than their instruments promise: the instruments are better than stated" +
                     numbers;
}

std::string unchecked_words(const core::survey::Book& book, const core::survey::Solution& solution) {
    const std::size_t unchecked = core::survey::count_unchecked(book, solution);
    if (unchecked == 0) {
        return {};
    }
    return count(unchecked, "reading is", "readings are") + " checked by no other: a misreading there would not show.";
}

std::string lean_words(const core::survey::PlacedSetUp& set_up) {
    if (!set_up.found) {
        return set_up.name + ": no reading says how it leans";
    }
    const bool held = geometry::in_rad(set_up.roll_sd) == 0.0 && geometry::in_rad(set_up.pitch_sd) == 0.0;
    if (held && geometry::in_rad(set_up.roll) == 0.0 && geometry::in_rad(set_up.pitch) == 0.0) {
        return set_up.name + " is level";
    }
    return set_up.name + " leans " + lean(set_up.roll, "outward", "inward") + ", " +
           lean(set_up.pitch, "rearward", "forward");
}

}  // namespace sillwright::app
