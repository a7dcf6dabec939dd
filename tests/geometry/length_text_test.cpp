#include "geometry/length_text.h"

#include <gtest/gtest.h>

#include <clocale>
#include <cmath>
#include <limits>
#include <random>

namespace sillwright::geometry {
namespace {

using enum WrittenUnit;

/// A few units in the last place of a length of metres.
constexpr double k_rounding_mm = 1e-12;

struct Readable {
    const char* text;
    WrittenUnit bare_unit;
    double mm;  ///< By hand: 1 in = 25.4 mm, 1 ft = 12 in.
};

constexpr Readable k_readable[] = {
    {"38", mm, 38.0},
    {"38", cm, 380.0},
    {"38", in, 965.2},
    {"38 mm", in, 38.0},
    {"38mm", in, 38.0},
    {"38.5 mm", in, 38.5},
    {"38,5 mm", in, 38.5},
    {"0,125 in", mm, 3.175},
    {"1234,5", mm, 1234.5},
    {".5 in", mm, 12.7},
    {"4.1 cm", in, 41.0},
    {"0.4 m", in, 400.0},
    {"1.5 in", mm, 38.1},
    {"1.5 In.", mm, 38.1},
    {"2 inches", mm, 50.8},
    {"1 inch", mm, 25.4},
    {"1 1/2\"", mm, 38.1},
    {"1/2\"", mm, 12.7},
    {"3/2\"", mm, 38.1},
    {"16-1/4\"", mm, 412.75},
    {"16 1/4\"", mm, 412.75},
    {"16 1/4", in, 412.75},
    {"16-1/4", in, 412.75},
    {"161/4", in, 1022.35},
    {"16   1/4 in", mm, 412.75},
    {"3'-4 1/2\"", mm, 1028.7},
    {"3' - 4 1/2\"", mm, 1028.7},
    {"3'4-1/2\"", mm, 1028.7},
    {"3' 4", mm, 1016.0},
    {"3'", mm, 914.4},
    {"1/2 ft", mm, 152.4},
    {"2 ft 3 in", mm, 685.8},
    {"2 ft. 3 in.", mm, 685.8},
    {"2 FEET 3 INCHES", mm, 685.8},
    {"1' 4 1/4\"", mm, 412.75},
    {"1' 4 1/4''", mm, 412.75},
    {"1 foot 4.25 in", mm, 412.75},
    {"-38.5 mm", in, -38.5},
    {"- 38.5 mm", in, -38.5},
    {"+38.5 mm", in, 38.5},
    {"-1 1/2\"", mm, -38.1},
    {"-3'-4 1/2\"", mm, -1028.7},
    {"\u221238", mm, -38.0},
    {"3\u2032\u20134 1/2\u2033", mm, 1028.7},
    {"3\u20194 1/2\u201D", mm, 1028.7},
    {"16\u00BC\"", mm, 412.75},
    {"16 \u215B\"", mm, 409.575},
    {"\u00BD in", mm, 12.7},
    {"16 1\u20444\"", mm, 412.75},
    {"38\u00A0mm", in, 38.0},
    {"  38 mm\t", in, 38.0},
    {"0", mm, 0.0},
    {"-0", mm, 0.0},
    {"0/4 in", mm, 0.0},
    {"00038.50", mm, 38.5},
    {"412+3", mm, 415.0},
    {" 412 + 3 + 0.5", mm, 415.5},
    {"16 1/4\" + 1/8\"", mm, 415.925},
    {"16+1/4", in, 412.75},
    {"2 ft + 3 in", mm, 685.8},
    {"+5+1", mm, 6.0},
    {"-5+1", mm, -4.0},
};

TEST(ReadLength, GivesTheLengthWorkedOutByHand) {
    for (const Readable& c : k_readable) {
        SCOPED_TRACE(c.text);
        const auto length = read_length(c.text, c.bare_unit);
        ASSERT_TRUE(length) << length.error().message;
        EXPECT_NEAR(in_mm(length.value()), c.mm, k_rounding_mm);
    }
}

TEST(ReadLength, MinusZeroIsZero) {
    EXPECT_FALSE(std::signbit(in_mm(read_length("-0.0 mm", mm).value())));
}

struct Unreadable {
    const char* text;
    WrittenUnit bare_unit;
    const char* column;  ///< Counted by hand, in characters.
    const char* cure;    ///< Part of what the message must say.
};

constexpr Unreadable k_unreadable[] = {
    {"", mm, "1", "a number is expected"},
    {"   ", mm, "4", "a number is expected"},
    {"-", mm, "2", "a number is expected"},
    {"--5", mm, "2", "a number is expected"},
    {"mm", mm, "1", "a number is expected"},
    {"\"", mm, "1", "a number is expected"},
    {"nan", mm, "1", "a number is expected"},
    {"-inf", mm, "2", "a number is expected"},
    {"1 inf", mm, "3", "not a unit; write mm"},
    {"0x10", mm, "2", "not a unit; write mm"},
    {"1e3", mm, "2", "not a unit; write mm"},
    {"38 furlongs", mm, "4", "not a unit; write mm"},
    {"38 mmm", mm, "4", "not a unit; write mm"},
    {"38 mm x", mm, "7", "nothing more is expected"},
    {"38 mm 5", mm, "7", "nothing more is expected"},
    {"38;", mm, "3", "a unit is expected"},
    {"38 12", mm, "4", "a unit is expected"},
    {"412+", mm, "5", "a number is expected"},
    {"412++3", mm, "5", "a number is expected after the plus"},
    {"412+-3", mm, "5", "a number is expected after the plus"},
    {"412 + 3x", mm, "8", "not a unit"},
    {"41.2 cm + 3", mm, "1", "unit behind every number or behind none"},
    {"900000 m + 900000 m", mm, "1", "longer than 1000 km"},
    {"38.", mm, "4", "a digit is expected"},
    {"38.mm", mm, "4", "a digit is expected"},
    {"1.2.3", mm, "4", "a unit is expected"},
    {"1,234", mm, "1", "1234 or 1.234"},
    {"1,234.5 mm", mm, "1", "1234 or 1.234"},
    {"1.234,5 mm", mm, "6", "a unit is expected"},
    {"1/0\"", mm, "3", "cannot be zero"},
    {"16 1/0", in, "6", "cannot be zero"},
    {"1/\"", mm, "3", "a whole number is expected below"},
    {"1/-2\"", mm, "3", "a whole number is expected below"},
    {"/2\"", mm, "1", "a number is expected"},
    {"1/2/3\"", mm, "4", "a unit is expected"},
    {"16 5/4\"", mm, "4", "must be below one"},
    {"1.5 1/2\"", mm, "1", "must be whole"},
    {"16--1/4\"", mm, "3", "a unit is expected"},
    {"16-4\"", mm, "3", "a unit is expected"},
    {"16 1/4", mm, "7", "a fraction needs its unit"},
    {"1/2", cm, "4", "a fraction needs its unit"},
    {"3' 4 cm", mm, "5", "only inches can follow feet"},
    {"3' 4'", mm, "5", "only inches can follow feet"},
    {"3'-", mm, "4", "a number is expected"},
    {"3' x", mm, "4", "a number is expected"},
    {"3' 12\"", mm, "4", "below 12"},
    {"1.5' 3\"", mm, "1", "must be a whole number"},
    {"3' 4\" 5\"", mm, "7", "nothing more is expected"},
    {"\u221238 \u00B5m", mm, "5", "a unit is expected"},
    {"38\xFF", mm, "3", "a unit is expected"},
    {"38\xE2\x80", mm, "3", "a unit is expected"},
    {"1000001 m", mm, "1", "longer than 1000 km"},
};

TEST(RefuseLength, NamesTheColumnAndWhatWouldBeRight) {
    for (const Unreadable& c : k_unreadable) {
        SCOPED_TRACE(c.text);
        const auto length = read_length(c.text, c.bare_unit);
        ASSERT_FALSE(length) << in_mm(length.value()) << " mm";
        const std::string& message = length.error().message;
        EXPECT_EQ(length.error().code, ErrorCode::invalid_argument);
        EXPECT_EQ(message.find("Column " + std::string{c.column} + ":"), 0U) << message;
        EXPECT_NE(message.find(c.cure), std::string::npos) << message;
    }
}

TEST(RefuseLength, DigitsWithoutEndNeitherOverflowNorCrash) {
    const std::string nines(400, '9');
    const std::string small = "0." + std::string(400, '0') + "1";
    const std::string over = nines + "/7\"";
    const std::string under = "1/" + nines + "\"";
    const std::string far = nines + " m";
    for (const std::string& text : {nines, small, over, under, far}) {
        const auto length = read_length(text, mm);
        ASSERT_FALSE(length) << text;
        EXPECT_EQ(length.error().message.find("Column "), 0U);
    }
}

TEST(RefuseLength, AZeroByteIsNotAnEnd) {
    EXPECT_FALSE(read_length(std::string_view{"38\0 mm", 6}, mm));
    EXPECT_FALSE(read_length(std::string_view{"38\0", 3}, mm));
}

TEST(RefuseLength, RandomBytesAreReadOrRefusedButNeverGiveANumberThatIsNone) {
    std::mt19937 engine{7};
    using namespace std::string_view_literals;
    constexpr std::string_view alphabet = "0123456789 .,/-+'\"mcinft\xE2\x80\xB2\xBC\0x"sv;
    for (int i = 0; i < 20000; ++i) {
        std::string text;
        for (std::size_t k = engine() % 12; k-- > 0;) {
            text.push_back(alphabet[engine() % alphabet.size()]);
        }
        const auto length = read_length(text, in);
        if (length) {
            EXPECT_TRUE(std::isfinite(in_mm(length.value()))) << text;
        } else {
            EXPECT_EQ(length.error().message.find("Column "), 0U) << text;
        }
    }
}

TEST(PrintLength, WritesNumberAndUnit) {
    EXPECT_EQ(print_length(millimetres(38.5), mm, 2), "38.50 mm");
    EXPECT_EQ(print_length(millimetres(38.5), cm, 2), "3.85 cm");
    EXPECT_EQ(print_length(millimetres(38.1), in, 3), "1.500 in");
    EXPECT_EQ(print_length(millimetres(-1234.6), mm, 0), "-1235 mm");
}

TEST(PrintLength, HasNoNegativeZeroAndNamesWhatIsNoNumber) {
    EXPECT_EQ(print_length(millimetres(-0.001), mm, 2), "0.00 mm");
    EXPECT_EQ(print_length(millimetres(-0.0), in, 0), "0 in");
    EXPECT_EQ(print_length(millimetres(std::numeric_limits<double>::quiet_NaN()), mm, 2), "not a number");
    EXPECT_EQ(print_length(millimetres(std::numeric_limits<double>::max()), mm, 17).size(), 309U + 1U + 17U + 3U);
}

TEST(PrintLength, ReadsBackWithinHalfOfTheLastDigit) {
    std::mt19937_64 engine{1};
    std::uniform_real_distribution<double> sizes{-5000.0, 5000.0};
    for (int i = 0; i < 3000; ++i) {
        const Length length = millimetres(sizes(engine));
        const int decimals = i % 10;
        for (const WrittenUnit unit : {mm, cm, in}) {
            const std::string text = print_length(length, unit, decimals);
            const auto back = read_length(text, mm);
            ASSERT_TRUE(back) << text << ": " << back.error().message;
            const double unit_mm = unit == mm ? 1.0 : unit == cm ? 10.0 : 25.4;
            const double half_digit = 0.5 * unit_mm * std::pow(10.0, -decimals);
            EXPECT_NEAR(in_mm(back.value()), in_mm(length), half_digit * (1.0 + 1e-9) + k_rounding_mm) << text;
            EXPECT_EQ(print_length(back.value(), unit, decimals), text);
        }
    }
}

TEST(PrintInchFraction, GivesLowestTermsAndSaysWhenItIsNotExact) {
    const auto text = [](double mm_value, int denominator) {
        return print_inch_fraction(millimetres(mm_value), denominator).value().text;
    };
    EXPECT_EQ(text(412.75, 16), "16 1/4\"");
    EXPECT_EQ(text(-412.75, 16), "-16 1/4\"");
    EXPECT_EQ(text(12.7, 16), "1/2\"");
    EXPECT_EQ(text(25.4, 16), "1\"");
    EXPECT_EQ(text(0.0, 16), "0\"");
    EXPECT_EQ(text(1.5875, 16), "1/16\"");
    EXPECT_EQ(text(1.5875, 8), "about 1/8\"");   // half-way, away from zero
    EXPECT_EQ(text(38.0, 16), "about 1 1/2\"");  // 38 mm is 1.496 in, 23.94 sixteenths
    EXPECT_EQ(text(25.39, 16), "about 1\"");
    EXPECT_EQ(text(0.5, 16), "about 0\"");
    EXPECT_EQ(text(-0.5, 16), "about 0\"");
    EXPECT_EQ(text(10.0, 1), "about 0\"");
}

TEST(PrintInchFraction, NearestIsWithinHalfOfTheFractionAndReadsBackAsItself) {
    std::mt19937_64 engine{2};
    std::uniform_real_distribution<double> sizes{-3000.0, 3000.0};
    for (int i = 0; i < 2000; ++i) {
        const Length length = millimetres(sizes(engine));
        const int denominator = 1 << (i % 8);
        const auto printed = print_inch_fraction(length, denominator).value();
        EXPECT_LE(std::abs(in_mm(printed.nearest - length)), 12.7 / denominator + k_rounding_mm);
        const std::string bare = printed.exact ? printed.text : printed.text.substr(6);
        const auto back = read_length(bare, mm);
        ASSERT_TRUE(back) << bare;
        EXPECT_NEAR(in_mm(back.value()), in_mm(printed.nearest), k_rounding_mm) << bare;
        EXPECT_TRUE(print_inch_fraction(back.value(), denominator).value().exact);
    }
}

TEST(PrintInchFraction, RefusesWhatHasNoFraction) {
    EXPECT_FALSE(print_inch_fraction(millimetres(1.0), 0));
    EXPECT_FALSE(print_inch_fraction(millimetres(1.0), -16));
    EXPECT_FALSE(print_inch_fraction(millimetres(1.0), 1025));
    EXPECT_FALSE(print_inch_fraction(millimetres(std::numeric_limits<double>::quiet_NaN()), 16));
    EXPECT_FALSE(print_inch_fraction(millimetres(std::numeric_limits<double>::infinity()), 16));
    EXPECT_FALSE(print_inch_fraction(millimetres(1.1e9), 16));
}

TEST(LengthText, DoesNotDependOnTheLocale) {
    // A locale with a decimal comma, where one is installed; without it the C locale is what the other tests use.
    const std::string before = std::setlocale(LC_ALL, nullptr);
    for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8", "de_DE", "C.UTF-8"}) {
        if (std::setlocale(LC_ALL, name) == nullptr) {
            continue;
        }
        EXPECT_EQ(print_length(millimetres(38.5), mm, 2), "38.50 mm") << name;
        EXPECT_EQ(in_mm(read_length("38.5 mm", mm).value()), 38.5) << name;
    }
    std::setlocale(LC_ALL, before.c_str());
}

}  // namespace
}  // namespace sillwright::geometry
