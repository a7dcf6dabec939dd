#include "core/typed.h"

#include <gtest/gtest.h>

namespace sillwright::core {

namespace {

using geometry::in_mm;

TEST(Typed, KeepsTheWords) {
    const auto read = typed_entry("1 1/2\"", BareUnit::mm);
    ASSERT_TRUE(read);
    EXPECT_NEAR(in_mm(read.value().value), 38.1, 1e-12);  // 1.5 x 25.4
    EXPECT_EQ(read.value().typed, "1 1/2\"");
    EXPECT_EQ(entry_text(read.value(), BareUnit::mm), "1 1/2\"");
}

TEST(Typed, ABareNumberHasTheJobsUnit) {
    EXPECT_EQ(in_mm(typed_entry("38", BareUnit::mm).value().value), 38.0);
    EXPECT_EQ(in_mm(typed_entry("38", BareUnit::cm).value().value), 380.0);
    EXPECT_NEAR(in_mm(typed_entry("38", BareUnit::in).value().value), 965.2, 1e-12);
}

TEST(Typed, RefusesWithTheColumn) {
    const auto read = typed_entry("12 parsecs", BareUnit::mm);
    ASSERT_FALSE(read);
    EXPECT_NE(read.error().message.find("olumn 4"), std::string::npos) << read.error().message;
}

TEST(Typed, AnEntryOfTheProgramReadsInTheFewestDigits) {
    EXPECT_EQ(entry_text(entry(geometry::millimetres(0.1 + 0.2)), BareUnit::mm), "0.30000000000000004");
    EXPECT_EQ(entry_text(entry(geometry::millimetres(412.5)), BareUnit::mm), "412.5");
    EXPECT_EQ(entry_text(entry(geometry::inches(0.1)), BareUnit::in), "0.1");
    EXPECT_EQ(entry_text(entry(geometry::millimetres(41.3)), BareUnit::cm), "4.13");
    EXPECT_TRUE(entry(geometry::inches(0.1)).typed.empty());
}

}  // namespace

}  // namespace sillwright::core
