#pragma once

#include "app/drawings/network_picture.h"
#include "core/job.h"
#include "core/survey/results.h"

namespace sillwright::app {

/// The network that the measuring book of a job makes, as `results` of that book have it.
NetworkPicture network_of_job(const core::Job& job, const core::survey::Results& results);

}  // namespace sillwright::app
