#include "geometry/length_text.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <optional>
#include <utility>
#include <vector>

namespace sillwright::geometry {

namespace {

/// 1000 km: anything longer is a slip of the finger.
constexpr double k_longest_mm = 1e9;
/// Rounding of a length of metres is far below this, and no shop can tell.
constexpr double k_exact_mm = 1e-9;
constexpr double k_mm_per_in = 25.4;  // International Yard and Pound Agreement, 1959
constexpr double k_in_per_ft = 12.0;
constexpr int k_finest_denominator = 1024;

constexpr char32_t k_not_utf8 = 0xFFFD;

struct FractionSign {
    char32_t sign;
    int numerator, denominator;
};
/// Unicode 15, Latin-1 Supplement and Number Forms.
constexpr std::array k_fraction_signs{
    FractionSign{0x00BC, 1, 4}, FractionSign{0x00BD, 1, 2}, FractionSign{0x00BE, 3, 4}, FractionSign{0x215B, 1, 8},
    FractionSign{0x215C, 3, 8}, FractionSign{0x215D, 5, 8}, FractionSign{0x215E, 7, 8},
};

/// The plain sign for one of its typographic forms, else the sign itself.
char32_t plain(char32_t c) {
    switch (c) {
        case U'\t':
        case 0x00A0:  // no-break space
        case 0x2009:  // thin space
        case 0x202F:  // narrow no-break space
            return U' ';
        case 0x2010:  // hyphen
        case 0x2011:  // non-breaking hyphen
        case 0x2013:  // en dash
        case 0x2212:  // minus
            return U'-';
        case 0x2019:  // right single quotation mark
        case 0x2032:  // prime
            return U'\'';
        case 0x201D:  // right double quotation mark
        case 0x2033:  // double prime
            return U'"';
        case 0x2044:  // fraction slash
            return U'/';
        default:
            return c;
    }
}

/// One character of UTF-8 from the front of `text`; k_not_utf8 for a byte that starts none.
char32_t take_character(std::string_view& text) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned char lead = byte(0);
    const std::size_t size = lead < 0x80 ? 1 : lead >= 0xC2 && lead < 0xE0 ? 2 : lead >= 0xE0 && lead < 0xF0 ? 3 : 0;
    // Four-byte characters have no place in a length, so they need no decoding.
    if (size == 0 || size > text.size()) {
        text.remove_prefix(1);
        return k_not_utf8;
    }
    char32_t c = size == 1 ? lead : size == 2 ? lead & 0x1FU : lead & 0x0FU;
    for (std::size_t i = 1; i < size; ++i) {
        if ((byte(i) & 0xC0U) != 0x80U) {
            text.remove_prefix(1);
            return k_not_utf8;
        }
        c = (c << 6U) | (byte(i) & 0x3FU);
    }
    text.remove_prefix(size);
    return c;
}

std::u32string plain_characters(std::string_view text) {
    std::u32string characters;
    while (!text.empty()) {
        characters.push_back(plain(take_character(text)));
    }
    return characters;
}

bool is_digit(char32_t c) {
    return c >= U'0' && c <= U'9';
}
bool is_letter(char32_t c) {
    return (c >= U'a' && c <= U'z') || (c >= U'A' && c <= U'Z');
}

const FractionSign* fraction_sign(char32_t c) {
    const auto* found = std::ranges::find(k_fraction_signs, c, &FractionSign::sign);
    return found == k_fraction_signs.end() ? nullptr : found;
}

enum class Unit { mm, cm, m, in, ft };

double mm_per(Unit unit) {
    switch (unit) {
        case Unit::mm:
            return 1.0;
        case Unit::cm:
            return 10.0;
        case Unit::m:
            return 1000.0;
        case Unit::in:
            return k_mm_per_in;
        case Unit::ft:
            return k_in_per_ft * k_mm_per_in;
    }
    return 1.0;
}

Unit unit_of(WrittenUnit unit) {
    return unit == WrittenUnit::mm ? Unit::mm : unit == WrittenUnit::cm ? Unit::cm : Unit::in;
}

std::optional<Unit> unit_named(std::string_view word) {
    struct Name {
        std::string_view word;
        Unit unit;
    };
    static constexpr std::array names{
        Name{"mm", Unit::mm},     Name{"cm", Unit::cm},   Name{"m", Unit::m},
        Name{"in", Unit::in},     Name{"inch", Unit::in}, Name{"ft", Unit::ft},
        Name{"inches", Unit::in}, Name{"foot", Unit::ft}, Name{"feet", Unit::ft},
    };
    const auto* found = std::ranges::find(names, word, &Name::word);
    return found == names.end() ? std::nullopt : std::optional{found->unit};
}

/// A number as written.
struct Amount {
    double value;
    bool whole;     ///< Digits only.
    bool fraction;  ///< Has a fraction bar or sign.
};

/// Reads one length from its first character to its last.
class Reader {
public:
    Reader(std::u32string text, WrittenUnit bare_unit) : text_{std::move(text)}, bare_unit_{bare_unit} {}

