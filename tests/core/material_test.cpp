#include "core/material.h"

#include <gtest/gtest.h>

#include <set>

namespace sillwright::core {
namespace {

using geometry::in_mpa;
using geometry::megapascals;

TEST(Material, EveryRowOfTheTableHasASourceAndAName) {
    ASSERT_GE(material_table().size(), 8U);
    std::set<std::string> names;
    for (const MaterialNumbers& row : material_table()) {
        SCOPED_TRACE(row.name);
        EXPECT_FALSE(row.name.empty());
        EXPECT_TRUE(names.insert(row.name).second);
        EXPECT_FALSE(row.source.empty());
        // Whatever a row says beyond its expansion, its source says where it is from.
        ASSERT_TRUE(row.expansion_per_k);
        EXPECT_TRUE(row.source.starts_with("as ABS") || row.source.find("expansion") != std::string::npos);
        for (const auto& [value, word] : {std::pair{row.density_kg_per_m3.has_value(), "density"},
                                          {row.modulus.has_value(), "moduli"},
                                          {row.strain_most.has_value(), "strain"},
                                          {row.bearing.has_value(), "strengths"}}) {
            if (value && !row.source.starts_with("as ABS")) {
                EXPECT_NE(row.source.find(word), std::string::npos) << word;
            }
        }
    }
}

TEST(Material, NumbersLieWhereSuchMaterialsDo) {
    for (const MaterialNumbers& row : material_table()) {
        SCOPED_TRACE(row.name);
        EXPECT_GT(*row.expansion_per_k, 5e-6);
        EXPECT_LT(*row.expansion_per_k, 2.1e-4);
        if (row.density_kg_per_m3) {
            EXPECT_GT(*row.density_kg_per_m3, 850);
            EXPECT_LT(*row.density_kg_per_m3, 2000);
        }
        // Hot and after long a sheet is softer, never stiffer.
        if (row.hot_modulus) {
            EXPECT_LT(*row.hot_modulus, *row.modulus);
        }
        if (row.creep_modulus) {
            EXPECT_LT(*row.creep_modulus, *row.modulus);
        }
        if (row.strain_most) {
            EXPECT_GT(*row.strain_most, 0.001);
            EXPECT_LE(*row.strain_most, 0.05);
        }
    }
}

// northernarchitecture.us: ABS 83 to 95, PP 110, HDPE 110 to 130, GRP 20 to 35; job practice: E 2200, 1500 hot, 1000
// creep.
TEST(Material, HasThePublishedNumbers) {
    const MaterialNumbers* const abs = find_material("ABS");
    ASSERT_NE(abs, nullptr);
    EXPECT_EQ(*abs->expansion_per_k, 90e-6);
    EXPECT_EQ(in_mpa(*abs->modulus), 2200);
    EXPECT_EQ(in_mpa(*abs->hot_modulus), 1500);
    EXPECT_EQ(in_mpa(*abs->creep_modulus), 1000);
    EXPECT_EQ(*abs->strain_most, 0.01);
    EXPECT_FALSE(abs->for_body);
    EXPECT_EQ(*find_material("PP")->expansion_per_k, 110e-6);
    EXPECT_EQ(*find_material("HDPE")->expansion_per_k, 120e-6);
    EXPECT_EQ(*find_material("GRP")->expansion_per_k, 27e-6);
    EXPECT_TRUE(find_material("GRP")->brittle);
    EXPECT_TRUE(find_material("steel")->for_body);
    EXPECT_EQ(find_material("cheese"), nullptr);
}

TEST(Material, TheJobsNumbersGoBeforeTheTables) {
    Material given;
    given.name = "ABS";
    given.modulus = megapascals(1900);
    given.strain_most = 0.008;
    const MaterialNumbers numbers = numbers_of(given);
    EXPECT_EQ(in_mpa(*numbers.modulus), 1900);
    EXPECT_EQ(*numbers.strain_most, 0.008);
    EXPECT_EQ(in_mpa(*numbers.hot_modulus), 1500);
    EXPECT_EQ(*numbers.density_kg_per_m3, 1050);
    given.expansion_per_k = 85e-6;
    given.density_kg_per_m3 = 1040;
    given.hot_modulus = megapascals(1400);
    given.creep_modulus = megapascals(900);
    const MaterialNumbers own = numbers_of(given);
    EXPECT_EQ(*own.expansion_per_k, 85e-6);
    EXPECT_EQ(*own.density_kg_per_m3, 1040);
    EXPECT_EQ(in_mpa(*own.hot_modulus), 1400);
    EXPECT_EQ(in_mpa(*own.creep_modulus), 900);
}

TEST(Material, OfAnUnknownNameHasOnlyWhatTheJobSays) {
    Material given;
    given.name = "house blend";
    given.modulus = megapascals(1900);
    const MaterialNumbers numbers = numbers_of(given);
    EXPECT_EQ(numbers.name, "house blend");
    EXPECT_TRUE(numbers.modulus);
    EXPECT_FALSE(numbers.density_kg_per_m3);
    EXPECT_FALSE(numbers.expansion_per_k);
}

}  // namespace
}  // namespace sillwright::core
