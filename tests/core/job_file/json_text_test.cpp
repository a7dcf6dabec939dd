#include "core/job_file/json_text.h"

#include <gtest/gtest.h>

namespace sillwright::core::job_file {

namespace {

// Lines counted by hand.
TEST(JsonText, FindsTheLineOfAPointer) {
    const std::string text = "{\n \"a\": [1,\n  {\"b\": 2}],\n \"c/d~\": \"}\\\"]\",\n \"e\": {}\n}";
    EXPECT_EQ(line_of(text, ""), 1U);
    EXPECT_EQ(line_of(text, "/a"), 2U);
    EXPECT_EQ(line_of(text, "/a/1/b"), 3U);
    EXPECT_EQ(line_of(text, "/c~1d~0"), 4U);
    EXPECT_EQ(line_of(text, "/e/missing"), 5U) << "a missing member is looked for at its parent";
    EXPECT_FALSE(line_of(text, "/x/y/z"));
    EXPECT_EQ(pointer_to("/a", "c/d~"), "/a/c~1d~0");
}

// The layout as a person would write it.
TEST(JsonText, LaysOutForAPerson) {
    const Json value = Json::parse(R"({"b":1,"a":[0.5,null],"at":{"x":1,"y":[]},"list":[{"n":1},{"n":2}],"none":{}})");
    EXPECT_EQ(layout(value),
              "{\n"
              "  \"b\": 1,\n"
              "  \"a\": [0.5, null],\n"
              "  \"at\": {\"x\": 1, \"y\": []},\n"
              "  \"list\": [\n"
              "    {\"n\": 1},\n"
              "    {\"n\": 2}\n"
              "  ],\n"
              "  \"none\": {}\n"
              "}\n");
}

TEST(JsonText, LongListsGetALineForEach) {
    Json value;
    for (int i = 0; i < 60; ++i) {
        value.push_back(1000 + i);
    }
    const std::string text = layout(value);
    EXPECT_EQ(std::count(text.begin(), text.end(), '\n'), 62);
    EXPECT_EQ(Json::parse(text), value);
}

TEST(JsonText, TextThatIsNotUtf8IsWrittenAsUtf8) {
    EXPECT_EQ(layout(Json("a\xFF")), "\"a\xEF\xBF\xBD\"\n");  // U+FFFD stands for what cannot be written
}

TEST(JsonText, QuotesAreCutBetweenCharacters) {
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
