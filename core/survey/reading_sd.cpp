#include "core/survey/reading_sd.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <numbers>
#include <string>

#include "core/survey/solution.h"
#include "geometry/length_text.h"

namespace sillwright::core::survey {

using geometry::Angle;
using geometry::degrees;
using geometry::in_mm;
using geometry::in_rad;
using geometry::inches;
using geometry::Length;
using geometry::millimetres;

namespace {

// Common practice in a shop, no source; each holds for one reading, with holding and reading.
constexpr double k_usual_tape_reader_mm = 0.7;
constexpr double k_usual_rule_mm = 0.5;
constexpr double k_usual_calliper_reader_mm = 0.2;
constexpr double k_usual_level_mm = 1.0;
constexpr double k_usual_plumb_mm = 1.2;
constexpr double k_usual_gauge_mm = 0.5;
constexpr double k_usual_gap_gauge_mm = 0.2;
constexpr double k_gauge_plane_mm = 1.0;
constexpr Angle k_usual_protractor = degrees(0.5);
constexpr Angle k_usual_level_slope = degrees(0.1);

/// Words are the typed form of a value if they read back as it: rounding is far below, a digit far above.
constexpr double k_same_mm = 1e-6;
constexpr int k_tape_denominator = 16;

bool is_angular(ReadingKind kind) {
    return kind == ReadingKind::angle || kind == ReadingKind::slope;
}

InstrumentKind usual_kind(ReadingKind kind) {
    switch (kind) {
        case ReadingKind::tie:
            return InstrumentKind::tape;
        case ReadingKind::height:
        case ReadingKind::up:
        case ReadingKind::slope:
            return InstrumentKind::level;
        case ReadingKind::offset:
        case ReadingKind::along:
        case ReadingKind::out:
            return InstrumentKind::plumb;
        case ReadingKind::plane:
            return InstrumentKind::rule;
        case ReadingKind::gauge:
            return InstrumentKind::gauge;
        case ReadingKind::gap:
        case ReadingKind::depth:
            return InstrumentKind::gap_gauge;
        case ReadingKind::angle:
            return InstrumentKind::protractor;
    }
    return InstrumentKind::tape;
}

double joined(std::initializer_list<double> parts) {
    double sum = 0.0;
    for (const double part : parts) {
        sum += part * part;
    }
    return std::sqrt(sum);
}

double of_rectangle(Length largest) {
    return in_mm(largest) / std::numbers::sqrt3;
}

/// Of the instrument without its reader.
double bare_sd_mm(const Instrument& instrument, ReadingKind kind, Length length) {
    switch (instrument.kind) {
        case InstrumentKind::tape:
            return of_rectangle(
                tape_largest_error(instrument.tape_class.value_or(TapeClass::ii), instrument.hook, length));
        case InstrumentKind::rule:
            return k_usual_rule_mm;
        case InstrumentKind::calliper:
            return of_rectangle(calliper_largest_error(kind == ReadingKind::gap || kind == ReadingKind::depth, length));
        case InstrumentKind::level:
            return k_usual_level_mm;
        case InstrumentKind::plumb:
            return k_usual_plumb_mm;
        case InstrumentKind::gauge:
            return k_usual_gauge_mm;
        case InstrumentKind::gap_gauge:
            return k_usual_gap_gauge_mm;
        case InstrumentKind::protractor:  // measures no lengths: as a rule
            return k_usual_rule_mm;
    }
    return k_usual_rule_mm;
}

double reader_mm(const Instrument& instrument) {
    if (instrument.reader_sd) {
        return in_mm(instrument.reader_sd->value);
    }
    return instrument.kind == InstrumentKind::calliper ? k_usual_calliper_reader_mm : 0.0;
}

double angle_sd_rad(const Instrument& instrument, const Reading& reading) {
    if (reading.angle_sd) {
        return in_rad(*reading.angle_sd);
    }
    if (instrument.angle_sd) {
        return in_rad(*instrument.angle_sd);
    }
    return in_rad(instrument.kind == InstrumentKind::level ? k_usual_level_slope : k_usual_protractor);
}

double length_sd_mm(const Instrument& instrument, const Reading& reading, const std::optional<Entry>& entry) {
    if (reading.sd) {
        return in_mm(reading.sd->value);
    }
    if (instrument.sd) {
        return in_mm(instrument.sd->value);
    }
    const Length length = entry ? entry->value : Length{};
    const Length step = entry ? written_step(*entry).value_or(Length{}) : Length{};
    return joined({bare_sd_mm(instrument, reading.kind, length), reader_mm(instrument), in_mm(step) / std::sqrt(12.0)});
}

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/// The unit of a bare number for which the words say the value.
std::optional<geometry::WrittenUnit> unit_of_words(const Entry& entry) {
    for (const auto unit : {geometry::WrittenUnit::mm, geometry::WrittenUnit::cm, geometry::WrittenUnit::in}) {
        const auto read = geometry::read_length(entry.typed, unit);
        if (read && std::abs(in_mm(read.value() - entry.value)) <= k_same_mm) {
            return unit;
        }
    }
    return std::nullopt;
}

/// Below the fraction bar; 16 for a sign such as a half.
std::optional<int> denominator_of(const std::string& words) {
    for (const std::string bar : {"/", "\u2044"}) {
        if (const auto at = words.find(bar); at != std::string::npos) {
            return std::atoi(words.c_str() + at + bar.size());
        }
    }
    for (const std::string sign : {"\u00BC", "\u00BD", "\u00BE", "\u215B", "\u215C", "\u215D", "\u215E"}) {
        if (words.find(sign) != std::string::npos) {
            return k_tape_denominator;
        }
    }
    return std::nullopt;
}

/// What one step of the last digit changes.
std::optional<Length> last_digit_step(const Entry& entry, geometry::WrittenUnit unit) {
    std::string words = entry.typed;
    const auto last = std::find_if(words.rbegin(), words.rend(), is_digit);
    if (last == words.rend()) {
        return std::nullopt;
    }
    *last = *last == '0' ? '1' : static_cast<char>(*last - 1);
    const auto other = geometry::read_length(words, unit);
    return other ? std::optional(millimetres(std::abs(in_mm(other.value() - entry.value)))) : std::nullopt;
}

}  // namespace

Length tape_largest_error(TapeClass tape_class, bool hook, Length length) {
    struct Class {
        double a, b, c;
    };
    static constexpr std::array classes{Class{0.1, 0.1, 0.1}, Class{0.3, 0.2, 0.2}, Class{0.6, 0.4, 0.3}};
    const Class& of = classes.at(static_cast<std::size_t>(tape_class));
    const double metres = std::ceil(std::abs(in_mm(length)) / 1000.0);
    return millimetres(of.a + of.b * metres + (hook ? of.c : 0.0));
}

Length calliper_largest_error(bool inside, Length length) {
    constexpr double k_first_mm = 300.0;
    constexpr double k_each_mm = 100.0;
    const double further = std::max(0.0, std::ceil((std::abs(in_mm(length)) - k_first_mm) / k_each_mm));
    return millimetres(0.05 + 0.01 * further + (inside ? 0.02 : 0.0));
}

std::optional<Length> written_step(const Entry& entry) {
    const auto unit = entry.typed.empty() ? std::nullopt : unit_of_words(entry);
    if (!unit) {
        return std::nullopt;
    }
    if (const auto denominator = denominator_of(entry.typed)) {
        return inches(1.0 / std::max(k_tape_denominator, *denominator));
    }
    const auto step = last_digit_step(entry, *unit);
    const bool decimals = entry.typed.find_first_of(".,") != std::string::npos;
    const auto is = [&](Length whole) { return step && std::abs(in_mm(*step - whole)) <= k_same_mm; };
    if (!decimals && (is(inches(1.0)) || is(inches(12.0)))) {
        return inches(1.0 / k_tape_denominator);
    }
    return step;
}

Instrument instrument_of(const Book& book, const Reading& reading) {
    const auto found = std::find_if(book.instruments.begin(), book.instruments.end(), [&](const Instrument& one) {
        return !reading.instrument.empty() && one.name == reading.instrument;
    });
    if (found != book.instruments.end()) {
        return *found;
    }
    Instrument usual;
    usual.kind = usual_kind(reading.kind);
    if (usual.kind == InstrumentKind::tape) {
        usual.tape_class = TapeClass::ii;
        usual.reader_sd = Entry{millimetres(k_usual_tape_reader_mm), ""};
    }
    return usual;
}

double number_sd(const Book& book, const Reading& reading, int number) {
    const Instrument instrument = instrument_of(book, reading);
    if (is_angular(reading.kind)) {
        return angle_sd_rad(instrument, reading);
    }
    if (reading.kind == ReadingKind::gauge && number == 2) {
        return k_gauge_plane_mm;
    }
    return length_sd_mm(instrument, reading, number == 1 ? reading.up : reading.value);
}

double reading_sd(const Book& book, const Reading& reading) {
    return number_sd(book, reading, 0);
}

}  // namespace sillwright::core::survey
