#include "geometry/stroke_text.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <string>

#include "geometry/letters_text.h"

namespace sillwright::geometry {
namespace {

Eigen::AlignedBox2d box_of(const std::vector<DrawnChain>& chains) {
    Eigen::AlignedBox2d box;
    for (const DrawnChain& chain : chains) {
        for (const ChainVertex& vertex : chain.vertices) {
            box.extend(vertex.p_mm);
        }
    }
    return box;
}

std::string every_letter() {
    std::string all;
    for (char c = 32; c < 127; ++c) {
        all += c;
    }
    return all;
}

/// A letter's strokes as text, to tell one from another.
std::string form(const std::string& letter) {
    std::string text;
    for (const DrawnChain& chain : stroke_text(letter, {0, 0}, millimetres(21))) {
        for (const ChainVertex& vertex : chain.vertices) {
            text += std::to_string(vertex.p_mm.x()) + " " + std::to_string(vertex.p_mm.y()) + " ";
        }
        text += "/";
    }
    return text;
}

// But for l, which the source draws as I: words are engraved in capitals.
TEST(StrokeText, EveryLetterIsItsOwn) {
    std::set<std::string> forms;
    for (const char c : every_letter()) {
        if (c != ' ' && c != 'l') {
            EXPECT_FALSE(form({c}).empty()) << c;
            EXPECT_TRUE(forms.insert(form({c})).second) << c;
        }
    }
    EXPECT_TRUE(forms.insert(form("\xC2\xB0")).second);
    EXPECT_EQ(form(" "), "");
}

// By hand: H is two uprights and a bar; the source draws it from 4 to 18 of 22 steps, 21 high.
TEST(StrokeText, LetterHIsThreeStraights) {
    const auto chains = stroke_text("H", {100, 50}, millimetres(21));
    ASSERT_EQ(chains.size(), 3U);
    for (const DrawnChain& chain : chains) {
        EXPECT_FALSE(chain.closed);
        EXPECT_EQ(chain.vertices.size(), 2U);
    }
    const auto box = box_of(chains);
    EXPECT_NEAR(box.min().y(), 50.0, 1e-12);
    EXPECT_NEAR(box.max().y(), 71.0, 1e-12);
    EXPECT_NEAR(box.min().x(), 100.0 + 7.0 / 8.0 * 4.0, 1e-12);
    EXPECT_NEAR(box.max().x(), 100.0 + 7.0 / 8.0 * 18.0, 1e-12);
}

TEST(StrokeText, CapitalsAndFiguresStandOnTheLineAtTheirHeight) {
    for (const char c : std::string("ABCDEFGHIJKLMNOPRSTUVWXYZ0123456789")) {
        const auto box = box_of(stroke_text({&c, 1}, {0, 0}, millimetres(8)));
        EXPECT_NEAR(box.min().y(), 0.0, 1e-12) << c;
        EXPECT_NEAR(box.max().y(), 8.0, 1e-12) << c;
    }
}

TEST(StrokeText, NoLetterIsWiderThanItIsHighAndNoneLeavesItsPlace) {
    for (const char c : every_letter()) {
        const std::string letter{c};
        const Length width = stroke_width(letter, millimetres(10));
        EXPECT_GT(width, Length{}) << c;
        EXPECT_LE(in_mm(width), 10.0 * k_stroke_letter_width + 1e-12) << c;
        const auto box = box_of(stroke_text(letter, {0, 0}, millimetres(10)));
        if (!box.isEmpty()) {
            EXPECT_GE(box.min().x(), 0.0) << c;
            EXPECT_LE(box.max().x(), in_mm(width)) << c;
            EXPECT_GE(box.min().y(), -10.0 * k_stroke_below - 1e-9) << c;
            EXPECT_LE(box.max().y(), 10.0 * k_stroke_above + 1e-9) << c;
        }
    }
}

TEST(StrokeText, WidthIsTheSumOfTheLetters) {
    const Length height = millimetres(3.5);
    EXPECT_NEAR(in_mm(stroke_width("R12 +", height)),
                in_mm(stroke_width("R", height) + stroke_width("1", height) + stroke_width("2", height) +
                      stroke_width(" ", height) + stroke_width("+", height)),
                1e-12);
    EXPECT_EQ(stroke_width("", height), Length{});
}

TEST(StrokeText, TurnedAQuarterXBecomesY) {
    const auto lying = stroke_text("R3", {0, 0}, millimetres(8));
    const auto standing = stroke_text("R3", {5, 7}, millimetres(8), degrees(90));
    ASSERT_EQ(lying.size(), standing.size());
    for (std::size_t i = 0; i < lying.size(); ++i) {
        for (std::size_t k = 0; k < lying[i].vertices.size(); ++k) {
            const Eigen::Vector2d p = lying[i].vertices[k].p_mm;
            EXPECT_TRUE(standing[i].vertices[k].p_mm.isApprox(Eigen::Vector2d(5.0 - p.y(), 7.0 + p.x()), 1e-12));
        }
    }
}

TEST(StrokeText, WhatHasNoLetterIsAQuestion) {
    EXPECT_EQ(form("\xC3\x9F"), form("?"));      // German sharp s
    EXPECT_EQ(form("\xE2\x82\xAC"), form("?"));  // euro
    EXPECT_EQ(form("\n"), form("?"));
    EXPECT_EQ(form("\xF0\x9F\x98\x80"), form("?"));  // beyond U+FFFF
}

// The licence asks for these to go with the letters.
TEST(StrokeText, TheAcknowledgementsAreBuiltIn) {
    for (const char* words : {"originally created by Dr. A. V. Hershey", "National Bureau of", "James Hurt"}) {
        EXPECT_NE(letters_text().find(words), std::string_view::npos) << words;
    }
}

}  // namespace
}  // namespace sillwright::geometry
