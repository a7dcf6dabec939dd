#include "core/job_file/layout.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace sillwright::core::job_file {

namespace {

using Json = nlohmann::ordered_json;

// The layout as a person would write it.
TEST(Layout, LaysOutForAPerson) {
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

TEST(Layout, LongListsGetALineForEach) {
    Json value;
    for (int i = 0; i < 60; ++i) {
        value.push_back(1000 + i);
    }
    const std::string text = layout(value);
    EXPECT_EQ(std::count(text.begin(), text.end(), '\n'), 62);
    EXPECT_EQ(Json::parse(text), value);
}

TEST(Layout, TextThatIsNotUtf8IsWrittenAsUtf8) {
    EXPECT_EQ(layout(Json("a\xFF")), "\"a\xEF\xBF\xBD\"\n");  // U+FFFD stands for what cannot be written
}

}  // namespace

}  // namespace sillwright::core::job_file
