#pragma once

#include "core/survey/solution.h"
#include "core/survey/start.h"

namespace sillwright::core::survey {

/// `solve` (core/survey/solution.h) from places that are known already.
Solution solve(const Book& book, const Start& start, bool with_next = true);

}  // namespace sillwright::core::survey