    Result<Length> read() {
        skip_spaces();
        const bool negative = at(place_) == U'-';
        if (negative || at(place_) == U'+') {
            ++place_;
            skip_spaces();
        }
        return read_size().and_then([&](const double& mm) -> Result<Length> {
            if (!(mm <= k_longest_mm)) {
                return refuse(0, "this is longer than 1000 km; check the digits and the unit");
            }
            return millimetres(negative && mm != 0.0 ? -mm : mm);
        });
    }

private:
    /// The character there, 0 past the end (a length has no character 0 in it).
    [[nodiscard]] char32_t at(std::size_t i) const { return i < text_.size() ? text_[i] : U'\0'; }
    [[nodiscard]] bool at_end() const { return place_ >= text_.size(); }

    void skip_spaces() {
        while (at(place_) == U' ') {
            ++place_;
        }
    }

    [[nodiscard]] static Error refuse(std::size_t place, const std::string& sentence) {
        return {ErrorCode::invalid_argument, "Column " + std::to_string(place + 1) + ": " + sentence + "."};
    }

    [[nodiscard]] Error expected_number() const {
        return refuse(place_, "a number is expected here, as in 38, 38.5 mm, 1 1/2\" or 3' 4 1/2\"");
    }

    /// Everything but the sign, in millimetres.
    Result<double> read_size() {
        const std::size_t start = place_;
        return read_amount().and_then([&](const Amount& amount) -> Result<double> {
            return read_unit().and_then([&](const std::optional<Unit>& unit) -> Result<double> {
                skip_spaces();
                if (unit == Unit::ft && !at_end()) {
                    return read_inches_after(amount, start);
                }
                if (!at_end()) {
                    return unit ? refuse(place_, "nothing more is expected after the unit")
                                : refuse(place_, "a unit is expected here: mm, cm, m, in, \", ft or '");
                }
                if (!unit && amount.fraction && bare_unit_ != WrittenUnit::in) {
                    return refuse(place_,
                                  "a fraction needs its unit, as in 16 1/4 in; without one write a decimal number");
                }
                return amount.value * mm_per(unit.value_or(unit_of(bare_unit_)));
            });
        });
    }

    /// The inches of feet and inches, joined by nothing, spaces or a hyphen.
    Result<double> read_inches_after(const Amount& feet, std::size_t feet_place) {
        if (!feet.whole) {
            return refuse(feet_place, "feet before inches must be a whole number, as in 3' 4 1/2\"");
        }
        if (at(place_) == U'-') {
            ++place_;
            skip_spaces();
        }
        const std::size_t start = place_;
        return read_amount().and_then([&](const Amount& inches) -> Result<double> {
            const std::size_t unit_place = place_;
            return read_unit().and_then([&](const std::optional<Unit>& unit) -> Result<double> {
                if (unit.value_or(Unit::in) != Unit::in) {
                    return refuse(unit_place, "only inches can follow feet, as in 3' 4 1/2\"");
                }
                if (inches.value >= k_in_per_ft) {
                    return refuse(start, "inches after feet must be below 12");
                }
                skip_spaces();
                if (!at_end()) {
                    return refuse(place_, "nothing more is expected after the inches");
                }
                return (feet.value * k_in_per_ft + inches.value) * k_mm_per_in;
            });
        });
    }

    /// Whether a fraction, as 1/4 or its sign, begins at `i`.
    [[nodiscard]] bool fraction_at(std::size_t i) const {
        if (fraction_sign(at(i)) != nullptr) {
            return true;
        }
        const std::size_t first = i;
        while (is_digit(at(i))) {
            ++i;
        }
        return i > first && at(i) == U'/';
    }

    Result<Amount> read_amount() {
        if (fraction_at(place_)) {
            return read_fraction().transform([](const double& value) { return Amount{value, false, true}; });
        }
        const std::size_t start = place_;
        return read_decimal().and_then([&](const Amount& number) -> Result<Amount> {
            const std::optional<std::size_t> fraction = fraction_after();
            if (!fraction) {
                return number;
            }
            if (!number.whole) {
                return refuse(start, "the number before a fraction must be whole, as in 16 1/4\"");
            }
            place_ = *fraction;
            return read_fraction().and_then([&](const double& part) -> Result<Amount> {
                if (part >= 1.0) {
                    return refuse(*fraction, "the fraction after a whole number must be below one, as in 16 1/4\"");
                }
                return Amount{number.value + part, false, true};
            });
        });
    }

