#pragma once

#include <vector>

#include "core/job.h"

namespace sillwright::core {

/// The table of machines: resources/machines.json, which says where they are from.
const std::vector<Machine>& machine_table();
/// The table of stock sizes: resources/stock.json.
const std::vector<StockSheet>& stock_table();

/// The machine that the job names, of its own (they go first) or of the table; null if there is none.
const Machine* machine_of(const Forming& forming);

/// The sizes in which the job's sheet is bought: its own, else those of the table.
const std::vector<StockSheet>& stock_of(const Forming& forming);

}  // namespace sillwright::core
