#pragma once

#include <string>
#include <vector>

#include "core/survey/compare.h"

namespace sillwright::core::survey {

/// What to measure so that two sets which have these points in common can be compared.
std::string lacks_to_compare(const std::vector<std::string>& common);

/// What the table means for the part, and what to do. "This side" is the first.
/// Precondition: the comparison has a verdict.
std::string words_on_sides(const Comparison& comparison, const Solution& first, const Solution& second);

/// What it means for the book: whether the body kept its shape.
/// Precondition: the comparison has a verdict.
std::string words_on_set_ups(const Comparison& comparison, const std::string& first_name,
                             const std::string& second_name);

}  // namespace sillwright::core::survey
