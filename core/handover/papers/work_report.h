#pragma once

#include "core/evaluate.h"
#include "core/handover/document.h"
#include "core/handover/documents.h"

namespace sillwright::core {

/// Every finding by stage, with its numbers, why it is so and what would mend it; every assumption and all that is not
/// measured; sheets and prices as far as they are known; room to sign.
Document work_report(const Evaluation& evaluation, const BuckWork& work);

}  // namespace sillwright::core
