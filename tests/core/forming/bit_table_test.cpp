#include "core/forming/bit_table.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "core/resource_text.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;

Bit own_bit(const std::string& name, BitForm form, double diameter) {
    Bit bit;
    bit.name = name;
    bit.form = form;
    bit.diameter = Entry{millimetres(diameter), ""};
    return bit;
}

TEST(BitTable, EveryBitCanBeUsedAndSaysWhereItIsFrom) {
    const auto file = nlohmann::json::parse(bits_text());
    ASSERT_EQ(file.at("bits").size(), bit_table().size());
    for (const auto& row : file.at("bits")) {
        EXPECT_FALSE(row.at("source").get<std::string>().empty()) << row.dump();
    }
    std::set<std::string> names;
    for (const Bit& bit : bit_table()) {
        SCOPED_TRACE(bit.name);
        EXPECT_TRUE(names.insert(bit.name).second);
        ASSERT_TRUE(bit.diameter && bit.reach);
        EXPECT_GE(in_mm(bit.diameter->value), 6.0);
        EXPECT_LE(in_mm(bit.diameter->value), 32.0);
        EXPECT_EQ(bit.angle.has_value(), bit.form == BitForm::vee);
        const auto form = form_of(bit);
        ASSERT_TRUE(form);
        EXPECT_LE(cut_width(*form, bit.reach->value), bit.diameter->value + millimetres(1e-9));
        if (bit.form == BitForm::round_nose) {
            EXPECT_GE(bit.reach->value, 0.5 * bit.diameter->value) << "it can be sunk to its full width";
        }
    }
    EXPECT_GE(names.size(), 10U);
}

TEST(BitTable, TheJobsOwnBitsGoBeforeIt) {
    Router router;
    EXPECT_EQ(bits_of(router), bit_table());
    router.bits = {own_bit("old cove bit", BitForm::round_nose, 22), own_bit("flat 6", BitForm::flat, 5.8)};
    EXPECT_EQ(bits_of(router), router.bits);
    EXPECT_EQ(in_mm(find_bit(router, "flat 6")->diameter->value), 5.8);
    EXPECT_TRUE(find_bit(router, "round nose 24")) << "one that is named may be of the table";
    EXPECT_FALSE(find_bit(router, "no such bit"));
}

// A 24 round nose at a depth of 6: 20.8, as shops know.
TEST(BitTable, FormsCutAsTheyAreNamed) {
    EXPECT_NEAR(in_mm(cut_width(*form_of(*find_bit({}, "round nose 24")), millimetres(6))), 20.8, 0.05);
    EXPECT_EQ(in_mm(bottom_radius(*form_of(*find_bit({}, "flat 19 corners 6")))), 6.0);
}

TEST(BitTable, WhatIsNotGivenHasNoForm) {
    Bit bit = own_bit("V", BitForm::vee, 12);
    EXPECT_FALSE(form_of(bit)) << "no angle";
    bit.angle = geometry::degrees(90);
    EXPECT_TRUE(form_of(bit));
    bit.diameter.reset();
    EXPECT_FALSE(form_of(bit));
    Bit flat = own_bit("flat", BitForm::flat, 10);
    flat.corner_radius = Entry{millimetres(9), ""};
    EXPECT_EQ(in_mm(form_of(flat)->corner_radius), 5.0) << "no more than there is room for";
}

}  // namespace
}  // namespace sillwright::core