    /// Where the fraction that belongs to the number just read begins, if there is one.
    [[nodiscard]] std::optional<std::size_t> fraction_after() const {
        std::size_t i = place_;
        if (at(i) == U'-') {
            ++i;
        } else {
            while (at(i) == U' ') {
                ++i;
            }
            if (i == place_ && fraction_sign(at(i)) == nullptr) {
                return std::nullopt;
            }
        }
        return fraction_at(i) ? std::optional{i} : std::nullopt;
    }

    Result<double> read_fraction() {
        if (const FractionSign* sign = fraction_sign(at(place_))) {
            ++place_;
            return static_cast<double>(sign->numerator) / static_cast<double>(sign->denominator);
        }
        const std::size_t start = place_;
        const std::string numerator = take_digits();
        ++place_;  // the bar, which fraction_at has seen
        const std::size_t below = place_;
        const std::string denominator = take_digits();
        if (denominator.empty()) {
            return refuse(below, "a whole number is expected below the fraction bar, as in 1/4");
        }
        return number_from(numerator, start).and_then([&](const double& n) {
            return number_from(denominator, below).and_then([&](const double& d) -> Result<double> {
                if (d == 0.0) {
                    return refuse(below, "the number below the fraction bar cannot be zero");
                }
                return n / d;
            });
        });
    }

    Result<Amount> read_decimal() {
        const std::size_t start = place_;
        std::string number = take_digits();
        const std::string whole = number;
        const char32_t mark = at(place_);
        if (mark != U'.' && mark != U',') {
            if (number.empty()) {
                return expected_number();
            }
            return number_from(number, start).transform([](const double& value) { return Amount{value, true, false}; });
        }
        ++place_;
        const std::string decimals = take_digits();
        if (decimals.empty()) {
            return refuse(place_, "a digit is expected after the decimal sign");
        }
        const bool begins_with_zeros = std::ranges::all_of(whole, [](char c) { return c == '0'; });
        if (mark == U',' && decimals.size() == 3 && !begins_with_zeros) {
            return refuse(start, "\"" + whole + "," + decimals + "\" can mean " + whole + decimals + " or " + whole +
                                     "." + decimals + "; write the one that is meant");
        }
        number = (whole.empty() ? "0" : whole) + "." + decimals;
        return number_from(number, start).transform([](const double& value) { return Amount{value, false, false}; });
    }

    std::string take_digits() {
        std::string digits;
        while (is_digit(at(place_))) {
            digits.push_back(static_cast<char>(at(place_)));
            ++place_;
        }
        return digits;
    }

    [[nodiscard]] static Result<double> number_from(const std::string& text, std::size_t place) {
        double value = 0.0;
        const auto read = std::from_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
        if (read.ec != std::errc{} || read.ptr != text.data() + text.size()) {
            return refuse(place, "this number has more digits than a length can have");
        }
        return value;
    }

    /// A unit, or none at the end or before something else than a unit.
    Result<std::optional<Unit>> read_unit() {
        skip_spaces();
        if (is_letter(at(place_))) {
            return read_unit_word();
        }
        const bool two_single = at(place_) == U'\'' && at(place_ + 1) == U'\'';
        if (at(place_) == U'"' || two_single) {
            place_ += two_single ? 2 : 1;
            return std::optional{Unit::in};
        }
        if (at(place_) == U'\'') {
            ++place_;
            return std::optional{Unit::ft};
        }
        return std::optional<Unit>{};
    }

    Result<std::optional<Unit>> read_unit_word() {
        const std::size_t start = place_;
        std::string word;
        while (is_letter(at(place_))) {
            word.push_back(static_cast<char>(at(place_) | 0x20U));  // small letters
            ++place_;
        }
        const std::optional<Unit> unit = unit_named(word);
        if (!unit) {
            return refuse(start, "\"" + word + "\" is not a unit; write mm, cm, m, in, \", ft or '");
        }
        if (at(place_) == U'.') {
            ++place_;
        }
        return unit;
    }

