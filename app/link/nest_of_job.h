#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <string>

#include "app/drawings/nest_picture.h"
#include "geometry/motion_distance.h"
#include "geometry/result.h"

namespace sillwright::core {
struct BuckWork;
struct Evaluation;
}  // namespace sillwright::core

/// What is cut for the buck, for the stage Buck.
namespace sillwright::app {

using SharedWork = std::shared_ptr<const core::BuckWork>;

/// Parts of a computed job's buck, and how they lie on their boards. `better`: with the first nest and each better one.
/// Errors: as core's; stopped before there was a first.
geometry::Result<SharedWork> work_of_job(const core::Evaluation& evaluation, const geometry::Watch& watch,
                                         const std::function<void(SharedWork)>& better);

std::size_t sheet_count(const core::BuckWork& work);
std::size_t part_count(const core::BuckWork& work);

/// One of the sheets; words where there are none.
NestPicture nest_of_job(const core::Evaluation& evaluation, const core::BuckWork& work, std::size_t sheet);

/// "3 tries looked at": how far it was looked, and what could not be laid; empty if there is nothing to say.
std::string nest_words(const core::BuckWork& work);

}  // namespace sillwright::app
