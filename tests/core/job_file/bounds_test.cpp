#include "core/job_file/bounds.h"

#include <gtest/gtest.h>

namespace sillwright::core::job_file {

namespace {

// Bytes counted by hand.
TEST(Bounds, GoodTextPasses) {
    EXPECT_FALSE(bounds_fault(R"({"a": [1, true, null], "b": {"a": "NaN: {[\"}", "c": ":"}})"));
    EXPECT_FALSE(bounds_fault(""));
    EXPECT_FALSE(utf8_fault("a\xC3\xA4\xE2\x82\xAC\xF0\x9F\x98\x80"));  // 1, 2, 3 and 4 bytes
}

TEST(Bounds, SaysAtWhichByte) {
    EXPECT_EQ(bounds_fault(R"({"a": NaN})")->byte, 6U);
    EXPECT_EQ(bounds_fault(R"({"a": 1, "a" : 2})")->byte, 9U);
    EXPECT_EQ(bounds_fault(std::string(65, '['))->byte, 64U);
    EXPECT_EQ(utf8_fault("ab\xC3")->byte, 2U) << "a character cut in two";
    EXPECT_EQ(utf8_fault("ab\x80")->byte, 2U);
    EXPECT_EQ(utf8_fault("ab\xC0\x80")->byte, 2U) << "an overlong zero";
}

TEST(Bounds, TheSameKeyInTwoObjectsIsRight) {
    EXPECT_FALSE(bounds_fault(R"([{"a": 1}, {"a": {"a": 2}}])"));
}

TEST(Bounds, BracketsThatDoNotMatchAreTheParsersToRefuse) {
    EXPECT_FALSE(bounds_fault("]]}}\"a\": 1"));
    EXPECT_FALSE(bounds_fault("{\"a"));
    EXPECT_FALSE(bounds_fault("{\"a\\"));
}

}  // namespace

}  // namespace sillwright::core::job_file
