#include "core/job_file/json_text.h"

#include <gtest/gtest.h>

namespace sillwright::core::job_file {

namespace {

TEST(JsonText, KeepsTheOrderOfKeys) {
    const auto json = parse_json(R"({"b": 1, "a": {"d": 2, "c": 3}})", "x");
    ASSERT_TRUE(json);
    EXPECT_EQ(json.value().dump(), R"({"b":1,"a":{"d":2,"c":3}})");
}

TEST(JsonText, NamesFileLineAndColumn) {
    const auto json = parse_json("{\n  \"a\": 1,\n  \"b\" 2\n}", "job.sillwright");
    ASSERT_FALSE(json);
    EXPECT_EQ(json.error().code, geometry::ErrorCode::unreadable_file);
    EXPECT_EQ(json.error().message.find("job.sillwright (line 3, column 7): this is not JSON at 2. "), 0U)
        << json.error().message;
}

TEST(JsonText, NumbersBeyondADoubleAreRefusedWhereTheyStand) {
    const auto json = parse_json("[1,\n -1e999]", "x");
    ASSERT_FALSE(json);
    EXPECT_EQ(json.error().message.find("x (line 2, column 2): -1e999 is too large"), 0U) << json.error().message;
}

}  // namespace

}  // namespace sillwright::core::job_file
