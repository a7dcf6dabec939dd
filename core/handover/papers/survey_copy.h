#pragma once

#include <optional>

#include "core/evaluate.h"
#include "core/handover/document.h"

namespace sillwright::core {

/// What the measuring book says: points with how sure they are, the worst readings, those that were dropped and why,
/// set-ups and hands beside one another. The book itself, line by line, is core/survey/measuring_sheet.h.
/// None without a reading.
std::optional<Document> survey_copy(const Evaluation& evaluation);

/// Readings that are listed as the worst.
constexpr std::size_t k_worst_readings = 10;

}  // namespace sillwright::core
