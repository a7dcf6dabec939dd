#include "core/job_file/text_place.h"

#include <gtest/gtest.h>

#include "core/job_file/json_text.h"

namespace sillwright::core::job_file {

namespace {

// Lines counted by hand.
TEST(TextPlace, FindsTheLineOfAPointer) {
    const std::string text = "{\n \"a\": [1,\n  {\"b\": 2}],\n \"c/d~\": \"}\\\"]\",\n \"e\": {}\n}";
    EXPECT_EQ(line_of(text, ""), 1U);
    EXPECT_EQ(line_of(text, "/a"), 2U);
    EXPECT_EQ(line_of(text, "/a/1/b"), 3U);
    EXPECT_EQ(line_of(text, "/c~1d~0"), 4U);
    EXPECT_EQ(line_of(text, "/e/missing"), 5U) << "a missing member is looked for at its parent";
    EXPECT_FALSE(line_of(text, "/x/y/z"));
    EXPECT_EQ(pointer_to("/a", "c/d~"), "/a/c~1d~0");
}

TEST(TextPlace, QuotesAreCutBetweenCharacters) {
    std::string umlauts;
    for (int i = 0; i < 100; ++i) {
        umlauts += "\xC3\xA4";
    }
    const auto quote = in_quotes("x" + umlauts);
    EXPECT_LT(quote.size(), 70U);
    EXPECT_TRUE(parse_json("[" + quote + "]", "x"));
}

}  // namespace

}  // namespace sillwright::core::job_file