    std::u32string text_;
    std::size_t place_ = 0;
    WrittenUnit bare_unit_;
};

std::string fixed_text(double value, int decimals) {
    std::array<char, 512> buffer{};  // the largest double has 309 digits before the point
    const auto end =
        std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed, decimals);
    std::string text{buffer.data(), end.ptr};
    const bool zero = text.find_first_not_of("-0.") == std::string::npos;
    return zero && text.front() == '-' ? text.substr(1) : text;
}

std::string inch_text(std::int64_t parts, std::int64_t denominator) {
    const std::int64_t size = std::abs(parts);
    const std::int64_t whole = size / denominator;
    const std::int64_t rest = size % denominator;
    const std::int64_t common = std::gcd(rest, denominator);
    std::string text = parts < 0 ? "-" : "";
    if (whole != 0 || rest == 0) {
        text += std::to_string(whole) + (rest != 0 ? " " : "");
    }
    if (rest != 0) {
        text += std::to_string(rest / common) + "/" + std::to_string(denominator / common);
    }
    return text + "\"";
}

}  // namespace

namespace {

/// Whether a unit is written in a term of a sum.
bool has_unit(std::u32string_view term) {
    return std::ranges::any_of(term, [](char32_t c) { return is_letter(c) || c == U'\'' || c == U'"'; });
}

/// The terms of a sum, each behind as many spaces as characters stand before it, so that columns stay.
std::vector<std::u32string> terms_of(const std::u32string& text) {
    std::vector<std::u32string> terms(1);
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool begun = terms.back().find_first_not_of(U' ') != std::u32string::npos;
        if (text[i] == U'+' && begun) {  // Else it is the sign of the first number.
            terms.emplace_back(i + 1, U' ');
        } else {
            terms.back().push_back(text[i]);
        }
    }
    return terms;
}

Result<Length> read_sum(const std::vector<std::u32string>& terms, WrittenUnit bare_unit) {
    Length sum;
    for (const std::u32string& term : terms) {
        const std::size_t first = std::min(term.find_first_not_of(U' '), term.size());
        if (&term != &terms.front() && first < term.size() && (term[first] == U'+' || term[first] == U'-')) {
            return Error{ErrorCode::invalid_argument,
                         "Column " + std::to_string(first + 1) + ": a number is expected after the plus, as in 412+3."};
        }
        const Result<Length> length = Reader{term, bare_unit}.read();
        if (!length) {
            return length;
        }
        if (has_unit(term) != has_unit(terms.front())) {
            return Error{ErrorCode::invalid_argument,
                         "Column 1: in a sum write the unit behind every number or behind none, as in 412 mm + 3 mm."};
        }
        sum = sum + length.value();
    }
    if (!(std::abs(in_mm(sum)) <= k_longest_mm)) {
        return Error{ErrorCode::invalid_argument,
                     "Column 1: this is longer than 1000 km; check the digits and the unit."};
    }
    return sum;
}

}  // namespace

Result<Length> read_length(std::string_view text, WrittenUnit bare_unit) {
    const std::u32string characters = plain_characters(text);
    const std::vector<std::u32string> terms = terms_of(characters);
    return terms.size() == 1 ? Reader{characters, bare_unit}.read() : read_sum(terms, bare_unit);
}

std::string print_length(Length length, WrittenUnit unit, int decimals) {
    assert(decimals >= 0 && decimals <= 17);
    const double mm = in_mm(length);
    if (!std::isfinite(mm)) {
        return "not a number";
    }
    const char* name = unit == WrittenUnit::mm ? " mm" : unit == WrittenUnit::cm ? " cm" : " in";
    return fixed_text(mm / mm_per(unit_of(unit)), decimals) + name;
}

Result<InchFraction> print_inch_fraction(Length length, int denominator) {
    if (denominator < 1 || denominator > k_finest_denominator) {
        return Error{ErrorCode::invalid_argument, "The denominator of an inch fraction must be from 1 to 1024, not " +
                                                      std::to_string(denominator) + "."};
    }
    const double mm = in_mm(length);
    if (!(std::abs(mm) <= k_longest_mm)) {
        return Error{ErrorCode::invalid_argument,
                     "A length in fractions of an inch must be a number within 1000 km, not " +
                         print_length(length, WrittenUnit::mm, 0) + "."};
    }
    const auto parts = static_cast<std::int64_t>(std::llround(mm / k_mm_per_in * denominator));
    const Length nearest = inches(static_cast<double>(parts) / denominator);
    const bool exact = std::abs(in_mm(nearest - length)) <= k_exact_mm;
    return InchFraction{(exact ? "" : "about ") + inch_text(parts, denominator), nearest, exact};
}

}  // namespace sillwright::geometry
