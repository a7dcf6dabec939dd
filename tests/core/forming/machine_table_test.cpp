#include "core/forming/machine_table.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "core/resource_text.h"
#include "core/typed.h"

namespace sillwright::core {
namespace {

using geometry::in_mm;
using geometry::millimetres;
using nlohmann::json;

TEST(MachineTable, EveryRowSaysWhereItIsFrom) {
    for (const auto& [text, list] : {std::pair{machines_text(), "machines"}, {stock_text(), "stock"}}) {
        const json file = json::parse(text);
        ASSERT_FALSE(file.at(list).empty());
        for (const json& row : file.at(list)) {
            EXPECT_EQ(row.at("source"), "common practice, no source") << row;
        }
    }
}

// Common practice, no source: clamps take 20 to 30 mm, heavy-gauge machines draw a few hundred millimetres.
TEST(MachineTable, MachinesHaveAllNumbersWhereSuchMachinesHaveThem) {
    ASSERT_GE(machine_table().size(), 6U);
    std::set<std::string> names;
    for (const Machine& one : machine_table()) {
        SCOPED_TRACE(one.name);
        EXPECT_TRUE(names.insert(one.name).second);
        EXPECT_GE(in_mm(one.length->value), in_mm(one.width->value));
        EXPECT_EQ(one.name,
                  "window " + entry_text(*one.length, BareUnit::mm) + " × " + entry_text(*one.width, BareUnit::mm));
        EXPECT_GE(in_mm(one.clamp_margin->value), 20);
        EXPECT_LE(in_mm(one.clamp_margin->value), 30);
        EXPECT_GE(in_mm(one.draw_depth->value), 150);
        EXPECT_LT(in_mm(one.draw_depth->value), in_mm(one.width->value));
        EXPECT_GE(in_mm(one.sheet_most->value), 4);
        EXPECT_LE(in_mm(one.sheet_most->value), 12);
        EXPECT_GE(in_mm(one.oven_length->value), in_mm(one.length->value));
        EXPECT_GE(in_mm(one.oven_width->value), in_mm(one.width->value));
    }
}

TEST(MachineTable, StockIsSoldInFourSizesWithoutAPrice) {
    ASSERT_EQ(stock_table().size(), 4U);
    std::set<std::pair<double, double>> sizes;
    for (const StockSheet& one : stock_table()) {
        sizes.emplace(in_mm(one.length->value), in_mm(one.width->value));
        EXPECT_EQ(one.name, entry_text(*one.length, BareUnit::mm) + " × " + entry_text(*one.width, BareUnit::mm));
        EXPECT_FALSE(one.price);
    }
    EXPECT_TRUE(sizes.contains({2000, 1000}));
    EXPECT_TRUE(sizes.contains({2440, 1220}));
    EXPECT_TRUE(sizes.contains({2500, 1250}));
    EXPECT_TRUE(sizes.contains({3050, 2030}));
}

TEST(MachineTable, TheJobsOwnGoFirst) {
    Forming forming;
    EXPECT_EQ(machine_of(forming), nullptr);
    forming.machine = "window 1830 × 610";
    ASSERT_NE(machine_of(forming), nullptr);
    EXPECT_EQ(in_mm(machine_of(forming)->length->value), 1830);
    forming.machines.resize(2);
    forming.machines[0].name = "the old one";
    forming.machines[1].name = "window 1830 × 610";
    forming.machines[1].length = entry(millimetres(1812));
    EXPECT_EQ(machine_of(forming), &forming.machines[1]);
    forming.machine = "the old one";
    EXPECT_EQ(machine_of(forming), &forming.machines[0]);
    forming.machine = "one that nobody has";
    EXPECT_EQ(machine_of(forming), nullptr);
}

TEST(MachineTable, OwnStockStandsForTheTables) {
    Forming forming;
    EXPECT_EQ(&stock_of(forming), &stock_table());
    forming.stock.resize(1);
    EXPECT_EQ(&stock_of(forming), &forming.stock);
}

}  // namespace
}  // namespace sillwright::core
