#pragma once

#include <vector>

#include "core/buck/buck_work.h"
#include "core/evaluate.h"
#include "core/handover/document.h"

namespace sillwright::core {

/// All papers of a job, in the order in which they are needed. A paper for which something is not measured says so and
/// has what there is; one for which there is nothing at all (flutes of a part that has none) is left out.
std::vector<Document> documents(const Evaluation& evaluation, const BuckWork& work);

}  // namespace sillwright::core
