#include "core/material.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "core/resource_text.h"
#include "core/table_row.h"

namespace sillwright::core {

using geometry::megapascals;
using geometry::Stress;
using nlohmann::json;
using table_row::number_if;

namespace {

std::optional<Stress> stress(const json& row, const char* key) {
    const auto mpa = number_if(row, key);
    return mpa ? std::optional(megapascals(*mpa)) : std::nullopt;
}

MaterialNumbers material(const json& row) {
    MaterialNumbers one;
    one.name = row.at("name").get<std::string>();
    one.for_body = row.at("use") == "body";
    one.brittle = row.value("brittle", false);
    one.expansion_per_k = number_if(row, "expansion_per_k");
    one.density_kg_per_m3 = number_if(row, "density_kg_per_m3");
    one.modulus = stress(row, "modulus_mpa");
    one.hot_modulus = stress(row, "hot_modulus_mpa");
    one.creep_modulus = stress(row, "creep_modulus_mpa");
    one.strain_most = number_if(row, "strain_most");
    one.bearing = stress(row, "bearing_mpa");
    one.shear = stress(row, "shear_mpa");
    one.source = row.at("source").get<std::string>();
    return one;
}

template <class Value>
void take(const std::optional<Value>& given, std::optional<Value>& number) {
    if (given) {
        number = given;
    }
}

}  // namespace

const std::vector<MaterialNumbers>& material_table() {
    static const std::vector<MaterialNumbers> table = [] {
        const json file = json::parse(materials_text());
        std::vector<MaterialNumbers> all;
        for (const json& row : file.at("materials")) {
            all.push_back(material(row));
        }
        return all;
    }();
    return table;
}

const MaterialNumbers* find_material(const std::string& name) {
    const auto& table = material_table();
    const auto found = std::find_if(table.begin(), table.end(), [&](const auto& one) { return one.name == name; });
    return found == table.end() ? nullptr : &*found;
}

MaterialNumbers numbers_of(const Material& given) {
    const MaterialNumbers* const known = find_material(given.name);
    MaterialNumbers numbers = known != nullptr ? *known : MaterialNumbers{};
    numbers.name = given.name;
    take(given.expansion_per_k, numbers.expansion_per_k);
    take(given.density_kg_per_m3, numbers.density_kg_per_m3);
    take(given.modulus, numbers.modulus);
    take(given.hot_modulus, numbers.hot_modulus);
    take(given.creep_modulus, numbers.creep_modulus);
    take(given.strain_most, numbers.strain_most);
    return numbers;
}

}  // namespace sillwright::core
