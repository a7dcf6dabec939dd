#include "core/plain_text.h"

#include <gtest/gtest.h>

// Expected values: counted by hand.
namespace sillwright::core {
namespace {

using Lines = std::vector<std::string>;

TEST(PlainText, CountsLettersNotBytes) {
    EXPECT_EQ(columns(""), 0U);
    EXPECT_EQ(columns("gap"), 3U);
    EXPECT_EQ(columns("◆ −2.1°"), 7U);
}

TEST(PlainText, BreaksAtSpaces) {
    EXPECT_EQ(wrapped("", 10), (Lines{""}));
    EXPECT_EQ(wrapped("one two three", 7), (Lines{"one two", "three"}));
    EXPECT_EQ(wrapped("one two three", 100), (Lines{"one two three"}));
    EXPECT_EQ(wrapped("  one   two ", 3), (Lines{"one", "two"}));
    EXPECT_EQ(wrapped("−− −−", 3), (Lines{"−−", "−−"}));
}

TEST(PlainText, KeepsANumberWithItsUnit) {
    EXPECT_EQ(wrapped("margin −2.1 mm, there", 12), (Lines{"margin", "−2.1 mm,", "there"}));
    EXPECT_EQ(wrapped("a 3 mm", 4), (Lines{"a", "3 mm"}));
    EXPECT_EQ(wrapped("a mmm", 4), (Lines{"a", "mmm"}));
}

TEST(PlainText, CutsAWordThatIsLongerThanALine) {
    EXPECT_EQ(wrapped("a °°°°° b", 2), (Lines{"a", "°°", "°°", "°", "b"}));
}

TEST(PlainText, HasAnAsciiLikeForEveryLetter) {
    EXPECT_EQ(in_ascii("found 1.9 mm · −2.1 mm at 6.2° ± 0.1"), "found 1.9 mm | -2.1 mm at 6.2 deg +/- 0.1");
    EXPECT_EQ(in_ascii("Kombi Ö"), "Kombi ?");
}

TEST(PlainText, TakesControlCharactersOut) {
    // ESC [ 2 J clears a terminal; U+009B is the same start in one letter (ECMA-48).
    EXPECT_EQ(without_controls("a\x1b[2Jb\nc\x7f"), "a [2Jb c ");
    EXPECT_EQ(without_controls("a\xC2\x9B"
                               "2Jb"),
              "a 2Jb");
    EXPECT_EQ(without_controls("−2.1° ok"), "−2.1° ok");
}

}  // namespace
}  // namespace sillwright::core
