#pragma once

#include <nlohmann/json.hpp>
#include <optional>

#include "geometry/units.h"

/// Reading a row of a table that the program carries in itself. Lengths are bare millimetres. A row that lacks what it
/// must have throws: tests read the whole of each table.
namespace sillwright::core::table_row {

inline std::optional<double> number_if(const nlohmann::json& row, const char* key) {
    return row.contains(key) ? std::optional(row.at(key).get<double>()) : std::nullopt;
}

inline geometry::Length length(const nlohmann::json& row, const char* key) {
    return geometry::millimetres(row.at(key).get<double>());
}

inline std::optional<geometry::Length> length_if(const nlohmann::json& row, const char* key) {
    return row.contains(key) ? std::optional(length(row, key)) : std::nullopt;
}

}  // namespace sillwright::core::table_row
