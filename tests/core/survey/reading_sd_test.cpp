#include "core/survey/reading_sd.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/survey/solution.h"
#include "core/typed.h"
#include "tests/core/survey/small_book.h"

namespace sillwright::core::survey {
namespace {

using geometry::degrees;
using geometry::in_mm;
using geometry::in_rad;
using geometry::inches;
using geometry::Length;
using geometry::millimetres;
using tests::mm;

double error_mm(TapeClass tape_class, bool hook, double length_mm) {
    return in_mm(tape_largest_error(tape_class, hook, millimetres(length_mm)));
}

// Directive 2014/32/EU, MI-008, chapter I, and the table printed on tapes: II at 3, 5, 8, 10 m; I the same; III at 10
// m.
TEST(ReadingSd, TapesErrorsAsPublished) {
    EXPECT_NEAR(error_mm(TapeClass::ii, false, 3000), 0.9, 1e-12);
    EXPECT_NEAR(error_mm(TapeClass::ii, false, 5000), 1.3, 1e-12);
    EXPECT_NEAR(error_mm(TapeClass::ii, false, 8000), 1.9, 1e-12);
    EXPECT_NEAR(error_mm(TapeClass::ii, false, 10000), 2.3, 1e-12);
    EXPECT_NEAR(error_mm(TapeClass::i, false, 3000), 0.4, 1e-12);
    EXPECT_NEAR(error_mm(TapeClass::i, false, 5000), 0.6, 1e-12);
    EXPECT_NEAR(error_mm(TapeClass::i, false, 8000), 0.9, 1e-12);
    EXPECT_NEAR(error_mm(TapeClass::i, false, 10000), 1.1, 1e-12);
    EXPECT_NEAR(error_mm(TapeClass::iii, false, 10000), 4.6, 1e-12);
    // 1.850 m from the hook: whole metres are rounded up.
    EXPECT_NEAR(error_mm(TapeClass::ii, true, 1850), 0.9, 1e-12);
    EXPECT_NEAR(error_mm(TapeClass::i, true, 1850), 0.4, 1e-12);
    EXPECT_NEAR(error_mm(TapeClass::i, false, 2000), 0.3, 1e-12);
    EXPECT_NEAR(error_mm(TapeClass::i, false, 2000.1), 0.4, 1e-12);
}

// DIN 862, vernier of 0.05 mm.
TEST(ReadingSd, CallipersErrors) {
    EXPECT_NEAR(in_mm(calliper_largest_error(false, millimetres(150))), 0.05, 1e-12);
    EXPECT_NEAR(in_mm(calliper_largest_error(false, millimetres(400))), 0.06, 1e-12);
    EXPECT_NEAR(in_mm(calliper_largest_error(true, millimetres(20))), 0.07, 1e-12);
}

Book book_with(const Instrument& instrument) {
    Book book;
    book.instruments.push_back(instrument);
    return book;
}

Reading tie_by(const std::string& instrument, const Entry& value) {
    Reading reading = tests::reading(ReadingKind::tie, {"A", "B"}, 0.0);
    reading.value = value;
    reading.sd.reset();
    reading.instrument = instrument;
    return reading;
}

// GUM: 1.3 over the square root of 3 is 0.751.
TEST(ReadingSd, ATapesIsItsErrorOverRootThreeWithTheReaderInSquare) {
    Instrument tape{"five", InstrumentKind::tape, TapeClass::ii, false, {}, {}, {}, {}};
    EXPECT_NEAR(reading_sd(book_with(tape), tie_by("five", mm(4200))), 0.751, 0.0005);
    tape.reader_sd = mm(1.0);
    EXPECT_NEAR(reading_sd(book_with(tape), tie_by("five", mm(4200))), std::hypot(1.3 / std::sqrt(3.0), 1.0), 1e-12);
    tape.sd = mm(2.5);
    EXPECT_DOUBLE_EQ(reading_sd(book_with(tape), tie_by("five", mm(4200))), 2.5);
    Reading own = tie_by("five", mm(4200));
    own.sd = mm(0.3);
    EXPECT_DOUBLE_EQ(reading_sd(book_with(tape), own), 0.3);
}

// A step of 1/16 in: 25.4 / 16 / sqrt(12) = 0.458 mm.
TEST(ReadingSd, TheWrittenStepIsJoined) {
    const Instrument tape{"t", InstrumentKind::tape, TapeClass::i, false, {}, {}, {}, {}};
    const Entry typed = typed_entry("36 5/16", BareUnit::in).value();
    EXPECT_NEAR(reading_sd(book_with(tape), tie_by("t", typed)), std::hypot(0.2 / std::sqrt(3.0), 0.4583), 1e-4);
}

double step_mm(const char* words, BareUnit unit) {
    const auto step = written_step(typed_entry(words, unit).value());
    return step ? in_mm(*step) : -1.0;
}

TEST(ReadingSd, StepsOfWordsByHand) {
    EXPECT_NEAR(step_mm("412", BareUnit::mm), 1.0, 1e-9);
    EXPECT_NEAR(step_mm("412.5", BareUnit::mm), 0.1, 1e-9);
    EXPECT_NEAR(step_mm("412,50 mm", BareUnit::in), 0.01, 1e-9);
    EXPECT_NEAR(step_mm("41.2", BareUnit::cm), 1.0, 1e-9);
    EXPECT_NEAR(step_mm("1.850 m", BareUnit::mm), 1.0, 1e-9);
    EXPECT_NEAR(step_mm("-900", BareUnit::mm), 1.0, 1e-9);
    EXPECT_NEAR(step_mm("16.25", BareUnit::in), 0.254, 1e-9);
    const double sixteenth = 25.4 / 16.0;
    EXPECT_NEAR(step_mm("16 1/4\"", BareUnit::mm), sixteenth, 1e-9);
    EXPECT_NEAR(step_mm("16 \u00BD\"", BareUnit::mm), sixteenth, 1e-9);
    EXPECT_NEAR(step_mm("16 5/32", BareUnit::in), sixteenth / 2.0, 1e-9);
    EXPECT_NEAR(step_mm("16", BareUnit::in), sixteenth, 1e-9);
    EXPECT_NEAR(step_mm("3'", BareUnit::mm), sixteenth, 1e-9);
    EXPECT_NEAR(step_mm("3'-4\"", BareUnit::mm), sixteenth, 1e-9);
    EXPECT_FALSE(written_step(mm(5.0)));
    EXPECT_FALSE(written_step({millimetres(5.0), "never a length"}));
}

// Common practice, no source.
TEST(ReadingSd, WithoutAnInstrumentTheUsualOneReads) {
    const Book none;
    EXPECT_EQ(instrument_of(none, tie_by("", mm(900))).kind, InstrumentKind::tape);
    EXPECT_NEAR(reading_sd(none, tie_by("", mm(900))), std::hypot(0.5 / std::sqrt(3.0), 0.7), 1e-12);
    EXPECT_NEAR(reading_sd(none, tie_by("lost", mm(900))), std::hypot(0.5 / std::sqrt(3.0), 0.7), 1e-12);
    Reading height = tie_by("", mm(900));
    height.kind = ReadingKind::height;
    EXPECT_NEAR(reading_sd(none, height), 1.0, 1e-12);
    Reading angle = tie_by("", mm(0));
    angle.kind = ReadingKind::angle;
    EXPECT_NEAR(reading_sd(none, angle), in_rad(degrees(0.5)), 1e-12);
    angle.angle_sd = degrees(0.2);
    EXPECT_NEAR(reading_sd(none, angle), in_rad(degrees(0.2)), 1e-12);
}

}  // namespace
}  // namespace sillwright::core::survey
