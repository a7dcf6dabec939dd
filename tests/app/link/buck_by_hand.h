#pragma once

#include <cstddef>
#include <functional>
#include <memory>

#include "app/link/nest_of_job.h"
#include "core/evaluate.h"

/// A computed job whose buck was made by hand: formed_by_hand with a board, 2440 by 1220, and four ribs.
namespace sillwright::app {

/// Ribs R1 to R4 at 100, 400, 700 and 1000 mm, 100 wide and 140 high, on two spines and a base.
std::unique_ptr<core::Evaluation> bucked_by_hand();
/// The same of a job that says nothing of the plug's skin.
std::unique_ptr<core::Evaluation> lacking_by_hand();
/// Two pieces of one buck each.
std::unique_ptr<core::Evaluation> twice_by_hand();

/// Four parts R1 to R4 on so many sheets, from the first on; parts for which there is no sheet are left out.
SharedWork work_by_hand(std::size_t sheets);

}  // namespace sillwright::app
