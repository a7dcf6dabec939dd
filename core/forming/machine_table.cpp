#include "core/forming/machine_table.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "core/resource_text.h"
#include "core/table_row.h"
#include "core/typed.h"

namespace sillwright::core {

using nlohmann::json;
using table_row::length;

namespace {

Machine machine(const json& row) {
    Machine one;
    one.name = row.at("name").get<std::string>();
    one.length = entry(length(row, "length"));
    one.width = entry(length(row, "width"));
    one.clamp_margin = entry(length(row, "clamp_margin"));
    one.draw_depth = entry(length(row, "draw_depth"));
    one.sheet_most = entry(length(row, "sheet_most"));
    one.oven_length = entry(length(row, "oven_length"));
    one.oven_width = entry(length(row, "oven_width"));
    return one;
}

StockSheet stock_sheet(const json& row) {
    StockSheet one;
    one.name = row.at("name").get<std::string>();
    one.length = entry(length(row, "length"));
    one.width = entry(length(row, "width"));
    return one;
}

const Machine* named(const std::vector<Machine>& machines, const std::string& name) {
    const auto found =
        std::find_if(machines.begin(), machines.end(), [&](const Machine& one) { return one.name == name; });
    return found == machines.end() ? nullptr : &*found;
}

}  // namespace

const std::vector<Machine>& machine_table() {
    static const std::vector<Machine> table = [] {
        const json file = json::parse(machines_text());
        std::vector<Machine> all;
        for (const json& row : file.at("machines")) {
            all.push_back(machine(row));
        }
        return all;
    }();
    return table;
}

const std::vector<StockSheet>& stock_table() {
    static const std::vector<StockSheet> table = [] {
        const json file = json::parse(stock_text());
        std::vector<StockSheet> all;
        for (const json& row : file.at("stock")) {
            all.push_back(stock_sheet(row));
        }
        return all;
    }();
    return table;
}

const Machine* machine_of(const Forming& forming) {
    const Machine* const own = named(forming.machines, forming.machine);
    return own != nullptr ? own : named(machine_table(), forming.machine);
}

const std::vector<StockSheet>& stock_of(const Forming& forming) {
    return forming.stock.empty() ? stock_table() : forming.stock;
}

}  // namespace sillwright::core
